//! Sines and their relatives. Angles go in as whole turns, reduced in decimals without loss, so
//! half a turn has a sine of exactly zero; the inverse functions give radians.

use super::{Number, Trouble};

/// 2π.
const TURN: Number = Number::constant(6_283_185_307_179_586_476_925_286_767, 27);
/// π/2.
const QUARTER: Number = Number::constant(1_570_796_326_794_896_619_231_321_692, 27);
const HALF: Number = Number::constant(5, 1);
const EIGHTH: Number = Number::constant(125, 3);
/// Below this size an angle, its sine and its tangent agree to 20 digits.
const TINY: Number = Number::constant(1, 11);

impl Number {
    /// The sine of an angle in turns. Exact where it is 0, ±1/2 or ±1.
    ///
    /// # Errors
    /// [`Trouble::Underflow`] for angles next to zero.
    pub fn sin_turns(self) -> Result<Number, Trouble> {
        let angle = Turns::of(self)?;
        match angle.twelfths.and_then(exact_sine) {
            Some(sine) => Ok(sine.marked(self.inexact)),
            None => angle.sine(),
        }
    }

    /// The cosine of an angle in turns. Exact where it is 0, ±1/2 or ±1.
    ///
    /// # Errors
    /// As [`Number::sin_turns`].
    pub fn cos_turns(self) -> Result<Number, Trouble> {
        let angle = Turns::of(self)?;
        let exact = angle.twelfths.and_then(|twelfths| exact_sine(twelfths + 3));
        match exact {
            Some(cosine) => Ok(cosine.marked(self.inexact)),
            None => angle.quarter_on().sine(),
        }
    }

    /// The tangent of an angle in turns. Exact where it is 0 or ±1.
    ///
    /// # Errors
    /// [`Trouble::Domain`] at a quarter turn, where it has no value; otherwise as
    /// [`Number::sin_turns`].
    pub fn tan_turns(self) -> Result<Number, Trouble> {
        let angle = Turns::of(self)?;
        let turned = angle.quarters % 2 == 1;
        if angle.rest.is_zero() {
            return if turned {
                Err(Trouble::Domain)
            } else {
                Ok(angle.rest)
            };
        }
        if angle.rest.magnitude() == EIGHTH {
            let one = Number::ONE.marked(self.inexact);
            return Ok(if angle.rest.is_negative() != turned {
                one.negated()
            } else {
                one
            });
        }
        let radians = angle.rest.times(TURN)?;
        let tangent = if radians.magnitude() < TINY {
            radians.as_inexact()
        } else {
            Number::from_f64(libm::tan(radians.to_f64()))?
        };
        if turned {
            Number::ONE.over(tangent.negated())
        } else {
            Ok(tangent)
        }
    }

    /// The angle within ±π/2 that has this sine, in radians.
    ///
    /// # Errors
    /// [`Trouble::Domain`] beyond ±1.
    pub fn asin(self) -> Result<Number, Trouble> {
        if self.magnitude() <= HALF {
            return through_double(self, libm::asin);
        }
        let angle = QUARTER
            .minus(angle_from_end(self.magnitude())?)?
            .as_inexact();
        Ok(if self.is_negative() {
            angle.negated()
        } else {
            angle
        })
    }

    /// The angle from 0 to π that has this cosine, in radians.
    ///
    /// # Errors
    /// [`Trouble::Domain`] beyond ±1.
    pub fn acos(self) -> Result<Number, Trouble> {
        if self.magnitude() <= HALF {
            return Ok(QUARTER.minus(self.asin()?)?.as_inexact());
        }
        let angle = angle_from_end(self.magnitude())?;
        if self.is_negative() {
            return Ok(Number::PI.minus(angle)?.as_inexact());
        }
        Ok(angle.marked(self.inexact))
    }

    /// The angle within ±π/2 that has this tangent, in radians.
    ///
    /// # Errors
    /// None in practice; the signature is that of its neighbours.
    pub fn atan(self) -> Result<Number, Trouble> {
        if self.magnitude() <= Number::ONE {
            return through_double(self, libm::atan);
        }
        let angle = QUARTER
            .minus(angle_of_slope(self.magnitude())?)?
            .as_inexact();
        Ok(if self.is_negative() {
            angle.negated()
        } else {
            angle
        })
    }

    /// The angle of the point (`across`, `self`) from the positive axis, within ±π, in radians.
    ///
    /// # Errors
    /// [`Trouble::Domain`] for the origin, which has no direction.
    pub fn atan2(self, across: Number) -> Result<Number, Trouble> {
        let inexact = self.inexact || across.inexact;
        if self.is_zero() && across.is_zero() {
            return Err(Trouble::Domain);
        }
        if self.is_zero() && !across.is_negative() {
            return Ok(Number::ZERO.marked(inexact));
        }
        let (up, along) = (self.magnitude(), across.magnitude());
        let steep = up > along;
        let slope = if steep {
            along.over(up)
        } else {
            up.over(along)
        };
        let inner = match slope {
            Ok(slope) => slope.atan()?,
            // Too flat to tell from the axis, unless the axis is where the angle is zero.
            Err(Trouble::Underflow) if steep || across.is_negative() => Number::ZERO,
            Err(trouble) => return Err(trouble),
        };
        let angle = match (steep, across.is_negative()) {
            (false, false) => inner,
            (false, true) => Number::PI.minus(inner)?.as_inexact(),
            (true, false) => QUARTER.minus(inner)?.as_inexact(),
            (true, true) => QUARTER.plus(inner)?.as_inexact(),
        };
        Ok(if self.is_negative() {
            angle.negated()
        } else {
            angle
        }
        .marked(inexact))
    }
}

/// An angle as quarter turns and a rest within an eighth of a turn.
struct Turns {
    /// 0 to 3.
    quarters: u8,
    /// In turns.
    rest: Number,
    /// The angle in twelfths of a turn, 0 to 11, where it is the number nearest to such an angle.
    twelfths: Option<u8>,
}

impl Turns {
    fn of(angle: Number) -> Result<Turns, Trouble> {
        const FOUR: Number = Number::constant(4, 0);
        const QUARTER_TURN: Number = Number::constant(25, 2);
        let within = angle.remainder(Number::ONE)?;
        let quarters = within
            .times(FOUR)?
            .round_to(Number::ONE)?
            .to_i64()
            .unwrap_or(0);
        let rest = within.minus(Number::from(quarters).times(QUARTER_TURN)?)?;
        Ok(Turns {
            quarters: quarters.rem_euclid(4) as u8,
            rest,
            twelfths: twelfths(angle),
        })
    }

    fn quarter_on(self) -> Turns {
        Turns {
            quarters: (self.quarters + 1) % 4,
            ..self
        }
    }

    fn sine(&self) -> Result<Number, Trouble> {
        let radians = self.rest.times(TURN)?;
        let size = if self.quarters % 2 == 1 {
            Number::from_f64(libm::cos(radians.to_f64()))?
        } else if radians.magnitude() < TINY {
            radians.as_inexact()
        } else {
            Number::from_f64(libm::sin(radians.to_f64()))?
        };
        Ok(if self.quarters >= 2 {
            size.negated()
        } else {
            size
        })
    }
}

/// Which twelfth of a turn, 0 to 11, an angle is. A third of a turn has no decimal, so the
/// number nearest to it stands for it.
fn twelfths(angle: Number) -> Option<u8> {
    const TWELVE: Number = Number::constant(12, 0);
    let near = angle.times(TWELVE).ok()?.round_to(Number::ONE).ok()?;
    let same = near.over(TWELVE).ok()? == angle;
    let within = near.remainder(TWELVE).ok()?.to_i64()?.rem_euclid(12);
    same.then_some(within as u8)
}

/// The sine of so many twelfths of a turn, where it is a decimal.
fn exact_sine(twelfths: u8) -> Option<Number> {
    match twelfths % 12 {
        0 | 6 => Some(Number::ZERO),
        1 | 5 => Some(HALF),
        3 => Some(Number::ONE),
        7 | 11 => Some(HALF.negated()),
        9 => Some(Number::ONE.negated()),
        _ => None,
    }
}

/// The angle whose cosine is `cosine`, from 1/2 to 1: acos x = 2 asin √((1−x)/2), with the
/// difference to one exact, so that nothing is lost next to one.
fn angle_from_end(cosine: Number) -> Result<Number, Trouble> {
    if cosine > Number::ONE {
        return Err(Trouble::Domain);
    }
    let sine = Number::ONE.minus(cosine)?.times(HALF)?.square_root()?;
    through_double(sine, libm::asin)?.times(Number::from(2))
}

/// An odd function that is its own argument next to zero.
fn through_double(value: Number, function: fn(f64) -> f64) -> Result<Number, Trouble> {
    if value.is_zero() {
        return Ok(value);
    }
    if value.magnitude() < TINY {
        return Ok(value.as_inexact());
    }
    Number::from_f64(function(value.to_f64()))
}

/// The angle between the axis and a slope of 1 in `run`, for a run above one.
fn angle_of_slope(run: Number) -> Result<Number, Trouble> {
    match Number::ONE.over(run) {
        Ok(slope) => through_double(slope, libm::atan),
        Err(Trouble::Underflow) => Ok(Number::ZERO),
        Err(trouble) => Err(trouble),
    }
}
