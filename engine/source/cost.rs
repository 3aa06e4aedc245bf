//! Whether reading a text as CommonMark would take unbearably long or much memory: its nesting
//! and its prose are judged line by line, roughly, before anything is read. Cells are not prose
//! and may be many.

use super::{Code, Diagnostic, Lines, MOST_BYTES_OF_PROSE, Span};

/// Reading costs nesting times lines where both are extreme; this product takes about a second.
const MOST_NESTED_LINES: usize = 200_000_000;

/// More lists and quotes than this do not begin on one line.
const MOST_MARKERS: usize = 1000;

/// What a text will cost.
#[derive(Default)]
struct Cost {
    /// An upper bound of the containers that can be open at once.
    depth: usize,
    /// The most markers of containers on one line.
    markers: usize,
    /// The bytes outside of what looks like fences.
    prose: usize,
}

/// The message for a text that is too costly to read.
pub(super) fn refuse_costly(text: &str, lines: &Lines) -> Option<Diagnostic> {
    let cost = estimate(text);
    let place = Span::default();
    if cost.prose > MOST_BYTES_OF_PROSE {
        let message = "the text around the cells of this document is too long";
        return Some(
            Diagnostic::error(Code::TooLong, place, message)
                .label(format!("{} MB without the cells", cost.prose / 1_000_000))
                .expected(format!("at most {} MB", MOST_BYTES_OF_PROSE / 1_000_000)),
        );
    }
    let steps = cost.depth.saturating_mul(lines.count());
    (cost.markers > MOST_MARKERS || steps > MOST_NESTED_LINES).then(|| {
        let message = "the lists or quotes of this document are nested too deeply";
        Diagnostic::error(Code::TooDeep, place, message)
            .label(format!(
                "about {} levels in {} lines",
                cost.depth,
                lines.count()
            ))
            .expected("fewer levels, or fewer lines")
    })
}

fn estimate(text: &str) -> Cost {
    let mut cost = Cost::default();
    let mut fence = None;
    for line in text.split('\n') {
        let (markers, blanks, behind) = split_markers(line);
        cost.markers = cost.markers.max(markers);
        cost.depth = cost.depth.max(markers + blanks / 2);
        let sign = fence_sign(behind);
        match (fence, sign) {
            (None, Some(_)) => fence = sign,
            (None, None) => cost.prose += line.len() + 1,
            (Some(open), Some(sign)) if open == sign && is_closing(behind) => fence = None,
            _ => {}
        }
    }
    cost
}

/// The fence a line begins with. Behind backticks no other may follow.
fn fence_sign(line: &str) -> Option<&'static str> {
    if line.starts_with("~~~") {
        return Some("~~~");
    }
    let info = line.strip_prefix("```")?.trim_start_matches('`');
    (!info.contains('`')).then_some("```")
}

fn is_closing(fence: &str) -> bool {
    let sign = fence.chars().next().unwrap_or_default();
    fence.trim_end().trim_start_matches(sign).is_empty()
}

/// The markers and the columns of blanks a line begins with, and what stands behind them. A
/// container needs a marker, or two columns.
fn split_markers(line: &str) -> (usize, usize, &str) {
    let mut markers = 0;
    let mut blanks = 0;
    let mut before = b' ';
    let mut length = 0;
    for byte in line.bytes() {
        match byte {
            b'>' => markers += 1,
            b' ' if matches!(before, b'-' | b'+' | b'*' | b'.' | b')') => markers += 1,
            b' ' => blanks += 1,
            b'\t' => blanks += 4,
            b'-' | b'+' | b'*' | b'.' | b')' | b'0'..=b'9' => {}
            _ => break,
        }
        before = byte;
        length += 1;
    }
    (markers, blanks, line.get(length..).unwrap_or_default())
}
