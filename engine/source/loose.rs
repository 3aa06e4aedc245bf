//! A document without any fence, such as a pasted post: all its lines are one block. Which of them
//! are statements and which are prose is decided in `syntax`.

use super::fence::clear_long_lines;
use super::forum::{quote_length, unwrap_line};
use super::outline::read_outline;
use super::{Block, Diagnostic, Heading, Lines, Span};

/// A heading of a loose document is no longer than this, in bytes.
const LONGEST_HEADING: usize = 1000;

/// More headings than this are not read.
const MOST_HEADINGS: usize = 10_000;

/// Whether there can be a fence in a text.
pub(super) fn may_hold_fences(text: &str) -> bool {
    text.contains("```") || text.contains("~~~")
}

/// The headings that begin with `#`. A row of signs below a line makes none here: in a post it is
/// a rule under statements.
pub(super) fn read_loose_headings(text: &str, lines: &Lines) -> Vec<Heading> {
    (0..lines.count())
        .filter_map(|line| read_loose_heading(text, lines.span(text, line)))
        .take(MOST_HEADINGS)
        .collect()
}

fn read_loose_heading(text: &str, line: Span) -> Option<Heading> {
    let written = line.of(text);
    let behind_quotes = &written[quote_length(written)..];
    let signs = behind_quotes.trim_start_matches(' ');
    if !signs.starts_with('#') || behind_quotes.len() > LONGEST_HEADING {
        return None;
    }
    let start = line.end as usize - behind_quotes.len();
    let heading = read_outline(behind_quotes, 0).headings.into_iter().next()?;
    Some(Heading {
        span: heading.span.shifted(start as i64),
        ..heading
    })
}

/// Takes the lines of a text as one block, without lines of nothing but a forum's tags. A new line
/// goes before the first line that closes `[code]`, else to the end.
pub(super) fn read_loose_block(text: &str, lines: &Lines, found: &mut Vec<Diagnostic>) -> Block {
    let mut content = Vec::new();
    let mut end_of_code = None;
    let mut quoted = "";
    for line in 0..lines.count() {
        let whole = lines.span(text, line);
        let unwrapped = unwrap_line(text, whole);
        if end_of_code.is_none() {
            let written = whole.of(text);
            if unwrapped.only_tags && unwrapped.closes_code {
                end_of_code = Some(lines.start(text, line));
            }
            if !written.is_empty() {
                quoted = &written[..quote_length(written)];
            }
        }
        if !unwrapped.only_tags {
            content.push(unwrapped.content);
        }
    }
    if lines.span(text, lines.count().saturating_sub(1)).is_empty() {
        content.pop();
    }
    clear_long_lines(text, &mut content, found);
    Block {
        info: Span::default(),
        lines: content,
        heading: None,
        span: Span::new(0, text.len()),
        end_of_content: end_of_code.unwrap_or(text.len()) as u32,
        prefix: quoted.to_owned(),
        loose: true,
    }
}
