//! What a notebook adds to the table: dimensions of its own (`unit part`) and units of its own
//! (`unit bag, bags = 50 lb`). In: names and a size; out: the unit, or what stands in the way.
//!
//! Words that the table refuses for having several readings may be defined; known ones may not.

use super::atom::Atom;
use super::dimension::{Base, Dimension, WHOLE};
use super::reference::{Class, Reference};
use super::registry::{Registry, is_compound};
use super::table::{Entry, table};
use super::unit::{AtomId, Unit};
use crate::number::{Factor, Rational};

/// Largest exponent in the dimension of a defined unit, in twelfths.
const LARGEST_EXPONENT: i16 = 12 * WHOLE;

/// Longest size of a defined unit, in binary digits of its fraction.
const LONGEST_SIZE: u64 = 512;

/// Why a notebook may not define a unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum DefinitionError {
    /// A name is a unit already: the name, and what it is.
    Taken(String, String),
    /// There is no name.
    NoName,
    /// Its size is zero.
    Zero,
    /// Its size is a place on a scale or a level, such as `20 °C`.
    Point,
    /// Its size or its dimension is too large.
    TooLarge,
    /// There is a root in its unit.
    Root,
    /// No currency has this code.
    NoCurrency,
}

impl Registry {
    /// Defines a dimension with a unit of size one; the first name is the one shown.
    ///
    /// # Errors
    ///
    /// When a name is taken, or too many dimensions are defined.
    pub fn define_dimension(&mut self, names: &[&str]) -> Result<AtomId, DefinitionError> {
        let first = self.check_names(names)?;
        if let Some(former) = self.former_dimensions.get(first).copied() {
            self.take_names(names, former);
            return Ok(former);
        }
        let base = Base::defined(self.defined_bases).ok_or(DefinitionError::TooLarge)?;
        self.defined_bases += 1;
        let mut atom = Atom::plain(first, Dimension::of(base), Factor::one());
        atom.plural = plural(names);
        let atom = self.push(atom);
        self.counted.insert(base, atom);
        self.former_dimensions.insert(first.into(), atom);
        self.take_names(names, atom);
        Ok(atom)
    }

    /// Defines a unit of `ratio` times another; the first name is the one shown.
    ///
    /// # Errors
    ///
    /// When a name is taken, the size is zero, a place on a scale, or too large.
    pub fn define_unit(
        &mut self,
        names: &[&str],
        ratio: &Rational,
        unit: &Unit,
    ) -> Result<AtomId, DefinitionError> {
        let first = self.check_names(names)?;
        let atom = self.sized(names, ratio, unit)?;
        let former = self.former_units.get(first).copied();
        let id = match former.filter(|former| *self.atom(*former) == atom) {
            Some(former) => former,
            None => self.push(atom),
        };
        self.former_units.insert(first.into(), id);
        self.take_names(names, id);
        Ok(id)
    }

    /// Undoes the definition that `name` is one of the names of. Units read before keep their
    /// meaning; whether there was one.
    pub fn remove_definition(&mut self, name: &str) -> bool {
        let Some(atom) = self.defined.get(name).copied() else {
            return false;
        };
        self.defined.retain(|_, own| *own != atom);
        true
    }

    /// The first name, when none of them is a unit yet.
    fn check_names<'a>(&mut self, names: &[&'a str]) -> Result<&'a str, DefinitionError> {
        for name in names {
            if let Some(unit) = self.find(name) {
                let what = self.spoken_one(&unit);
                return Err(DefinitionError::Taken((*name).to_string(), what));
            }
            if *name == "torque" || Reference::from_word(name).is_some() {
                let what = "a word that stands behind a unit".to_string();
                return Err(DefinitionError::Taken((*name).to_string(), what));
            }
        }
        names.first().copied().ok_or(DefinitionError::NoName)
    }

    fn sized(
        &self,
        names: &[&str],
        ratio: &Rational,
        unit: &Unit,
    ) -> Result<Atom, DefinitionError> {
        if ratio.is_zero() {
            return Err(DefinitionError::Zero);
        }
        let reference = self.states(unit);
        let class = reference.map(|reference| reference.row().class);
        let scale = matches!(class, Some(Class::Point | Class::Level));
        if scale || (is_compound(unit) && self.misplaced(unit).is_some()) {
            return Err(DefinitionError::Point);
        }
        let dimension = self.dimension(unit);
        let exponents = || dimension.exponents().map(|(_, exponent)| exponent.abs());
        if exponents().any(|exponent| exponent % WHOLE != 0) {
            return Err(DefinitionError::Root);
        }
        let size = self.factor_to_base(unit);
        let factor = Factor {
            ratio: size.ratio.times(ratio),
            pi: size.pi,
        };
        let length = factor.ratio.numerator().bits() + factor.ratio.denominator().bits();
        if length > LONGEST_SIZE
            || factor.pi.abs() > LARGEST_EXPONENT / WHOLE
            || exponents().max() > Some(LARGEST_EXPONENT)
        {
            return Err(DefinitionError::TooLarge);
        }
        let mut atom = Atom::plain(names[0], dimension, factor);
        atom.plural = plural(names);
        atom.reference = reference;
        atom.bare = reference.map(|_| self.without_reference(unit));
        Ok(atom)
    }

    fn take_names(&mut self, names: &[&str], atom: AtomId) {
        for name in names {
            self.defined.insert((*name).into(), atom);
        }
    }

    /// Whether the table refuses a word for having several readings, so that a notebook may give
    /// it one.
    pub fn is_ambiguous(word: &str) -> bool {
        matches!(table().find(word), Some(Entry::Refused(_)))
    }
}

/// The second name is the plural, if there is one.
fn plural(names: &[&str]) -> Box<str> {
    match names {
        [_, plural, ..] => (*plural).into(),
        [name] => format!("{name}s").into(),
        [] => "".into(),
    }
}
