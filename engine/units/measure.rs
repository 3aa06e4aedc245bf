//! What a unit amounts to: dimension, exact factors, and what it counts from. In: units of a
//! registry; out: facts about them. Which conversions are allowed is not decided here.

use super::atom::{Atom, AtomKind};
use super::dimension::{Base, Dimension, WHOLE, scaled};
use super::factor;
use super::reference::{Class, Reference};
use super::registry::{Registry, is_compound};
use super::unit::{AtomId, Unit};
use crate::number::{Factor, Rational};

impl Registry {
    /// The dimension of a unit.
    pub fn dimension(&self, unit: &Unit) -> Dimension {
        if let Some(atom) = unit.single() {
            return self.atom(atom).dimension.clone();
        }
        // Words have whole exponents of at most twelve, and units at most a hundred of them, so
        // that every exponent is in range.
        let words = unit.words().iter();
        words.fold(Dimension::PLAIN, |product, (atom, exponent)| {
            let dimension = &self.atom(*atom).dimension;
            dimension
                .power(i32::from(*exponent), i32::from(WHOLE))
                .and_then(|power| product.combined(&power, 1))
                .unwrap_or(product)
        })
    }

    /// The size of a unit in coherent units, offsets apart; below zero for a gauge that counts
    /// downwards. Exact, but for roots of what is no square or cube, which agree to 60 digits.
    pub fn factor_to_base(&self, unit: &Unit) -> Factor {
        if let Some(atom) = unit.single() {
            return self.atom(atom).factor.clone();
        }
        let words = unit.words().iter();
        factor::product(words.map(|(atom, exponent)| (&self.atom(*atom).factor, *exponent)))
    }

    /// What a number in `from` is multiplied with to be one in `to`; nothing if the dimensions
    /// differ. Offsets are not in it.
    pub fn factor(&self, from: &Unit, to: &Unit) -> Option<Factor> {
        if from == to {
            return Some(Factor::one());
        }
        if self.dimension(from) != self.dimension(to) {
            return None;
        }
        match from.over(to) {
            Some(quotient) => Some(self.factor_to_base(&quotient)),
            None => self.factor_to_base(from).over(&self.factor_to_base(to)),
        }
    }

    /// The one word of a unit without a power, and what is known of it.
    pub fn single_atom(&self, unit: &Unit) -> Option<&Atom> {
        unit.single().map(|atom| self.atom(atom))
    }

    /// What is added to a reading in this unit before it is multiplied with its factor: only °C
    /// and °F have it, and only alone.
    pub fn offset(&self, unit: &Unit) -> Option<&Rational> {
        self.single_atom(unit)?.offset.as_ref()
    }

    /// What a unit as a whole says that it counts from: the word's own; for a product, that of the
    /// air above its line (`Nm3/h`, `scfm/hp`). In a product °C, psia, VA are mere sizes.
    pub fn states(&self, unit: &Unit) -> Option<Reference> {
        if is_compound(unit) {
            return self.states_air(unit, true);
        }
        self.single_atom(unit)?.reference
    }

    /// The reference of the air below the line, as in `kWh/Nm3` or `kW/(100 scfm)`.
    pub fn states_below(&self, unit: &Unit) -> Option<Reference> {
        self.states_air(unit, false)
    }

    fn states_air(&self, unit: &Unit, above: bool) -> Option<Reference> {
        unit.words()
            .iter()
            .filter(|(_, exponent)| (*exponent > 0) == above)
            .filter_map(|(atom, _)| self.atom(*atom).reference)
            .find(|reference| is_air(*reference))
    }

    /// The first word that can only stand alone, in a product: a gauge reading or a level. A
    /// product takes its `bare` unit instead.
    pub fn misplaced(&self, unit: &Unit) -> Option<AtomId> {
        if !is_compound(unit) {
            return None;
        }
        let words = unit.words().iter().map(|(atom, _)| *atom);
        words.into_iter().find(|atom| {
            let atom = self.atom(*atom);
            let class = atom.reference.map(|reference| reference.row().class);
            match class {
                Some(Class::Point) => atom.offset.is_none(),
                Some(Class::Level) => true,
                _ => false,
            }
        })
    }

    /// The unit with every word that states a reference replaced by its bare one: `psig` becomes
    /// `psi`, `Nm3/h` `m³/h`, `°C` `K`. The same size but for `atm`, `torr`, `inHg_vac` and units of
    /// a notebook's own.
    pub fn without_reference(&self, unit: &Unit) -> Unit {
        self.replace_words(unit, |atom| self.atom(atom).bare.as_ref())
    }

    /// The unit with words replaced by the units that `other` gives for them.
    pub(super) fn replace_words<'a>(
        &'a self,
        unit: &Unit,
        other: impl Fn(AtomId) -> Option<&'a Unit>,
    ) -> Unit {
        let mut words = Vec::new();
        for (atom, exponent) in unit.words() {
            let Some(replacement) = other(*atom) else {
                words.push((*atom, *exponent));
                continue;
            };
            for (inner, power) in replacement.words() {
                match scaled(*power, i32::from(*exponent), i32::from(WHOLE)) {
                    Some(power) => words.push((*inner, power)),
                    None => return unit.clone(),
                }
            }
        }
        Unit::from_words(words).unwrap_or_else(|| unit.clone())
    }

    /// What may be mistaken about a word: which gallon it is, that `oz` is a mass.
    pub fn hint(&self, atom: AtomId) -> Option<&'static str> {
        self.atom(atom).hint
    }

    /// What was probably meant where a unit with a mass is given and a force is needed: `lb/in2`
    /// is no pressure, `lbf/in2` is.
    pub fn force_instead(&mut self, unit: &Unit) -> Option<Unit> {
        let pairs = [
            ("lb", "lbf"),
            ("kg", "kgf"),
            ("oz", "ozf"),
            ("ton_short", "tonf"),
        ];
        let [per_area, moment] = [-2, 1].map(|length| {
            let length = Dimension::of(Base::LENGTH).power(length, 1)?;
            Dimension::MASS.times(&length)
        });
        let dimension = Some(self.dimension(unit));
        if dimension != per_area && dimension != moment {
            return None;
        }
        pairs.into_iter().find_map(|(mass, force)| {
            let mass = self.find(mass)?.single()?;
            let has_mass = unit.words().contains(&(mass, WHOLE));
            let force = has_mass.then(|| self.find(force)).flatten()?;
            Some(self.replace_words(unit, |atom| (atom == mass).then_some(&force)))
        })
    }

    /// The one word for an atom with a reference, of the same size: `psig` for `psi` and gauge,
    /// `scfm` for `cfm` and standard. Nothing where the reference is written behind it.
    pub fn with_reference(&mut self, atom: AtomId, reference: Reference) -> Option<AtomId> {
        let symbol = self.counterpart(self.atom(atom), reference)?;
        self.find(&symbol)?.single()
    }

    pub(super) fn counterpart(&self, atom: &Atom, reference: Reference) -> Option<String> {
        let table = super::table::table();
        if let Some(symbol) = table.counterpart(&atom.symbol, reference) {
            return Some(symbol.to_string());
        }
        let (prefix, stem) = atom.stem?;
        let symbol = table.counterpart(stem, reference)?;
        table.find_prefixed(symbol)?;
        Some(format!("{prefix}{symbol}"))
    }

    /// Whether a word is a number, a count or a part of a whole, rather than a unit.
    pub(super) fn is_kind(&self, atom: AtomId, kind: AtomKind) -> bool {
        self.atom(atom).kind == kind
    }
}

fn is_air(reference: Reference) -> bool {
    matches!(
        reference,
        Reference::Free
            | Reference::Actual
            | Reference::Standard
            | Reference::Normal
            | Reference::Anr
    )
}
