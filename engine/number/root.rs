//! Roots in decimals: correctly rounded up to the 32nd, within one unit of the last digit beyond,
//! and exact wherever the result is.
//!
//! An estimate in doubles and one or two steps of Newton's method in decimals give all digits
//! but the last; comparing its power with the number settles that one.

use super::parts::{DIGITS, Parts};
use super::wide::{POWERS_OF_TEN, divide, product};
use super::{Number, Trouble};
use num_bigint::BigUint;
use std::cmp::Ordering;

/// The highest degree whose last digit is settled by writing out the power.
const SETTLED: u32 = 32;

/// Degrees beyond this have roots between 10^-3 and 10^3.
const HIGH: i32 = 4000;

impl Number {
    /// The square root, correctly rounded; exact where it is.
    ///
    /// # Errors
    /// [`Trouble::Domain`] below zero.
    pub fn square_root(self) -> Result<Number, Trouble> {
        if self.is_negative() {
            return Err(Trouble::Domain);
        }
        if self.is_zero() {
            return Ok(self);
        }
        let parts = self.parts().filled();
        // 55 or 56 digits with an even power of ten have a whole root of 28.
        let shift = if parts.power % 2 == 0 { 28 } else { 27 };
        let scale = POWERS_OF_TEN[shift];
        let (root, order) = whole_square_root(parts.coefficient, scale);
        let root = Parts {
            negative: false,
            coefficient: root,
            power: (parts.power - shift as i64) / 2,
        };
        if order == Ordering::Equal {
            return Number::shortened(root, self.inexact);
        }
        Number::rounded(root, false, self.inexact)
    }

    /// The cube root, correctly rounded; exact where it is. Negative numbers have one.
    ///
    /// # Errors
    /// None in practice; the signature is that of its neighbours.
    pub fn cube_root(self) -> Result<Number, Trouble> {
        self.root(3)
    }

    /// The root of a degree from 1 to 2^31 − 1; for odd ones also that of a negative number.
    ///
    /// # Errors
    /// [`Trouble::Domain`].
    pub fn root(self, degree: u32) -> Result<Number, Trouble> {
        let whole = i32::try_from(degree).map_err(|_| Trouble::Domain)?;
        match degree {
            0 => return Err(Trouble::Domain),
            1 => return Ok(self),
            2 => return self.square_root(),
            _ => {}
        }
        if self.is_zero() {
            return Ok(self);
        }
        if self.is_negative() {
            return match degree % 2 {
                0 => Err(Trouble::Domain),
                _ => Ok(self.negated().root(degree)?.negated()),
            };
        }
        // With whole powers 10^degree taken out nothing on the way leaves the range; roots of a
        // very high degree are near one and don't leave it anyway.
        let taken = match whole {
            ..=HIGH => (self.parts().leading() as i32).div_euclid(whole),
            _ => 0,
        };
        let rest = self.shifted(-taken * whole)?;
        let near = rest.root_near(whole)?;
        let root = if degree <= SETTLED {
            settle(near, rest, degree)?
        } else {
            prefer_short(near, rest, whole)?
        };
        root.marked(self.inexact).shifted(taken)
    }

    /// A root that is right to within a unit of its last digit.
    fn root_near(self, degree: i32) -> Result<Number, Trouble> {
        let count = Number::from(i64::from(degree));
        let mut root = self.ln()?.over(count)?.exp()?;
        let steps = if degree > 16 { 2 } else { 1 };
        for _ in 0..steps {
            let excess = self.over(root.power_whole(degree)?)?.minus(Number::ONE)?;
            root = root.plus(root.times(excess)?.over(count)?)?;
        }
        root.inexact = false;
        Ok(root)
    }
}

/// The whole number nearest to the root of `a · b`, for a product of 55 or 56 digits, and how its
/// square compares with the product.
fn whole_square_root(a: u128, b: u128) -> (u128, Ordering) {
    let target = product(a, b);
    let estimate = libm::sqrt(a as f64 * b as f64) as u128;
    let quotient = divide(target, estimate).map_or(estimate, |(quotient, _)| quotient);
    let mut root = estimate.midpoint(quotient);
    while product(root, root) > target {
        root -= 1;
    }
    while product(root + 1, root + 1) <= target {
        root += 1;
    }
    let order = product(root, root).cmp(&target);
    // (root + 1/2)² is root·(root + 1) + 1/4.
    let up = product(root, root + 1) < target;
    (root + u128::from(up), order)
}

/// The correctly rounded root, from one that is at most a few units off.
fn settle(near: Number, number: Number, degree: u32) -> Result<Number, Trouble> {
    let (near, number) = (near.parts().filled(), number.parts());
    let shift = number.power - i64::from(degree) * near.power;
    let target = BigUint::from(number.coefficient) * super::ratio::big_power_of_ten(shift);
    let mut root = BigUint::from(near.coefficient);
    while root.pow(degree) > target {
        root -= 1_u32;
    }
    while (&root + 1_u32).pow(degree) <= target {
        root += 1_u32;
    }
    let exact = root.pow(degree) == target;
    let middle = &root * 2_u32 + 1_u32;
    if middle.pow(degree) < target << degree {
        root += 1_u32;
    }
    let parts = Parts {
        negative: false,
        coefficient: u128::try_from(root).map_err(|_| Trouble::Overflow)?,
        power: near.power,
    };
    if exact {
        return Number::shortened(parts, false);
    }
    Number::rounded(parts, false, false)
}

/// The root with one digit less where its power is the number itself.
fn prefer_short(near: Number, number: Number, degree: i32) -> Result<Number, Trouble> {
    let short = Number::shortened(near.parts().rounded_to(DIGITS - 1), false)?;
    Ok(if short.power_whole(degree)? == number {
        short
    } else {
        near
    })
}
