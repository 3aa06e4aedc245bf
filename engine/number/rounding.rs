//! Rounding to multiples of a step: the next sheet size, a tenth of a volt, whole bags.

use super::division::Division;
use super::{Number, Trouble};
use std::cmp::Ordering;

impl Number {
    /// The nearest multiple of `step`, an even multiple where two are equally near.
    ///
    /// # Errors
    /// [`Trouble::Zero`] for a step of zero; [`Trouble::Overflow`].
    pub fn round_to(self, step: Number) -> Result<Number, Trouble> {
        self.to_multiple(step, |division| match division.half {
            Ordering::Less => false,
            Ordering::Equal => division.odd,
            Ordering::Greater => true,
        })
    }

    /// The largest multiple of `step` that is not above `self`.
    ///
    /// # Errors
    /// As [`Number::round_to`].
    pub fn floor_to(self, step: Number) -> Result<Number, Trouble> {
        self.to_multiple(step, |division| self.is_negative() && division.rest != 0)
    }

    /// The smallest multiple of `step` that is not below `self`.
    ///
    /// # Errors
    /// As [`Number::round_to`].
    pub fn ceil_to(self, step: Number) -> Result<Number, Trouble> {
        self.to_multiple(step, |division| !self.is_negative() && division.rest != 0)
    }

    /// The multiple of `step` next to zero from here, or, if `away` says so, the one beyond.
    fn to_multiple(
        self,
        step: Number,
        away: impl Fn(&Division) -> bool,
    ) -> Result<Number, Trouble> {
        let inexact = self.inexact || step.inexact;
        let parts = self.parts();
        let division = Division::of(parts, step.parts())?;
        let rest = division.remainder(parts.negative);
        let inner = self.minus(Number::placed(rest, inexact)?)?;
        if !away(&division) {
            return Ok(inner);
        }
        let step = step.magnitude();
        inner.plus(if parts.negative { step.negated() } else { step })
    }
}
