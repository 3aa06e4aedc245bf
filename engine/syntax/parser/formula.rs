//! Formulas: the head with its parameters, and the lines of the body, each read on its own so
//! that one broken line leaves the others.

use super::expression::{condition, list, shown, sum};
use super::input::{Parsed, Tokens, demand};
use super::shape::begins_cell;
use super::statement::cell;
use super::{fault, operand, unit};
use crate::syntax::token::{Kind, Token};
use crate::syntax::tree::{Cell, Clause, Expr, Name, Parameter, UnitExpr};

/// A name, its parameters, and the unit of its result.
type FormulaHead = (Name, Vec<Parameter>, Option<UnitExpr>);

/// `formula name(parameters) [unit]`
pub(in crate::syntax) fn head(input: Tokens<'_>) -> Parsed<'_, FormulaHead> {
    let (input, name) = operand::name(input.after(), "a name for the formula")?;
    let opening = input.token();
    let (input, _) = demand(Kind::OpenRound, "`(` and the parameters")(input)?;
    let (input, parameters) = if input.kind() == Kind::CloseRound {
        (input, Vec::new())
    } else {
        list(input, parameter)?
    };
    let (input, _) = fault::demand_closing(input, opening, "`,` and another parameter, or `)`")?;
    let (input, unit) = unit::optional_bracket(input)?;
    Ok((input, (name, parameters, unit)))
}

fn parameter(input: Tokens<'_>) -> Parsed<'_, Parameter> {
    let (input, name) = operand::name(input, "a parameter")?;
    let (input, unit) = unit::optional_bracket(input)?;
    let (input, default) = if input.kind() == Kind::Equal {
        let (input, default) = sum(input.after())?;
        (input, Some(default))
    } else {
        (input, None)
    };
    Ok((
        input,
        Parameter {
            name,
            unit,
            default,
        },
    ))
}

/// A line of a body.
pub(in crate::syntax) enum BodyLine {
    /// `source`, `limit` or `caution`.
    Clause(Clause),
    /// A local cell.
    Local(Cell),
    /// What the formula gives, which is the last line.
    Result(Expr),
}

/// One line of the body of a formula.
pub(in crate::syntax) fn body_line(input: Tokens<'_>) -> Parsed<'_, BodyLine> {
    if begins_cell(input) {
        let (input, cell) = cell(input)?;
        return Ok((input, BodyLine::Local(cell)));
    }
    if begins_clause(input) {
        let (input, clause) = clause(input)?;
        return Ok((input, BodyLine::Clause(clause)));
    }
    let (input, result) = shown(input)?;
    Ok((input, BodyLine::Result(result)))
}

/// Whether a line of a body is a clause: `limit` alone may be a parameter.
pub(in crate::syntax) fn begins_clause(input: Tokens<'_>) -> bool {
    if input.kind() != Kind::Word {
        return false;
    }
    let next = input.token_at(1);
    let is_text = matches!(next.kind, Kind::Text | Kind::OpenText);
    match input.text(input.token()) {
        "source" => is_text || next.kind == Kind::End,
        "caution" => is_text || next.kind == Kind::End || input.text(next) == "when",
        // A blank before the sign and none behind it: `limit -5 km <= height`, no subtraction.
        "limit" => {
            let negative = next.kind == Kind::Minus
                && next.after_blank()
                && !input.token_at(2).after_blank()
                && operand::begins_literal(input.token_at(2).kind);
            is_text || negative || begins_condition(next)
        }
        _ => false,
    }
}

fn begins_condition(token: Token) -> bool {
    use crate::syntax::token::Reserved::Not;
    operand::begins_literal(token.kind)
        || matches!(
            token.kind,
            Kind::Word | Kind::OpenRound | Kind::OpenCurly | Kind::Reserved(Not)
        )
}

fn clause(input: Tokens<'_>) -> Parsed<'_, Clause> {
    let inner = input.after();
    match input.text(input.token()) {
        "source" => {
            let (input, text) = operand::text(inner, "where the formula comes from, in quotes")?;
            Ok((input, Clause::Source(text)))
        }
        "limit" => {
            let (input, condition) = condition(inner)?;
            let (input, text) = operand::text(input, "what to say outside the limit, in quotes")?;
            Ok((input, Clause::Limit { condition, text }))
        }
        _ => caution(inner),
    }
}

fn caution(input: Tokens<'_>) -> Parsed<'_, Clause> {
    let (input, when) = if input.is_word("when") {
        let (input, when) = condition(input.after())?;
        (input, Some(when))
    } else {
        (input, None)
    };
    let (input, text) = operand::text(input, "the caution in quotes, or `when` and a condition")?;
    Ok((input, Clause::Caution { when, text }))
}
