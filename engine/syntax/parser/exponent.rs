//! Powers of unit words: raised digits, `^2`, `^-1`, `^(1/2)`.

use super::input::Tokens;
use crate::syntax::fold;
use crate::syntax::token::{Kind, Marks};

/// Largest number above and below the line of a power.
const LARGEST: i32 = 999;

/// A power in lowest terms, and the tokens behind it.
type Power<'t> = Option<(Tokens<'t>, (i32, i32))>;

/// Whether a power stands here.
pub(super) fn begins(input: Tokens<'_>) -> bool {
    match input.kind() {
        Kind::Raised => !input.token().after_blank(),
        Kind::Power => true,
        _ => false,
    }
}

/// The power that begins here, if it is a small whole number or a fraction of two.
pub(super) fn read(input: Tokens<'_>) -> Power<'_> {
    let (rest, (above, below)) = match input.kind() {
        Kind::Raised => raised(input)?,
        _ => typed(input.after())?,
    };
    let is_small = above.abs() <= LARGEST && (1..=LARGEST).contains(&below);
    is_small.then(|| {
        let divisor = num_integer::gcd(above, below).max(1);
        (rest, (above / divisor, below / divisor))
    })
}

fn raised(input: Tokens<'_>) -> Power<'_> {
    let digits: String = input
        .text(input.token())
        .chars()
        .filter_map(fold::superscript)
        .collect();
    Some((input.after(), (digits.parse().ok()?, 1)))
}

fn typed(input: Tokens<'_>) -> Power<'_> {
    if input.kind() != Kind::OpenRound {
        let (rest, above) = signed_whole(input)?;
        return Some((rest, (above, 1)));
    }
    let (rest, above) = signed_whole(input.after())?;
    let (rest, below) = match rest.kind() {
        Kind::Over => signed_whole(rest.after())?,
        _ => (rest, 1),
    };
    (rest.kind() == Kind::CloseRound).then(|| (rest.after(), (above, below)))
}

fn signed_whole(input: Tokens<'_>) -> Option<(Tokens<'_>, i32)> {
    let (number, sign) = match input.kind() {
        Kind::Minus => (input.after(), -1),
        _ => (input, 1),
    };
    let token = number.token();
    if token.kind != Kind::Number || !token.marks.has(Marks::WHOLE) {
        return None;
    }
    let whole = number.text(token).parse::<i32>().ok()?;
    Some((number.after(), whole.checked_mul(sign)?))
}
