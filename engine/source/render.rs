//! The one place that draws messages: a diagnostic and the text it is about go in, lines for a
//! terminal or a log come out. The first line names the place as the GNU coding standards write
//! it, then come the source with its carets, what was expected and what mends it. Decides
//! nothing about terminals: colour, signs and width are told.

use super::excerpt::{Drawing, Excerpt, Row, draw};
use super::visible::{show_name, show_text};
use super::wrap::wrap;
use super::{Diagnostic, Inside, Lines, Repair, Severity, Span};
use std::borrow::Cow;
use unicode_width::UnicodeWidthStr;

/// Columns of the words that begin the rows below the source.
const NAME_WIDTH: usize = 10;

/// The text a message is about.
#[derive(Clone, Copy, Debug)]
pub struct SourceText<'a> {
    /// The name of its file, as the reader knows it.
    pub name: &'a str,
    /// The text that spans point into. If it is empty, only the words of a message are shown.
    pub text: &'a str,
    /// The number of the text's first line in the file: 1 for a whole file.
    pub first_line: usize,
    /// The line starts of the text, if somebody has them: else they are found for each message.
    pub lines: Option<&'a Lines>,
}

impl<'a> SourceText<'a> {
    /// A whole text under the name of its file.
    pub fn new(name: &'a str, text: &'a str) -> SourceText<'a> {
        SourceText {
            name,
            text,
            first_line: 1,
            lines: None,
        }
    }
}

/// How messages are drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    /// Whether severity and carets have a colour of the terminal's own palette.
    pub colour: bool,
    /// Whether other than ASCII characters can be shown.
    pub unicode: bool,
    /// Columns to keep to; taken as at least 40.
    pub width: usize,
    /// Whether file, line and column are named. In the shell the line typed is the place.
    pub place: bool,
}

impl Style {
    /// For a file or a pipe: all signs, the place named, no colour.
    pub fn plain(width: usize) -> Style {
        Style {
            colour: false,
            unicode: true,
            width,
            place: true,
        }
    }

    fn columns(&self) -> usize {
        self.width.clamp(40, 1000)
    }

    fn show(&self, text: &str) -> String {
        show_text(text, self.unicode)
    }

    /// Sets a word in the colour of a severity.
    fn paint(&self, word: &str, severity: Severity) -> String {
        match (self.colour, severity) {
            (true, Severity::Error) => format!("\u{1b}[31m{word}\u{1b}[0m"),
            (true, Severity::Warning) => format!("\u{1b}[33m{word}\u{1b}[0m"),
            _ => word.to_owned(),
        }
    }
}

/// Draws one message, each line with its line end. Any span will do: one that does not fit the
/// text is moved into it.
///
/// ```
/// use gaugebook::source::{Code, Diagnostic, SourceText, Span, Style, render};
/// let text = "rest = 90 s\nduty = rest / works\n";
/// let message = Diagnostic::error(Code::UnknownName, Span::new(26, 31), "no cell is called works")
///     .repair("work");
/// assert_eq!(
///     render(&message, &SourceText::new("shop.md", text), Style::plain(80)),
///     "shop.md:2:15: error: no cell is called works (unknown-name)\n\
///      2 | duty = rest / works\n\
///      \x20 |               ^^^^^\n\
///      \x20 repair    work\n"
/// );
/// ```
pub fn render(diagnostic: &Diagnostic, source: &SourceText<'_>, style: Style) -> String {
    let lines = match source.lines {
        Some(lines) => Cow::Borrowed(lines),
        None => Cow::Owned(Lines::new(source.text)),
    };
    let span = fit(diagnostic.span, source.text);
    let mut page = Page {
        style,
        severity: diagnostic.severity,
        indent: 2,
        text: String::new(),
    };
    page.add_head(diagnostic, source, &lines, span);
    page.add_found(diagnostic, source, &lines, span);
    for inside in &diagnostic.inside {
        page.add_inside(inside);
    }
    page.add_row("expected", &style.show(&diagnostic.expected));
    page.add_repairs(&diagnostic.repairs);
    page.text
}

/// A span moved into a text and onto character borders.
fn fit(span: Span, text: &str) -> Span {
    let start = text.floor_char_boundary(span.start as usize);
    let end = text.ceil_char_boundary(span.end as usize);
    Span::new(start, end.max(start))
}

/// A message while it is drawn.
struct Page {
    style: Style,
    severity: Severity,
    /// The column in which the rows below the source begin.
    indent: usize,
    text: String,
}

impl Page {
    fn add_line(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    /// The first line. With its place it stays in one piece, for programs that jump there.
    fn add_head(
        &mut self,
        diagnostic: &Diagnostic,
        source: &SourceText<'_>,
        lines: &Lines,
        span: Span,
    ) {
        let word = self.severity.word();
        let message = self.style.show(&diagnostic.message);
        let said = format!(": {message} ({})", diagnostic.code);
        let painted = self.style.paint(word, self.severity);
        if self.style.place {
            let (line, column) = lines.line_column(source.text, span.start as usize);
            let line = source.first_line.saturating_add(line - 1);
            let name = show_name(source.name);
            self.add_line(&format!("{name}:{line}:{column}: {painted}{said}"));
            return;
        }
        let width = self.style.columns();
        let wrapped = wrap(&said, width.saturating_sub(word.len()), width - 2);
        for (index, line) in wrapped.iter().enumerate() {
            let before = if index == 0 { painted.as_str() } else { "  " };
            self.add_line(&format!("{before}{line}"));
        }
    }

    /// The source with the label beside its carets. A note, or a message about a place where
    /// nothing is written, says it in a row.
    fn add_found(
        &mut self,
        diagnostic: &Diagnostic,
        source: &SourceText<'_>,
        lines: &Lines,
        span: Span,
    ) {
        let label = self.style.show(&diagnostic.label);
        let drawing = Drawing {
            first_line: self.style.place.then_some(source.first_line),
            width: self.style.columns(),
            unicode: self.style.unicode,
        };
        let excerpt = draw(source.text, lines, span, &label, drawing);
        self.indent = excerpt.bar;
        if self.severity == Severity::Note || excerpt.rows.is_empty() {
            self.add_row("found", &label);
        } else {
            self.add_excerpt(&excerpt);
        }
    }

    fn add_excerpt(&mut self, excerpt: &Excerpt) {
        for row in &excerpt.rows {
            match row {
                Row::Source(line) | Row::Label(line) => self.add_line(line),
                Row::Carets {
                    before,
                    carets,
                    behind,
                } => {
                    let carets = self.style.paint(carets, self.severity);
                    self.add_line(&format!("{before}{carets}{behind}"));
                }
            }
        }
    }

    /// A line of a formula's body, cut to the width.
    fn add_inside(&mut self, inside: &Inside) {
        let formula = self.style.show(&inside.formula);
        let path = show_name(&inside.path);
        let text = self.style.show(&inside.text);
        let line = format!("in {formula}, {path} line {}: {text}", inside.line);
        let room = self.style.columns() - self.indent;
        let line = match line.width() > room {
            true => cut_end(&line, room, self.style.unicode),
            false => line,
        };
        self.add_line(&format!("{:1$}{line}", "", self.indent));
    }

    /// A row with its name; nothing where there is no text. Further lines hang under the text.
    fn add_row(&mut self, name: &str, text: &str) {
        if text.is_empty() {
            return;
        }
        let indent = self.indent;
        let room = self.style.columns().saturating_sub(indent + NAME_WIDTH);
        for (index, line) in wrap(text, room, room).iter().enumerate() {
            let name = if index == 0 { name } else { "" };
            self.add_line(&format!("{:indent$}{name:NAME_WIDTH$}{line}", ""));
        }
    }

    /// One row for each repair. What is to be typed is never broken; remarks stand in a column of
    /// their own, or below where there is no room.
    fn add_repairs(&mut self, repairs: &[Repair]) {
        let texts: Vec<String> = repairs
            .iter()
            .map(|repair| self.style.show(&repair.text))
            .collect();
        let widest = texts.iter().map(|text| text.width()).max().unwrap_or(0);
        let gap = if repairs.len() == 1 { 3 } else { 2 };
        for (index, (repair, text)) in repairs.iter().zip(&texts).enumerate() {
            let name = if index == 0 { "repair" } else { "" };
            self.add_repair(name, text, &self.style.show(&repair.remark), widest + gap);
        }
    }

    fn add_repair(&mut self, name: &str, text: &str, remark: &str, remark_column: usize) {
        let indent = self.indent;
        let start = format!("{:indent$}{name:NAME_WIDTH$}{text}", "");
        let columns = self.style.columns();
        let padding = remark_column.saturating_sub(text.width());
        if start.width() + padding + remark.width() <= columns {
            self.add_line(&format!("{start}{:padding$}{remark}", ""));
            return;
        }
        self.add_line(&start);
        let hanging = indent + NAME_WIDTH + 2;
        let room = columns.saturating_sub(hanging);
        for line in wrap(remark, room, room) {
            self.add_line(&format!("{:hanging$}{line}", ""));
        }
    }
}

/// The beginning of a line that fits a width, with a mark that some is missing.
fn cut_end(line: &str, room: usize, unicode: bool) -> String {
    let mark = if unicode { "…" } else { "..." };
    let mut kept = String::new();
    for character in line.chars() {
        let width = unicode_width::UnicodeWidthChar::width(character).unwrap_or(0);
        if kept.width() + width + mark.width() > room {
            break;
        }
        kept.push(character);
    }
    kept + mark
}
