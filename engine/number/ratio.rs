//! Between decimals and exact ratios: conversions by factor and offset, each rounded once.

use super::approximation::{Approximation, pi_power};
use super::parts::Parts;
use super::wide::{count_digits, divide, power_of_ten, product};
use super::{Factor, Number, Rational, Trouble};
use num_bigint::{BigInt, BigUint, Sign};
use num_traits::{ToPrimitive, Zero};

/// The digits aimed at in a quotient: some more than rounding needs, and within 128 bits.
const AIM: i64 = 33;

impl Number {
    /// The exact value.
    pub fn rational(self) -> Rational {
        let parts = self.parts();
        let coefficient = signed(parts.negative, BigUint::from(parts.coefficient));
        let scale = BigInt::from(big_power_of_ten(parts.power.abs()));
        let (numerator, denominator) = if parts.power < 0 {
            (coefficient, scale)
        } else {
            (coefficient * scale, BigInt::from(1))
        };
        // A power of ten is never zero.
        Rational::new(numerator, denominator).unwrap_or_else(Rational::zero)
    }

    /// The number nearest to an exact ratio.
    ///
    /// # Errors
    /// [`Trouble::Overflow`], [`Trouble::Underflow`].
    pub fn from_rational(ratio: &Rational) -> Result<Number, Trouble> {
        Fraction {
            negative: ratio.is_negative(),
            numerator: ratio.numerator().magnitude().clone(),
            denominator: ratio.denominator().magnitude().clone(),
            power: 0,
        }
        .number(false)
    }

    /// `self` times a factor between units, rounded once.
    ///
    /// # Errors
    /// [`Trouble::Overflow`], [`Trouble::Underflow`].
    pub fn scaled(self, factor: &Factor) -> Result<Number, Trouble> {
        if factor.is_one() || self.is_zero() {
            return Ok(self);
        }
        let quick = (factor.pi == 0)
            .then(|| self.scaled_in_words(&factor.ratio))
            .flatten();
        quick.unwrap_or_else(|| self.scaled_at_length(factor))
    }

    /// `self · factor + offset`, rounded once.
    ///
    /// # Errors
    /// [`Trouble::Overflow`], [`Trouble::Underflow`].
    pub fn affine(self, factor: &Rational, offset: &Rational) -> Result<Number, Trouble> {
        let quick = self.affine_in_words(factor, offset);
        quick.unwrap_or_else(|| self.affine_at_length(factor, offset))
    }

    /// The product with a ratio of two numbers below 10^28; nothing if they are longer.
    fn scaled_in_words(self, ratio: &Rational) -> Option<Result<Number, Trouble>> {
        let numerator = ratio.numerator().to_i128()?;
        let negative = self.is_negative() != (numerator < 0);
        let numerator = numerator.unsigned_abs();
        let denominator = ratio.denominator().to_u128()?;
        let (upper, lower) = (count_digits(numerator), count_digits(denominator));
        if numerator == 0 || upper > 28 || lower > 28 {
            return None;
        }
        let parts = self.parts().filled();
        let shift = AIM - 28 + i64::from(lower) - i64::from(upper);
        let (numerator, denominator) = if shift >= 0 {
            (numerator * power_of_ten(shift)?, denominator)
        } else {
            (numerator, denominator * power_of_ten(-shift)?)
        };
        Some(from_quotient(
            divide(product(parts.coefficient, numerator), denominator)
                .map(|(quotient, rest)| (quotient, rest != 0)),
            negative,
            parts.power - shift,
            self.inexact,
        ))
    }

    fn scaled_at_length(self, factor: &Factor) -> Result<Number, Trouble> {
        let parts = self.parts();
        let pi = pi_power(u32::from(factor.pi.unsigned_abs()));
        let Approximation { mantissa, power } = pi;
        let numerator = factor.ratio.numerator().magnitude() * parts.coefficient;
        let denominator = factor.ratio.denominator().magnitude();
        let (numerator, denominator, power) = if factor.pi < 0 {
            (numerator, denominator * mantissa, parts.power - power)
        } else {
            (
                numerator * mantissa,
                denominator.clone(),
                parts.power + power,
            )
        };
        Fraction {
            negative: parts.negative != factor.ratio.is_negative(),
            numerator,
            denominator,
            power,
        }
        .number(self.inexact)
    }

    /// The affine image where everything fits 128 bits on the way; nothing if not.
    fn affine_in_words(
        self,
        factor: &Rational,
        offset: &Rational,
    ) -> Option<Result<Number, Trouble>> {
        let parts = self.parts();
        let below = power_of_ten(-parts.power.min(0)).and_then(|unit| i128::try_from(unit).ok())?;
        let above = power_of_ten(parts.power.max(0)).and_then(|unit| i128::try_from(unit).ok())?;
        let size = i128::try_from(parts.coefficient).ok()?.checked_mul(above)?;
        let value = if parts.negative { -size } else { size };
        let factor_below = factor.denominator().to_i128()?;
        let offset_below = offset.denominator().to_i128()?;
        let product = value
            .checked_mul(factor.numerator().to_i128()?)?
            .checked_mul(offset_below)?;
        let shift = offset
            .numerator()
            .to_i128()?
            .checked_mul(factor_below)?
            .checked_mul(below)?;
        let numerator = product.checked_add(shift)?;
        let denominator = factor_below.checked_mul(offset_below)?.checked_mul(below)?;
        let numerator = short_whole(numerator, self.inexact)?;
        Some(numerator.over(short_whole(denominator, false)?))
    }

    fn affine_at_length(self, factor: &Rational, offset: &Rational) -> Result<Number, Trouble> {
        let parts = self.parts();
        let below = BigInt::from(big_power_of_ten(-parts.power.min(0)));
        let above = big_power_of_ten(parts.power.max(0));
        let value = signed(parts.negative, above * parts.coefficient);
        let product = value * factor.numerator() * offset.denominator();
        let shift = offset.numerator() * factor.denominator() * &below;
        let denominator = factor.denominator() * offset.denominator() * below;
        let (sign, numerator) = (product + shift).into_parts();
        Fraction {
            negative: sign == Sign::Minus,
            numerator,
            denominator: denominator.magnitude().clone(),
            power: 0,
        }
        .number(self.inexact)
    }
}

/// A whole number that needs no rounding; nothing if it is too long.
fn short_whole(value: i128, inexact: bool) -> Option<Number> {
    let parts = Parts {
        negative: value < 0,
        coefficient: value.unsigned_abs(),
        power: 0,
    };
    (count_digits(parts.coefficient) <= 28)
        .then(|| Number::placed(parts, inexact).ok())
        .flatten()
}

/// `±numerator / denominator · 10^power` of any length.
pub(super) struct Fraction {
    pub(super) negative: bool,
    pub(super) numerator: BigUint,
    pub(super) denominator: BigUint,
    pub(super) power: i64,
}

impl Fraction {
    /// The nearest number.
    ///
    /// # Errors
    /// [`Trouble::Zero`], [`Trouble::Overflow`], [`Trouble::Underflow`].
    pub(super) fn number(self, inexact: bool) -> Result<Number, Trouble> {
        if self.denominator.is_zero() {
            return Err(Trouble::Zero);
        }
        if self.numerator.is_zero() {
            return Ok(Number::ZERO.marked(inexact));
        }
        let shift = AIM - (estimate_digits(&self.numerator) - estimate_digits(&self.denominator));
        let scale = big_power_of_ten(shift.abs());
        let (numerator, denominator) = if shift >= 0 {
            (self.numerator * scale, self.denominator)
        } else {
            (self.numerator, self.denominator * scale)
        };
        let quotient = &numerator / &denominator;
        let more = &quotient * &denominator != numerator;
        from_quotient(
            quotient.to_u128().map(|quotient| (quotient, more)),
            self.negative,
            self.power - shift,
            inexact,
        )
    }
}

/// The number of decimal digits of a whole number, at most one off.
pub(super) fn estimate_digits(value: &BigUint) -> i64 {
    (value.bits() as f64 * std::f64::consts::LOG10_2).ceil() as i64
}

/// `10^exponent` of any length.
pub(super) fn big_power_of_ten(exponent: i64) -> BigUint {
    BigUint::from(10_u32).pow(u32::try_from(exponent).unwrap_or(0))
}

/// The number of a quotient of 29 digits or more and the mark whether more follows.
fn from_quotient(
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

fn signed(negative: bool, magnitude: BigUint) -> BigInt {
    BigInt::from_biguint(if negative { Sign::Minus } else { Sign::Plus }, magnitude)
}
