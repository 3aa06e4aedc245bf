//! What cannot be read at all: each failure becomes a message that says what was found, what was
//! expected there, and a repair where one exists. Nothing of nom leaves this folder.

use super::input::{DEEPEST, HIGHEST, Page, Parsed, Problem, Tokens};
use super::refusal;
use crate::source::{Code, Diagnostic, Span};
use crate::syntax::printer::print_expr;
use crate::syntax::token::{Kind, Reserved, SHELL_WORDS, STATEMENT_WORDS, Token};
use crate::syntax::tree::{Expr, ExprKind};

type Fault = nom::Err<Problem>;

/// Longest run of the text that is repeated in a message.
const LONGEST_EXCERPT: usize = 40;

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
        Kind::End => format!("the bracket `{sign}` is not closed"),
        _ => format!(
            "the bracket `{sign}` meets `{}`",
            excerpt(input.page, input.token().span)
        ),
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
        Kind::Foreign => foreign_sign(input),
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

/// `60 gal to L`: people ask so for another unit.
fn conversion_repair(input: Tokens<'_>, diagnostic: Diagnostic) -> Diagnostic {
    let asks = input.kind() == Kind::Reserved(Reserved::To)
        && input.kind_at(1) == Kind::Word
        && input.kind_at(2) == Kind::End;
    if !asks {
        return diagnostic;
    }
    let unit = input.token_at(1);
    let span = input.token().span.to(unit.span);
    diagnostic.replace(span, format!("[{}]", input.text(unit)))
}

fn open_text(input: Tokens<'_>) -> Fault {
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
    let (token, amount) = (input.token(), input.token_at(1));
    let is_currency = repair.bytes().all(|letter| letter.is_ascii_uppercase());
    if is_currency && amount.kind == Kind::Number {
        let span = token.span.to(amount.span);
        return (span, format!("{} {repair}", input.text(amount)));
    }
    let space = if is_currency { " " } else { "" };
    (token.span, format!("{space}{repair}"))
}

fn foreign_sign(input: Tokens<'_>) -> Diagnostic {
    let token = input.token();
    let (meant, _) = refusal::foreign_operator(input.text(token));
    syntax(
        token.span,
        format!("`{}` cannot stand here", input.text(token)),
    )
    .expected(format!("`{meant}`, between two values"))
}

/// A comma with digits close on both sides, which many countries read as a decimal mark.
fn is_decimal_comma(input: Tokens<'_>) -> bool {
    let behind = input.token_at(1);
    !input.token().after_blank()
        && behind.kind == Kind::Number
        && !behind.after_blank()
        && input
            .previous()
            .is_some_and(|token| token.kind == Kind::Number)
}

fn decimal_comma(input: Tokens<'_>) -> Diagnostic {
    let before = last_span(input);
    let behind = input.token_at(1).span;
    let span = before.to(behind);
    let text = input.page.text;
    Diagnostic::error(Code::Comma, span, "a comma inside a number")
        .expected("a point before the decimals")
        .replace(span, format!("{}.{}", before.of(text), behind.of(text)))
}

/// An operand is missing before the next token.
pub(super) fn missing_operand(input: Tokens<'_>) -> Fault {
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
pub(super) fn bare_word(input: Tokens<'_>) -> Fault {
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
pub(super) fn no_name(input: Tokens<'_>, wanted: &str) -> Fault {
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
pub(super) fn reserved_name(input: Tokens<'_>) -> Fault {
    fault(reserved_message(input))
}

/// The message for a word of the language where a name is given.
pub(super) fn reserved_message(input: Tokens<'_>) -> Diagnostic {
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

/// `[unit]` in the middle of an expression.
pub(super) fn bracket_inside(input: Tokens<'_>, inner: &Expr, opening: Token) -> Fault {
    let span = input.span_from(opening.span);
    let whole = inner.span.to(span);
    let mut diagnostic = Diagnostic::error(
        Code::Bracket,
        span,
        "a unit bracket where no expression ends",
    )
    .label("says in which unit a whole expression is shown")
    .expected("the bracket at the end, or parentheses around what it belongs to");
    if !matches!(inner.kind, ExprKind::Refused(_)) {
        diagnostic = diagnostic.replace(
            whole,
            format!("({} {})", print_expr(inner), span.of(input.page.text)),
        );
    }
    fault(diagnostic)
}

/// `[]`
pub(super) fn empty_bracket(input: Tokens<'_>) -> Fault {
    let span = bracket_span(input);
    fault(
        syntax(span, "an empty bracket")
            .expected("a unit; `[1]` says that it is a plain number")
            .replace(span, "[1]"),
    )
}

/// Square brackets with something else than a unit in them.
pub(super) fn no_unit(input: Tokens<'_>, opening: Token) -> Fault {
    let token = input.token();
    if matches!(token.kind, Kind::Text | Kind::Hash) {
        return fault(
            syntax(span_to_partner(input, opening), "a row without a column")
                .expected("a dot and a column behind the key, as in `guns[\"small\"].bore`"),
        );
    }
    if token.kind == Kind::End {
        return unexpected(input, "a unit word");
    }
    fault(
        syntax(
            token.span,
            format!("`{}` is no part of a unit", excerpt(input.page, token.span)),
        )
        .expected("unit words joined by blanks, `*`, `/` or `per`"),
    )
}

/// A power of a unit that is not a small whole number or fraction.
pub(super) fn odd_exponent(input: Tokens<'_>) -> Fault {
    let span = input.token().span;
    let span = match input.kind() {
        Kind::Power if !matches!(input.kind_at(1), Kind::End) => span.to(input.token_at(1).span),
        _ => span,
    };
    let diagnostic = syntax(span, "a power that cannot be read")
        .expected("a small whole number or a fraction in brackets, as in `s^2` or `K^(1/2)`");
    fault(match span.of(input.page.text) {
        "^0.5" => diagnostic.replace(span, "^(1/2)"),
        "^1.5" => diagnostic.replace(span, "^(3/2)"),
        _ => diagnostic,
    })
}

/// `x²^3`
pub(super) fn power_of_power(input: Tokens<'_>, base: &Expr, exponent: &Expr) -> Fault {
    let whole = base.span.to(exponent.span);
    fault(
        syntax(input.token().span, "a power of a power")
            .expected("parentheses that say which is taken first")
            .replace(
                whole,
                format!("({}^{})", print_expr(base), print_expr(exponent)),
            ),
    )
}

/// `$` without an amount.
pub(super) fn no_amount(input: Tokens<'_>) -> Fault {
    unexpected(input, "an amount of money behind `$`")
}

/// `±` without an amount.
pub(super) fn no_amount_behind(input: Tokens<'_>) -> Fault {
    let diagnostic = match input.kind() {
        Kind::Minus | Kind::Plus => {
            Diagnostic::error(Code::PlusMinus, input.token().span, "a sign behind ±")
                .expected("an amount without a sign: ± goes both ways")
        }
        Kind::Word => {
            return fault(
                Diagnostic::error(Code::PlusMinus, input.token().span, "a call behind ±")
                    .expected("a number, a cell, or parentheses around the call"),
            );
        }
        _ => return unexpected(input, "an amount, a cell or a bracket behind ±"),
    };
    fault(diagnostic)
}

/// `1 ± 2 ± 3`
pub(super) fn second_plus_minus(input: Tokens<'_>) -> Fault {
    fault(
        Diagnostic::error(
            Code::PlusMinus,
            input.token().span,
            "a second ± behind one value",
        )
        .expected("one ±; another error is a cell of its own that is added"),
    )
}

/// A bracket behind ± that is no tag.
pub(super) fn no_tag(input: Tokens<'_>) -> Fault {
    fault(
        Diagnostic::error(
            Code::PlusMinus,
            bracket_span(input),
            "a bracket behind ± that says nothing about it",
        )
        .expected("`(k = 2)`, `(95 %)`, `(step)`, `(triangular)` or `(u_shaped)`"),
    )
}

/// `with` inside a list, where its commas would be lost.
pub(super) fn scenario_in_list(input: Tokens<'_>, value: &Expr) -> Fault {
    fault(
        syntax(input.token().span, "`with` inside a list")
            .label("its commas would be those of the list")
            .expected(format!(
                "parentheses: `({} with …)`",
                clipped(&print_expr(value))
            )),
    )
}

/// A cell that begins on a line which, by its indentation, belongs to the statement above.
pub(super) fn check_line_border(input: Tokens<'_>) -> Result<(), Fault> {
    if input.kind() != Kind::Equal {
        return Ok(());
    }
    let tokens = input
        .page
        .tokens
        .get(..input.index() as usize)
        .unwrap_or(&[]);
    let Some(start) = tokens.iter().rposition(|token| token.begins_line()) else {
        return Ok(());
    };
    let head = tokens.get(start..).unwrap_or(&[]);
    let kinds: Vec<Kind> = head.iter().take(4).map(|token| token.kind).collect();
    let is_head = matches!(
        kinds.as_slice(),
        [Kind::Word] | [Kind::Word, Kind::OpenSquare, ..] | [Kind::Word, Kind::Dot, Kind::Word, ..]
    );
    let (Some(first), true) = (head.first(), start > 0 && is_head) else {
        return Ok(());
    };
    Err(fault(
        Diagnostic::error(
            Code::Indentation,
            first.span.to(input.token().span),
            format!(
                "`{}` begins a cell inside the one above",
                input.text(*first)
            ),
        )
        .label("indented deeper than the line it would end")
        .expected("the same indentation as the line above"),
    ))
}
