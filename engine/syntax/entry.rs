//! Lines typed one at a time: what one entry says, and whether it is complete.

use super::block::Reader;
use super::outline::Content;
use super::owner::Owner;
use super::parser;
use super::tree::{Statement, StatementKind};
use crate::source::{Code, Diagnostic, Span};

/// The one statement or expression of an entry; its lines are separated by `\n`.
///
/// A body need not be indented here. What stands behind a complete statement is refused.
pub fn parse_entry(text: &str) -> Statement {
    let lines = physical_lines(text);
    let mut reader = Reader::new(text, &lines, false);
    reader.lenient = true;
    let mut statements = Vec::new();
    reader.each_statement(|statement, _| statements.push(statement));
    let mut statements = statements.into_iter();
    let Some(mut first) = statements.next() else {
        let span = Span::new(0, 0);
        return Statement {
            span,
            kind: StatementKind::Broken(None),
            remark: None,
            diagnostics: vec![
                Diagnostic::error(Code::Syntax, span, "nothing was typed")
                    .expected("a statement or an expression"),
            ],
        };
    };
    if let Some(second) = statements.next() {
        first.diagnostics.push(
            Diagnostic::error(Code::Syntax, second.span, "a second statement in one entry")
                .expected("one at a time"),
        );
    }
    first
}

/// Whether an entry needs no more lines: no bracket and no text is open, and a formula has its
/// result. A table or trace, to which lines can always be added, is ended by an empty line.
pub fn is_complete(text: &str) -> bool {
    let lines = physical_lines(text);
    let mut reader = Reader::new(text, &lines, false);
    reader.lenient = true;
    let Some(at) = reader.next_text(0) else {
        return true;
    };
    let last_is_blank = reader
        .lines
        .last()
        .is_some_and(|line| line.content == Content::Blank);
    let Some(owner) = Owner::of(reader.content(at)) else {
        let floor = reader.indent(at);
        reader.logical_line(at, floor, true);
        return !reader.lexer.is_open() && !reader.lexer.is_unended();
    };
    if reader.look(at, parser::begins_cell) {
        return true;
    }
    let floor = reader.indent(at);
    let mut behind = reader.logical_line(at, floor, false);
    if reader.lexer.is_open() {
        return false;
    }
    let from_file = owner == Owner::Table && reader.lexer.tokens.len() > 2;
    let mut ended = from_file;
    while let Some(next) = reader.next_text(behind) {
        let floor = reader.indent(next);
        behind = reader.logical_line(next, floor, true);
        if reader.lexer.is_open() || reader.lexer.is_unended() {
            return false;
        }
        ended = owner == Owner::Formula
            && !reader.look(next, |line| {
                parser::begins_cell(line) || parser::begins_clause(line)
            });
    }
    ended || last_is_blank
}

fn physical_lines(text: &str) -> Vec<Span> {
    let mut lines = Vec::new();
    let mut start = 0;
    for line in text.split('\n') {
        let end = start + line.len();
        lines.push(Span::new(start, end - usize::from(line.ends_with('\r'))));
        start = end + 1;
    }
    lines
}
