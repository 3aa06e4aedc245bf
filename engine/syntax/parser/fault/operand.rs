//! Places where a value or a name is missing, or what stands there cannot be one.

use super::{Fault, clipped, fault, last_span, syntax, unexpected};
use crate::source::{Code, Diagnostic};
use crate::syntax::parser::input::Tokens;
use crate::syntax::token::{Kind, Reserved, SHELL_WORDS, STATEMENT_WORDS, Token};

/// An operand is missing before the next token.
pub(in crate::syntax::parser) fn missing_operand(input: Tokens<'_>) -> Fault {
    let token = input.token();
    match token.kind {
        Kind::OpenText | Kind::Unknown | Kind::Hash => return unexpected(input, ""),
        Kind::Reserved(Reserved::If | Reserved::Not) => return bare_word(input),
        Kind::Reserved(_) if input.previous().is_some_and(is_open_place) => {
            return reserved_as_value(input);
        }
        Kind::UnitSign => {
            return fault(
                syntax(
                    token.span,
                    format!("the unit `{}` has no number", input.text(token)),
                )
                .expected("a number before the unit"),
            );
        }
        Kind::LengthMark | Kind::Raised => return unexpected(input, "a value"),
        _ => {}
    }
    let place = match (input.previous(), token.kind) {
        (Some(before), Kind::End) => format!("behind `{}`", input.text(before)),
        (None, Kind::End) => "here".to_string(),
        (Some(before), _) if closes_or_separates(token.kind) => {
            format!(
                "between `{}` and `{}`",
                input.text(before),
                input.text(token)
            )
        }
        _ => format!("before `{}`", input.text(token)),
    };
    let span = if token.kind == Kind::End {
        last_span(input)
    } else {
        token.span
    };
    fault(
        syntax(span, format!("a value is missing {}", clipped(&place)))
            .expected("a number, a name or a bracket"),
    )
}

fn closes_or_separates(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::CloseRound | Kind::CloseCurly | Kind::CloseSquare | Kind::Comma
    )
}

/// Behind these a name could stand, so a reserved word there was meant as one.
fn is_open_place(token: Token) -> bool {
    !matches!(token.kind, Kind::Reserved(_))
}

fn reserved_as_value(input: Tokens<'_>) -> Fault {
    let token = input.token();
    let word = input.text(token);
    fault(
        Diagnostic::error(
            Code::Reserved,
            token.span,
            format!("a value is missing before `{word}`"),
        )
        .label("a word of the language, never a name")
        .expected("a number, a name or a bracket"),
    )
}

/// `if`, `not` or `solve` where only an operand fits.
pub(in crate::syntax::parser) fn bare_word(input: Tokens<'_>) -> Fault {
    let token = input.token();
    fault(
        syntax(
            token.span,
            format!("`{}` in the middle of an expression", input.text(token)),
        )
        .expected(format!(
            "parentheses around it: `({} …)`",
            input.text(token)
        )),
    )
}

/// A name is missing, or what stands there cannot be one.
pub(in crate::syntax::parser) fn no_name(input: Tokens<'_>, wanted: &str) -> Fault {
    match input.kind() {
        Kind::Reserved(_) => reserved_name(input),
        Kind::UnitSign => fault(
            syntax(
                input.token().span,
                format!("`{}` cannot be a name", input.text(input.token())),
            )
            .expected("letters, digits and `_`"),
        ),
        _ => unexpected(input, wanted),
    }
}

/// A word of the language where a name is given.
pub(in crate::syntax::parser) fn reserved_name(input: Tokens<'_>) -> Fault {
    fault(reserved_message(input))
}

/// The message for a word of the language where a name is given.
fn reserved_message(input: Tokens<'_>) -> Diagnostic {
    let token = input.token();
    let word = input.text(token);
    let label = if SHELL_WORDS.contains(&word) && word != "show" {
        "an order to the shell"
    } else if STATEMENT_WORDS.contains(&word) {
        "a word that begins a statement"
    } else {
        "a word of the language"
    };
    Diagnostic::error(
        Code::Reserved,
        token.span,
        format!("`{word}` cannot be a name"),
    )
    .label(label)
    .expected("another name")
    .replace(token.span, format!("{word}_1"))
}
