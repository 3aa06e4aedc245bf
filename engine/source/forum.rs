//! What a forum or a mail program adds to a line: `> ` in front, `[code]` and its like around. A
//! line goes in, the part somebody wrote comes out. Whether that part is a statement is not
//! decided here.

use super::Span;

/// Tags that boards put around text. `s` is not among them: at the end of a line it is a unit.
const TAGS: &[&str] = &[
    "code", "quote", "b", "i", "u", "size", "color", "font", "list", "url", "center",
];

/// Opening tags that begin something below, so that they may stand at the end of a line.
const TAGS_OF_LINES_BELOW: &[&str] = &["code", "quote"];

/// A line without what was put around it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Unwrapped {
    /// The part somebody wrote.
    pub content: Span,
    /// Whether the line consisted of tags only.
    pub only_tags: bool,
    /// Whether `[/code]` was among them.
    pub closes_code: bool,
}

/// Takes quote marks and tags off the ends of a line.
pub(super) fn unwrap_line(text: &str, line: Span) -> Unwrapped {
    let mut unwrapped = Unwrapped {
        content: line,
        only_tags: false,
        closes_code: false,
    };
    let written = line.of(text);
    if !may_be_wrapped(written) {
        return unwrapped;
    }
    let quoted = quote_length(written);
    let mut rest = &written[quoted..];
    let mut start = line.start as usize + quoted;
    let mut tagged = false;
    while let Some((tag, behind)) = leading_tag(rest) {
        start += rest.len() - behind.len();
        rest = behind;
        tagged = true;
        unwrapped.closes_code |= is_end_of_code(tag);
    }
    while let Some((before, tag)) = trailing_tag(rest) {
        rest = before;
        tagged = true;
        unwrapped.closes_code |= is_end_of_code(tag);
    }
    unwrapped.content = Span::new(start, start + rest.len());
    unwrapped.only_tags = tagged && rest.trim().is_empty();
    unwrapped
}

/// Length of the quote marks a line begins with: `>` in the first column, each with the blank
/// behind it. An indented `>` is a comparison that continues a line.
pub(super) fn quote_length(line: &str) -> usize {
    let mut rest = line;
    while let Some(behind) = rest.strip_prefix('>') {
        rest = behind.strip_prefix(' ').unwrap_or(behind);
    }
    line.len() - rest.len()
}

fn may_be_wrapped(line: &str) -> bool {
    let first = line.trim_start().as_bytes().first();
    let last = line.trim_end().as_bytes().last();
    matches!(first, Some(b'>' | b'[')) || matches!(last, Some(b']'))
}

/// The tag a line begins with, and what follows it.
fn leading_tag(line: &str) -> Option<(&str, &str)> {
    let inside = line.trim_start().strip_prefix('[')?;
    let (tag, behind) = inside.split_once(']')?;
    is_listed(TAGS, tag.strip_prefix('/').unwrap_or(tag)).then_some((tag, behind))
}

/// The tag a line ends with, and what stands before it.
fn trailing_tag(line: &str) -> Option<(&str, &str)> {
    let inside = line.trim_end().strip_suffix(']')?;
    let (before, tag) = inside.rsplit_once('[')?;
    let listed = match tag.strip_prefix('/') {
        Some(closing) => is_listed(TAGS, closing),
        None => is_listed(TAGS_OF_LINES_BELOW, tag),
    };
    listed.then_some((before, tag))
}

/// Whether a tag, perhaps with a value behind `=`, is in a list; boards do not mind capitals.
fn is_listed(tags: &[&str], tag: &str) -> bool {
    let name = tag.split('=').next().unwrap_or(tag);
    tags.iter().any(|listed| listed.eq_ignore_ascii_case(name))
}

fn is_end_of_code(tag: &str) -> bool {
    tag.eq_ignore_ascii_case("/code")
}
