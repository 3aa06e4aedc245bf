//! Refused writings of numbers: commas, colons, two points, fractions with two readings, inch
//! marks, and `per` before a number.

use super::range::shown_decimal;
use super::{binary, offer, refused};
use crate::source::{Code, Diagnostic, Span};
use crate::syntax::parser::fault::{excerpt, unexpected};
use crate::syntax::parser::input::{Parsed, Tokens};
use crate::syntax::parser::literal::{FractionParts, Place, literal, numeral, whole_literal};
use crate::syntax::parser::unit;
use crate::syntax::printer::{print_expr, print_unit};
use crate::syntax::token::{Kind, Token};
use crate::syntax::tree::{
    BinaryOperator, Expr, ExprKind, Joint, Numeral, UnitExpr, UnitTerm, UnitTermKind,
};

/// A literal whose number may be written in a way that is refused; `first` is its first token.
pub(in crate::syntax::parser) fn number(
    input: Tokens<'_>,
    rest: Tokens<'_>,
    first: Token,
    whole: Expr,
) -> Expr {
    match first.kind {
        Kind::CommaNumber => comma(input, first, whole),
        Kind::PointsNumber => points(input, first, whole),
        Kind::Clock => clock(input, rest, first, whole),
        _ => whole,
    }
}

fn comma(input: Tokens<'_>, first: Token, whole: Expr) -> Expr {
    let text = input.text(first);
    let mut diagnostic = Diagnostic::error(Code::Comma, first.span, "a comma inside a number")
        .label("one number or two")
        .expected("a number without commas; a point stands before decimals");
    let before = text.split(',').next().unwrap_or("");
    if before.len() <= 3 && before.bytes().all(|digit| digit.is_ascii_digit()) {
        diagnostic = offer(diagnostic, whole.span, print_expr(&whole), "one number");
    }
    if text.matches(',').count() == 1 && !text.contains('.') {
        let point = text.replace(',', ".");
        diagnostic = offer(diagnostic, first.span, point, "a decimal point");
    }
    let apart = text.replace(',', ", ");
    diagnostic = offer(diagnostic, first.span, apart, "numbers of their own");
    input.page.say(diagnostic);
    refused(whole.span, Some(whole))
}

fn points(input: Tokens<'_>, first: Token, mut whole: Expr) -> Expr {
    input.page.say(
        Diagnostic::error(
            Code::Syntax,
            first.span,
            format!("`{}` has two points", excerpt(input.page, first.span)),
        )
        .expected("a number with one point at most"),
    );
    if let ExprKind::Literal(literal) = &mut whole.kind {
        literal.number.digits = "1".into();
    }
    refused(whole.span, Some(whole))
}

fn clock(input: Tokens<'_>, rest: Tokens<'_>, first: Token, mut whole: Expr) -> Expr {
    let text = input.text(first);
    let span = rest.span_from(first.span);
    let mut diagnostic = Diagnostic::error(Code::Clock, span, "a time written with a colon")
        .label("minutes and seconds, or hours and minutes")
        .expected("a time in one unit");
    let parts: Vec<&str> = text.split(':').collect();
    let seconds = sixtieths(&parts);
    if let Some(seconds) = &seconds {
        let remark = match parts.len() {
            2 => "minutes and seconds",
            _ => "hours, minutes and seconds",
        };
        diagnostic = offer(diagnostic, span, format!("{seconds} s"), remark);
        if parts.len() == 2 && !text.contains('.') {
            diagnostic = offer(
                diagnostic,
                span,
                format!("{seconds} min"),
                "hours and minutes",
            );
        }
    }
    input.page.say(diagnostic);
    if let ExprKind::Literal(literal) = &mut whole.kind {
        literal.number.digits = seconds.unwrap_or("1".to_string()).into();
        literal.unit = Some(word_unit("s", first.span));
    }
    refused(whole.span, Some(whole))
}

/// `1:12.4` as 72.4, `2:01:30` as 7290.
fn sixtieths(parts: &[&str]) -> Option<String> {
    let (last, before) = parts.split_last()?;
    if before.is_empty() || before.len() > 2 {
        return None;
    }
    let (whole, decimals) = last.split_once('.').unwrap_or((last, ""));
    if decimals.len() > 9 || decimals.contains('.') {
        return None;
    }
    let scale = decimals.len() as u32;
    let mut total: i128 = 0;
    for part in before {
        total = total.checked_mul(60)?.checked_add(part.parse().ok()?)?;
    }
    total = total.checked_mul(60)?.checked_add(whole.parse().ok()?)?;
    let below: i128 = match decimals {
        "" => 0,
        digits => digits.parse().ok()?,
    };
    let digits = total.checked_mul(10_i128.pow(scale))?.checked_add(below)?;
    Some(shown_decimal(digits, scale))
}

/// A unit of one word.
pub(in crate::syntax::parser) fn word_unit(word: &str, span: Span) -> UnitExpr {
    UnitExpr {
        span,
        terms: vec![UnitTerm {
            joint: Joint::First,
            kind: UnitTermKind::Word(word.into()),
            exponent: (1, 1),
            span,
        }],
        reference: None,
    }
}

/// `240/8 h`, `1 5/4 in`.
pub(in crate::syntax::parser) fn fraction<'t>(
    input: Tokens<'t>,
    start: Span,
    parts: &FractionParts,
) -> Parsed<'t, Expr> {
    let (rest, unit) = unit::behind_number(input.skip(parts.tokens))?;
    let span = rest.span_from(start);
    let sign = if start.start < input.token().span.start {
        "-"
    } else {
        ""
    };
    let unit_text = unit
        .as_ref()
        .map_or(String::new(), |unit| format!(" {}", print_unit(unit)));
    let (above, below) = (parts.above, parts.below);
    let mut diagnostic = Diagnostic::error(
        Code::Fraction,
        span,
        "a fraction that is no workshop fraction",
    )
    .expected("a proper fraction in halves, thirds, quarters … 64ths, or a division");
    if parts.whole.is_none() {
        diagnostic = diagnostic.label("has two readings");
        let divided = format!("{sign}{above} / ({below}{unit_text})");
        diagnostic = offer(diagnostic, span, divided, "a division by an amount");
    }
    let whole = parts
        .whole
        .and_then(|whole| input.text(whole).parse::<u64>().ok())
        .unwrap_or(0);
    if let Some(amount) = amount(whole, u64::from(above), u64::from(below), &unit_text) {
        diagnostic = offer(diagnostic, span, format!("{sign}{amount}"), "one amount");
    }
    input.page.say(diagnostic);
    let reading = parts.whole.and(unit).map(|unit| {
        let number = Numeral {
            digits: "1".into(),
            fraction: None,
            span: input.token().span,
        };
        whole_literal(None, number, Some(unit))
    });
    Ok((rest, refused(span, reading)))
}

/// A whole number and a fraction as one amount, in the shortest writing that is read.
fn amount(whole: u64, above: u64, below: u64, unit: &str) -> Option<String> {
    let above = whole.checked_mul(below)?.checked_add(above)?;
    let divisor = num_integer::gcd(above, below).max(1);
    let (above, below) = (above / divisor, below / divisor);
    let (whole, rest) = (above / below, above % below);
    Some(match (rest, below, whole) {
        (0, _, _) => format!("{whole}{unit}"),
        (_, 2 | 3 | 4 | 8 | 16 | 32 | 64, 0) => format!("{rest}/{below}{unit}"),
        (_, 2 | 3 | 4 | 8 | 16 | 32 | 64, _) => format!("{whole} {rest}/{below}{unit}"),
        _ => format!("{above}{unit} / {below}"),
    })
}

/// `1/8"`, `5'`, `5' 3"`.
pub(in crate::syntax::parser) fn length_marks<'t>(
    input: Tokens<'t>,
    minus: Option<Token>,
    number: Numeral,
    place: Place,
) -> Parsed<'t, Expr> {
    let mark = input.token();
    let first = marked(input, minus, number);
    let start = first.span;
    let (mut input, mut reading) = (input.after(), first);
    if matches!(input.kind(), Kind::Number | Kind::Fraction) {
        let (rest, number) = numeral(input, place)?;
        if rest.kind() == Kind::LengthMark {
            reading = binary(BinaryOperator::Plus, reading, marked(rest, None, number));
            input = rest.after();
        }
    }
    let span = input.span_from(start);
    let message = match mark_unit(input.text(mark)) {
        "in" => "an inch mark behind a number",
        _ => "a foot mark behind a number",
    };
    input.page.say(
        Diagnostic::error(Code::InchMark, span, message)
            .expected("the unit as a word, `in` or `ft`")
            .replace(span, print_expr(&reading)),
    );
    Ok((input, refused(span, Some(reading))))
}

fn mark_unit(mark: &str) -> &'static str {
    let mut signs = mark.chars();
    let first = signs.next().and_then(crate::syntax::fold::length_mark);
    match (first, signs.next()) {
        (Some("ft"), None) => "ft",
        _ => "in",
    }
}

fn marked(input: Tokens<'_>, minus: Option<Token>, number: Numeral) -> Expr {
    let mark = input.token();
    let unit = word_unit(mark_unit(input.text(mark)), mark.span);
    whole_literal(minus, number, Some(unit))
}

/// `3 bags per 8 h`
pub(in crate::syntax::parser) fn per_number(input: Tokens<'_>, left: Expr) -> Parsed<'_, Expr> {
    let per = input.token();
    if input.kind_at(1) != Kind::Number {
        return Err(unexpected(input.after(), "a unit word behind `per`"));
    }
    let (rest, right) = input.nested(|input| literal(input.after(), None, Place::Operand))?;
    let right = Expr {
        span: right.span,
        kind: ExprKind::Bracketed(Box::new(right)),
    };
    let span = left.span.to(right.span);
    let reading = binary(BinaryOperator::Over, left, right);
    rest.page.say(
        Diagnostic::error(
            Code::Syntax,
            per.span.to(rest.span_from(per.span)),
            "a number behind `per`",
        )
        .expected("a unit word behind `per`, or a division")
        .replace(span, print_expr(&reading)),
    );
    Ok((rest, refused(span, Some(reading))))
}
