//! A number taken apart: sign, whole coefficient and power of ten, and its way back with one
//! rounding.
//!
//! Knows nothing of the mark "inexact"; it only passes it on.

use super::wide::{POWERS_OF_TEN, count_digits, power_of_ten};
use super::{Number, Trouble};

/// The significant digits of a [`Number`].
pub(super) const DIGITS: u32 = 28;
/// The first coefficient that is too long.
pub(super) const TOO_LONG: u128 = POWERS_OF_TEN[DIGITS as usize];
/// The first coefficient that has all digits.
pub(super) const FULL: u128 = POWERS_OF_TEN[DIGITS as usize - 1];
/// The largest and, negated, the smallest power of ten of a leading digit.
pub(super) const LARGEST_POWER: i64 = 9999;
/// Powers of ten this near to zero leave no coefficient outside the range.
const NEAR: i64 = 9000;

/// `±coefficient · 10^power` with a coefficient of at most 28 digits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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
    #[inline(always)]
    pub(super) fn parts(self) -> Parts {
        Parts {
            negative: self.negative,
            coefficient: self.coefficient(),
            power: i64::from(self.power),
        }
    }

    /// The number nearest to `±coefficient · 10^power`, half to even. `more` says that the true
    /// value lies beyond that by less than one unit; the coefficient then has 29 digits or more.
    ///
    /// # Errors
    /// [`Trouble::Overflow`] and [`Trouble::Underflow`] outside `10^±9999`.
    #[inline(always)]
    pub(super) fn rounded(parts: Parts, more: bool, inexact: bool) -> Result<Number, Trouble> {
        debug_assert!(!more || parts.coefficient >= TOO_LONG);
        if parts.coefficient < TOO_LONG {
            Number::placed(parts, inexact)
        } else {
            Number::cut(parts, more, inexact)
        }
    }

    /// As [`Number::rounded`] for a coefficient that is too long.
    #[inline(never)]
    fn cut(parts: Parts, more: bool, inexact: bool) -> Result<Number, Trouble> {
        let excess = count_digits(parts.coefficient) - DIGITS;
        let divisor = POWERS_OF_TEN[excess as usize];
        let rounded = Parts {
            coefficient: round_quotient(parts.coefficient, divisor, more),
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
    #[inline(always)]
    pub(super) fn placed(parts: Parts, inexact: bool) -> Result<Number, Trouble> {
        if parts.power.abs() < NEAR {
            return Ok(Number::assembled(parts, inexact));
        }
        Number::placed_far(parts, inexact)
    }

    #[cold]
    fn placed_far(parts: Parts, inexact: bool) -> Result<Number, Trouble> {
        if parts.coefficient == 0 {
            return Ok(Number::ZERO.marked(inexact));
        }
        let leading = parts.leading();
        if leading > LARGEST_POWER {
            return Err(Trouble::Overflow);
        }
        if leading < -LARGEST_POWER {
            return Err(Trouble::Underflow);
        }
        Ok(Number::assembled(parts, inexact))
    }

    /// The number of a coefficient and a power within the range.
    #[inline(always)]
    fn assembled(parts: Parts, inexact: bool) -> Number {
        Number {
            low: parts.coefficient as u64,
            high: (parts.coefficient >> 64) as u32,
            power: parts.power as i16,
            negative: parts.negative && parts.coefficient != 0,
            inexact,
        }
    }
}
