//! Writings that are refused although they could be read: each has two readings, or one that is
//! seldom meant. Every one says so, offers its repairs, and leaves a tree that goes on.

mod juxtaposed;
mod number;
mod range;
mod unit;

use super::fault::excerpt;
use super::input::{Parsed, Tokens};
use super::page::Page;
use super::{operand, uncertainty};
use crate::source::{Code, Diagnostic, Repair, Span};
use crate::syntax::printer::{print_expr, print_unit};
use crate::syntax::token::{Kind, Marks, Token};
use crate::syntax::tree::{BinaryOperator, Expr, ExprKind, Name};

pub(super) use juxtaposed::juxtaposed;
pub(super) use number::{fraction, length_marks, number, per_number};
pub(super) use range::{dash, dash_sign};
pub(super) use unit::{bracket_on_literal, is_quantity, power_of_literal};

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

/// `=` in a condition, between these two.
pub(super) fn equals(page: &Page<'_>, sign: Token, left: &Expr, right: &Expr) {
    page.say(
        Diagnostic::error(Code::Equals, sign.span, "a single `=` inside a condition")
            .label("gives a name its value")
            .expected("`==`, which compares")
            .replace(
                left.span.to(right.span),
                format!("{} == {}", print_expr(left), print_expr(right)),
            ),
    );
}

/// `held = 55 s` as an argument.
pub(super) fn equals_in_argument(page: &Page<'_>, sign: Token, name: &Name, value: &Expr) {
    page.say(
        Diagnostic::error(Code::Equals, sign.span, "an argument named with `=`")
            .label("gives a cell its value")
            .expected("`:` behind the name of an argument")
            .replace(
                name.span.to(value.span),
                format!("{}: {}", name.text, print_expr(value)),
            ),
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

/// `° C`
pub(super) fn cut_degree(page: &Page<'_>, span: Span, whole: &str) {
    page.say(
        Diagnostic::error(Code::Syntax, span, "a temperature scale in two words")
            .label("would be an angle times a charge or capacitance")
            .expected("one word")
            .replace(span, whole),
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
        let added = format!("{} + 0 {} {text}", print_expr(&left), print_unit(unit));
        let span = left.span.to(plus_minus.span);
        diagnostic = offer(diagnostic, span, added, "an error added");
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
