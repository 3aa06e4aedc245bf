//! Whole divisions with their remainder: what rounding to a step and remainders share.

use super::parts::Parts;
use super::wide::power_of_ten;
use super::{Number, Trouble};
use num_bigint::BigUint;
use num_traits::ToPrimitive;
use std::cmp::Ordering;

impl Number {
    /// What is left of `self` after taking `other` as often as it goes, with the sign of `self`;
    /// always exact.
    ///
    /// # Errors
    /// [`Trouble::Zero`].
    pub fn remainder(self, other: Number) -> Result<Number, Trouble> {
        let parts = self.parts();
        let division = Division::of(parts, other.parts())?;
        Number::placed(
            division.remainder(parts.negative),
            self.inexact | other.inexact,
        )
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
    /// The remainder with a sign.
    pub(super) fn remainder(&self, negative: bool) -> Parts {
        Parts {
            negative,
            coefficient: self.rest,
            power: self.power,
        }
    }

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
