//! Statements that own the lines indented below them: formulas, tables and traces. A line of a
//! body that cannot be read leaves the others; a body that lost its indentation is still read.

use super::block::{Reader, broken, whole};
use super::fold;
use super::parser::{self, Page, Parsed, Tokens};
use super::rows;
use super::tree::{Name, Statement, StatementKind, Table, Trace, TraceLine};
use crate::source::{Code, Diagnostic, Span};

/// The kinds of statements with a body.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Owner {
    /// `formula`
    Formula,
    /// `table`
    Table,
    /// `trace`
    Trace,
}

impl Owner {
    /// The kind that a line begins, if any.
    pub fn of(line: &str) -> Option<Owner> {
        if !line.starts_with(['f', 't']) {
            return None;
        }
        let end = line.find(|sign: char| !fold::continues_word(sign));
        match line.get(..end.unwrap_or(line.len()))? {
            "formula" => Some(Owner::Formula),
            "table" => Some(Owner::Table),
            "trace" => Some(Owner::Trace),
            _ => None,
        }
    }

    fn noun(self) -> &'static str {
        match self {
            Owner::Formula => "formula",
            Owner::Table => "table",
            Owner::Trace => "trace",
        }
    }

    /// What the lines of the body are.
    fn lines(self) -> &'static str {
        match self {
            Owner::Formula => "its lines below, indented by four blanks, the result last",
            Owner::Table => "its rows below, indented by four blanks, the heads first",
            Owner::Trace => "its lines below, indented by four blanks",
        }
    }
}

/// The lines of a body: the first, and the first behind it.
#[derive(Clone, Copy)]
pub(super) struct Body {
    /// The first line, unless there is none.
    pub start: usize,
    /// The first line behind the body.
    pub end: usize,
}

/// A statement with a body, and the first line behind it.
pub(super) fn statement(reader: &mut Reader<'_>, owner: Owner, at: usize) -> (Statement, usize) {
    let floor = reader.indent(at);
    let behind_head = reader.logical_line(at, floor, false);
    let span = reader.span(at);
    match owner {
        Owner::Formula => super::body::formula(reader, at, behind_head, span),
        Owner::Table => table(reader, at, behind_head),
        Owner::Trace => trace(reader, at, behind_head),
    }
}

/// What a parser makes of the logical line read last, with its messages.
pub(super) fn run<'r, T>(
    reader: &'r Reader<'_>,
    lines: std::ops::Range<usize>,
    parser: impl for<'t> FnOnce(Tokens<'t>) -> Parsed<'t, T>,
    expected: &str,
) -> (Option<T>, Option<Name>, Vec<Diagnostic>) {
    let lines: &'r [Span] = reader.spans.get(lines).unwrap_or(&[]);
    let page = Page::new(reader.text, lines, &reader.lexer.tokens);
    let tree = parser::run(&page, parser, expected);
    let name = broken(&page);
    (tree, name, page.into_diagnostics())
}

/// What may stand where an expression ends.
pub(super) const LINE_END: &str = "an operator or the end of the line";

/// Where the body of a statement lies: the lines below that stand deeper, or those that look as
/// if they had stood deeper before they were pasted.
pub(super) fn body(
    reader: &mut Reader<'_>,
    owner: Owner,
    at: usize,
    behind_head: usize,
    diagnostics: &mut Vec<Diagnostic>,
) -> Body {
    let floor = reader.indent(at);
    let mut end = behind_head;
    while let Some(next) = reader.next_text(end) {
        let prose = reader.loose && reader.has_blank(end, next) && owner != Owner::Formula;
        if reader.indent(next) <= floor || prose {
            break;
        }
        end = next + 1;
    }
    if end > behind_head {
        let start = reader.next_text(behind_head).unwrap_or(behind_head);
        return Body { start, end };
    }
    let lost = lost_body(reader, owner, behind_head);
    let head = reader.span(at);
    let noun = owner.noun();
    let head_is_broken = !diagnostics.is_empty();
    if lost.end == lost.start && head_is_broken {
        return lost;
    }
    if lost.end == lost.start {
        diagnostics.push(
            Diagnostic::error(Code::Syntax, head, format!("a {noun} without a body"))
                .expected(owner.lines()),
        );
    } else if !reader.lenient && !is_barred(reader, owner, lost) {
        diagnostics.push(
            Diagnostic::error(
                Code::Indentation,
                head,
                format!("the lines of this {noun} have lost their indentation"),
            )
            .label("nothing below it stands deeper")
            .expected(owner.lines()),
        );
    }
    lost
}

/// A table whose rows all begin with `|` needs no indentation to be told from other lines.
fn is_barred(reader: &Reader<'_>, owner: Owner, body: Body) -> bool {
    owner == Owner::Table
        && (body.start..body.end)
            .filter(|at| reader.lines.get(*at).is_some_and(rows::holds_text))
            .all(|at| reader.content(at).starts_with('|'))
}

/// The lines directly below a head that belong to it although they don't stand deeper.
fn lost_body(reader: &mut Reader<'_>, owner: Owner, behind_head: usize) -> Body {
    let mut end = behind_head;
    let (mut clauses, mut result) = (behind_head, false);
    while let Some(next) = reader.next_text(end) {
        if reader.has_blank(end, next) || result {
            break;
        }
        let fits = match owner {
            Owner::Table => reader.content(next).contains('|'),
            Owner::Trace => reader.look(next, parser::looks_like_line),
            Owner::Formula => {
                let is_clause = reader.look(next, parser::begins_clause);
                let is_cell = reader.look(next, parser::begins_cell);
                if is_clause && clauses == end {
                    clauses = next + 1;
                }
                result = !is_clause && !is_cell;
                !result || !reader.begins(next)
            }
        };
        if !fits {
            result = false;
            break;
        }
        end = next + 1;
    }
    if owner == Owner::Formula && !result {
        end = clauses;
    }
    let start = reader.next_text(behind_head).unwrap_or(behind_head);
    Body {
        start: start.min(end),
        end,
    }
}

/// The logical lines of a body, each handed to `read` with its lines.
pub(super) fn each_line(
    reader: &mut Reader<'_>,
    body: Body,
    mut read: impl FnMut(&Reader<'_>, std::ops::Range<usize>),
) -> usize {
    let floor = reader.indent(body.start);
    let mut at = body.start;
    while let Some(next) = reader.next_text(at).filter(|next| *next < body.end) {
        at = reader.logical_line(next, floor, true);
        read(reader, next..at);
    }
    at.max(body.end)
}

/// The name behind the statement word, if it is one.
pub(super) fn defined_name(reader: &Reader<'_>) -> Option<Name> {
    let token = reader.lexer.tokens.get(1)?;
    (token.kind == super::token::Kind::Word).then(|| Name {
        text: fold::word(token.span.of(reader.text)).into(),
        span: token.span,
    })
}

fn table(reader: &mut Reader<'_>, at: usize, behind_head: usize) -> (Statement, usize) {
    let (head, _, mut diagnostics) = run(
        reader,
        at..behind_head,
        parser::table_head,
        "the end of the line",
    );
    let name = defined_name(reader);
    if let Some((name, Some(file))) = head {
        let table = Table {
            name,
            file: Some(file),
            head: Vec::new(),
            rows: Vec::new(),
        };
        let kind = StatementKind::Table(Box::new(table));
        return whole(reader, at, behind_head, kind, diagnostics);
    }
    let body = body(reader, Owner::Table, at, behind_head, &mut diagnostics);
    let Some((name, _)) = head else {
        return whole(
            reader,
            at,
            body.end,
            StatementKind::Broken(name),
            diagnostics,
        );
    };
    let table = rows::table(reader, name, body, &mut diagnostics);
    let kind = StatementKind::Table(Box::new(table));
    whole(reader, at, body.end, kind, diagnostics)
}

fn trace(reader: &mut Reader<'_>, at: usize, behind_head: usize) -> (Statement, usize) {
    let (head, _, mut diagnostics) = run(reader, at..behind_head, parser::trace_head, LINE_END);
    let name = defined_name(reader);
    let body = body(reader, Owner::Trace, at, behind_head, &mut diagnostics);
    let mut lines: Vec<TraceLine> = Vec::new();
    let end = each_line(reader, body, |reader, run_of_lines| {
        let (line, _, messages) = run(reader, run_of_lines, parser::trace_line, LINE_END);
        diagnostics.extend(messages);
        lines.extend(line);
    });
    let Some((name, over)) = head else {
        return whole(reader, at, end, StatementKind::Broken(name), diagnostics);
    };
    let kind = StatementKind::Trace(Box::new(Trace { name, over, lines }));
    whole(reader, at, end, kind, diagnostics)
}
