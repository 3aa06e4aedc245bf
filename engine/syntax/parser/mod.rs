//! From the tokens of a logical line to a tree, on nom over our own tokens. What is certain is
//! cut, so a message names the real place and no line is read twice; every failure leaves this
//! folder as a diagnostic.

mod exponent;
mod expression;
mod fault;
mod formula;
mod group;
mod input;
mod literal;
mod mistaken;
mod operand;
mod page;
mod power;
mod refusal;
mod scenario;
mod shape;
mod statement;
mod study;
mod table;
mod trace;
mod uncertainty;
mod unit;

pub(super) use fault::clipped;
pub(super) use formula::{BodyLine, begins_clause, body_line, head as formula_head};
pub(super) use input::{Parsed, Problem, Tokens};
pub(super) use mistaken::broken_name;
pub(super) use page::Page;
pub(super) use shape::{begins_cell, looks_like_statement};
pub(super) use statement::{line, table_head};
pub(super) use table::{column_head, quantity_field};
pub(super) use trace::{head as trace_head, looks_like_line, trace_line};

/// Runs a parser over a whole page.
pub(super) fn run<'t, T>(
    page: &'t Page<'t>,
    parser: impl FnOnce(Tokens<'t>) -> Parsed<'t, T>,
    expected: &str,
) -> Option<T> {
    let result = parser(page.tokens());
    let problem = match result {
        Ok((rest, tree)) if rest.is_empty() => return Some(tree),
        Ok((rest, _)) => fault::unexpected(rest, expected),
        Err(problem) => problem,
    };
    let problem = match problem {
        nom::Err::Failure(Problem::Said(diagnostic))
        | nom::Err::Error(Problem::Said(diagnostic)) => *diagnostic,
        _ => match fault::unexpected(page.tokens(), expected) {
            nom::Err::Failure(Problem::Said(diagnostic)) => *diagnostic,
            _ => return None,
        },
    };
    page.end_with(problem);
    None
}
