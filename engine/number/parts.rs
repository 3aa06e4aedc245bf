//! A number taken apart: sign, whole coefficient and power of ten, and its way back with one
//! rounding. Every path that is not plain `rust_decimal` ends here.
//!
//! Knows nothing of the mark "inexact"; it only passes it on.

use super::wide::{POWERS_OF_TEN, count_digits, power_of_ten};
use super::{Number, Trouble};
use rust_decimal::Decimal;

/// The significant digits of a [`Number`].
pub(super) const DIGITS: u32 = 28;
/// The first coefficient that is too long.
pub(super) const TOO_LONG: u128 = POWERS_OF_TEN[DIGITS as usize];
/// The first coefficient that has all digits.
pub(super) const FULL: u128 = POWERS_OF_TEN[DIGITS as usize - 1];
/// The largest and, negated, the smallest power of ten of a leading digit.
pub(super) const LARGEST_POWER: i64 = 9999;
/// The most places `rust_decimal` has.
const PLACES: i64 = 28;

/// `±coefficient · 10^power` with a coefficient of at most 28 digits.
#[derive(Clone, Copy, Debug)]
pub(super) struct Parts {
    pub(super) negative: bool,
    pub(super) coefficient: u128,
    pub(super) power: i64,
}

impl Parts {
    /// The power of ten of the first digit. Zero has none: don't ask.
    pub(super) fn leading(self) -> i64 {
        self.power + i64::from(count_digits(self.coefficient)) - 1
    }

    /// The same value with a coefficient of exactly 28 digits; zero stays zero.
    pub(super) fn filled(self) -> Parts {
        let missing = DIGITS - count_digits(self.coefficient).min(DIGITS);
        if self.coefficient == 0 || missing == 0 {
            return self;
        }
        Parts {
            coefficient: self.coefficient * POWERS_OF_TEN[missing as usize],
            power: self.power - i64::from(missing),
            ..self
        }
    }

    /// The same value without zeros at the end of its coefficient.
    pub(super) fn stripped(mut self) -> Parts {
        if self.coefficient == 0 {
            return Parts { power: 0, ..self };
        }
        for step in [16, 8, 8, 4, 2, 1] {
            // A multiple of 10^step is one of 2^step, which is cheaper to see.
            if self.coefficient.trailing_zeros() < step {
                continue;
            }
            let divisor = POWERS_OF_TEN[step as usize];
            let shorter = self.coefficient / divisor;
            if shorter * divisor == self.coefficient {
                self.coefficient = shorter;
                self.power += i64::from(step);
            }
        }
        self
    }

    /// Rounded half to even to a multiple of `10^place`.
    pub(super) fn rounded_at(self, place: i64) -> Parts {
        if place <= self.power {
            return self;
        }
        let coefficient = match power_of_ten(place - self.power) {
            Some(divisor) => round_quotient(self.coefficient, divisor, false),
            None => 0,
        };
        Parts {
            coefficient,
            power: place,
            negative: self.negative,
        }
    }

    /// Rounded half to even to `digits` significant digits; may end with one more zero digit
    /// after a carry.
    pub(super) fn rounded_to(self, digits: u32) -> Parts {
        self.rounded_at(self.leading() - i64::from(digits) + 1)
    }
}

/// `value / divisor` rounded half to even; `more` says that the true value lies above `value` by
/// less than one.
fn round_quotient(value: u128, divisor: u128, more: bool) -> u128 {
    let quotient = value / divisor;
    let rest = value - quotient * divisor;
    let (half, odd) = (divisor / 2, quotient % 2 == 1);
    quotient + u128::from(rest > half || rest == half && (more || odd))
}

impl Number {
    /// Sign, coefficient and power of ten.
    pub(super) fn parts(self) -> Parts {
        let mantissa = self.digits.mantissa();
        Parts {
            negative: mantissa < 0,
            coefficient: mantissa.unsigned_abs(),
            power: i64::from(self.exponent) - i64::from(self.digits.scale()),
        }
    }

    /// The number nearest to `±coefficient · 10^power`, half to even. `more` says that the true
    /// value lies beyond that by less than one unit; the coefficient then has 29 digits or more.
    ///
    /// # Errors
    /// [`Trouble::Overflow`] and [`Trouble::Underflow`] outside `10^±9999`.
    pub(super) fn rounded(parts: Parts, more: bool, inexact: bool) -> Result<Number, Trouble> {
        debug_assert!(!more || parts.coefficient >= TOO_LONG);
        if parts.coefficient < TOO_LONG {
            return Number::placed(parts, inexact);
        }
        let digits = count_digits(parts.coefficient);
        let excess = digits - DIGITS;
        let rounded = Parts {
            coefficient: round_quotient(parts.coefficient, POWERS_OF_TEN[excess as usize], more),
            power: parts.power + i64::from(excess),
            negative: parts.negative,
        };
        if rounded.coefficient < TOO_LONG {
            return Number::placed(rounded, inexact);
        }
        let carried = Parts {
            coefficient: FULL,
            power: rounded.power + 1,
            ..rounded
        };
        Number::placed(carried, inexact)
    }

    /// As [`Number::rounded`] of an exact value, without zeros at the end.
    pub(super) fn shortened(parts: Parts, inexact: bool) -> Result<Number, Trouble> {
        Number::rounded(parts.stripped(), false, inexact)
    }

    /// The number of a coefficient that fits.
    pub(super) fn placed(parts: Parts, inexact: bool) -> Result<Number, Trouble> {
        if parts.coefficient == 0 {
            return Ok(Number::ZERO.marked(inexact));
        }
        if (-PLACES..=0).contains(&parts.power) {
            return Ok(Number {
                digits: decimal(parts.negative, parts.coefficient, -parts.power as u32),
                exponent: 0,
                inexact,
            });
        }
        let leading = parts.leading();
        if leading > LARGEST_POWER {
            return Err(Trouble::Overflow);
        }
        if leading < -LARGEST_POWER {
            return Err(Trouble::Underflow);
        }
        let (coefficient, power) = moved_into_places(parts);
        let places = (-power).clamp(0, PLACES);
        // The leading digit lies within 10^±9999, so what is left of the power fits.
        let exponent = (power + places) as i16;
        Ok(Number {
            digits: decimal(parts.negative, coefficient, places as u32),
            exponent,
            inexact,
        })
    }
}

/// Coefficient and power, moved so that the power is one of the places of `rust_decimal` where
/// that costs no digit: only then the quick paths apply.
fn moved_into_places(parts: Parts) -> (u128, i64) {
    if parts.power > 0 {
        let wider = power_of_ten(parts.power)
            .and_then(|factor| parts.coefficient.checked_mul(factor))
            .filter(|&coefficient| coefficient < TOO_LONG);
        return match wider {
            Some(coefficient) => (coefficient, 0),
            None => (parts.coefficient, parts.power),
        };
    }
    let (mut coefficient, mut power) = (parts.coefficient, parts.power);
    while power < -PLACES && coefficient.is_multiple_of(10) {
        coefficient /= 10;
        power += 1;
    }
    (coefficient, power)
}

/// `±coefficient / 10^places` as `rust_decimal` holds it.
#[inline(always)]
pub(super) const fn decimal(negative: bool, coefficient: u128, places: u32) -> Decimal {
    Decimal::from_parts(
        coefficient as u32,
        (coefficient >> 32) as u32,
        (coefficient >> 64) as u32,
        negative,
        places,
    )
}
