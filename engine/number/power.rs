//! Whole powers in decimals, and real powers, which go through them as far as they can.

use super::approximation::Approximation;
use super::parts::{Parts, TOO_LONG};
use super::ratio::Fraction;
use super::{Number, Trouble};
use num_bigint::BigUint;

/// Exponents whose power is written out in full before it is rounded.
const WRITTEN_OUT: u32 = 64;

impl Number {
    /// `self^exponent`, the exact power rounded once. `0^0` is one.
    ///
    /// # Errors
    /// [`Trouble::Zero`], [`Trouble::Overflow`], [`Trouble::Underflow`].
    pub fn power_whole(self, exponent: i32) -> Result<Number, Trouble> {
        match exponent {
            0 => return Ok(Number::ONE.marked(self.inexact)),
            1 => return Ok(self),
            2 => return self.times(self),
            -1 => return Number::ONE.over(self),
            _ => {}
        }
        if self.is_zero() {
            return if exponent < 0 {
                Err(Trouble::Zero)
            } else {
                Ok(self)
            };
        }
        refuse_far(self.rough_log10() * f64::from(exponent))?;
        let base = Parts {
            negative: self.is_negative() && exponent % 2 != 0,
            ..self.parts().stripped()
        };
        match short_power(base, exponent.unsigned_abs()) {
            Some(power) if exponent > 0 => Number::rounded(power, false, self.inexact),
            Some(power) if power.coefficient < TOO_LONG => nearest_reciprocal(power, self.inexact),
            _ => long_power(base, exponent, self.inexact),
        }
    }

    /// `self^exponent`. Whole exponents and halves run in decimals; others through doubles, with
    /// the whole part of the exponent split off, and come back inexact.
    ///
    /// # Errors
    /// [`Trouble::Domain`] for a negative base and an exponent that isn't whole;
    /// [`Trouble::Zero`], [`Trouble::Overflow`], [`Trouble::Underflow`].
    pub fn power(self, exponent: Number) -> Result<Number, Trouble> {
        let inexact = self.inexact || exponent.inexact;
        if let Some(whole) = exponent
            .to_i64()
            .and_then(|whole| i32::try_from(whole).ok())
        {
            return Ok(self.power_whole(whole)?.marked(inexact));
        }
        if exponent.is_whole() {
            let odd = self.is_negative() && !exponent.remainder(Number::from(2))?.is_zero();
            let size = self.magnitude().power_real(exponent)?;
            return Ok(if odd { size.negated() } else { size });
        }
        if self.is_negative() {
            return Err(Trouble::Domain);
        }
        let twice = exponent.plus(exponent)?.to_i64();
        if let Some(twice) = twice.and_then(|twice| i32::try_from(twice).ok())
            && let Ok(square) = self.power_whole(twice)
        {
            return Ok(square.square_root()?.marked(inexact));
        }
        self.power_real(exponent)
    }

    /// The power of a size that is not negative, by logarithms for the part of the exponent
    /// within ±1/2.
    fn power_real(self, exponent: Number) -> Result<Number, Trouble> {
        let inexact = self.inexact || exponent.inexact;
        if self.is_zero() {
            return if exponent.is_negative() {
                Err(Trouble::Zero)
            } else {
                Ok(self.marked(inexact))
            };
        }
        let logarithm = self.ln()?;
        refuse_far(logarithm.to_f64() / std::f64::consts::LN_10 * exponent.to_f64())?;
        let whole = exponent.round_to(Number::ONE)?;
        let Some(near) = whole.to_i64().and_then(|near| i32::try_from(near).ok()) else {
            let logarithm = self.ln_next_to_one()?;
            return Ok(logarithm.times(exponent)?.exp()?.marked(inexact));
        };
        let rest = exponent.minus(whole)?;
        let power = self.power_whole(near)?;
        let factor = rest.times(logarithm)?.exp()?;
        Ok(power.times(factor)?.marked(inexact))
    }

    /// The logarithm to 28 digits, for numbers within about 1e-5 of one: only their powers beyond
    /// the 2^31st stay in the range.
    fn ln_next_to_one(self) -> Result<Number, Trouble> {
        let excess = self.minus(Number::ONE)?;
        let mut sum = Number::ZERO;
        // The seventh term is below 1e-30 of the first.
        for order in (1..7).rev() {
            sum = Number::ONE
                .over(Number::from(order))?
                .minus(sum.times(excess)?)?;
        }
        sum.times(excess)
    }

    /// The logarithm to base ten, near enough to tell the range.
    fn rough_log10(self) -> f64 {
        let parts = self.parts();
        let digits = parts.filled().coefficient as f64 / 1e27;
        parts.leading() as f64 + libm::log10(digits)
    }
}

/// Refuses a power of ten far outside the range before any digit of the result is worked out.
fn refuse_far(power: f64) -> Result<(), Trouble> {
    const FAR: f64 = 10_010.0;
    match power {
        _ if power > FAR => Err(Trouble::Overflow),
        _ if power < -FAR => Err(Trouble::Underflow),
        _ => Ok(()),
    }
}

/// `base^exponent` where its coefficient fits 128 bits.
fn short_power(base: Parts, exponent: u32) -> Option<Parts> {
    let coefficient = base.coefficient.checked_pow(exponent)?;
    Some(Parts {
        coefficient,
        power: base.power * i64::from(exponent),
        ..base
    })
}

/// One over a coefficient that fits, whose power of ten may be out of the range on its own.
fn nearest_reciprocal(power: Parts, inexact: bool) -> Result<Number, Trouble> {
    let coefficient = Parts { power: 0, ..power };
    let reciprocal = Number::ONE
        .over(Number::placed(coefficient, inexact)?)?
        .parts();
    let moved = Parts {
        power: reciprocal.power - power.power,
        ..reciprocal
    };
    Number::placed(moved, inexact)
}

/// A power whose coefficient has more than 38 digits.
///
/// It never lies midway between two numbers, so a close enough enclosure decides: stripped of
/// zeros the coefficient is no multiple of ten, hence none of its powers is and all their digits
/// count; and a reciprocal that ends with a 5 in its 29th digit is that of a power of 2 short
/// enough for a plain division.
fn long_power(base: Parts, exponent: i32, inexact: bool) -> Result<Number, Trouble> {
    let size = exponent.unsigned_abs();
    let start = Approximation {
        mantissa: BigUint::from(base.coefficient),
        power: base.power,
    };
    if size <= WRITTEN_OUT {
        let exact = start.mantissa.pow(size);
        let power = start.power * i64::from(size);
        return nearest(exact, power, base.negative, exponent < 0).number(inexact);
    }
    let mut digits = 64;
    loop {
        let low = Approximation::of_power(&start, size, digits);
        let high = low.raised(digits - LOST - i64::from(size.ilog10()));
        let [low, high] = [low, high].map(|end| {
            nearest(end.mantissa, end.power, base.negative, exponent < 0).number(inexact)
        });
        let (low, high) = (low?, high?);
        // Two thousand digits that don't decide have never been met; either end would do.
        if low == high || digits > 2000 {
            return Ok(low);
        }
        digits *= 2;
    }
}

/// The digits that cutting off costs at most, for an exponent of one digit.
const LOST: i64 = 4;

/// `±mantissa · 10^power` or its reciprocal, ready for rounding.
fn nearest(mantissa: BigUint, power: i64, negative: bool, reciprocal: bool) -> Fraction {
    let one = BigUint::from(1_u32);
    let (numerator, denominator, power) = if reciprocal {
        (one, mantissa, -power)
    } else {
        (mantissa, one, power)
    };
    Fraction {
        negative,
        numerator,
        denominator,
        power,
    }
}
