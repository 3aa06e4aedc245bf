//! Exact factors of products and powers. In: factors with exponents in twelfths; out: one factor.
//!
//! Whole powers are exact. A root is exact where the result is a fraction, else it is a fraction
//! that agrees to 60 digits, far beyond the 28 that a value carries.

use num_bigint::{BigInt, BigUint};

use super::dimension::WHOLE;
use crate::number::{Factor, Rational};

/// Digits of a root or of π that is no fraction.
const DIGITS: i64 = 60;

/// π to 80 decimals.
const PI: &str =
    "314159265358979323846264338327950288419716939937510582097494459230781640628620899";

/// The product of factors, each to an exponent in twelfths. Fractional powers are taken of sizes,
/// signs apart.
pub(super) fn product<'a>(parts: impl Iterator<Item = (&'a Factor, i16)>) -> Factor {
    let mut whole = Factor::one();
    let mut rest: Vec<(&Factor, u32)> = Vec::new();
    for (factor, exponent) in parts {
        let power = factor_power(factor, i32::from(exponent.div_euclid(WHOLE)));
        whole = whole.times(&power);
        let left = exponent.rem_euclid(WHOLE);
        if left != 0 {
            rest.push((factor, u32::from(left.unsigned_abs())));
        }
    }
    if rest.is_empty() {
        return whole;
    }
    whole.times(&roots(&rest))
}

/// The product of factors to the twelfth root of their exponents.
fn roots(parts: &[(&Factor, u32)]) -> Factor {
    let degree = WHOLE as u32;
    let common = parts.iter().fold(degree, |common, (_, twelfths)| {
        num_integer::gcd(common, *twelfths)
    });
    let inside = parts
        .iter()
        .fold(Factor::one(), |inside, (factor, twelfths)| {
            inside.times(&factor_power(factor, (twelfths / common) as i32))
        });
    let degree = degree / common;
    if i32::from(inside.pi) % degree as i32 == 0 {
        return Factor {
            ratio: root(&inside.ratio, degree),
            pi: inside.pi / degree as i16,
        };
    }
    let ratio = inside
        .ratio
        .times(&rational_power(&pi(), i32::from(inside.pi)));
    Factor {
        ratio: root(&ratio, degree),
        pi: 0,
    }
}

fn factor_power(factor: &Factor, exponent: i32) -> Factor {
    let pi = i32::from(factor.pi) * exponent;
    match i16::try_from(pi) {
        Ok(pi) => Factor {
            ratio: rational_power(&factor.ratio, exponent),
            pi,
        },
        Err(_) => Factor::one(),
    }
}

/// A power of a size; sizes are never zero.
fn rational_power(ratio: &Rational, exponent: i32) -> Rational {
    ratio.power(exponent).unwrap_or_else(Rational::one)
}

fn pi() -> Rational {
    let digits = PI.parse().unwrap_or_else(|_| BigInt::from(3));
    let scale = BigInt::from(10).pow(PI.len() as u32 - 1);
    Rational::new(digits, scale).unwrap_or_else(Rational::one)
}

/// The root of a size, sign apart.
fn root(ratio: &Rational, degree: u32) -> Rational {
    let numerator = ratio.numerator().magnitude();
    let denominator = ratio.denominator().magnitude();
    let upper = numerator.nth_root(degree);
    let lower = denominator.nth_root(degree);
    if upper.pow(degree) == *numerator && lower.pow(degree) == *denominator {
        return fraction(upper, lower);
    }
    // Bits over log2(10), taken down: the digits of the root before its marker.
    let bits = numerator.bits() as i64 - denominator.bits() as i64;
    let digits_before = bits * 3 / 10 / i64::from(degree);
    let scale = u32::try_from((DIGITS - digits_before).max(0)).unwrap_or(0);
    let ten = BigUint::from(10u8);
    let inside = numerator * ten.pow(scale * degree) / denominator;
    fraction(inside.nth_root(degree), ten.pow(scale))
}

fn fraction(numerator: BigUint, denominator: BigUint) -> Rational {
    Rational::new(BigInt::from(numerator), BigInt::from(denominator)).unwrap_or_else(Rational::one)
}
