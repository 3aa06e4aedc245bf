//! Sums, products and quotients: the exact result, rounded once.
//!
//! Short operands are worked out on the spot, long ones with a product of double length.
//! Quotients by a short divisor are `rust_decimal`'s: its division gives exact ones short, and
//! with the dividend brought next below the divisor its rounding at the 28th place is ours at the
//! 28th digit.

use super::parts::Parts;
use super::wide::{POWERS_OF_TEN, count_digits, divide, power_of_ten, product};
use super::{Number, Trouble};
use rust_decimal::Decimal;

impl Number {
    /// The sum.
    ///
    /// # Errors
    /// [`Trouble::Overflow`], [`Trouble::Underflow`].
    #[inline]
    pub fn plus(self, other: Number) -> Result<Number, Trouble> {
        let (mut a, mut b) = (self.coefficient(), other.coefficient());
        let upper = if self.power > other.power {
            &mut a
        } else {
            &mut b
        };
        let distance = self.power.abs_diff(other.power);
        match POWERS_OF_TEN.get(usize::from(distance)) {
            // The product has 127 bits at most, and the sum fits as well.
            Some(factor) if upper.leading_zeros() + factor.leading_zeros() > 128 => {
                *upper *= factor;
            }
            _ => return self.plus_far(other),
        }
        let (negative, coefficient) = if self.negative == other.negative {
            (self.negative, a + b)
        } else if a < b {
            (other.negative, b - a)
        } else {
            (self.negative, a - b)
        };
        let sum = Parts {
            negative,
            coefficient,
            power: i64::from(self.power.min(other.power)),
        };
        Number::rounded(sum, false, self.inexact | other.inexact)
    }

    /// The difference.
    ///
    /// # Errors
    /// [`Trouble::Overflow`], [`Trouble::Underflow`].
    #[inline]
    pub fn minus(self, other: Number) -> Result<Number, Trouble> {
        self.plus(other.negated())
    }

    /// The product.
    ///
    /// # Errors
    /// [`Trouble::Overflow`], [`Trouble::Underflow`].
    #[inline]
    pub fn times(self, other: Number) -> Result<Number, Trouble> {
        if (self.high | other.high) != 0 {
            return self.times_at_length(other);
        }
        let product = Parts {
            negative: self.negative != other.negative,
            coefficient: u128::from(self.low) * u128::from(other.low),
            power: i64::from(self.power) + i64::from(other.power),
        };
        Number::rounded(product, false, self.inexact | other.inexact)
    }

    /// The quotient; short where it is exact.
    ///
    /// # Errors
    /// [`Trouble::Zero`], [`Trouble::Overflow`], [`Trouble::Underflow`].
    pub fn over(self, other: Number) -> Result<Number, Trouble> {
        if other.is_zero() {
            return Err(Trouble::Zero);
        }
        if self.is_zero() {
            return Ok(self.marked(other.inexact));
        }
        if other.high == 0 {
            self.over_word(other)
        } else {
            self.over_at_length(other)
        }
    }

    /// The sum of numbers whose digits lie far apart.
    #[inline(never)]
    fn plus_far(self, other: Number) -> Result<Number, Trouble> {
        let inexact = self.inexact | other.inexact;
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
        let coefficient = if large.negative == small.negative {
            coefficient + aligned
        } else {
            coefficient - aligned - u128::from(more)
        };
        let sum = Parts {
            negative: large.negative,
            coefficient,
            power,
        };
        if more {
            Number::rounded(sum, more, inexact)
        } else {
            Number::shortened(sum, inexact)
        }
    }

    /// The product of numbers of any length.
    #[inline(never)]
    fn times_at_length(self, other: Number) -> Result<Number, Trouble> {
        let inexact = self.inexact | other.inexact;
        let (a, b) = (self.parts().filled(), other.parts().filled());
        if a.coefficient == 0 || b.coefficient == 0 {
            return Ok(Number::ZERO.marked(inexact));
        }
        let fifty_six_digits = product(POWERS_OF_TEN[27], POWERS_OF_TEN[28]);
        let product = product(a.coefficient, b.coefficient);
        // 55 or 56 digits: this leaves 28.
        let shift = if product < fifty_six_digits { 27 } else { 28 };
        let quotient = Quotient {
            negative: a.negative != b.negative,
            divisor: POWERS_OF_TEN[shift],
            power: a.power + b.power + shift as i64,
        };
        quotient.nearest(product, inexact)
    }

    /// The quotient by a divisor of 64 bits; neither is zero.
    #[inline(never)]
    fn over_word(self, other: Number) -> Result<Number, Trouble> {
        let (a, b) = (self.coefficient(), other.coefficient());
        let longer = i64::from(count_digits(a)) - i64::from(count_digits(b));
        // With as many digits a / 10^shift lies below 10 b; one place more brings it below b.
        let smaller = match power_of_ten(longer) {
            Some(unit) => a < b * unit,
            None => a * POWERS_OF_TEN[longer.unsigned_abs() as usize] < b,
        };
        let shift = longer + i64::from(!smaller);
        let dividend = decimal(a, shift.max(0));
        let divisor = decimal(b, -shift.min(0));
        let quotient = dividend.checked_div(divisor).ok_or(Trouble::Overflow)?;
        let power = i64::from(self.power) - i64::from(other.power) + shift;
        let quotient = Parts {
            negative: self.negative != other.negative,
            coefficient: quotient.mantissa().unsigned_abs(),
            power: power - i64::from(quotient.scale()),
        };
        Number::placed(quotient, self.inexact | other.inexact)
    }

    /// The quotient by a divisor of any length; neither is zero.
    #[inline(never)]
    fn over_at_length(self, other: Number) -> Result<Number, Trouble> {
        let (a, b) = (self.parts().filled(), other.parts().filled());
        // Two filled coefficients have a quotient between 0.1 and 10: this makes it 28 digits.
        let shift = if a.coefficient < b.coefficient {
            28
        } else {
            27
        };
        let quotient = Quotient {
            negative: a.negative != b.negative,
            divisor: b.coefficient,
            power: a.power - b.power - shift as i64,
        };
        let dividend = product(a.coefficient, POWERS_OF_TEN[shift]);
        quotient.nearest(dividend, self.inexact | other.inexact)
    }
}

/// `coefficient / 10^places` as `rust_decimal` holds it, for at most 28 places.
fn decimal(coefficient: u128, places: i64) -> Decimal {
    Decimal::from_parts(
        coefficient as u32,
        (coefficient >> 32) as u32,
        (coefficient >> 64) as u32,
        false,
        places as u32,
    )
}

/// A division of a number of double length that leaves 28 digits.
struct Quotient {
    negative: bool,
    divisor: u128,
    power: i64,
}

impl Quotient {
    /// `±dividend / divisor · 10^power`, rounded half to even.
    fn nearest(self, dividend: (u128, u128), inexact: bool) -> Result<Number, Trouble> {
        let (quotient, rest) = divide(dividend, self.divisor).ok_or(Trouble::Overflow)?;
        let twice = 2 * rest;
        let up = twice > self.divisor || twice == self.divisor && quotient & 1 == 1;
        let parts = Parts {
            negative: self.negative,
            coefficient: quotient + u128::from(up),
            power: self.power,
        };
        if rest == 0 {
            Number::shortened(parts, inexact)
        } else {
            Number::rounded(parts, false, inexact)
        }
    }
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
