//! The body of a formula: its lines sorted into clauses, local cells and the result.

use super::block::{Reader, whole};
use super::owner::{LINE_END, Owner, body, defined_name, each_line, run};
use super::parser::{self, BodyLine};
use super::tree::{Cell, Clause, Expr, ExprKind, Formula, Statement, StatementKind};
use crate::source::{Code, Diagnostic, Span};

/// The formula whose head stands on the logical line read last, and the first line behind it.
pub(super) fn formula(
    reader: &mut Reader<'_>,
    at: usize,
    behind_head: usize,
    span: Span,
) -> (Statement, usize) {
    let (head, _, mut diagnostics) = run(
        reader,
        at..behind_head,
        parser::formula_head,
        "the end of the line",
    );
    let name = defined_name(reader);
    let body = body(reader, Owner::Formula, at, behind_head, &mut diagnostics);
    let mut lines = BodyLines::default();
    let end = each_line(reader, body, |reader, run_of_lines| {
        lines.read(reader, run_of_lines, &mut diagnostics);
    });
    let Some((name, parameters, unit)) = head else {
        return whole(reader, at, end, StatementKind::Broken(name), diagnostics);
    };
    if lines.result.is_none() && body.end > body.start {
        diagnostics.push(
            Diagnostic::error(
                Code::Syntax,
                span,
                format!("the formula {} gives no result", name.text),
            )
            .expected("an expression without a name as its last line"),
        );
    }
    let formula = Formula {
        name,
        parameters,
        unit,
        clauses: lines.clauses,
        locals: lines.locals,
        result: lines.result.unwrap_or(nothing(span)),
    };
    let kind = StatementKind::Formula(Box::new(formula));
    whole(reader, at, end, kind, diagnostics)
}

fn nothing(span: Span) -> Expr {
    Expr {
        span,
        kind: ExprKind::Refused(None),
    }
}

/// The lines of a formula, sorted.
#[derive(Default)]
struct BodyLines {
    clauses: Vec<Clause>,
    locals: Vec<Cell>,
    result: Option<Expr>,
}

impl BodyLines {
    fn read(
        &mut self,
        reader: &Reader<'_>,
        lines: std::ops::Range<usize>,
        diagnostics: &mut Vec<Diagnostic>,
    ) {
        let span = reader.span(lines.start);
        let (line, name, messages) = run(reader, lines, parser::body_line, LINE_END);
        diagnostics.extend(messages);
        if let Some(earlier) = self.result.take() {
            diagnostics.push(
                Diagnostic::error(
                    Code::Syntax,
                    earlier.span,
                    "a result that is not the last line",
                )
                .expected("`name =` before it; only the last line has no name"),
            );
        }
        match (line, name) {
            (Some(BodyLine::Clause(clause)), _) => self.clauses.push(clause),
            (Some(BodyLine::Local(cell)), _) => self.locals.push(cell),
            (Some(BodyLine::Result(result)), _) => self.result = Some(result),
            (None, Some(name)) => self.locals.push(Cell {
                name,
                column: None,
                unit: None,
                value: nothing(span),
            }),
            (None, None) => self.result = Some(nothing(span)),
        }
    }
}
