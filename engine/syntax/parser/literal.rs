//! Numbers as typed: decimals, workshop fractions, money, each with its unit and ±. Here the
//! writings of numbers are refused that have two readings.

use super::input::{Parsed, Tokens};
use super::{fault, refusal, uncertainty, unit};
use crate::syntax::fold;
use crate::syntax::token::{Kind, Marks, Reserved, Token};
use crate::syntax::tree::{Expr, ExprKind, Literal, Numeral, UnitExpr};

/// Where a number stands, which decides whether a fraction needs a unit.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Place {
    /// In an expression.
    Operand,
    /// An item of a column.
    Item,
    /// A field of a table.
    Field,
    /// Behind ±.
    Amount,
}

/// A number, its unit and its ±, behind a sign that belongs to it.
pub(super) fn literal<'t>(
    input: Tokens<'t>,
    minus: Option<Token>,
    place: Place,
) -> Parsed<'t, Expr> {
    let (input, mut quantity) = quantity(input, minus, place)?;
    let (input, plus_minus) = uncertainty::optional(input)?;
    if let (Some(plus_minus), Some(literal)) = (plus_minus, literal_in(&mut quantity)) {
        literal.plus_minus = Some(Box::new(plus_minus));
        quantity.span = input.span_from(quantity.span);
    }
    Ok((input, quantity))
}

/// The literal of an expression, also of one that was refused.
fn literal_in(whole: &mut Expr) -> Option<&mut Literal> {
    match &mut whole.kind {
        ExprKind::Literal(literal) => Some(literal),
        ExprKind::Refused(Some(reading)) => match &mut reading.kind {
            ExprKind::Literal(literal) => Some(literal),
            _ => None,
        },
        _ => None,
    }
}

/// A number and its unit, without ±.
pub(super) fn quantity<'t>(
    input: Tokens<'t>,
    minus: Option<Token>,
    place: Place,
) -> Parsed<'t, Expr> {
    let first = input.token();
    let start = minus.unwrap_or(first).span;
    if first.kind == Kind::Dollar {
        return money(input, minus);
    }
    let parts = fraction_parts(input).filter(|parts| parts.is_fraction(input, place));
    if let Some(parts) = parts.filter(|parts| !parts.is_workshop()) {
        return refusal::fraction(input, start, &parts);
    }
    let (rest, number) = numeral_of(input, parts);
    if rest.kind() == Kind::LengthMark {
        return refusal::length_marks(rest, minus, number, place);
    }
    let (rest, unit) = unit::behind_number(rest)?;
    let whole = whole_literal(minus, number, unit);
    if rest.kind() == Kind::Reserved(Reserved::Per) {
        return refusal::per_number(rest, whole);
    }
    Ok((rest, refusal::number(input, rest, first, whole)))
}

/// A literal without ±.
pub(super) fn whole_literal(minus: Option<Token>, number: Numeral, unit: Option<UnitExpr>) -> Expr {
    let end = unit::span_of(unit.as_ref(), number.span);
    let span = minus.map_or(end, |minus| minus.span.to(end));
    let literal = Literal {
        negative: minus.is_some(),
        number,
        unit,
        plus_minus: None,
    };
    Expr {
        span,
        kind: ExprKind::Literal(Box::new(literal)),
    }
}

/// `$ 350`, `$ 0.14/kWh`, `$ 62 per bag`.
fn money<'t>(input: Tokens<'t>, minus: Option<Token>) -> Parsed<'t, Expr> {
    let dollar = input.token();
    let amount = input.after();
    let first = amount.token();
    if !matches!(first.kind, Kind::Number | Kind::CommaNumber) {
        return Err(fault::no_amount(amount));
    }
    let number = Numeral {
        digits: plain_digits(input.text(first), first),
        fraction: None,
        span: first.span,
    };
    let (rest, unit) = unit::behind_money(amount.after(), dollar)?;
    let mut whole = whole_literal(minus, number, Some(unit));
    whole.span = rest.span_from(minus.unwrap_or(dollar).span);
    if rest.kind() == Kind::Reserved(Reserved::Per) {
        return refusal::per_number(rest, whole);
    }
    Ok((rest, refusal::number(amount, rest, first, whole)))
}

/// The number itself: a fraction, a mixed number, a decimal.
pub(super) fn numeral<'t>(input: Tokens<'t>, place: Place) -> Parsed<'t, Numeral> {
    let parts = fraction_parts(input).filter(|parts| parts.is_fraction(input, place));
    Ok(numeral_of(input, parts))
}

fn numeral_of<'t>(input: Tokens<'t>, parts: Option<FractionParts>) -> (Tokens<'t>, Numeral) {
    let first = input.token();
    if let Some(parts) = parts {
        let rest = input.skip(parts.tokens);
        let digits = parts.whole.map_or("", |whole| input.text(whole));
        let numeral = Numeral {
            digits: digits.into(),
            fraction: Some((parts.above, parts.below)),
            span: rest.span_from(first.span),
        };
        return (rest, numeral);
    }
    let numeral = Numeral {
        digits: plain_digits(input.text(first), first),
        fraction: None,
        span: first.span,
    };
    (input.after(), numeral)
}

/// A number in plain signs: no `_`, a digit before the point, a small `e`.
pub(super) fn plain_digits(text: &str, token: Token) -> Box<str> {
    if !token.marks.has(Marks::ODD) && token.kind == Kind::Number {
        return text.into();
    }
    let mut plain = String::with_capacity(text.len() + 1);
    if text.starts_with('.') {
        plain.push('0');
    }
    for sign in text.chars() {
        match sign {
            '_' | ',' | '+' => {}
            'E' => plain.push('e'),
            '\u{2212}' => plain.push('-'),
            _ => plain.push(sign),
        }
    }
    if plain.ends_with('.') {
        plain.pop();
    }
    plain.replace(".e", "e").into()
}

/// A fraction as its tokens show it, with the whole number before it.
#[derive(Clone, Copy)]
pub(super) struct FractionParts {
    /// The whole number of a mixed one.
    pub whole: Option<Token>,
    /// Above the line.
    pub above: u32,
    /// Below the line.
    pub below: u32,
    /// How many tokens it takes.
    pub tokens: usize,
    /// Whether it is one character, which cannot be a division.
    pub is_glyph: bool,
}

impl FractionParts {
    /// Whether it is meant as one number: one character, or something that takes a number follows.
    fn is_fraction(&self, input: Tokens<'_>, place: Place) -> bool {
        let behind = input.skip(self.tokens);
        if !self.is_glyph && self.whole.is_none() && is_divisor(input) {
            return false;
        }
        self.is_glyph
            || place == Place::Amount
            || unit::begins(behind)
            || behind.kind() == Kind::LengthMark
            || (behind.kind() == Kind::PlusMinus && self.is_workshop())
            || (place != Place::Operand
                && matches!(behind.kind(), Kind::End | Kind::Comma | Kind::CloseCurly))
    }

    /// Whether it is proper and its denominator stands on a workshop rule.
    pub fn is_workshop(&self) -> bool {
        self.above < self.below && matches!(self.below, 2 | 3 | 4 | 8 | 16 | 32 | 64)
    }
}

/// `½`, `1½`, `1/8`, `1 1/2`.
pub(super) fn fraction_parts(input: Tokens<'_>) -> Option<FractionParts> {
    let may_be = input.kind() == Kind::Fraction
        || matches!(input.kind_at(1), Kind::Over | Kind::Number | Kind::Fraction);
    if !may_be {
        return None;
    }
    let glyph = |at: usize| {
        let token = input.token_at(at);
        (token.kind == Kind::Fraction)
            .then(|| input.text(token).chars().next().and_then(fold::fraction))
            .flatten()
    };
    if let Some((above, below)) = glyph(0) {
        return Some(FractionParts {
            whole: None,
            above,
            below,
            tokens: 1,
            is_glyph: true,
        });
    }
    if !is_whole(input.token()) {
        return None;
    }
    let whole = Some(input.token());
    if let Some((above, below)) = glyph(1) {
        return Some(FractionParts {
            whole,
            above,
            below,
            tokens: 2,
            is_glyph: true,
        });
    }
    let (whole, at) = match input.kind_at(1) {
        Kind::Over => (None, 0),
        Kind::Number => (whole, 1),
        _ => return None,
    };
    let (above, over, below) = (
        input.token_at(at),
        input.token_at(at + 1),
        input.token_at(at + 2),
    );
    let fits = is_whole(above)
        && over.kind == Kind::Over
        && !over.after_blank()
        && is_whole(below)
        && !below.after_blank();
    fits.then_some(())?;
    let below: u32 = input.text(below).parse().ok()?;
    Some(FractionParts {
        whole,
        above: input.text(above).parse().ok()?,
        below: (below > 0).then_some(below)?,
        tokens: at + 3,
        is_glyph: false,
    })
}

/// Whether a tight `/` stands before the number: `6/1/2 in` divides twice.
fn is_divisor(input: Tokens<'_>) -> bool {
    !input.token().after_blank()
        && input
            .previous()
            .is_some_and(|token| token.kind == Kind::Over)
}

fn is_whole(token: Token) -> bool {
    token.kind == Kind::Number && token.marks.has(Marks::WHOLE)
}

/// Whether an item of a column is nothing but a workshop fraction.
pub(super) fn is_fraction_item(input: Tokens<'_>) -> bool {
    fraction_parts(input).is_some_and(|parts| {
        let behind = input.skip(parts.tokens).kind();
        parts.is_workshop() && matches!(behind, Kind::Comma | Kind::CloseCurly)
    })
}
