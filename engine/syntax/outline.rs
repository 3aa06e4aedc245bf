//! The physical lines of a block: where each begins behind its indentation, how deep it is
//! indented once the common indentation is removed, and whether it says anything.

use super::fold;
use crate::source::Span;

/// A tab goes to the next column that is a multiple of this.
const TAB_STOP: u32 = 4;

/// One physical line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Line {
    /// What stands on it, blanks at both ends excluded.
    pub span: Span,
    /// Columns before it, beyond those that all lines share.
    pub indent: u32,
    /// What it holds.
    pub content: Content,
}

/// What a line holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Content {
    /// Nothing.
    Blank,
    /// A comment alone.
    Comment,
    /// Something to read.
    Text,
}

/// Measures the lines of a block.
pub(super) fn outline(text: &str, lines: &[Span]) -> Vec<Line> {
    let mut measured: Vec<Line> = lines.iter().map(|line| measure(text, *line)).collect();
    let common = measured
        .iter()
        .filter(|line| line.content != Content::Blank)
        .map(|line| line.indent)
        .min()
        .unwrap_or(0);
    for line in &mut measured {
        line.indent = line.indent.saturating_sub(common);
    }
    measured
}

fn measure(text: &str, line: Span) -> Line {
    let whole = line.of(text);
    let begins_plainly = whole
        .as_bytes()
        .first()
        .is_some_and(u8::is_ascii_alphanumeric);
    if begins_plainly && whole.as_bytes().last().is_some_and(u8::is_ascii_graphic) {
        return Line {
            span: line,
            indent: 0,
            content: Content::Text,
        };
    }
    let (mut indent, mut start) = (0_u32, whole.len());
    for (at, sign) in whole.char_indices() {
        if !fold::is_blank(sign) {
            start = at;
            break;
        }
        indent = match sign {
            '\t' => (indent / TAB_STOP)
                .saturating_add(1)
                .saturating_mul(TAB_STOP),
            _ => indent.saturating_add(1),
        };
    }
    let rest = whole.get(start..).unwrap_or("");
    let trimmed = rest.trim_end_matches(fold::is_blank);
    let begin = line.start as usize + start;
    Line {
        span: Span::new(begin, begin + trimmed.len()),
        indent: if trimmed.is_empty() { 0 } else { indent },
        content: content(trimmed),
    }
}

fn content(trimmed: &str) -> Content {
    let Some(first) = trimmed.chars().next() else {
        return Content::Blank;
    };
    if first == '#' {
        let behind = trimmed.trim_start_matches('#').chars().next();
        if behind.is_none_or(fold::is_blank) {
            return Content::Comment;
        }
    }
    Content::Text
}
