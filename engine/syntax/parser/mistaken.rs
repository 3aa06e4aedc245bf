//! Lines that almost begin a cell: blanks or hyphens in a name, a colon for `=`, a number first,
//! a formula written like a cell, an order to the shell in a notebook.

use super::fault::fault;
use super::input::{Problem, Tokens};
use crate::source::{Code, Diagnostic, Span};
use crate::syntax::token::{Kind, Reserved, SHELL_WORDS, Token};

type Fault = nom::Err<Problem>;

/// What is wrong with the beginning of a line that is no statement, if that can be told.
pub(super) fn beginning(input: Tokens<'_>) -> Option<Fault> {
    shell_order(input)
        .or_else(|| colon_for_equals(input))
        .or_else(|| missing_equals(input))
        .or_else(|| odd_name(input))
        .map(fault)
}

/// The name that a broken line would have defined.
pub(in crate::syntax) fn broken_name(input: Tokens<'_>) -> Option<Token> {
    let is_cell = super::shape::begins_cell(input)
        || matches!(
            input.kind_at(1),
            Kind::Colon | Kind::Number | Kind::CommaNumber | Kind::Equal
        );
    (input.kind() == Kind::Word && is_cell).then(|| input.token())
}

fn syntax(span: Span, message: String) -> Diagnostic {
    Diagnostic::error(Code::Syntax, span, message)
}

/// `show draw`, `open file.md`: orders that only the shell takes.
fn shell_order(input: Tokens<'_>) -> Option<Diagnostic> {
    let token = input.token();
    let word = input.text(token);
    let is_order = matches!(token.kind, Kind::Word | Kind::Reserved(Reserved::Show))
        && SHELL_WORDS.contains(&word)
        && matches!(
            input.kind_at(1),
            Kind::Word | Kind::End | Kind::Text | Kind::Number | Kind::Dot | Kind::Over
        );
    is_order.then(|| {
        syntax(token.span, format!("`{word}` is an order to the shell"))
            .expected("a statement of the notebook")
    })
}

/// `tank: 60 gal`, `tank := 60 gal`
fn colon_for_equals(input: Tokens<'_>) -> Option<Diagnostic> {
    if input.kind() != Kind::Word || input.kind_at(1) != Kind::Colon {
        return None;
    }
    let colon = input.token_at(1);
    let sign = match input.token_at(2) {
        equal if equal.kind == Kind::Equal && !equal.after_blank() => colon.span.to(equal.span),
        _ => colon.span,
    };
    Some(
        syntax(
            sign,
            format!("`{}` behind a name", sign.of(input.page.text)),
        )
        .expected("`=` between a name and its value")
        .replace(rest_of_line(input), with_equals(input, sign.end)),
    )
}

/// `tank 60 gal`
fn missing_equals(input: Tokens<'_>) -> Option<Diagnostic> {
    let is_number = matches!(
        input.kind_at(1),
        Kind::Number | Kind::CommaNumber | Kind::Dollar | Kind::Fraction
    );
    if input.kind() != Kind::Word || !is_number || first_equal(input).is_some() {
        return None;
    }
    let (name, number) = (input.token(), input.token_at(1));
    let span = name.span.to(number.span);
    Some(
        syntax(
            span,
            "a name and a number without a sign between".to_string(),
        )
        .expected("`=` between a name and its value")
        .replace(rest_of_line(input), with_equals(input, name.span.end)),
    )
}

fn rest_of_line(input: Tokens<'_>) -> Span {
    let last = input.page.tokens.last();
    input
        .token()
        .span
        .to(last.map_or(input.token().span, |last| last.span))
}

/// The line with `=` between its name and what stands behind `from`.
fn with_equals(input: Tokens<'_>, from: u32) -> String {
    let value = Span {
        start: from,
        end: rest_of_line(input).end,
    };
    let name = input.text(input.token());
    format!("{name} = {}", value.of(input.page.text).trim())
}

/// How far ahead the first `=` outside brackets stands.
fn first_equal(input: Tokens<'_>) -> Option<usize> {
    let mut depth = 0_usize;
    let mut ahead = 0;
    loop {
        match input.kind_at(ahead) {
            Kind::Equal if depth == 0 => return Some(ahead),
            Kind::End => return None,
            Kind::OpenRound | Kind::OpenSquare | Kind::OpenCurly => depth += 1,
            Kind::CloseRound | Kind::CloseSquare | Kind::CloseCurly => {
                depth = depth.saturating_sub(1);
            }
            _ => {}
        }
        ahead += 1;
    }
}

/// `pump output = …`, `tank-size = …`, `2nd = …`, `60 gal = tank`, `f(x) = …`
fn odd_name(input: Tokens<'_>) -> Option<Diagnostic> {
    let equal = first_equal(input)?;
    let length = (0..equal)
        .find(|ahead| input.kind_at(*ahead) == Kind::OpenSquare)
        .unwrap_or(equal);
    let tokens: Vec<Token> = (0..length.min(8))
        .map(|ahead| input.token_at(ahead))
        .collect();
    let (first, last) = (tokens.first()?, tokens.last()?);
    let span = first.span.to(last.span);
    if length > 8 || tokens.iter().skip(1).any(|token| token.begins_line()) {
        return None;
    }
    let is_part = |token: &Token| match token.kind {
        Kind::Word | Kind::Number => true,
        Kind::Reserved(word) => !joins_values(word),
        _ => false,
    };
    if first.kind == Kind::Number {
        return number_first(input, &tokens, span, equal);
    }
    if first.kind == Kind::Word && input.is_called_or_opened(0) && last.kind == Kind::CloseRound {
        return Some(
            syntax(span, "a formula written like a cell".to_string())
                .label("a name with its parameters")
                .expected(format!(
                    "`formula {}` on a line of its own, its body indented below",
                    span.of(input.page.text)
                )),
        );
    }
    let is_name = is_part(first)
        && tokens.len() > 1
        && tokens
            .iter()
            .all(|token| is_part(token) || token.kind == Kind::Minus || token.kind == Kind::Dash);
    is_name.then(|| {
        let parts: Vec<&str> = tokens
            .iter()
            .filter(|token| is_part(token))
            .map(|token| input.text(*token))
            .collect();
        let sign = match tokens.iter().any(|token| !is_part(token)) {
            true => "a hyphen",
            false => "a blank",
        };
        syntax(span, format!("{sign} inside a name"))
            .expected("letters, digits and `_`")
            .replace(span, parts.join("_"))
    })
}

/// Words between values, which are seldom meant as part of a name.
fn joins_values(word: Reserved) -> bool {
    use Reserved::{And, Else, For, If, Not, Or, Solve, Then, With};
    matches!(word, And | Else | For | If | Not | Or | Solve | Then | With)
}

fn number_first(
    input: Tokens<'_>,
    tokens: &[Token],
    span: Span,
    equal: usize,
) -> Option<Diagnostic> {
    let glued = tokens.get(1).is_some_and(|token| !token.after_blank());
    let behind = input.token_at(equal + 1);
    if behind.kind == Kind::Word && input.kind_at(equal + 2) == Kind::End {
        let whole = span.to(behind.span);
        let swapped = format!("{} = {}", input.text(behind), span.of(input.page.text));
        return Some(
            syntax(whole, "a value to the left of `=`".to_string())
                .expected("the name to the left")
                .replace(whole, swapped),
        );
    }
    (glued || tokens.len() == 1).then(|| {
        syntax(span, "a name that begins with a digit".to_string())
            .expected("a letter or `_` first")
            .replace(span, format!("n{}", span.of(input.page.text)))
    })
}
