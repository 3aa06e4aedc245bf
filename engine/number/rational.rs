//! Exact ratios: the factors that stand between two units.

use num_bigint::BigInt;
use num_rational::Ratio;
use num_traits::{One, Signed, Zero};

/// An exact fraction of two whole numbers of any length, always reduced.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Rational(Ratio<BigInt>);

impl Rational {
    /// `numerator / denominator`; nothing when the denominator is zero.
    pub fn new(numerator: BigInt, denominator: BigInt) -> Option<Rational> {
        (!denominator.is_zero()).then(|| Rational(Ratio::new(numerator, denominator)))
    }

    /// The whole number `n`.
    pub fn whole(n: i64) -> Rational {
        Rational(Ratio::from_integer(BigInt::from(n)))
    }

    /// One.
    pub fn one() -> Rational {
        Rational(Ratio::one())
    }

    /// Zero.
    pub fn zero() -> Rational {
        Rational(Ratio::zero())
    }

    /// Whether it is one.
    pub fn is_one(&self) -> bool {
        self.0.is_one()
    }

    /// Whether it is zero.
    pub fn is_zero(&self) -> bool {
        self.0.is_zero()
    }

    /// Whether it is below zero.
    pub fn is_negative(&self) -> bool {
        self.0.is_negative()
    }

    /// The upper part, which carries the sign.
    pub fn numerator(&self) -> &BigInt {
        self.0.numer()
    }

    /// The lower part, always above zero.
    pub fn denominator(&self) -> &BigInt {
        self.0.denom()
    }

    /// The sum.
    #[must_use]
    pub fn plus(&self, other: &Rational) -> Rational {
        Rational(&self.0 + &other.0)
    }

    /// The difference.
    #[must_use]
    pub fn minus(&self, other: &Rational) -> Rational {
        Rational(&self.0 - &other.0)
    }

    /// The product.
    #[must_use]
    pub fn times(&self, other: &Rational) -> Rational {
        Rational(&self.0 * &other.0)
    }

    /// The quotient; nothing when `other` is zero.
    pub fn over(&self, other: &Rational) -> Option<Rational> {
        (!other.is_zero()).then(|| Rational(&self.0 / &other.0))
    }

    /// A whole power; nothing for a negative power of zero.
    pub fn power(&self, exponent: i32) -> Option<Rational> {
        if exponent < 0 && self.is_zero() {
            return None;
        }
        Some(Rational(self.0.pow(exponent)))
    }
}

/// What a number is multiplied with between two units: an exact ratio times a whole power of π.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Factor {
    /// The ratio.
    pub ratio: Rational,
    /// The power of π.
    pub pi: i16,
}

impl Factor {
    /// The factor that changes nothing.
    pub fn one() -> Factor {
        Factor {
            ratio: Rational::one(),
            pi: 0,
        }
    }

    /// Whether it changes nothing.
    pub fn is_one(&self) -> bool {
        self.pi == 0 && self.ratio.is_one()
    }

    /// The product.
    #[must_use]
    pub fn times(&self, other: &Factor) -> Factor {
        Factor {
            ratio: self.ratio.times(&other.ratio),
            pi: self.pi + other.pi,
        }
    }

    /// The quotient; nothing when `other` is zero.
    pub fn over(&self, other: &Factor) -> Option<Factor> {
        Some(Factor {
            ratio: self.ratio.over(&other.ratio)?,
            pi: self.pi - other.pi,
        })
    }
}
