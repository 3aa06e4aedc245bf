//! A unit as a person wrote it: words with exponents, in order. In: words and other units; out:
//! products, quotients, powers. What the words mean is the registry's.
//!
//! Words above the line come first, then those below it, each in the order written. A unit has a
//! largest size; what would grow beyond it is `None`.

use smallvec::SmallVec;

use super::dimension::{WHOLE, scaled};

/// A unit word that a registry knows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct AtomId(pub(super) u32);

impl AtomId {
    /// The radian.
    pub(super) const RADIAN: AtomId = AtomId(0);
    /// The word `torque` behind a product: one per radian.
    pub(super) const TORQUE: AtomId = AtomId(1);
}

/// Most words in one unit.
const MOST_WORDS: usize = 32;

/// Largest sum of the exponents of a unit, signs apart, in twelfths.
const LARGEST_EXPONENT: i32 = 100 * WHOLE as i32;

/// Words with exponents in twelfths.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Unit(SmallVec<[(AtomId, i16); 3]>);

impl Unit {
    /// The unit of a plain number.
    pub fn one() -> Unit {
        Unit::default()
    }

    /// One word.
    pub fn of(atom: AtomId) -> Unit {
        let mut unit = Unit::one();
        unit.0.push((atom, WHOLE));
        unit
    }

    /// The words with their exponents in twelfths.
    pub fn words(&self) -> &[(AtomId, i16)] {
        &self.0
    }

    /// Whether it has no words.
    pub fn is_one(&self) -> bool {
        self.0.is_empty()
    }

    /// Its word, if it is just one without a power.
    pub fn single(&self) -> Option<AtomId> {
        match self.0.as_slice() {
            [(atom, WHOLE)] => Some(*atom),
            _ => None,
        }
    }

    /// The product; nothing when it grows too large.
    pub fn times(&self, other: &Unit) -> Option<Unit> {
        Unit::from_words(self.0.iter().chain(&other.0).copied())
    }

    /// The quotient; nothing when it grows too large.
    pub fn over(&self, other: &Unit) -> Option<Unit> {
        let below = other.0.iter().map(|(atom, exponent)| (*atom, -exponent));
        Unit::from_words(self.0.iter().copied().chain(below))
    }

    /// The power `numerator / denominator`; nothing when it grows too large or an exponent would
    /// be no whole number of twelfths.
    pub fn power(&self, numerator: i32, denominator: i32) -> Option<Unit> {
        let mut words = SmallVec::<[(AtomId, i16); 3]>::new();
        for (atom, exponent) in &self.0 {
            words.push((*atom, scaled(*exponent, numerator, denominator)?));
        }
        Unit::from_words(words)
    }

    /// Words in order, equal ones joined, those without exponent dropped; nothing when too large.
    pub(super) fn from_words(words: impl IntoIterator<Item = (AtomId, i16)>) -> Option<Unit> {
        let mut joined = SmallVec::<[(AtomId, i16); 3]>::new();
        for (atom, exponent) in words {
            join(&mut joined, atom, exponent)?;
        }
        if let Some(place) = joined
            .iter()
            .position(|(atom, exponent)| *atom == AtomId::TORQUE && *exponent != WHOLE)
        {
            let (_, exponent) = joined.remove(place);
            join(&mut joined, AtomId::RADIAN, -exponent)?;
        }
        joined.retain(|(_, exponent)| *exponent != 0);
        let sum: i32 = joined.iter().map(|(_, e)| i32::from(*e).abs()).sum();
        if joined.len() > MOST_WORDS || sum > LARGEST_EXPONENT {
            return None;
        }
        joined.sort_by_key(|(_, exponent)| *exponent < 0);
        Some(Unit(joined))
    }
}

fn join(words: &mut SmallVec<[(AtomId, i16); 3]>, atom: AtomId, exponent: i16) -> Option<()> {
    match words.iter_mut().find(|(own, _)| *own == atom) {
        Some((_, own)) => *own = own.checked_add(exponent)?,
        None => words.push((atom, exponent)),
    }
    Some(())
}
