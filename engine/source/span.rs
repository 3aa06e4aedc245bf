//! Positions in a document.

use std::ops::Range;

/// A run of bytes in one document, `start..end`, always on character borders.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// First byte.
    pub start: u32,
    /// One behind the last byte.
    pub end: u32,
}

impl Span {
    /// The span from `start` to `end`.
    pub fn new(start: usize, end: usize) -> Span {
        Span {
            start: start as u32,
            end: end as u32,
        }
    }

    /// The smallest span that covers both.
    pub fn to(self, other: Span) -> Span {
        Span {
            start: self.start.min(other.start),
            end: self.end.max(other.end),
        }
    }

    /// The text of this span, or nothing where the span does not fit the text.
    pub fn of(self, text: &str) -> &str {
        text.get(self.range()).unwrap_or("")
    }

    /// As a range of bytes.
    pub fn range(self) -> Range<usize> {
        self.start as usize..self.end as usize
    }

    /// Whether nothing is in it.
    pub fn is_empty(self) -> bool {
        self.start >= self.end
    }

    /// The same run in a document in which it begins `by` bytes later.
    pub fn shifted(self, by: i64) -> Span {
        let move_by = |at: u32| (i64::from(at) + by).max(0) as u32;
        Span {
            start: move_by(self.start),
            end: move_by(self.end),
        }
    }
}
