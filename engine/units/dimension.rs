//! What kind of amount a value is: exponents over base dimensions. In: other dimensions; out:
//! their products, quotients, powers and the family a dimension belongs to.
//!
//! Exponents are whole numbers of twelfths, so that square, cube and fourth roots stay exact.
//! Results that would leave the range of an exponent are `None`, never wrong. Names of dimensions
//! are not here: money and a notebook's own dimensions have theirs in the registry.

use super::reference::Family;

/// Twelfths in a whole exponent.
pub const WHOLE: i16 = 12;

/// Base dimensions that every notebook has.
const FIXED: usize = 8;

/// Most currencies and dimensions of a notebook's own in one dimension.
const MOST_OTHER: usize = 24;

/// First id that is a notebook's own dimension; between it and the fixed ones lie currencies.
const FIRST_DEFINED: u16 = 1000;

/// One base dimension.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Base(u16);

impl Base {
    /// Length, in metres.
    pub const LENGTH: Base = Base(0);
    /// Mass, in kilograms.
    pub const MASS: Base = Base(1);
    /// Time, in seconds.
    pub const TIME: Base = Base(2);
    /// Electric current, in amperes.
    pub const CURRENT: Base = Base(3);
    /// Temperature, in kelvins.
    pub const TEMPERATURE: Base = Base(4);
    /// Amount of substance, in moles.
    pub const AMOUNT: Base = Base(5);
    /// Angle, in radians.
    pub const ANGLE: Base = Base(6);
    /// Level difference, in decibels.
    pub const GAIN: Base = Base(7);

    /// The currency at `index` of the table of currencies.
    pub(super) fn currency(index: u16) -> Base {
        Base(FIXED as u16 + index)
    }

    /// The dimension that a notebook defined as its `index`th; nothing when there are too many.
    pub(super) fn defined(index: usize) -> Option<Base> {
        let id = u16::try_from(index).ok()?.checked_add(FIRST_DEFINED)?;
        Some(Base(id))
    }

    /// Whether it is a currency.
    pub fn is_currency(self) -> bool {
        (FIXED as u16..FIRST_DEFINED).contains(&self.0)
    }

    /// Whether a notebook defined it.
    pub fn is_defined(self) -> bool {
        self.0 >= FIRST_DEFINED
    }
}

/// Exponents over base dimensions, in twelfths.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Dimension {
    fixed: [i16; FIXED],
    /// Currencies and a notebook's own, sorted, none with exponent zero; mostly empty, and then
    /// it owns no memory.
    other: Vec<(Base, i16)>,
}

const fn si(length: i16, mass: i16, time: i16, current: i16, temperature: i16) -> Dimension {
    Dimension {
        fixed: [
            length * WHOLE,
            mass * WHOLE,
            time * WHOLE,
            current * WHOLE,
            temperature * WHOLE,
            0,
            0,
            0,
        ],
        other: Vec::new(),
    }
}

const fn angular(mut dimension: Dimension, angle: i16) -> Dimension {
    dimension.fixed[6] = angle * WHOLE;
    dimension
}

const fn gain() -> Dimension {
    let mut dimension = si(0, 0, 0, 0, 0);
    dimension.fixed[7] = WHOLE;
    dimension
}

impl Dimension {
    /// Of plain numbers.
    pub const PLAIN: Dimension = si(0, 0, 0, 0, 0);
    /// Of metres.
    pub const LENGTH: Dimension = si(1, 0, 0, 0, 0);
    /// Of square metres.
    pub const AREA: Dimension = si(2, 0, 0, 0, 0);
    /// Of cubic metres.
    pub const VOLUME: Dimension = si(3, 0, 0, 0, 0);
    /// Of kilograms.
    pub const MASS: Dimension = si(0, 1, 0, 0, 0);
    /// Of seconds.
    pub const TIME: Dimension = si(0, 0, 1, 0, 0);
    /// Of hertz, and of counts per time.
    pub const FREQUENCY: Dimension = si(0, 0, -1, 0, 0);
    /// Of metres per second.
    pub const SPEED: Dimension = si(1, 0, -1, 0, 0);
    /// Of metres per second squared.
    pub const ACCELERATION: Dimension = si(1, 0, -2, 0, 0);
    /// Volume per time.
    pub const FLOW: Dimension = si(3, 0, -1, 0, 0);
    /// Mass per time.
    pub const MASS_FLOW: Dimension = si(0, 1, -1, 0, 0);
    /// Mass per volume.
    pub const DENSITY: Dimension = si(-3, 1, 0, 0, 0);
    /// Of newtons.
    pub const FORCE: Dimension = si(1, 1, -2, 0, 0);
    /// Of pascals.
    pub const PRESSURE: Dimension = si(-1, 1, -2, 0, 0);
    /// Of joules.
    pub const ENERGY: Dimension = si(2, 1, -2, 0, 0);
    /// Of watts.
    pub const POWER: Dimension = si(2, 1, -3, 0, 0);
    /// Of pascal seconds.
    pub const VISCOSITY: Dimension = si(-1, 1, -1, 0, 0);
    /// Of kelvins.
    pub const TEMPERATURE: Dimension = si(0, 0, 0, 0, 1);
    /// Of amperes.
    pub const CURRENT: Dimension = si(0, 0, 0, 1, 0);
    /// Of volts.
    pub const VOLTAGE: Dimension = si(2, 1, -3, -1, 0);
    /// Of ohms.
    pub const RESISTANCE: Dimension = si(2, 1, -3, -2, 0);
    /// Of radians.
    pub const ANGLE: Dimension = angular(si(0, 0, 0, 0, 0), 1);
    /// Angle per time.
    pub const ROTATION: Dimension = angular(si(0, 0, -1, 0, 0), 1);
    /// Energy per angle.
    pub const TORQUE: Dimension = angular(si(2, 1, -2, 0, 0), -1);
    /// Of decibels.
    pub const GAIN: Dimension = gain();

    /// One base dimension.
    pub fn of(base: Base) -> Dimension {
        let mut dimension = Dimension::PLAIN;
        dimension.set(base, WHOLE);
        dimension
    }

    /// The exponent of a base, in twelfths.
    pub fn exponent(&self, base: Base) -> i16 {
        match self.fixed.get(base.0 as usize) {
            Some(exponent) => *exponent,
            None => self
                .other
                .iter()
                .find(|(own, _)| *own == base)
                .map_or(0, |(_, exponent)| *exponent),
        }
    }

    /// The bases with their exponents in twelfths, none of them zero.
    pub fn exponents(&self) -> impl Iterator<Item = (Base, i16)> + '_ {
        self.fixed
            .iter()
            .enumerate()
            .filter(|(_, exponent)| **exponent != 0)
            .map(|(index, exponent)| (Base(index as u16), *exponent))
            .chain(self.other.iter().copied())
    }

    /// Whether it is that of a plain number.
    pub fn is_plain(&self) -> bool {
        self.other.is_empty() && self.fixed == [0; FIXED]
    }

    /// Whether it is an amount of one currency.
    pub fn is_money(&self) -> bool {
        self.fixed == [0; FIXED]
            && matches!(self.other.as_slice(), [(base, WHOLE)] if base.is_currency())
    }

    /// The product; nothing when an exponent leaves its range.
    pub fn times(&self, other: &Dimension) -> Option<Dimension> {
        self.combined(other, 1).filter(Dimension::is_small)
    }

    /// The quotient; nothing when an exponent leaves its range.
    pub fn over(&self, other: &Dimension) -> Option<Dimension> {
        self.combined(other, -1).filter(Dimension::is_small)
    }

    fn is_small(&self) -> bool {
        self.other.len() <= MOST_OTHER
    }

    /// The product with a power of one or minus one, with any number of bases.
    pub(super) fn combined(&self, other: &Dimension, sign: i16) -> Option<Dimension> {
        let mut result = self.clone();
        for (base, exponent) in other.exponents() {
            let sum = i32::from(result.exponent(base)) + i32::from(exponent) * i32::from(sign);
            result.set(base, i16::try_from(sum).ok()?);
        }
        Some(result)
    }

    /// The power `numerator / denominator`; nothing when an exponent leaves its range or is no
    /// whole number of twelfths.
    pub fn power(&self, numerator: i32, denominator: i32) -> Option<Dimension> {
        let mut result = Dimension::PLAIN;
        for (base, exponent) in self.exponents() {
            result.set(base, scaled(exponent, numerator, denominator)?);
        }
        Some(result)
    }

    fn set(&mut self, base: Base, exponent: i16) {
        if let Some(own) = self.fixed.get_mut(base.0 as usize) {
            *own = exponent;
            return;
        }
        match self.other.binary_search_by_key(&base, |(own, _)| *own) {
            Ok(place) if exponent == 0 => {
                self.other.remove(place);
            }
            Ok(place) => self.other[place].1 = exponent,
            Err(_) if exponent == 0 => {}
            Err(place) => self.other.insert(place, (base, exponent)),
        }
    }

    /// The family whose references its values may have.
    pub fn family(&self) -> Option<Family> {
        [
            (Dimension::PLAIN, Family::Ratio),
            (Dimension::PRESSURE, Family::Pressure),
            (Dimension::FLOW, Family::Flow),
            (Dimension::VOLUME, Family::Volume),
            (Dimension::TEMPERATURE, Family::Temperature),
            (Dimension::POWER, Family::Power),
            (Dimension::GAIN, Family::Sound),
        ]
        .into_iter()
        .find(|(dimension, _)| dimension == self)
        .map(|(_, family)| family)
    }

    /// The dimension without its common exponent, and that exponent in twelfths: area and length
    /// differ in the second only. Nothing for plain numbers.
    pub(super) fn direction(&self) -> Option<(Dimension, i16)> {
        let mut common = 0;
        for (_, exponent) in self.exponents() {
            common = num_integer::gcd(common, i32::from(exponent));
        }
        let (_, first) = self.exponents().next()?;
        let common = if first < 0 { -common } else { common };
        let mut direction = Dimension::PLAIN;
        for (base, exponent) in self.exponents() {
            direction.set(base, i16::try_from(i32::from(exponent) / common).ok()?);
        }
        Some((direction, i16::try_from(common).ok()?))
    }
}

/// `exponent * numerator / denominator` if that is a whole number of twelfths in range.
pub(super) fn scaled(exponent: i16, numerator: i32, denominator: i32) -> Option<i16> {
    let product = i64::from(exponent) * i64::from(numerator);
    let denominator = i64::from(denominator);
    if denominator == 0 || product % denominator != 0 {
        return None;
    }
    i16::try_from(product / denominator).ok()
}
