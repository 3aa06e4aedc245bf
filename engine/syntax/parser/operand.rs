//! Operands: names and their members, calls, rows reached by key, brackets, columns, texts and
//! switches. Literals have a file of their own.

use super::expression::{list, shown};
use super::input::{Parsed, Tokens};
use super::literal::{self, Place};
use super::{fault, group, refusal, scenario};
use crate::source::Span;
use crate::syntax::fold;
use crate::syntax::token::{Kind, Marks, Reserved, Token};
use crate::syntax::tree::{Expr, ExprKind, Literal, Name, Numeral, Path, Text};

/// Whether a token begins a number, written rightly or wrongly.
pub(super) fn begins_literal(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Number
            | Kind::CommaNumber
            | Kind::PointsNumber
            | Kind::Clock
            | Kind::Fraction
            | Kind::Dollar
    )
}

/// An operand with its members and keys.
pub(super) fn postfix<'t>(input: Tokens<'t>, minus: Option<Token>) -> Parsed<'t, Expr> {
    let (mut input, mut whole) = primary(input, minus)?;
    if refusal::is_quantity(&whole) || matches!(whole.kind, ExprKind::Literal(_)) {
        return Ok((input, whole));
    }
    loop {
        let start = whole.span;
        let kind;
        (input, kind) = match input.kind() {
            Kind::Dot if is_member(input) => {
                let (rest, name) = name(input.after(), "a column or cell")?;
                (rest, ExprKind::Member(Box::new(whole), name))
            }
            Kind::OpenSquare if is_key(input) => {
                let (rest, (keys, name)) = key(input)?;
                (rest, ExprKind::Keyed(Box::new(whole), keys, name))
            }
            _ => return Ok((input, whole)),
        };
        input.grow()?;
        let span = input.span_from(start);
        whole = Expr { span, kind };
    }
}

fn is_member(input: Tokens<'_>) -> bool {
    !input.token().after_blank() && !input.token_at(1).after_blank()
}

/// A bracket is a key if a dot and a name follow it directly.
pub(super) fn is_key(input: Tokens<'_>) -> bool {
    if input.token().partner == Token::ALONE {
        return false;
    }
    let behind = input.behind(input.token());
    behind.kind() == Kind::Dot && is_member(behind)
}

fn key(input: Tokens<'_>) -> Parsed<'_, (Vec<Expr>, Name)> {
    let opening = input.token();
    input.nested(|input| {
        let (input, keys) = list(input.after(), shown)?;
        let (input, _) = fault::demand_closing(input, opening, "`,` and another key, or `]`")?;
        let (input, name) = name(input.after(), "a column of the table")?;
        Ok((input, (keys, name)))
    })
}

fn primary<'t>(input: Tokens<'t>, minus: Option<Token>) -> Parsed<'t, Expr> {
    let token = input.token();
    let leaf = |kind| {
        Ok((
            input.after(),
            Expr {
                span: token.span,
                kind,
            },
        ))
    };
    match token.kind {
        kind if begins_literal(kind) => literal::literal(input, minus, Place::Operand),
        Kind::Word => word(input),
        Kind::Text => leaf(ExprKind::Text(text_value(input, token))),
        Kind::OpenRound => input.nested(group::bracketed),
        Kind::OpenCurly => input.nested(group::column),
        Kind::Hash => Ok((input.after(), refusal::hash(input))),
        Kind::Dash if begins_literal(input.kind_at(1)) => {
            refusal::dash_sign(input);
            literal::literal(input.after(), Some(token), Place::Operand)
        }
        Kind::Reserved(word) => match word {
            Reserved::True | Reserved::On => leaf(ExprKind::Switch(true)),
            Reserved::False | Reserved::Off => leaf(ExprKind::Switch(false)),
            Reserved::Solve => input.nested(scenario::solve),
            _ => Err(fault::missing_operand(input)),
        },
        _ => Err(fault::missing_operand(input)),
    }
}

/// The next name, if nothing that belongs to it follows.
pub(super) fn bare_name(input: Tokens<'_>) -> Option<Expr> {
    let token = input.token();
    if token.kind != Kind::Word || token.marks.has(Marks::SUBSCRIPT) {
        return None;
    }
    match input.kind_at(1) {
        Kind::OpenRound
        | Kind::OpenSquare
        | Kind::Dot
        | Kind::Power
        | Kind::Raised
        | Kind::Foreign => None,
        _ => Some(Expr {
            span: token.span,
            kind: ExprKind::Name(fold::word(input.text(token)).into()),
        }),
    }
}

/// A name or a call.
fn word(input: Tokens<'_>) -> Parsed<'_, Expr> {
    let behind = input.token_at(1);
    if behind.kind == Kind::OpenRound && !behind.after_blank() {
        return input.nested(group::call);
    }
    let name = plain_name(input);
    let kind = ExprKind::Name(name.text);
    Ok((
        input.after(),
        Expr {
            span: name.span,
            kind,
        },
    ))
}

/// The name that is next, in plain signs; lowered digits are said.
fn plain_name(input: Tokens<'_>) -> Name {
    let token = input.token();
    let text = fold::word(input.text(token));
    if token.marks.has(Marks::SUBSCRIPT) {
        refusal::subscript(input, &text);
    }
    Name {
        text: text.into(),
        span: token.span,
    }
}

/// A name; else a message.
pub(super) fn name<'t>(input: Tokens<'t>, wanted: &'static str) -> Parsed<'t, Name> {
    match input.kind() {
        Kind::Word => Ok((input.after(), plain_name(input))),
        _ => Err(fault::no_name(input, wanted)),
    }
}

/// A name with the names behind its dots.
pub(super) fn path<'t>(input: Tokens<'t>, wanted: &'static str) -> Parsed<'t, Path> {
    let (mut input, first) = name(input, wanted)?;
    let start = first.span;
    let mut names = vec![first];
    while input.kind() == Kind::Dot && is_member(input) {
        let next;
        (input, next) = name(input.after(), wanted)?;
        names.push(next);
    }
    let span = input.span_from(start);
    Ok((input, Path { names, span }))
}

/// A text; else a message.
pub(super) fn text<'t>(input: Tokens<'t>, wanted: &'static str) -> Parsed<'t, Text> {
    let token = input.token();
    if token.kind != Kind::Text {
        return Err(fault::unexpected(input, wanted));
    }
    let value = text_value(input, token);
    Ok((
        input.after(),
        Text {
            value,
            span: token.span,
        },
    ))
}

/// What stands between the quotes; the lines of a long text are joined by a blank.
fn text_value(input: Tokens<'_>, token: Token) -> Box<str> {
    let whole = input.text(token);
    let mut signs = whole.chars();
    signs.next();
    signs.next_back();
    let inner = signs.as_str();
    if !inner.contains('\n') {
        return inner.into();
    }
    let start = token.span.start + (inner.as_ptr() as usize - whole.as_ptr() as usize) as u32;
    let end = start + inner.len() as u32;
    let mut value = String::with_capacity(inner.len());
    for line in input.page.lines {
        let part = Span {
            start: line.start.max(start),
            end: line.end.min(end),
        };
        let part = part.of(input.page.text);
        let (first, last) = (line.start <= start, line.end >= end);
        let part = if first {
            part
        } else {
            part.trim_start_matches(fold::is_blank)
        };
        let part = if last {
            part
        } else {
            part.trim_end_matches(fold::is_blank)
        };
        if !value.is_empty() && !part.is_empty() {
            value.push(' ');
        }
        value.push_str(part);
    }
    value.into()
}

/// A whole number in raised digits, as an exponent.
pub(super) fn raised(input: Tokens<'_>) -> Parsed<'_, Expr> {
    let token = input.token();
    let plain: String = input
        .text(token)
        .chars()
        .filter_map(fold::superscript)
        .collect();
    let (negative, digits) = match plain.strip_prefix('-') {
        Some(digits) => (true, digits),
        None => (false, plain.trim_start_matches('+')),
    };
    if digits.is_empty() || !digits.bytes().all(|digit| digit.is_ascii_digit()) {
        return Err(fault::odd_exponent(input));
    }
    let literal = Literal {
        negative,
        number: Numeral {
            digits: digits.into(),
            fraction: None,
            span: token.span,
        },
        unit: None,
        plus_minus: None,
    };
    let kind = ExprKind::Literal(Box::new(literal));
    Ok((
        input.after(),
        Expr {
            span: token.span,
            kind,
        },
    ))
}
