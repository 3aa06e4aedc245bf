//! One spelling for a block: blanks, signs, units and the columns of tables are set, while line
//! breaks, comments and blank lines stay where they are. Each line goes in and comes out as one
//! line. What is wrong is only moved, never rewritten; and what would not read as before is left.

mod layout;
mod roles;
mod table;

use std::ops::Range;

use super::block::{Reader, parse};
use super::lexer::Lexer;
use super::outline::Content;
use super::printer::print_statement;
use super::tree::{Statement, StatementKind};
use crate::source::{Code, Severity, Span};
use layout::lay_out;
use roles::Roles;

/// The lines of a block in canonical spelling, as many as went in; `lines` and `loose` as for
/// [`parse`]. The indentation that all lines share is dropped, except in a loose document, whose
/// prose is left as it is.
pub fn format(text: &str, lines: &[Span], loose: bool) -> Vec<String> {
    let mut formatter = Formatter {
        reader: Reader::new(text, lines, loose),
        out: Vec::with_capacity(lines.len()),
    };
    let before = formatter.run();
    let (formatted, spans) = joined(&formatter.out);
    let after = printed(&parse(&formatted, &spans, loose), &formatted);
    if before == after {
        formatter.out
    } else {
        lines.iter().map(|line| line.of(text).to_string()).collect()
    }
}

/// Lines as one text, and where each stands in it.
fn joined(lines: &[String]) -> (String, Vec<Span>) {
    let mut text = String::new();
    let mut spans = Vec::with_capacity(lines.len());
    for line in lines {
        let start = text.len();
        text.push_str(line);
        spans.push(Span::new(start, text.len()));
        text.push('\n');
    }
    (text, spans)
}

fn printed(statements: &[Statement], text: &str) -> Vec<String> {
    statements
        .iter()
        .map(|statement| reading(statement, text))
        .collect()
}

/// What must stay the same: the printed tree, or for a broken statement its words.
fn reading(statement: &Statement, text: &str) -> String {
    match statement.kind {
        StatementKind::Broken(_) => {
            let words: Vec<&str> = statement.span.of(text).split_whitespace().collect();
            words.join(" ")
        }
        _ => print_statement(statement, text),
    }
}

struct Formatter<'t> {
    reader: Reader<'t>,
    out: Vec<String>,
}

/// Blanks before the lines of a body.
const BODY: usize = 4;

impl Formatter<'_> {
    /// Formats all lines; gives how each statement read before.
    fn run(&mut self) -> Vec<String> {
        let mut statements: Vec<(Statement, Range<usize>)> = Vec::new();
        self.reader
            .each_statement(|statement, lines| statements.push((statement, lines)));
        let mut before = Vec::with_capacity(statements.len());
        for (statement, lines) in &statements {
            self.between(lines.start);
            before.push(reading(statement, self.reader.text));
            self.statement(statement, lines.clone());
        }
        self.between(self.reader.lines.len());
        before
    }

    /// The lines up to `end` that belong to no statement.
    fn between(&mut self, end: usize) {
        while self.out.len() < end {
            let at = self.out.len();
            let line = if self.reader.loose {
                self.raw(at).to_string()
            } else {
                indented(self.reader.indent(at) as usize, self.reader.content(at))
            };
            self.out.push(line);
        }
    }

    fn raw(&self, at: usize) -> &str {
        self.reader
            .spans
            .get(at)
            .map_or("", |line| line.of(self.reader.text))
    }

    /// What stands before the first line of a statement: nothing, or in prose what stood there.
    fn margin(&self, at: usize) -> String {
        if !self.reader.loose {
            return String::new();
        }
        let raw = self.raw(at);
        let content = self.reader.content(at);
        let width = raw.find(content).unwrap_or(0);
        raw.get(..width).unwrap_or("").to_string()
    }

    fn statement(&mut self, statement: &Statement, lines: Range<usize>) {
        let margin = match is_misplaced(statement) {
            true => " ".repeat(self.reader.indent(lines.start) as usize),
            false => self.margin(lines.start),
        };
        let is_wrong = statement
            .diagnostics
            .iter()
            .any(|message| message.severity == Severity::Error);
        let moved = self.moved(lines.clone());
        let mut new = match &statement.kind {
            _ if is_wrong => moved,
            StatementKind::Table(table) if table.file.is_none() => {
                table::lay_out(&mut self.reader, table, lines.clone())
            }
            StatementKind::Formula(_) | StatementKind::Trace(_) => {
                self.owner(statement, lines.clone())
            }
            _ => self.plain(statement, lines.clone()),
        };
        new.resize(lines.len(), String::new());
        if !is_wrong && !reads_alike(statement, self.reader.text, &new) {
            new = self.moved(lines);
        }
        let with_margin = new.into_iter().map(|line| match line.is_empty() {
            true => line,
            false => format!("{margin}{line}"),
        });
        self.out.extend(with_margin);
    }

    /// The lines of a statement as they are, moved so that the first stands at the margin.
    fn moved(&self, lines: Range<usize>) -> Vec<String> {
        let floor = self.reader.indent(lines.start);
        lines
            .map(|at| {
                let indent = self.reader.indent(at).saturating_sub(floor);
                indented(indent as usize, self.reader.content(at))
            })
            .collect()
    }

    fn plain(&mut self, statement: &Statement, lines: Range<usize>) -> Vec<String> {
        let roles = Roles::of(statement, self.reader.text);
        let floor = self.reader.indent(lines.start);
        self.reader.logical_line(lines.start, floor, true);
        self.lines_of(&roles, lines, floor, 0)
    }

    /// The lines of the logical line read last.
    fn lines_of(
        &self,
        roles: &Roles,
        lines: Range<usize>,
        floor: u32,
        margin: usize,
    ) -> Vec<String> {
        let laid = lay_out(self.reader.text, &self.reader.lexer, roles);
        lines
            .map(|at| {
                let line = self.reader.lines.get(at);
                let indent = margin + self.reader.indent(at).saturating_sub(floor) as usize;
                match line.map(|line| line.content) {
                    Some(Content::Text) => {
                        let start = self.reader.span(at).start;
                        let own = laid.iter().find(|laid| laid.start == start);
                        let raw = self.reader.content(at);
                        indented(indent, own.map_or(raw, |laid| &laid.text))
                    }
                    _ => indented(indent, self.reader.content(at)),
                }
            })
            .collect()
    }

    fn owner(&mut self, statement: &Statement, lines: Range<usize>) -> Vec<String> {
        let roles = Roles::of(statement, self.reader.text);
        let floor = self.reader.indent(lines.start);
        let mut at = self.reader.logical_line(lines.start, floor, false);
        let mut out = self.lines_of(&roles, lines.start..at, floor, 0);
        let body = self.reader.next_text(at).unwrap_or(at);
        let floor = self.reader.indent(body);
        while at < lines.end {
            let next = self
                .reader
                .next_text(at)
                .unwrap_or(lines.end)
                .min(lines.end);
            for between in at..next {
                out.push(indented(BODY, self.reader.content(between)));
            }
            if next < lines.end {
                at = self.reader.logical_line(next, floor, true);
                out.extend(self.lines_of(&roles, next..at, floor, BODY));
            } else {
                at = next;
            }
        }
        out
    }
}

/// Whether a statement stands deeper than it may, which only a person can mend.
fn is_misplaced(statement: &Statement) -> bool {
    let owns_lines = matches!(
        statement.kind,
        StatementKind::Formula(_) | StatementKind::Table(_) | StatementKind::Trace(_)
    );
    let first = statement.diagnostics.first();
    !owns_lines && first.is_some_and(|first| first.code == Code::Indentation)
}

/// A line behind so many blanks; an empty line has none.
fn indented(columns: usize, line: &str) -> String {
    match line.is_empty() {
        true => String::new(),
        false => format!("{}{line}", " ".repeat(columns)),
    }
}

/// Whether the new lines of a statement say what the old ones said.
fn reads_alike(statement: &Statement, text: &str, new: &[String]) -> bool {
    let (formatted, spans) = joined(new);
    let again = parse(&formatted, &spans, false);
    match again.as_slice() {
        [again] => print_statement(again, &formatted) == print_statement(statement, text),
        _ => false,
    }
}

/// The tokens of one line on its own.
fn tokens_of<'t>(text: &'t str, line: Span) -> Lexer<'t> {
    let mut lexer = Lexer::new(text);
    lexer.line(line);
    lexer
}
