//! Values side by side without an operator: what is said depends on what they are. Once said, the
//! rest of the row is read in silence.

use super::range::shown_decimal;
use super::{begins_operand, binary, is_whole_of, offer, refused};
use crate::source::{Code, Diagnostic, Span};
use crate::syntax::parser::fault::{self, excerpt};
use crate::syntax::parser::input::{Parsed, Tokens};
use crate::syntax::parser::literal;
use crate::syntax::parser::operand;
use crate::syntax::parser::shape::looks_like_statement;
use crate::syntax::parser::unit;
use crate::syntax::printer::{print_expr, print_unit};
use crate::syntax::token::Kind;
use crate::syntax::tree::{BinaryOperator, Expr, ExprKind, Literal, UnitExpr};

/// Refuses the operand that follows `left` directly.
pub(in crate::syntax::parser) fn juxtaposed(input: Tokens<'_>, left: Expr) -> Parsed<'_, Expr> {
    if input.token().begins_line() && looks_like_statement(input) {
        return Err(fault::statement_inside(input));
    }
    let silent = matches!(left.kind, ExprKind::Refused(_));
    let start = left.span;
    let (mut input, reading) = match (&left.kind, input.kind()) {
        _ if silent => (input, None),
        (ExprKind::Literal(_), Kind::Word | Kind::UnitSign) => behind_unit(input, &left)?,
        (_, Kind::Word | Kind::UnitSign) if unit::begins(input) => unit_behind(input, &left)?,
        (ExprKind::Literal(_), kind) if operand::begins_literal(kind) => two_literals(input, left)?,
        _ => two_values(input, left)?,
    };
    while begins_operand(input.kind()) {
        (input, _) = operand_or_unit(input)?;
    }
    Ok((input, refused(input.span_from(start), reading)))
}

fn operand_or_unit(input: Tokens<'_>) -> Parsed<'_, ()> {
    let rest = match input.kind() {
        Kind::UnitSign => input.after(),
        _ => operand::postfix(input, None)?.0,
    };
    Ok((rest, ()))
}

/// `5 cfm free air`: the unit has ended.
fn behind_unit<'t>(input: Tokens<'t>, left: &Expr) -> Parsed<'t, Option<Expr>> {
    let token = input.token();
    let word = input.text(token);
    let mut diagnostic = Diagnostic::error(
        Code::Juxtaposed,
        token.span,
        format!("`{word}` behind a value that has ended"),
    )
    .expected("an operator or the end of the line");
    if input.kind() == Kind::Word && input.is_called_or_opened(0) {
        diagnostic = offer(
            diagnostic,
            token.span,
            format!("* {word}"),
            "times what follows",
        );
    }
    input.page.say(diagnostic);
    let (rest, ()) = operand_or_unit(input)?;
    Ok((rest, Some(left.clone())))
}

/// `pi mm`, `(2 + 3) mm`, `pump output`: whether the word is a unit is not known here.
fn unit_behind<'t>(input: Tokens<'t>, left: &Expr) -> Parsed<'t, Option<Expr>> {
    let token = input.token();
    let (rest, unit) = unit::behind_number(input)?;
    let unit = unit.map_or_else(|| input.text(token).to_string(), |unit| print_unit(&unit));
    let (before, span) = (print_expr(left), rest.span_from(left.span));
    let mut diagnostic = Diagnostic::error(
        Code::UnitBehind,
        rest.span_from(token.span),
        format!("`{unit}` behind something that is no number"),
    )
    .expected("an operator between two values, or a bracket around a unit");
    diagnostic = offer(
        diagnostic,
        span,
        format!("{before} * 1 {unit}"),
        format!("if {unit} is a unit"),
    );
    if rest.is_empty() {
        diagnostic = offer(
            diagnostic,
            span,
            format!("{before} [{unit}]"),
            format!("to show it in {unit}"),
        );
    }
    if let ExprKind::Name(name) = &left.kind
        && token.kind == Kind::Word
        && rest.index() == input.index() + 1
    {
        let joined = format!("{name}_{}", input.text(token));
        let span = left.span.to(token.span);
        diagnostic = offer(diagnostic, span, joined, "if it is one name");
    }
    input.page.say(diagnostic);
    Ok((rest, None))
}

/// `5 ft 3 in`, `1 200`, `1 1/2`.
fn two_literals(input: Tokens<'_>, left: Expr) -> Parsed<'_, Option<Expr>> {
    let first = input.token();
    if let ExprKind::Literal(number) = &left.kind
        && number.unit.is_none()
    {
        if let Some((rest, text)) = one_number(input, number) {
            let span = rest.span_from(left.span);
            let (rest, unit) = unit::behind_number(rest)?;
            let whole = unit
                .as_ref()
                .map_or(text.clone(), |unit| format!("{text} {}", print_unit(unit)));
            input.page.say(
                Diagnostic::error(Code::Juxtaposed, span, "a blank inside a number")
                    .expected("one number, or an operator between two")
                    .replace(rest.span_from(left.span), whole),
            );
            return Ok((rest, Some(with_unit(left, unit))));
        }
        return two_values(input, left);
    }
    let (rest, right) = literal::literal(input, None, literal::Place::Operand)?;
    let span = left.span.to(right.span);
    let has_unit = matches!(&right.kind, ExprKind::Literal(right) if right.unit.is_some());
    let reading = binary(BinaryOperator::Plus, left, right);
    let diagnostic = side_by_side(span, "two amounts side by side").label(format!(
        "no sign before `{}`",
        excerpt(input.page, first.span)
    ));
    input.page.say(match has_unit {
        true => diagnostic.replace(span, print_expr(&reading)),
        false => diagnostic,
    });
    Ok((rest, Some(reading)))
}

fn side_by_side(span: Span, message: &str) -> Diagnostic {
    Diagnostic::error(Code::Juxtaposed, span, message).expected("an operator between them")
}

fn with_unit(mut left: Expr, unit: Option<UnitExpr>) -> Expr {
    if let ExprKind::Literal(literal) = &mut left.kind {
        literal.unit = unit;
    }
    left
}

/// A number that a blank has cut in two: what stands behind it, and how to write it.
fn one_number<'t>(input: Tokens<'t>, left: &Literal) -> Option<(Tokens<'t>, String)> {
    let sign = if left.negative { "-" } else { "" };
    let whole: i128 = left.number.digits.parse().ok()?;
    if let Some(parts) = literal::fraction_parts(input)
        && parts.whole.is_none()
        && parts.is_workshop()
        && parts.below != 3
    {
        let millionths = i128::from(parts.above) * 1_000_000 / i128::from(parts.below);
        let text = shown_decimal(whole.checked_mul(1_000_000)? + millionths, 6);
        return Some((input.skip(parts.tokens), format!("{sign}{text}")));
    }
    let mut rest = input;
    let mut digits = left.number.digits.to_string();
    while is_whole_of(rest.token(), 3..=3) {
        digits.push_str(rest.text(rest.token()));
        rest = rest.after();
    }
    let is_grouped = rest.index() > input.index() && left.number.digits.len() <= 3;
    is_grouped.then(|| (rest, format!("{sign}{digits}")))
}

/// Any other two values.
fn two_values(input: Tokens<'_>, left: Expr) -> Parsed<'_, Option<Expr>> {
    let (opening, is_name) = (input.token(), matches!(left.kind, ExprKind::Name(_)));
    let (rest, right) = operand::postfix(input, None)?;
    let span = left.span.to(right.span);
    let mut diagnostic = side_by_side(span, "two values side by side").label(format!(
        "no sign before `{}`",
        excerpt(input.page, opening.span)
    ));
    let before = print_expr(&left);
    if is_name && opening.kind == Kind::OpenRound {
        let close = left.span.to(opening.span);
        diagnostic = offer(
            diagnostic,
            close,
            format!("{before}("),
            "if it is a formula: without a blank",
        );
    }
    if is_name && matches!(right.kind, ExprKind::Literal(_)) {
        let call = format!("{before}({})", print_expr(&right));
        diagnostic = offer(diagnostic, span, call, "if it is a formula");
    }
    if let (ExprKind::Literal(_), ExprKind::Literal(_)) = (&left.kind, &right.kind) {
        let apart = format!("{before}, {}", print_expr(&right));
        diagnostic = offer(diagnostic, span, apart, "two items of a list");
    }
    let product = format!("{before} * {}", print_expr(&right));
    diagnostic = offer(diagnostic, span, product, "a product");
    input.page.say(diagnostic);
    Ok((
        rest,
        (!is_name).then(|| binary(BinaryOperator::Times, left, right)),
    ))
}
