//! What cannot be read at all: each failure becomes a message that says what was found, what was
//! expected there, and a repair where one exists. Nothing of nom leaves this folder.

mod form;
mod operand;
mod sign;

use super::input::{Parsed, Problem, Tokens};
use super::page::{DEEPEST, HIGHEST, Page};
use super::refusal;
use super::shape::begins_cell;
use crate::source::{Code, Diagnostic, Span};
use crate::syntax::token::{Kind, Reserved, Token};

pub(super) use form::{
    bracket_inside, empty_bracket, no_amount, no_amount_behind, no_tag, no_unit, odd_exponent,
    power_of_power, scenario_in_list, second_plus_minus,
};
pub(super) use operand::{bare_word, missing_operand, no_name, reserved_name};
use sign::{decimal_comma, foreign_sign, is_decimal_comma, open_text, unknown_sign};

type Fault = nom::Err<Problem>;

/// Longest run of the text that is repeated in a message.
const LONGEST_EXCERPT: usize = 40;

/// Most tokens that are looked back at for the head of a cell.
const LONGEST_HEAD: usize = 32;

pub(super) fn fault(diagnostic: Diagnostic) -> Fault {
    nom::Err::Failure(Problem::Said(Box::new(diagnostic)))
}

fn syntax(span: Span, message: impl Into<String>) -> Diagnostic {
    Diagnostic::error(Code::Syntax, span, message)
}

/// A run of the text for a message, on one line and not too long.
pub(super) fn excerpt(page: &Page<'_>, span: Span) -> String {
    clipped(span.of(page.text))
}

/// A text on one line and not too long.
pub(in crate::syntax) fn clipped(text: &str) -> String {
    let mut short = String::new();
    for (count, word) in text.split_whitespace().enumerate() {
        if count > 0 {
            short.push(' ');
        }
        for sign in word.chars() {
            if short.chars().count() >= LONGEST_EXCERPT {
                short.push('…');
                return short;
            }
            short.push(sign);
        }
    }
    short
}

/// More nesting than the program reads.
pub(super) fn too_deep(input: Tokens<'_>) -> Fault {
    let span = input.previous().unwrap_or(input.token()).span;
    fault(
        Diagnostic::error(
            Code::TooDeep,
            span,
            format!("this is nested more than {DEEPEST} deep"),
        )
        .expected("a part of it in a cell of its own"),
    )
}

/// More operators in a row than the program reads.
pub(super) fn too_high(input: Tokens<'_>) -> Fault {
    let span = input.previous().unwrap_or(input.token()).span;
    fault(
        Diagnostic::error(
            Code::TooDeep,
            span,
            format!("more than {HIGHEST} values are joined in one expression"),
        )
        .expected("`sum({…})`, or parts of it in cells of their own"),
    )
}

/// A reserved word; else a message.
pub(super) fn demand_word<'t>(
    input: Tokens<'t>,
    word: Reserved,
    expected: &str,
) -> Parsed<'t, Token> {
    if input.kind() == Kind::Reserved(word) {
        Ok((input.after(), input.token()))
    } else {
        Err(unexpected(input, expected))
    }
}

/// The bracket that closes `opening`; else a message.
pub(super) fn demand_closing<'t>(
    input: Tokens<'t>,
    opening: Token,
    expected: &str,
) -> Parsed<'t, Token> {
    if is_closing(input.kind(), opening.kind) {
        return Ok((input.after(), input.token()));
    }
    if opening.partner == Token::ALONE && ends_brackets(input.kind()) {
        return Err(unclosed(input, opening, expected));
    }
    Err(unexpected(input, expected))
}

fn is_closing(kind: Kind, opening: Kind) -> bool {
    kind == closing_of(opening)
}

fn closing_of(opening: Kind) -> Kind {
    match opening {
        Kind::OpenSquare => Kind::CloseSquare,
        Kind::OpenCurly => Kind::CloseCurly,
        _ => Kind::CloseRound,
    }
}

fn ends_brackets(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::End | Kind::CloseRound | Kind::CloseSquare | Kind::CloseCurly
    )
}

/// A bracket that nothing closes.
pub(super) fn unclosed(input: Tokens<'_>, opening: Token, expected: &str) -> Fault {
    let sign = input.text(opening);
    let closing = match opening.kind {
        Kind::OpenSquare => "]",
        Kind::OpenCurly => "}",
        _ => ")",
    };
    let message = match input.kind() {
        Kind::CloseRound | Kind::CloseSquare | Kind::CloseCurly => {
            format!("the bracket `{sign}` meets `{}`", input.text(input.token()))
        }
        _ => format!("the bracket `{sign}` is not closed"),
    };
    let expected = if expected.contains(closing) {
        expected.to_string()
    } else {
        format!("{expected} `{closing}`")
    };
    fault(
        syntax(opening.span, message)
            .label("opened here")
            .expected(expected),
    )
}

/// Something that cannot stand here.
pub(super) fn unexpected(input: Tokens<'_>, expected: &str) -> Fault {
    let token = input.token();
    if let Err(border) = check_line_border(input) {
        return border;
    }
    let diagnostic = match token.kind {
        Kind::End => syntax(last_span(input), "the line ends too early").label("nothing behind it"),
        Kind::OpenText => return open_text(input),
        Kind::Unknown => return unknown_sign(input),
        Kind::OpenSquare => Diagnostic::error(
            Code::Bracket,
            bracket_span(input),
            "a unit bracket where no expression ends",
        ),
        Kind::Hash => return fault(refusal::hash_message(input)),
        Kind::Comma if is_decimal_comma(input) => decimal_comma(input),
        Kind::Foreign if input.text(token) != "!" => foreign_sign(input),
        Kind::CloseRound | Kind::CloseSquare | Kind::CloseCurly
            if token.partner == Token::ALONE =>
        {
            syntax(
                token.span,
                format!("`{}` closes no bracket", input.text(token)),
            )
        }
        Kind::Equal => syntax(token.span, "a second `=`"),
        _ => syntax(
            token.span,
            format!("`{}` cannot stand here", excerpt(input.page, token.span)),
        ),
    };
    let diagnostic = if diagnostic.expected.is_empty() {
        diagnostic.expected(expected)
    } else {
        diagnostic
    };
    fault(conversion_repair(input, diagnostic))
}

fn last_span(input: Tokens<'_>) -> Span {
    input.previous().unwrap_or(input.token()).span
}

fn bracket_span(input: Tokens<'_>) -> Span {
    span_to_partner(input, input.token())
}

fn span_to_partner(input: Tokens<'_>, opening: Token) -> Span {
    let closing = input.page.tokens.get(opening.partner as usize);
    closing.map_or(opening.span, |closing| opening.span.to(closing.span))
}

/// `60 gal to L`: people ask so for another unit; and `5 % of x` is a product.
fn conversion_repair(input: Tokens<'_>, diagnostic: Diagnostic) -> Diagnostic {
    if input.kind() == Kind::Reserved(Reserved::Of) && input.kind_at(1) != Kind::End {
        return diagnostic.replace(input.token().span, "*");
    }
    let asks = input.kind() == Kind::Reserved(Reserved::To)
        && input.kind_at(1) == Kind::Word
        && input.kind_at(2) == Kind::End;
    if !asks {
        return diagnostic;
    }
    let unit = input.token_at(1);
    let before = input
        .page
        .tokens
        .get(..input.index() as usize)
        .unwrap_or(&[]);
    let value = before
        .iter()
        .rposition(|token| token.kind == Kind::Equal)
        .map_or(0, |equal| equal + 1);
    let (Some(first), Some(last)) = (before.get(value), before.last()) else {
        return diagnostic;
    };
    let value = first.span.to(last.span);
    let text = format!("{} [{}]", value.of(input.page.text), input.text(unit));
    diagnostic.replace(value.to(unit.span), text)
}

/// A statement on a line which, by its indentation, belongs to the statement above.
pub(super) fn statement_inside(input: Tokens<'_>) -> Fault {
    let first = input.token();
    fault(
        Diagnostic::error(
            Code::Indentation,
            first.span,
            format!(
                "`{}` begins a statement inside the one above",
                input.text(first)
            ),
        )
        .label("indented deeper than the line it would go on with")
        .expected("the same indentation as the line above"),
    )
}

/// Whether a second `=` is that of a cell on a line of its own, which is said.
pub(super) fn check_line_border(input: Tokens<'_>) -> Result<(), Fault> {
    if input.kind() != Kind::Equal {
        return Ok(());
    }
    let end = input.index() as usize;
    let near = end.saturating_sub(LONGEST_HEAD);
    let tokens = input.page.tokens.get(near..end).unwrap_or(&[]);
    let start = tokens.iter().rposition(|token| token.begins_line());
    let Some(back) = start.map(|start| tokens.len() - start) else {
        return Ok(());
    };
    let line = input.back(back);
    if line.index() > 0 && begins_cell(line) {
        return Err(statement_inside(line));
    }
    Ok(())
}
