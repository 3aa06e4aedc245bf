//! Units behind numbers in writings with two readings: `0.25 in^2`, `140 [psig]`.

use super::{binary, offer, refused};
use crate::source::{Code, Diagnostic};
use crate::syntax::parser::input::{Parsed, Tokens};
use crate::syntax::parser::unit;
use crate::syntax::printer::{print_expr, print_unit};
use crate::syntax::tree::{BinaryOperator, Expr, ExprKind, Joint, UnitExpr, UnitTermKind};

/// `140 [psig]`; `None` where the bracket is right.
pub(in crate::syntax::parser) fn bracket_on_literal(
    input: Tokens<'_>,
    inner: &Expr,
    bracket: &UnitExpr,
) -> Option<Expr> {
    let plain = print_unit(bracket) == "1";
    let bracket = &behind_number(bracket);
    let mut reading = inner.clone();
    match &mut reading.kind {
        ExprKind::Literal(literal) if literal.unit.is_none() && !plain => {
            match literal.plus_minus.as_mut().map(|pm| &mut pm.amount.kind) {
                Some(ExprKind::Literal(amount)) if amount.unit.is_none() => {
                    amount.unit = Some(bracket.clone());
                }
                Some(ExprKind::Literal(_)) | None => literal.unit = Some(bracket.clone()),
                Some(_) => return None,
            }
        }
        ExprKind::Column(column) if column.unit.is_none() && !plain => {
            if !column.items.iter().all(is_bare_number) {
                return None;
            }
            column.unit = Some(bracket.clone());
        }
        _ => return None,
    }
    let span = input.span_from(inner.span);
    input.page.say(
        Diagnostic::error(
            Code::BracketOnLiteral,
            span,
            "a unit bracket behind a bare number",
        )
        .label("a bracket shows a result in a unit, a number has its own")
        .expected("the unit behind the number")
        .replace(span, print_expr(&reading)),
    );
    Some(refused(span, Some(reading)))
}

/// A unit of a bracket as it stands behind a number: `[1/ft]` is `per ft`.
fn behind_number(bracket: &UnitExpr) -> UnitExpr {
    let mut unit = bracket.clone();
    let begins_with_one = unit.terms.len() > 1
        && unit
            .terms
            .first()
            .is_some_and(|term| term.kind == UnitTermKind::One);
    if begins_with_one {
        unit.terms.remove(0);
        if let Some(first) = unit.terms.first_mut() {
            first.joint = match first.joint {
                Joint::Over | Joint::Per => Joint::Per,
                _ => Joint::First,
            };
        }
    }
    unit
}

fn is_bare_number(item: &Expr) -> bool {
    matches!(&item.kind, ExprKind::Literal(literal) if literal.unit.is_none())
}

/// Whether this is a number or column with a unit or ±, which takes no power.
pub(in crate::syntax::parser) fn is_quantity(base: &Expr) -> bool {
    match &base.kind {
        ExprKind::Literal(literal) => literal.unit.is_some() || literal.plus_minus.is_some(),
        ExprKind::Column(column) => column.unit.is_some() || column.plus_minus.is_some(),
        ExprKind::Readings(_, plus_minus) => plus_minus.is_some(),
        _ => false,
    }
}

/// `0.25 in^2`; gives the tokens behind it too, since the unit may go on.
pub(in crate::syntax::parser) fn power_of_literal<'t>(
    input: Tokens<'t>,
    base: Expr,
    exponent: Expr,
) -> Parsed<'t, Expr> {
    let whole = format!("({})^{}", print_expr(&base), print_expr(&exponent));
    let unit_reading = powered_unit(&base, &exponent);
    let (rest, reading) = match unit_reading {
        Some(reading) => with_rest_of_unit(input, reading)?,
        None => (input, None),
    };
    let span = rest.span_from(base.span);
    let mut diagnostic = Diagnostic::error(
        Code::PowerOfLiteral,
        span,
        "a power behind a number with a unit",
    )
    .expected("the power on the unit, or on number and unit together");
    if let Some(reading) = &reading {
        diagnostic = diagnostic.label("has two readings");
        diagnostic = offer(diagnostic, span, print_expr(reading), "the unit alone");
    }
    let tail = rest.span_from(exponent.span).of(input.page.text);
    let tail = tail
        .get(exponent.span.of(input.page.text).len()..)
        .unwrap_or("");
    diagnostic = offer(
        diagnostic,
        span,
        format!("{whole}{tail}"),
        "number and unit together",
    );
    input.page.say(diagnostic);
    let reading = reading.unwrap_or_else(|| {
        let bracketed = Expr {
            span: base.span,
            kind: ExprKind::Bracketed(Box::new(base)),
        };
        binary(BinaryOperator::Power, bracketed, exponent)
    });
    Ok((rest, refused(span, Some(reading))))
}

/// The literal with the power on its only unit word.
fn powered_unit(base: &Expr, exponent: &Expr) -> Option<Expr> {
    let ExprKind::Literal(power) = &exponent.kind else {
        return None;
    };
    let digits: i32 = power.number.digits.parse().ok()?;
    if power.unit.is_some() || power.number.fraction.is_some() || digits > 99 {
        return None;
    }
    let mut reading = base.clone();
    let ExprKind::Literal(literal) = &mut reading.kind else {
        return None;
    };
    if literal.plus_minus.is_some() {
        return None;
    }
    let unit = literal.unit.as_mut()?;
    match unit.terms.as_mut_slice() {
        [term] if term.exponent == (1, 1) && unit.reference.is_none() => {
            term.exponent = (if power.negative { -digits } else { digits }, 1);
        }
        _ => return None,
    }
    Some(reading)
}

/// `0.25 in^2/min`: what follows the power still belongs to the unit.
fn with_rest_of_unit(input: Tokens<'_>, mut reading: Expr) -> Parsed<'_, Option<Expr>> {
    if let ExprKind::Literal(literal) = &mut reading.kind
        && let Some(unit) = literal.unit.take()
    {
        let (rest, unit) = unit::go_on(input, unit)?;
        literal.unit = Some(unit);
        return Ok((rest, Some(reading)));
    }
    Ok((input, None))
}
