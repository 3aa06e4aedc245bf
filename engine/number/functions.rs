//! Exponential and logarithms: decimals to where a double loses nothing that matters, then the
//! double's function, then decimals again.
//!
//! Every result that ran through a double is marked inexact and right to within 1 part in 10^15.

use super::parts::Parts;
use super::{Number, Trouble};

/// ln 10.
const LN_TEN: Number = Number::constant(2_302_585_092_994_045_684_017_991_455, 27);
/// log10 e.
const LOG_E: Number = Number::constant(4_342_944_819_032_518_276_511_289_189, 28);
/// Beyond this the exponential leaves the range on either side.
const FAR: i64 = 23_100;

impl Number {
    /// e to the power `self`.
    ///
    /// # Errors
    /// [`Trouble::Overflow`], [`Trouble::Underflow`].
    pub fn exp(self) -> Result<Number, Trouble> {
        if self.is_zero() {
            return Ok(Number::ONE.marked(self.inexact));
        }
        if self > Number::from(FAR) {
            return Err(Trouble::Overflow);
        }
        if self < Number::from(-FAR) {
            return Err(Trouble::Underflow);
        }
        // Taking out whole powers of ten in decimals leaves a rest within ±1.2, so its rounding to
        // a double moves the result by no more than half a unit of the double's last place.
        let tens = libm::round(self.to_f64() / std::f64::consts::LN_10) as i32;
        let rest = self.minus(LN_TEN.times(Number::from(i64::from(tens)))?)?;
        Number::from_f64(libm::exp(rest.to_f64()))?.shifted(tens)
    }

    /// The natural logarithm.
    ///
    /// # Errors
    /// [`Trouble::Domain`] unless `self` is above zero.
    pub fn ln(self) -> Result<Number, Trouble> {
        let (tens, rest) = self.logarithm_parts()?;
        let logarithm = Number::from(tens).times(LN_TEN)?.plus(rest)?;
        Ok(logarithm.marked(tens != 0))
    }

    /// The logarithm to base ten; exact for powers of ten.
    ///
    /// # Errors
    /// As [`Number::ln`].
    pub fn log10(self) -> Result<Number, Trouble> {
        let (tens, rest) = self.logarithm_parts()?;
        Number::from(tens).plus(rest.times(LOG_E)?)
    }

    /// `tens` and `rest` with `self = 10^tens · e^rest` and the rest within ±1.16. Near one the
    /// tens are zero and the rest keeps all its digits, since it comes from the difference to one.
    fn logarithm_parts(self) -> Result<(i64, Number), Trouble> {
        if self.is_zero() || self.is_negative() {
            return Err(Trouble::Domain);
        }
        /// √10, near enough.
        const SPLIT: Number = Number::constant(3_162, 3);
        let parts = self.parts();
        let leading = parts.leading();
        let scaled = Parts {
            power: parts.power - leading,
            ..parts
        };
        let mantissa = Number::placed(scaled, self.inexact)?;
        let (tens, mantissa) = if mantissa > SPLIT {
            (leading + 1, mantissa.shifted(-1)?)
        } else {
            (leading, mantissa)
        };
        let excess = mantissa.minus(Number::ONE)?;
        if excess.is_zero() {
            return Ok((tens, excess));
        }
        Ok((tens, Number::from_f64(libm::log1p(excess.to_f64()))?))
    }
}
