//! Signs that cannot stand where they are: quotes without an end, signs without a meaning,
//! operators of other notations, decimal commas.

use super::{Fault, fault, last_span, syntax};
use crate::source::{Code, Diagnostic, Span};
use crate::syntax::parser::input::Tokens;
use crate::syntax::parser::refusal;
use crate::syntax::token::Kind;

pub(super) fn open_text(input: Tokens<'_>) -> Fault {
    let token = input.token();
    let quote = Span {
        start: token.span.start,
        end: token.span.start + first_length(input.text(token)),
    };
    fault(
        syntax(quote, "a text that does not end")
            .label("opened here")
            .expected("a second `\"` on the same line"),
    )
}

fn first_length(text: &str) -> u32 {
    text.chars().next().map_or(0, |sign| sign.len_utf8() as u32)
}

/// Signs without a meaning: the sign, what people mean by it, what to type if there is one thing.
const SIGNS: [(&str, &str, &str); 17] = [
    (";", "one statement on each line", ""),
    ("'", "double quotes around a text", ""),
    ("`", "double quotes around a text", ""),
    ("\u{2018}", "double quotes around a text", ""),
    ("\u{2019}", "double quotes around a text", ""),
    ("~", "`±` and how near it is", "±"),
    ("≈", "`±` and how near it is", "±"),
    ("≅", "`±` and how near it is", "±"),
    (
        "€",
        "the currency behind the amount, as in `350 EUR`",
        "EUR",
    ),
    (
        "£",
        "the currency behind the amount, as in `350 GBP`",
        "GBP",
    ),
    (
        "¥",
        "the currency behind the amount, as in `350 JPY`",
        "JPY",
    ),
    ("√", "the root as a call, as in `sqrt(2)`", "sqrt"),
    ("\\", "`/` for a division", "/"),
    ("@", "an operator", ""),
    ("?", "an operator or the end of the line", ""),
    ("…", "every value written out", ""),
    ("∞", "a number", ""),
];

/// A sign that has no meaning in a statement.
pub(super) fn unknown_sign(input: Tokens<'_>) -> Fault {
    let token = input.token();
    let sign = input.text(token);
    let message = match sign.chars().next() {
        Some(first) if first.is_numeric() => {
            format!("the digit `{sign}` is not one of 0 to 9")
        }
        _ => format!("the sign `{sign}` has no meaning here"),
    };
    let diagnostic = syntax(token.span, message);
    fault(match SIGNS.iter().find(|(known, _, _)| *known == sign) {
        Some((_, expected, "")) => diagnostic.expected(*expected),
        Some((_, expected, repair)) => {
            let (span, text) = sign_repair(input, repair);
            diagnostic.expected(*expected).replace(span, text)
        }
        None => diagnostic.expected("letters, digits, operators and brackets"),
    })
}

/// A currency goes behind its amount, anything else in the place of the sign.
fn sign_repair(input: Tokens<'_>, repair: &str) -> (Span, String) {
    let (token, next) = (input.token(), input.token_at(1));
    let is_currency = repair.bytes().all(|letter| letter.is_ascii_uppercase());
    let before = input
        .previous()
        .filter(|before| before.kind == Kind::Number);
    match (next.kind, before) {
        (Kind::Number, _) if is_currency => {
            let span = token.span.to(next.span);
            (span, format!("{} {repair}", input.text(next)))
        }
        (_, Some(before)) if is_currency => {
            let span = before.span.to(token.span);
            (span, format!("{} {repair}", input.text(before)))
        }
        (Kind::Number | Kind::Word, _) if repair == "sqrt" => {
            let span = token.span.to(next.span);
            (span, format!("sqrt({})", input.text(next)))
        }
        _ => (token.span, repair.to_string()),
    }
}

pub(super) fn foreign_sign(input: Tokens<'_>) -> Diagnostic {
    let token = input.token();
    let (meant, _) = refusal::foreign_operator(input.text(token));
    syntax(
        token.span,
        format!("`{}` cannot stand here", input.text(token)),
    )
    .expected(format!("`{meant}`, between two values"))
}

/// A comma with digits close on both sides, which many countries read as a decimal mark.
pub(super) fn is_decimal_comma(input: Tokens<'_>) -> bool {
    let behind = input.token_at(1);
    !input.token().after_blank()
        && behind.kind == Kind::Number
        && !behind.after_blank()
        && input
            .previous()
            .is_some_and(|token| token.kind == Kind::Number)
}

pub(super) fn decimal_comma(input: Tokens<'_>) -> Diagnostic {
    let before = last_span(input);
    let behind = input.token_at(1).span;
    let span = before.to(behind);
    let text = input.page.text;
    Diagnostic::error(Code::Comma, span, "a comma inside a number")
        .expected("a point before the decimals")
        .replace(span, format!("{}.{}", before.of(text), behind.of(text)))
}
