//! Sums, products, quotients and remainders: the exact result, rounded once.
//!
//! Three ways, the quickest that can vouch for the result: coefficients of 64 bits are worked out
//! in words; longer sums by `rust_decimal`, whose result (29 digits at most) is taken when it
//! lost nothing, shortened by one digit where that can't round twice. Products and quotients it
//! rounds at their 28th place where we need the 28th digit, so those and all else are worked out
//! from the parts.

use super::parts::{FULL, Parts, TOO_LONG, decimal};
use super::wide::{POWERS_OF_TEN, divide, power_of_ten, product};
use super::{Number, Trouble};
use num_bigint::BigUint;
use num_traits::ToPrimitive;
use rust_decimal::Decimal;
use std::cmp::Ordering;

impl Number {
    /// The sum.
    ///
    /// # Errors
    /// [`Trouble::Overflow`], [`Trouble::Underflow`].
    #[inline]
    pub fn plus(self, other: Number) -> Result<Number, Trouble> {
        self.signed_sum(other, false)
    }

    /// The difference.
    ///
    /// # Errors
    /// [`Trouble::Overflow`], [`Trouble::Underflow`].
    #[inline]
    pub fn minus(self, other: Number) -> Result<Number, Trouble> {
        self.signed_sum(other, true)
    }

    /// The product.
    ///
    /// # Errors
    /// [`Trouble::Overflow`], [`Trouble::Underflow`].
    #[inline]
    pub fn times(self, other: Number) -> Result<Number, Trouble> {
        let (a, b) = (self.digits.unpack(), other.digits.unpack());
        let places = a.scale + b.scale;
        if (a.hi | b.hi) == 0
            && (self.exponent | other.exponent) == 0
            && places <= Decimal::MAX_SCALE
        {
            let coefficient = word(a.lo, a.mid) * word(b.lo, b.mid);
            if coefficient < TOO_LONG {
                return Ok(Number {
                    digits: decimal(a.negative != b.negative, coefficient, places),
                    exponent: 0,
                    inexact: self.inexact | other.inexact,
                });
            }
        }
        self.times_by_parts(other)
    }

    /// The quotient; short where it is exact.
    ///
    /// # Errors
    /// [`Trouble::Zero`], [`Trouble::Overflow`], [`Trouble::Underflow`].
    pub fn over(self, other: Number) -> Result<Number, Trouble> {
        let inexact = self.inexact | other.inexact;
        let (a, b) = (self.parts().filled(), other.parts().filled());
        if b.coefficient == 0 {
            return Err(Trouble::Zero);
        }
        if a.coefficient == 0 {
            return Ok(Number::ZERO.marked(inexact));
        }
        // Two filled coefficients have a quotient between 0.1 and 10: this makes it 28 digits.
        let shift = if a.coefficient < b.coefficient {
            28
        } else {
            27
        };
        Parts {
            negative: a.negative != b.negative,
            coefficient: b.coefficient,
            power: a.power - b.power - shift as i64,
        }
        .divide_into(product(a.coefficient, POWERS_OF_TEN[shift]), inexact)
    }

    /// The sum, or with `flip` the difference.
    #[inline(always)]
    fn signed_sum(self, other: Number, flip: bool) -> Result<Number, Trouble> {
        let (a, b) = (self.digits.unpack(), other.digits.unpack());
        let distance = a.scale.abs_diff(b.scale);
        if (a.hi | b.hi) == 0 && (self.exponent | other.exponent) == 0 && distance < 20 {
            let (mut x, mut y) = (word(a.lo, a.mid), word(b.lo, b.mid));
            let factor = POWERS_OF_TEN[distance as usize];
            if a.scale < b.scale {
                x *= factor;
            } else {
                y *= factor;
            }
            let (negative, coefficient) = if a.negative == (b.negative != flip) {
                (a.negative, x + y)
            } else if x < y {
                (!a.negative, y - x)
            } else {
                (a.negative, x - y)
            };
            if coefficient < TOO_LONG {
                return Ok(Number {
                    digits: decimal(negative, coefficient, a.scale.max(b.scale)),
                    exponent: 0,
                    inexact: self.inexact | other.inexact,
                });
            }
        }
        self.plus_at_length(if flip { other.negated() } else { other })
    }

    #[inline(never)]
    fn plus_at_length(self, other: Number) -> Result<Number, Trouble> {
        if self.exponent == other.exponent
            && let Some(sum) = self.digits.checked_add(other.digits)
            && let Some(digits) = settle(&sum, self.digits.scale().max(other.digits.scale()))
        {
            return self.result(digits, i32::from(self.exponent), &other);
        }
        self.plus_by_parts(other)
    }

    /// The number `digits · 10^exponent`, with the marks of both operands.
    fn result(self, digits: Decimal, exponent: i32, other: &Number) -> Result<Number, Trouble> {
        let number = Number {
            digits,
            exponent: 0,
            inexact: self.inexact | other.inexact,
        };
        if exponent == 0 {
            Ok(number)
        } else {
            number.shifted(exponent)
        }
    }

    /// What is left of `self` after taking `other` as often as it goes, with the sign of `self`;
    /// always exact.
    ///
    /// # Errors
    /// [`Trouble::Zero`].
    pub fn remainder(self, other: Number) -> Result<Number, Trouble> {
        let parts = self.parts();
        let division = Division::of(parts, other.parts())?;
        let rest = Parts {
            negative: parts.negative,
            coefficient: division.rest,
            power: division.power,
        };
        Number::rounded(rest, false, self.inexact || other.inexact)
    }

    #[cold]
    #[inline(never)]
    fn plus_by_parts(self, other: Number) -> Result<Number, Trouble> {
        let inexact = self.inexact || other.inexact;
        if self.is_zero() {
            return Ok(other.marked(inexact));
        }
        if other.is_zero() {
            return Ok(self.marked(inexact));
        }
        let (a, b) = (self.parts().filled(), other.parts().filled());
        let (large, small) = if (a.power, a.coefficient) >= (b.power, b.coefficient) {
            (a, b)
        } else {
            (b, a)
        };
        // Ten digits below the 28: a sum keeps all it needs for rounding, and a difference that
        // loses leading digits has had nothing cut off.
        let coefficient = large.coefficient * POWERS_OF_TEN[10];
        let power = large.power - 10;
        let (aligned, more) = align(small, power);
        let (coefficient, more) = if large.negative == small.negative {
            (coefficient + aligned, more)
        } else {
            (coefficient - aligned - u128::from(more), more)
        };
        let sum = Parts {
            negative: large.negative,
            coefficient,
            power,
        };
        if more {
            return Number::rounded(sum, more, inexact);
        }
        Number::shortened(sum, inexact)
    }

    #[inline(never)]
    fn times_by_parts(self, other: Number) -> Result<Number, Trouble> {
        let inexact = self.inexact | other.inexact;
        let (a, b) = (self.parts().filled(), other.parts().filled());
        if a.coefficient == 0 || b.coefficient == 0 {
            return Ok(Number::ZERO.marked(inexact));
        }
        let fifty_six_digits = product(POWERS_OF_TEN[27], POWERS_OF_TEN[28]);
        let product = product(a.coefficient, b.coefficient);
        // 55 or 56 digits: this leaves 28.
        let shift = if product < fifty_six_digits { 27 } else { 28 };
        Parts {
            negative: a.negative != b.negative,
            coefficient: POWERS_OF_TEN[shift],
            power: a.power + b.power + shift as i64,
        }
        .divide_into(product, inexact)
    }
}

impl Parts {
    /// The quotient of a double-length number by this coefficient, with this sign and power, as
    /// the nearest number. The quotient has 28 digits.
    fn divide_into(self, value: (u128, u128), inexact: bool) -> Result<Number, Trouble> {
        let divisor = self.coefficient;
        let (quotient, rest) = divide(value, divisor).ok_or(Trouble::Overflow)?;
        if rest == 0 {
            let exact = Parts {
                coefficient: quotient,
                ..self
            };
            return Number::placed(exact.stripped(), inexact);
        }
        let half = (2 * rest).cmp(&divisor).then((quotient & 1).cmp(&0));
        let rounded = Parts {
            coefficient: quotient + u128::from(half == Ordering::Greater),
            ..self
        };
        Number::rounded(rounded, false, inexact)
    }
}

/// The number of a quotient with 29 digits or more and the mark whether more follows.
pub(super) fn from_quotient(
    quotient: Option<(u128, bool)>,
    negative: bool,
    power: i64,
    inexact: bool,
) -> Result<Number, Trouble> {
    let (coefficient, more) = quotient.ok_or(Trouble::Overflow)?;
    let parts = Parts {
        negative,
        coefficient,
        power,
    };
    if more {
        Number::rounded(parts, true, inexact)
    } else {
        Number::shortened(parts, inexact)
    }
}

/// The lower 64 bits of a coefficient.
#[inline(always)]
fn word(lower: u32, upper: u32) -> u128 {
    u128::from(upper) << 32 | u128::from(lower)
}

/// The result of an operation that is exact where it has `places`, brought to 28 digits; nothing
/// where it was rounded elsewhere than at its 28th digit.
fn settle(result: &Decimal, places: u32) -> Option<Decimal> {
    let coefficient = result.mantissa().unsigned_abs();
    let exact = result.scale() == places;
    if coefficient >= TOO_LONG {
        return drop_digit(result, coefficient, exact);
    }
    (exact || coefficient >= FULL).then_some(*result)
}

/// Rounds 29 digits to 28. A last digit 5 that may itself come from rounding is left alone.
fn drop_digit(result: &Decimal, coefficient: u128, exact: bool) -> Option<Decimal> {
    let places = result.scale().checked_sub(1)?;
    let (shorter, last) = (coefficient / 10, coefficient % 10);
    if last == 5 && !exact {
        return None;
    }
    let up = last > 5 || last == 5 && shorter % 2 == 1;
    Some(decimal(
        result.is_sign_negative(),
        shorter + u128::from(up),
        places,
    ))
}

/// The coefficient of `parts` at another power, and whether something was cut off.
fn align(parts: Parts, power: i64) -> (u128, bool) {
    if let Some(factor) = power_of_ten(parts.power - power) {
        return (parts.coefficient * factor, false);
    }
    match power_of_ten(power - parts.power) {
        Some(divisor) => {
            let aligned = parts.coefficient / divisor;
            (aligned, aligned * divisor != parts.coefficient)
        }
        None => (0, true),
    }
}

/// A whole division of sizes.
pub(super) struct Division {
    /// Whether the whole quotient is odd.
    pub(super) odd: bool,
    /// What is left, in units of `10^power`.
    pub(super) rest: u128,
    /// How the rest compares with half the divisor.
    pub(super) half: Ordering,
    /// The power of ten of `rest`.
    pub(super) power: i64,
}

impl Division {
    /// Divides the size of `a` by the size of `b`.
    ///
    /// # Errors
    /// [`Trouble::Zero`].
    pub(super) fn of(a: Parts, b: Parts) -> Result<Division, Trouble> {
        if b.coefficient == 0 {
            return Err(Trouble::Zero);
        }
        let power = a.power.min(b.power);
        let divisor = power_of_ten(b.power - power)
            .and_then(|factor| b.coefficient.checked_mul(factor))
            .filter(|&divisor| divisor <= u128::MAX / 2);
        let Some(divisor) = divisor else {
            // The divisor has more digits than `a` can have, whose power is the lower one.
            return Ok(Division {
                odd: false,
                rest: a.coefficient,
                half: Ordering::Less,
                power,
            });
        };
        let twice = remainder_of_shifted(a.coefficient, a.power - power, 2 * divisor);
        let odd = twice >= divisor;
        let rest = if odd { twice - divisor } else { twice };
        Ok(Division {
            odd,
            rest,
            half: (2 * rest).cmp(&divisor),
            power,
        })
    }
}

/// `coefficient · 10^shift mod divisor`.
fn remainder_of_shifted(coefficient: u128, shift: i64, divisor: u128) -> u128 {
    let quick = power_of_ten(shift).and_then(|factor| coefficient.checked_mul(factor));
    if let Some(value) = quick {
        return value % divisor;
    }
    let divisor = BigUint::from(divisor);
    let shift = BigUint::from(shift.unsigned_abs());
    let rest = BigUint::from(10_u32).modpow(&shift, &divisor) * coefficient % &divisor;
    rest.to_u128().unwrap_or(0)
}
