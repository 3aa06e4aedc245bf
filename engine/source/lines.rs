//! Where the lines of a text begin: positions become line and column, and lines become spans.
//! A line ends at `\n` or `\r\n`; a lone `\r` is no line end. Knows nothing of what a line says.

use super::Span;

/// The mark some programs put at the start of a UTF-8 file. It is part of the text and of no line.
pub(super) const BYTE_ORDER_MARK: char = '\u{feff}';

/// The starts of all lines of one text, for looking up many positions quickly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Lines {
    starts: Vec<u32>,
}

impl Lines {
    /// Reads the line starts of a text.
    pub fn new(text: &str) -> Lines {
        let behind_each_end = text.match_indices('\n').map(|(at, _)| at as u32 + 1);
        Lines {
            starts: std::iter::once(0).chain(behind_each_end).collect(),
        }
    }

    /// How many lines there are: at least one, and the empty one behind a last line end counts.
    pub fn count(&self) -> usize {
        self.starts.len()
    }

    /// The line, counted from 0, that holds a byte; positions behind the text are in the last.
    pub fn line_at(&self, offset: usize) -> usize {
        self.starts
            .partition_point(|&start| start as usize <= offset)
            .saturating_sub(1)
    }

    /// The first byte of a line counted from 0, or the end of the text behind the last line.
    pub fn start(&self, text: &str, line: usize) -> usize {
        let start = self.starts.get(line).map(|&start| start as usize);
        start.unwrap_or(text.len()).min(text.len())
    }

    /// A line counted from 0, without its line end and without a byte order mark.
    pub fn span(&self, text: &str, line: usize) -> Span {
        let start = self.start(text, line);
        let whole = text
            .get(start..self.start(text, line + 1))
            .unwrap_or_default();
        let content = whole.strip_suffix('\n').unwrap_or(whole);
        let content = content.strip_suffix('\r').unwrap_or(content);
        let skipped = if start == 0 { mark_length(text) } else { 0 };
        Span::new(
            start + skipped,
            (start + content.len()).max(start + skipped),
        )
    }

    /// Line and column of a byte, both from 1, the column in characters. A position inside a
    /// character counts as its beginning, one behind the text as its end.
    pub fn line_column(&self, text: &str, offset: usize) -> (usize, usize) {
        let offset = text.floor_char_boundary(offset);
        let line = self.line_at(offset);
        (line + 1, column_of(text, self.start(text, line), offset))
    }
}

/// Length of a byte order mark at the start of a text, in bytes.
pub(super) fn mark_length(text: &str) -> usize {
    if text.starts_with(BYTE_ORDER_MARK) {
        BYTE_ORDER_MARK.len_utf8()
    } else {
        0
    }
}

/// The column, from 1 and in characters, of a character border in the line that begins at `start`.
fn column_of(text: &str, start: usize, offset: usize) -> usize {
    let before = text.get(start..offset).unwrap_or_default();
    let before = match start {
        0 => before.strip_prefix(BYTE_ORDER_MARK).unwrap_or(before),
        _ => before,
    };
    before.chars().count() + 1
}
