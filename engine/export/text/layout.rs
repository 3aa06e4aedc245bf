//! How text is laid out: width, signs, colour.

use crate::source::show_text;
use unicode_width::UnicodeWidthStr;

/// Narrower than this nothing is laid out.
const LEAST_WIDTH: usize = 40;
/// Wider than this a line is hard to follow.
const MOST_WIDTH: usize = 100;
/// From here on remarks have a column of their own.
const REMARK_COLUMN_FROM: usize = 72;
/// Below this a value stands under its name.
const SIDE_BY_SIDE_FROM: usize = 46;

/// How text is laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Layout {
    /// Columns there are; 40 to 100 of them are used.
    pub width: usize,
    /// Whether other than ASCII characters can be shown.
    pub unicode: bool,
    /// Whether titles, heads and outcomes have a style of the terminal's own palette. Without it
    /// nothing is lost.
    pub colour: bool,
    /// Whether fractions stay on one line.
    pub plain: bool,
}

impl Layout {
    /// For a file or a pipe: all signs, no colour.
    pub fn plain(width: usize) -> Layout {
        Layout {
            width,
            unicode: true,
            colour: false,
            plain: false,
        }
    }

    /// The columns that are used.
    pub fn columns(&self) -> usize {
        self.width.clamp(LEAST_WIDTH, MOST_WIDTH)
    }

    /// Whether remarks stand in the last column.
    pub(super) fn has_remark_column(&self) -> bool {
        self.columns() >= REMARK_COLUMN_FROM
    }

    /// Whether values stand beside their names.
    pub(super) fn is_side_by_side(&self) -> bool {
        self.columns() >= SIDE_BY_SIDE_FROM
    }

    /// A text as it may be shown on one line.
    pub(super) fn show(&self, text: &str) -> String {
        show_text(text, self.unicode)
    }

    /// A number as it is shown: with the minus of print.
    pub(super) fn number(&self, digits: &str) -> String {
        match self.unicode {
            true => digits.replace('-', "−"),
            false => digits.to_owned(),
        }
    }
}

/// A style of the terminal's own palette.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Paint {
    Bold,
    Red,
    Yellow,
}

/// Styles are carried as marks without width, which no shown text can contain, until the columns
/// are set: escape sequences would be counted.
const MARKS: [(Paint, char, &str); 3] = [
    (Paint::Bold, '\u{2062}', "\u{1b}[1m"),
    (Paint::Red, '\u{2063}', "\u{1b}[31m"),
    (Paint::Yellow, '\u{2064}', "\u{1b}[33m"),
];
const END: char = '\u{2061}';
const RESET: &str = "\u{1b}[0m";

impl Layout {
    /// A text with a style around it, as marks.
    pub(super) fn paint(&self, text: &str, paint: Paint) -> String {
        let mark = MARKS.iter().find(|(own, ..)| *own == paint);
        match (self.colour, mark) {
            (true, Some((_, mark, _))) if !text.is_empty() => format!("{mark}{text}{END}"),
            _ => text.to_owned(),
        }
    }
}

/// A blank at which no line is broken.
pub(super) const TIE: &str = "\u{a0}";

/// A finished line: without blanks at its end, ties and marks turned into what a terminal shows.
pub(super) fn finished(line: &str) -> String {
    let mut text = String::with_capacity(line.len() + 16);
    for sign in line.trim_end().replace(TIE, " ").chars() {
        match MARKS.iter().find(|(_, mark, _)| *mark == sign) {
            Some((.., sequence)) => text.push_str(sequence),
            None if sign == END => text.push_str(RESET),
            None => text.push(sign),
        }
    }
    text
}

/// Columns a text takes.
pub(super) fn width(text: &str) -> usize {
    text.width()
}

/// A text filled up with blanks behind it.
pub(super) fn padded(text: &str, columns: usize) -> String {
    format!("{text}{:1$}", "", columns.saturating_sub(width(text)))
}

/// A text filled up with blanks before it.
pub(super) fn padded_before(text: &str, columns: usize) -> String {
    format!("{:1$}{text}", "", columns.saturating_sub(width(text)))
}
