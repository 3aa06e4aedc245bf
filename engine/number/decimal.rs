//! The number itself: what it holds, its constants, and questions about it.

use super::parts::Parts;
use super::wide::power_of_ten;
use std::cmp::Ordering;
use std::fmt;

/// A decimal of 28 significant digits with powers of ten from −9999 to 9999, and a mark that says
/// whether a calculation in doubles went into it.
///
/// Sums, products, quotients and whole powers are the exact result rounded once, half to even.
/// Two numbers are `==` when they are the same value, however written and whatever their mark;
/// [`Number::equals`] is the comparison a person means.
///
/// ```
/// use gaugebook::number::Number;
///
/// let a = Number::read("0.1")?;
/// let b = Number::read("0.2")?;
/// assert_eq!(a.plus(b).unwrap().full(), "0.3");
/// # Ok::<(), gaugebook::number::ReadTrouble>(())
/// ```
// The value is ±coefficient · 10^power with a coefficient below 10^28, so 96 bits hold it and the
// whole is 16 bytes, which pass through registers. Zero has no sign. There may be zeros at the
// end of the coefficient.
#[derive(Clone, Copy)]
pub struct Number {
    pub(super) low: u64,
    pub(super) high: u32,
    pub(super) power: i16,
    pub(super) negative: bool,
    pub(super) inexact: bool,
}

/// Why an operation has no result.
// As wide as the first field of `Number`: a result of the two is then copied in whole words,
// which makes arithmetic a quarter faster than with one byte.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u64)]
pub enum Trouble {
    /// Division by zero, or a negative power of zero.
    Zero,
    /// Beyond `10^9999`.
    Overflow,
    /// Nearer to zero than `10^-9999`, yet not zero.
    Underflow,
    /// The function has no value there.
    Domain,
}

impl fmt::Display for Trouble {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            Trouble::Zero => "division by zero",
            Trouble::Overflow => "the result is too large",
            Trouble::Underflow => "the result is too near to zero",
            Trouble::Domain => "there is no value here",
        })
    }
}

impl std::error::Error for Trouble {}

impl Number {
    /// Nothing.
    pub const ZERO: Number = Number::constant(0, 0);
    /// One.
    pub const ONE: Number = Number::constant(1, 0);
    /// Ten.
    pub const TEN: Number = Number::constant(10, 0);
    /// π, the nearest number of 28 digits.
    pub const PI: Number = Number::constant(3_141_592_653_589_793_238_462_643_383, 27);

    /// `coefficient / 10^places` for constants; at most 28 digits.
    pub(super) const fn constant(coefficient: u128, places: i16) -> Number {
        Number {
            low: coefficient as u64,
            high: (coefficient >> 64) as u32,
            power: -places,
            negative: false,
            inexact: false,
        }
    }

    /// The digits as one whole number.
    #[inline(always)]
    pub(super) fn coefficient(self) -> u128 {
        u128::from(self.high) << 64 | u128::from(self.low)
    }

    /// Whether no calculation in doubles went into it.
    pub fn is_exact(self) -> bool {
        !self.inexact
    }

    /// The same value, marked as one that a calculation in doubles went into.
    #[must_use]
    pub fn as_inexact(self) -> Number {
        Number {
            inexact: true,
            ..self
        }
    }

    /// The same value with the mark spread onto it where `mark` is set.
    pub(super) fn marked(self, mark: bool) -> Number {
        Number {
            inexact: self.inexact || mark,
            ..self
        }
    }

    /// Whether it is zero.
    pub fn is_zero(self) -> bool {
        self.low == 0 && self.high == 0
    }

    /// Whether it is below zero.
    pub fn is_negative(self) -> bool {
        self.negative
    }

    /// Whether it has nothing behind the decimal point.
    pub fn is_whole(self) -> bool {
        let parts = self.parts();
        parts.power >= 0
            || match power_of_ten(-parts.power) {
                Some(unit) => parts.coefficient.is_multiple_of(unit),
                None => parts.coefficient == 0,
            }
    }

    /// The whole number it is; nothing if it has decimals or doesn't fit.
    pub fn to_i64(self) -> Option<i64> {
        let Parts {
            negative,
            coefficient,
            power,
        } = self.parts().stripped();
        let magnitude = coefficient.checked_mul(power_of_ten(power)?)?;
        let magnitude = i128::try_from(magnitude).ok()?;
        i64::try_from(if negative { -magnitude } else { magnitude }).ok()
    }

    /// The same size with the other sign.
    #[must_use]
    pub fn negated(self) -> Number {
        Number {
            negative: !self.negative && !self.is_zero(),
            ..self
        }
    }

    /// The size without the sign.
    #[must_use]
    pub fn magnitude(self) -> Number {
        Number {
            negative: false,
            ..self
        }
    }

    /// `self · 10^places`.
    ///
    /// # Errors
    /// [`Trouble::Overflow`], [`Trouble::Underflow`].
    pub fn shifted(self, places: i32) -> Result<Number, Trouble> {
        let parts = self.parts();
        let moved = Parts {
            power: parts.power + i64::from(places),
            ..parts
        };
        Number::placed(moved, self.inexact)
    }

    /// Which of two values is larger, to the last digit.
    pub fn compare(self, other: Number) -> Ordering {
        if self.power == other.power {
            return self.signed().cmp(&other.signed());
        }
        self.compare_far(other)
    }

    /// The coefficient with its sign.
    fn signed(self) -> i128 {
        let coefficient = self.coefficient() as i128;
        if self.negative {
            -coefficient
        } else {
            coefficient
        }
    }

    /// Compares numbers of different powers: by sign, by leading digit, by coefficient.
    fn compare_far(self, other: Number) -> Ordering {
        if self.is_zero() || other.is_zero() {
            return self.signed().cmp(&other.signed());
        }
        let (a, b) = (self.parts(), other.parts());
        if a.negative != b.negative {
            return b.negative.cmp(&a.negative);
        }
        let size = a
            .leading()
            .cmp(&b.leading())
            .then_with(|| a.filled().coefficient.cmp(&b.filled().coefficient));
        if a.negative { size.reverse() } else { size }
    }

    /// Whether the two agree to 24 significant digits counted from the larger, 15 where either
    /// went through doubles: they differ by no more than half a unit of that digit.
    ///
    /// So `1/3 · 3` equals 1, but a difference of nearly equal values does not equal zero.
    pub fn equals(self, other: Number) -> bool {
        if self.compare(other) == Ordering::Equal {
            return true;
        }
        if self.is_zero() || other.is_zero() {
            return false;
        }
        let digits = if self.inexact || other.inexact {
            15
        } else {
            24
        };
        let larger = self.parts().leading().max(other.parts().leading());
        let Ok(difference) = self.minus(other) else {
            return false;
        };
        let half_unit = Parts {
            negative: false,
            coefficient: 5,
            power: larger - digits,
        };
        Number::placed(half_unit, false).is_ok_and(|tolerance| difference.magnitude() <= tolerance)
    }
}

impl From<i64> for Number {
    fn from(whole: i64) -> Number {
        Number {
            low: whole.unsigned_abs(),
            negative: whole < 0,
            ..Number::ZERO
        }
    }
}

impl PartialEq for Number {
    fn eq(&self, other: &Number) -> bool {
        self.compare(*other) == Ordering::Equal
    }
}

impl Eq for Number {}

impl PartialOrd for Number {
    fn partial_cmp(&self, other: &Number) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Number {
    fn cmp(&self, other: &Number) -> Ordering {
        self.compare(*other)
    }
}

impl fmt::Debug for Number {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(&self.full())?;
        out.write_str(if self.inexact { " inexact" } else { "" })
    }
}

impl fmt::Display for Number {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.pad(&self.full())
    }
}
