//! Writings that are refused although they could be read: each has two readings, or one that is
//! seldom meant. Every one says so, offers its repairs, and leaves a tree that goes on.

use super::fault::excerpt;
use super::input::{Page, Parsed, Tokens};
use super::{operand, uncertainty, unit};
use crate::source::{Code, Diagnostic, Repair, Span};
use crate::syntax::printer::{print_expr, print_unit};
use crate::syntax::token::{Kind, Marks, Token};
use crate::syntax::tree::{BinaryOperator, Expr, ExprKind, Literal, Name, UnitExpr};

/// A refused expression, with the reading that all its readings share in dimension.
pub(super) fn refused(span: Span, reading: Option<Expr>) -> Expr {
    Expr {
        span,
        kind: ExprKind::Refused(reading.map(Box::new)),
    }
}

/// Adds a repair that replaces a run, and says what it gives.
pub(super) fn offer(
    mut diagnostic: Diagnostic,
    span: Span,
    text: impl Into<String>,
    remark: impl Into<String>,
) -> Diagnostic {
    diagnostic.repairs.push(Repair {
        text: text.into(),
        remark: remark.into(),
        replaces: Some(span),
    });
    diagnostic
}

/// Whether a token begins an operand, so that it cannot follow one.
pub(super) fn begins_operand(kind: Kind) -> bool {
    operand::begins_literal(kind)
        || matches!(
            kind,
            Kind::Word | Kind::UnitSign | Kind::OpenRound | Kind::OpenCurly
        )
}

/// What an operator of other notations is here.
pub(super) fn foreign_operator(text: &str) -> (&'static str, &'static str) {
    match text {
        "=<" => ("<=", "at most"),
        "=>" => (">=", "at least"),
        "<>" => ("!=", "is not"),
        "===" => ("==", "is equal to"),
        "**" => ("^", "to the power of"),
        "&" | "&&" => ("and", "both"),
        "||" => ("or", "one or both"),
        _ => ("not", "the opposite"),
    }
}

/// Says so if the next token is an operator of other notations.
pub(super) fn foreign(input: Tokens<'_>) {
    let token = input.token();
    if token.kind != Kind::Foreign {
        return;
    }
    let text = input.text(token);
    let (meant, meaning) = foreign_operator(text);
    input.page.say(
        Diagnostic::error(
            Code::Syntax,
            token.span,
            format!("`{text}` is no operator here"),
        )
        .label(meaning)
        .expected(format!("`{meant}`"))
        .replace(token.span, meant),
    );
}

/// `=` in a condition.
pub(super) fn equals(input: Tokens<'_>) {
    let span = input.token().span;
    input.page.say(
        Diagnostic::error(Code::Equals, span, "a single `=` inside a condition")
            .label("gives a name its value")
            .expected("`==`, which compares")
            .replace(span, "=="),
    );
}

/// `held = 55 s` as an argument.
pub(super) fn equals_in_argument(input: Tokens<'_>, name: &Name) {
    let span = input.token().span;
    let run = name.span.to(span);
    input.page.say(
        Diagnostic::error(Code::Equals, span, "an argument named with `=`")
            .label("gives a cell its value")
            .expected("`:` behind the name of an argument")
            .replace(run, format!("{}:", name.text)),
    );
}

/// A lowered digit or letter in the next word.
pub(super) fn subscript(input: Tokens<'_>, plain: &str) {
    say_subscript(input.page, input.token().span, plain);
}

/// A lowered digit or letter in a unit word.
pub(super) fn subscript_at(page: &Page<'_>, span: Span) {
    let plain = crate::syntax::fold::word(span.of(page.text));
    say_subscript(page, span, &plain);
}

fn say_subscript(page: &Page<'_>, span: Span, plain: &str) {
    page.say(
        Diagnostic::error(Code::Subscript, span, "a subscript in a name")
            .label("letters and digits stand on the line")
            .expected("the same letters and digits, not lowered")
            .replace(span, plain),
    );
}

/// `#6`
pub(super) fn hash(input: Tokens<'_>) -> Expr {
    let token = input.token();
    input.page.say(hash_message(input));
    let text = Expr {
        span: token.span,
        kind: ExprKind::Text(input.text(token).into()),
    };
    refused(token.span, Some(text))
}

/// The message for `#6`.
pub(super) fn hash_message(input: Tokens<'_>) -> Diagnostic {
    let token = input.token();
    let text = input.text(token);
    Diagnostic::error(
        Code::Hash,
        token.span,
        format!(
            "`{}` is neither a text nor a comment",
            excerpt(input.page, token.span)
        ),
    )
    .expected("quotes around a text, or a blank behind the `#` of a comment")
    .replace(token.span, format!("\"{text}\""))
}

/// `40–60 psi`
pub(super) fn dash(input: Tokens<'_>, left: Expr, right: Expr) -> Expr {
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
pub(super) fn dash_sign(input: Tokens<'_>) {
    let span = input.token().span;
    input.page.say(
        Diagnostic::error(Code::Dash, span, "a dash before a number")
            .label("longer than a minus")
            .expected("`-` before a number below zero")
            .replace(span, "-"),
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

/// `140 [psig]`; `None` where the bracket is right.
pub(super) fn bracket_on_literal(
    input: Tokens<'_>,
    inner: &Expr,
    bracket: &UnitExpr,
) -> Option<Expr> {
    let plain = print_unit(bracket) == "1";
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

fn is_bare_number(item: &Expr) -> bool {
    matches!(&item.kind, ExprKind::Literal(literal) if literal.unit.is_none())
}

/// Whether this is a number or column with a unit or ±, which takes no power.
pub(super) fn is_quantity(base: &Expr) -> bool {
    match &base.kind {
        ExprKind::Literal(literal) => literal.unit.is_some() || literal.plus_minus.is_some(),
        ExprKind::Column(column) => column.unit.is_some() || column.plus_minus.is_some(),
        ExprKind::Readings(_, plus_minus) => plus_minus.is_some(),
        _ => false,
    }
}

/// `0.25 in^2`; gives the tokens behind it too, since the unit may go on.
pub(super) fn power_of_literal<'t>(
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

/// `tank ± 1 gal`: ± belongs to a typed number.
pub(super) fn plus_minus_behind(input: Tokens<'_>, left: Expr) -> Parsed<'_, Expr> {
    let (rest, plus_minus) = uncertainty::plus_minus(input)?;
    let mut diagnostic = Diagnostic::error(
        Code::PlusMinus,
        plus_minus.span,
        "± behind something that is no typed number",
    )
    .expected("± where the number is typed; an error that comes on top is added");
    if let ExprKind::Literal(amount) = &plus_minus.amount.kind
        && let Some(unit) = amount.unit.as_ref().filter(|unit| print_unit(unit) != "%")
    {
        let text = plus_minus.span.of(input.page.text);
        let added = format!("+ 0 {} {text}", print_unit(unit));
        diagnostic = offer(diagnostic, plus_minus.span, added, "an error added");
    }
    input.page.say(diagnostic);
    Ok((rest, refused(rest.span_from(left.span), Some(left))))
}

/// Two expressions joined.
pub(super) fn binary(sign: BinaryOperator, left: Expr, right: Expr) -> Expr {
    Expr {
        span: left.span.to(right.span),
        kind: ExprKind::Binary(sign, Box::new(left), Box::new(right)),
    }
}

/// Whether a token is a whole number of so many digits.
pub(super) fn is_whole_of(token: Token, digits: std::ops::RangeInclusive<u32>) -> bool {
    token.kind == Kind::Number
        && token.marks.has(Marks::WHOLE)
        && digits.contains(&(token.span.end - token.span.start))
}
