//! Questions about a unit that the rules of sums, products and conversions turn on.

use super::atom::AtomKind;
use super::dimension::{Base, Dimension};
use super::reference::{Class, Family, Reference};
use super::registry::Registry;
use super::unit::{AtomId, Unit};
use crate::number::Rational;

impl Registry {
    /// The family whose references a unit carries: its own, or that of the air it has per
    /// something, as in `cfm/psi`, `scfm/hp`, `gal/part`.
    pub fn carried_family(&self, unit: &Unit) -> Option<Family> {
        let dimension = self.dimension(unit);
        match dimension.family() {
            Some(Family::Ratio) => None,
            Some(family) => Some(family),
            None => self.air_above(unit),
        }
    }

    /// The air above the line of a product, if what is above is air and nothing else.
    fn air_above(&self, unit: &Unit) -> Option<Family> {
        let above = unit.words().iter().filter(|(_, exponent)| *exponent > 0);
        let below = unit.words().iter().filter(|(_, exponent)| *exponent < 0);
        let above = Unit::from_words(above.copied())?;
        let below = Unit::from_words(below.copied())?;
        if below.is_one() || self.dimension(&below).is_of_length_only() {
            return None;
        }
        match self.dimension(&above).family() {
            Some(Family::Flow) => Some(Family::Flow),
            Some(Family::Volume) if self.dimension(&below).exponent(Base::TIME) > 0 => {
                Some(Family::Flow)
            }
            Some(Family::Volume) => Some(Family::Volume),
            _ => None,
        }
    }

    /// Whether a unit is `%` alone.
    pub fn is_percent(&self, unit: &Unit) -> bool {
        self.single_atom(unit)
            .is_some_and(|atom| &*atom.symbol == "%")
    }

    /// Whether a unit is a word for a part of a whole: `%`, `ppm`, `pp`.
    pub fn is_ratio_word(&self, unit: &Unit) -> bool {
        unit.single()
            .is_some_and(|atom| self.is_kind(atom, AtomKind::Ratio))
    }

    /// Whether its words are electrical, so that a power in it may be active or apparent.
    pub fn has_current(&self, unit: &Unit) -> bool {
        unit.words().len() > 1
            && unit
                .words()
                .iter()
                .any(|(atom, _)| self.atom(*atom).dimension.exponent(Base::CURRENT) != 0)
    }

    /// Whether its number falls as the value rises: a vacuum gauge.
    pub fn counts_down(&self, unit: &Unit) -> bool {
        self.factor_to_base(unit).ratio.is_negative()
    }

    /// The same scale counted upwards.
    pub fn counting_up(&self, unit: &Unit) -> Unit {
        if self.counts_down(unit) {
            self.without_reference(unit)
        } else {
            unit.clone()
        }
    }

    /// The unit of a difference of two values in `unit`; of the same size, but for units that
    /// count downwards.
    pub fn bare(&self, unit: &Unit) -> Unit {
        self.without_reference(unit)
    }

    /// The single word for a unit with a reference, or the unit itself.
    pub fn named(&mut self, unit: &Unit, reference: Reference) -> Unit {
        let named = unit
            .single()
            .and_then(|atom| self.with_reference(atom, reference));
        named.map_or_else(|| unit.clone(), Unit::of)
    }

    /// How far the zero of a scale lies from absolute zero, in its own degrees.
    pub fn offset_of(&self, unit: &Unit) -> Rational {
        self.offset(unit).cloned().unwrap_or_else(Rational::zero)
    }

    /// The radian.
    pub fn radian(&self) -> Unit {
        Unit::of(AtomId::RADIAN)
    }

    /// A unit that the table is known to have.
    pub fn listed(&mut self, symbol: &str) -> Unit {
        self.compose(symbol).unwrap_or_else(Unit::one)
    }

    /// The thermometer whose degrees are of this size: °F for °R, else °C.
    pub fn thermometer_for(&mut self, unit: &Unit) -> Unit {
        let celsius = self.listed("°C");
        let fahrenheit = self.listed("°F");
        let same = self
            .factor(unit, &fahrenheit)
            .is_some_and(|factor| factor.is_one());
        if same { fahrenheit } else { celsius }
    }

    /// Whether a value in this unit states a reference of a scale or a level, which a product
    /// cannot keep.
    pub fn states_scale(&self, unit: &Unit) -> bool {
        self.states(unit)
            .is_some_and(|reference| matches!(reference.row().class, Class::Point | Class::Level))
    }
}

impl Dimension {
    /// Whether it is a power of a length: a length, an area, a volume.
    pub fn is_of_length_only(&self) -> bool {
        self.exponents().all(|(base, _)| base == Base::LENGTH)
    }

    /// Whether it is made of times, counts and money, which leave a flow of air the air it is.
    pub fn is_of_times_counts_and_money(&self) -> bool {
        self.exponents()
            .all(|(base, _)| base == Base::TIME || base.is_currency() || base.is_defined())
    }

    /// Whether a mass is in it.
    pub fn has_mass(&self) -> bool {
        self.exponent(Base::MASS) != 0
    }

    /// Whether a current is in it.
    pub fn has_current(&self) -> bool {
        self.exponent(Base::CURRENT) != 0
    }

    /// A mass, or a mass per time: it counts from nothing.
    pub fn is_mass_or_mass_flow(&self) -> bool {
        *self == Dimension::MASS || *self == Dimension::MASS_FLOW
    }
}
