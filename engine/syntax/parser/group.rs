//! Operands in brackets: calls, `readings`, values in parentheses, columns.

use super::expression::{list, shown, value};
use super::input::{Parsed, Tokens};
use super::literal::{self, Place};
use super::operand::name;
use super::{fault, refusal, uncertainty, unit};
use crate::source::Span;
use crate::syntax::token::{Kind, Reserved};
use crate::syntax::tree::{Argument, Column, Expr, ExprKind};

pub(super) fn call(input: Tokens<'_>) -> Parsed<'_, Expr> {
    let is_readings = input.is_word("readings");
    let (input, name) = name(input, "a formula")?;
    let opening = input.token();
    if is_readings {
        return readings(input, name.span);
    }
    let inner = input.after();
    let (input, arguments) = if inner.kind() == Kind::CloseRound {
        (inner, Vec::new())
    } else {
        list(inner, argument)?
    };
    let (input, _) = fault::demand_closing(input, opening, "`,` and another argument, or `)`")?;
    let span = input.span_from(name.span);
    Ok((
        input,
        Expr {
            span,
            kind: ExprKind::Call(name, arguments),
        },
    ))
}

fn argument(input: Tokens<'_>) -> Parsed<'_, Argument> {
    let behind = input.token_at(1);
    let (input, name) =
        if input.kind() == Kind::Word && matches!(behind.kind, Kind::Colon | Kind::Equal) {
            let (rest, name) = name(input, "an argument")?;
            (rest.after(), Some(name))
        } else {
            (input, None)
        };
    let (input, value) = shown(input)?;
    if input.kind() == Kind::Reserved(Reserved::With) {
        return Err(fault::scenario_in_list(input, &value));
    }
    if let (Kind::Equal, Some(name)) = (behind.kind, &name) {
        refusal::equals_in_argument(input.page, behind, name, &value);
    }
    Ok((input, Argument { name, value }))
}

fn readings(input: Tokens<'_>, start: Span) -> Parsed<'_, Expr> {
    let opening = input.token();
    let (input, column) = value(input.after())?;
    let (input, _) = fault::demand_closing(input, opening, "`)`: readings takes one column")?;
    let (input, plus_minus) = uncertainty::optional(input)?;
    let span = input.span_from(start);
    let kind = ExprKind::Readings(Box::new(column), plus_minus.map(Box::new));
    Ok((input, Expr { span, kind }))
}

pub(super) fn bracketed(input: Tokens<'_>) -> Parsed<'_, Expr> {
    let opening = input.token();
    let (input, inner) = value(input.after())?;
    let (input, closing) = fault::demand_closing(input, opening, "an operator or `)`")?;
    let span = opening.span.to(closing.span);
    Ok((
        input,
        Expr {
            span,
            kind: ExprKind::Bracketed(Box::new(inner)),
        },
    ))
}

pub(super) fn column(input: Tokens<'_>) -> Parsed<'_, Expr> {
    let opening = input.token();
    let (input, items) = list(input.after(), item)?;
    let (input, _) = fault::demand_closing(input, opening, "`,` and another item, or `}`")?;
    let (input, unit) = unit::behind_number(input)?;
    let (input, plus_minus) = uncertainty::optional(input)?;
    let span = input.span_from(opening.span);
    let column = Column {
        items,
        unit,
        plus_minus,
    };
    Ok((
        input,
        Expr {
            span,
            kind: ExprKind::Column(Box::new(column)),
        },
    ))
}

fn item(input: Tokens<'_>) -> Parsed<'_, Expr> {
    let minus = (input.kind() == Kind::Minus).then(|| input.token());
    let number = if minus.is_some() {
        input.after()
    } else {
        input
    };
    if literal::is_fraction_item(number) {
        return literal::literal(number, minus, Place::Item);
    }
    let (input, value) = shown(input)?;
    if input.kind() == Kind::Reserved(Reserved::With) {
        return Err(fault::scenario_in_list(input, &value));
    }
    Ok((input, value))
}
