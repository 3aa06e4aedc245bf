//! Trying other values: `with` and `solve`.

use nom::Parser;
use nom::combinator::opt;
use nom::sequence::preceded;

use super::expression::{list, sum};
use super::input::{Parsed, Tokens, reserved};
use super::{fault, operand, unit};
use crate::syntax::token::{Kind, Reserved};
use crate::syntax::tree::{Expr, ExprKind, Override, Path, Solve};

/// `with cell = value, …` behind a value.
pub(super) fn overrides(input: Tokens<'_>, subject: Expr) -> Parsed<'_, Expr> {
    let (input, overrides) = list(input.after(), one_override)?;
    input.grow()?;
    let span = input.span_from(subject.span);
    let kind = ExprKind::With(Box::new(subject), overrides);
    Ok((input, Expr { span, kind }))
}

fn one_override(input: Tokens<'_>) -> Parsed<'_, Override> {
    let (input, cell) = cell(input)?;
    let (input, value) = set_to(input)?;
    Ok((input, Override { cell, value }))
}

fn cell(input: Tokens<'_>) -> Parsed<'_, Path> {
    operand::path(input, "a cell")
}

/// `= sum`.
pub(super) fn set_to(input: Tokens<'_>) -> Parsed<'_, Expr> {
    if input.kind() != Kind::Equal {
        return Err(fault::unexpected(input, "`=` and a value"));
    }
    sum(input.after())
}

/// `solve name [unit] for left = right from a to b`.
pub(super) fn solve(input: Tokens<'_>) -> Parsed<'_, Expr> {
    let start = input.token().span;
    if input.page.in_solve.replace(true) {
        return Err(fault::bare_word(input));
    }
    let (input, unknown) = cell(input.after())?;
    let (input, unit) = unit::optional_bracket(input)?;
    let (input, _) = fault::demand_word(input, Reserved::For, "`for` and what must become equal")?;
    let (input, left) = sum(input)?;
    let (input, right) = set_to(input)?;
    let (input, range) = opt(preceded(reserved(Reserved::From), range)).parse(input)?;
    let span = input.span_from(start);
    let solve = Solve {
        unknown,
        unit,
        left,
        right,
        range,
    };
    Ok((
        input,
        Expr {
            span,
            kind: ExprKind::Solve(Box::new(solve)),
        },
    ))
}

/// `a to b`, behind `from`.
pub(super) fn range(input: Tokens<'_>) -> Parsed<'_, (Expr, Expr)> {
    let (input, low) = sum(input)?;
    let (input, _) = fault::demand_word(input, Reserved::To, "`to` and the other end")?;
    let (input, high) = sum(input)?;
    Ok((input, (low, high)))
}
