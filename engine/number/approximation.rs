//! Whole powers of numbers of any length, cut off after a stated number of digits: the way to
//! round `1.0000001^3000000` correctly without writing all its digits.

use super::ratio::{big_power_of_ten, estimate_digits};
use num_bigint::BigUint;

/// `mantissa · 10^power`, a little below the true value.
#[derive(Clone, Debug)]
pub(super) struct Approximation {
    pub(super) mantissa: BigUint,
    pub(super) power: i64,
}

impl Approximation {
    fn cut(mantissa: BigUint, power: i64, digits: i64) -> Approximation {
        let excess = estimate_digits(&mantissa) - digits;
        if excess <= 0 {
            return Approximation { mantissa, power };
        }
        Approximation {
            mantissa: mantissa / big_power_of_ten(excess),
            power: power + excess,
        }
    }

    fn times(&self, other: &Approximation, digits: i64) -> Approximation {
        let mantissa = &self.mantissa * &other.mantissa;
        Approximation::cut(mantissa, self.power + other.power, digits)
    }

    /// `base^exponent`, kept to about `digits` digits at every step. It lies below the true value
    /// by a share of less than `4·exponent·10^(2−digits)`: each of the cuts costs a share of
    /// 10^(2−digits), and is itself raised to what is left of the exponent.
    pub(super) fn of_power(base: &Approximation, exponent: u32, digits: i64) -> Approximation {
        let mut result = Approximation {
            mantissa: BigUint::from(1_u32),
            power: 0,
        };
        for bit in (0..u32::BITS - exponent.leading_zeros()).rev() {
            result = result.times(&result, digits);
            if exponent >> bit & 1 == 1 {
                result = result.times(base, digits);
            }
        }
        result
    }

    /// The same, larger by a share of at least `10^−digits`.
    pub(super) fn raised(&self, digits: i64) -> Approximation {
        let width = &self.mantissa / big_power_of_ten(digits.max(0)) + 1_u32;
        Approximation {
            mantissa: &self.mantissa + width,
            power: self.power,
        }
    }
}

/// π to 80 digits.
const PI_DIGITS: &[u8] =
    b"31415926535897932384626433832795028841971693993751058209749445923078164062862089";

/// `π^exponent` to 70 digits and more.
pub(super) fn pi_power(exponent: u32) -> Approximation {
    let pi = Approximation {
        mantissa: BigUint::parse_bytes(PI_DIGITS, 10).unwrap_or_default(),
        power: 1 - PI_DIGITS.len() as i64,
    };
    Approximation::of_power(&pi, exponent, PI_DIGITS.len() as i64 + 8)
}
