//! The headings and code fences of a CommonMark text, as positions. The block structure is
//! pulldown-cmark's; only its offsets are used for what stands in fences, since its texts have
//! other line ends and made-up blanks in them. What fences hold is read in `fence`.

use super::{Heading, Span};
use pulldown_cmark::{CodeBlockKind, Event, Options, Parser, Tag, TagEnd};
use std::ops::Range;

/// What of a text is a heading, and what is a fence.
#[derive(Debug, Default)]
pub(super) struct Outline {
    pub headings: Vec<Heading>,
    pub fences: Vec<Fence>,
}

/// One fenced code block.
#[derive(Debug)]
pub(super) struct Fence {
    /// From the first sign of the opening fence to the end of the closing one, or to where the
    /// content ends if there is none.
    pub span: Span,
    /// The runs of content, in order: each begins behind a container's prefix, or covers whole
    /// lines, and may end with a line end.
    pub content: Vec<Span>,
}

/// Reads the headings and fences of a text. `skipped` bytes at its start are left out.
pub(super) fn read_outline(whole: &str, skipped: usize) -> Outline {
    let read = whole.get(skipped..).unwrap_or_default();
    let mut outline = Outline::default();
    let mut heading: Option<Heading> = None;
    let mut fence: Option<Fence> = None;
    for (event, range) in Parser::new_ext(read, Options::empty()).into_offset_iter() {
        let span = Span::new(range.start + skipped, range.end + skipped);
        match event {
            Event::Start(Tag::CodeBlock(CodeBlockKind::Fenced(_))) => {
                let content = Vec::new();
                fence = Some(Fence { span, content });
            }
            Event::End(TagEnd::CodeBlock) => outline.fences.extend(fence.take()),
            Event::Start(Tag::Heading { level, .. }) => {
                let text = String::new();
                let level = level as u8;
                let length = span.of(whole).trim_end().len();
                let span = Span::new(range.start + skipped, range.start + skipped + length);
                heading = Some(Heading { level, text, span });
            }
            Event::End(TagEnd::Heading(_)) => outline.headings.extend(heading.take()),
            Event::Text(words) => match (&mut fence, &mut heading) {
                (Some(fence), _) => fence.content.extend(content_run(read, range, skipped)),
                (None, Some(heading)) => heading.text.push_str(&words),
                _ => {}
            },
            Event::Code(words) => {
                if let Some(heading) = &mut heading {
                    heading.text.push_str(&words);
                }
            }
            Event::SoftBreak | Event::HardBreak => {
                if let Some(heading) = &mut heading {
                    heading.text.push(' ');
                }
            }
            _ => {}
        }
    }
    outline
}

/// The run of content of one text event. An empty one stands for a tab of which the container has
/// taken a part; the whole tab is then counted as content, so that indentation is not lost.
fn content_run(read: &str, range: Range<usize>, skipped: usize) -> Option<Span> {
    let start = if !range.is_empty() {
        range.start
    } else if read[..range.start].ends_with('\t') {
        range.start - 1
    } else {
        return None;
    };
    Some(Span::new(start + skipped, range.end + skipped))
}
