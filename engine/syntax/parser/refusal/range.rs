//! Dashes: ranges where one value is wanted, and dashes for a minus.

use super::{binary, offer, refused};
use crate::source::{Code, Diagnostic};
use crate::syntax::parser::input::Tokens;
use crate::syntax::printer::{print_expr, print_unit};
use crate::syntax::tree::{BinaryOperator, Expr, ExprKind, Literal};

/// `40–60 psi`
pub(in crate::syntax::parser) fn dash(input: Tokens<'_>, left: Expr, right: Expr) -> Expr {
    let span = left.span.to(right.span);
    let mut diagnostic =
        Diagnostic::error(Code::Dash, span, "a dash between two values means a range")
            .label("from the one to the other")
            .expected("one value; a difference is written with `-`");
    if let Some(middle) = middle_of_range(&left, &right) {
        diagnostic = offer(diagnostic, span, middle, "anything between the two");
    }
    let difference = format!("{} - {}", with_unit_of(&left, &right), print_expr(&right));
    diagnostic = offer(diagnostic, span, difference, "a difference");
    input.page.say(diagnostic);
    let reading = if matches!(right.kind, ExprKind::Literal(_)) {
        right
    } else {
        binary(BinaryOperator::Minus, left, right)
    };
    refused(span, Some(reading))
}

/// The left end of a range, with the unit that stands behind the right end alone.
fn with_unit_of(left: &Expr, right: &Expr) -> String {
    let (ExprKind::Literal(low), ExprKind::Literal(high)) = (&left.kind, &right.kind) else {
        return print_expr(left);
    };
    match &high.unit {
        Some(unit) if low.unit.is_none() && low.plus_minus.is_none() => {
            format!("{} {}", print_expr(left), print_unit(unit))
        }
        _ => print_expr(left),
    }
}

/// `–10 °C`
pub(in crate::syntax::parser) fn dash_sign(input: Tokens<'_>) {
    let (span, number) = (input.token().span, input.token_at(1));
    input.page.say(
        Diagnostic::error(Code::Dash, span, "a dash before a number")
            .label("longer than a minus")
            .expected("`-` before a number below zero")
            .replace(span.to(number.span), format!("-{}", input.text(number))),
    );
}

/// `40–60 psi` as `50 ± 10 psi`.
fn middle_of_range(left: &Expr, right: &Expr) -> Option<String> {
    let (ExprKind::Literal(left), ExprKind::Literal(right)) = (&left.kind, &right.kind) else {
        return None;
    };
    let unit = right.unit.as_ref()?;
    let same_unit = left
        .unit
        .as_ref()
        .is_none_or(|left| print_unit(left) == print_unit(unit));
    if !same_unit || left.plus_minus.is_some() || right.plus_minus.is_some() {
        return None;
    }
    let (low, high) = (decimal(left)?, decimal(right)?);
    let scale = low.1.max(high.1);
    let at_scale =
        |(digits, own): (i128, u32)| digits.checked_mul(10_i128.checked_pow(scale - own)?);
    let (low, high) = (at_scale(low)?, at_scale(high)?);
    let middle = shown_decimal(low.checked_add(high)?.checked_mul(5)?, scale + 1);
    let half = shown_decimal(
        high.checked_sub(low)?.checked_abs()?.checked_mul(5)?,
        scale + 1,
    );
    Some(format!("{middle} ± {half} {}", print_unit(unit)))
}

/// The digits of a plain literal and how many stand behind the point.
fn decimal(literal: &Literal) -> Option<(i128, u32)> {
    let digits = &literal.number.digits;
    if literal.number.fraction.is_some() || digits.len() > 18 || digits.contains('e') {
        return None;
    }
    let (whole, decimals) = digits.split_once('.').unwrap_or((digits, ""));
    let number: i128 = format!("{whole}{decimals}").parse().ok()?;
    let sign = if literal.negative { -1 } else { 1 };
    Some((sign * number, decimals.len() as u32))
}

/// A decimal in its shortest writing.
pub(super) fn shown_decimal(digits: i128, scale: u32) -> String {
    let sign = if digits < 0 { "-" } else { "" };
    let digits = format!(
        "{:0>width$}",
        digits.unsigned_abs(),
        width = scale as usize + 1
    );
    let (whole, decimals) = digits.split_at(digits.len() - scale as usize);
    let decimals = decimals.trim_end_matches('0');
    if decimals.is_empty() {
        format!("{sign}{whole}")
    } else {
        format!("{sign}{whole}.{decimals}")
    }
}
