//! Making the atoms of a registry: once each, when they are first met.

use super::atom::{Atom, BASES};
use super::definition::DefinitionError;
use super::dimension::{Base, Dimension};
use super::prefix::PREFIXES;
use super::registry::{Origin, Registry};
use super::table::{Entry, table};
use super::unit::{AtomId, Unit};
use crate::number::{Factor, Rational};

/// The units with names of their own that coherent units are shown in, best first.
pub(super) const NAMED: [&str; 11] = ["J", "W", "N", "Pa", "V", "ohm", "C", "F", "H", "T", "S"];

impl Registry {
    /// The words that every registry has: rad, torque, the base units and the named ones.
    pub(super) fn make_first_atoms(&mut self) {
        self.make_word("rad");
        let mut torque = Atom::plain("torque", Dimension::PLAIN, Factor::one());
        torque.dimension = Dimension::ANGLE.power(-1, 1).unwrap_or_default();
        self.atoms.push(torque);
        for (symbol, base) in BASES {
            if let Some(atom) = self.make_word(symbol) {
                self.counted.insert(base, atom);
            }
        }
        for symbol in NAMED {
            self.make_word(symbol);
        }
    }

    fn make_word(&mut self, symbol: &str) -> Option<AtomId> {
        self.find(symbol)?.single()
    }

    /// Puts an atom behind the others.
    pub(super) fn push(&mut self, atom: Atom) -> AtomId {
        let id = AtomId(self.atoms.len() as u32);
        self.atoms.push(atom);
        id
    }

    /// Puts an atom behind the others and remembers what it was made from.
    pub(super) fn keep(&mut self, origin: Origin, atom: Atom) -> AtomId {
        let id = self.push(atom);
        self.made.insert(origin, id);
        id
    }

    /// The atom of a row of the table. Nothing if the row is malformed.
    pub(super) fn make_row(&mut self, prefix: Option<u8>, row: u16) -> Option<AtomId> {
        let origin = Origin::Row(prefix, row);
        if let Some(atom) = self.made.get(&origin) {
            return Some(*atom);
        }
        let fields = table().unit(row);
        let mut atom = Atom::from_row(&fields)?;
        let mut symbols = String::new();
        if let Some(prefix) = prefix.and_then(|index| PREFIXES.get(index as usize)) {
            symbols.push_str(prefix.symbol);
            atom.symbol = format!("{}{}", prefix.symbol, atom.symbol).into();
            atom.name = format!("{}{}", prefix.name, atom.name).into();
            atom.plural = format!("{}{}", prefix.name, atom.plural).into();
            atom.factor.ratio = atom.factor.ratio.times(&prefix.factor());
            atom.stem = Some((prefix.symbol, fields.symbol));
        }
        if !fields.bare.is_empty() {
            atom.bare = Some(self.compose(&bare_text(prefix.is_some(), &symbols, fields.bare))?);
        }
        if !fields.spelled.is_empty() {
            atom.spelled = Some(self.compose(&format!("{symbols}{}", fields.spelled))?);
        }
        Some(self.keep(origin, atom))
    }

    /// The unit of a currency.
    pub(super) fn make_currency(&mut self, row: u16) -> AtomId {
        let origin = Origin::Currency(row);
        if let Some(atom) = self.made.get(&origin) {
            return *atom;
        }
        let fields = table().currency(row);
        let base = Base::currency(row);
        let mut atom = Atom::plain(fields.code, Dimension::of(base), Factor::one());
        atom.name = fields.name.into();
        atom.plural = if fields.plural.is_empty() {
            format!("{}s", fields.name).into()
        } else {
            fields.plural.into()
        };
        let id = self.keep(origin, atom);
        self.counted.insert(base, id);
        id
    }

    /// A hundredth of the notebook's currency.
    pub(super) fn make_cent(&mut self) -> AtomId {
        let origin = Origin::Cent(self.currency);
        if let Some(atom) = self.made.get(&origin) {
            return *atom;
        }
        let whole = self.make_currency(self.currency);
        let hundredth = Factor {
            ratio: Rational::new(1.into(), 100.into()).unwrap_or_else(Rational::one),
            pi: 0,
        };
        let mut atom = Atom::plain("cent", self.atom(whole).dimension.clone(), hundredth);
        atom.plural = "cents".into();
        self.keep(origin, atom)
    }

    /// A currency by its ISO 4217 code, which is a dimension of its own; nothing for other words.
    pub fn currency(&mut self, code: &str) -> Option<AtomId> {
        match table().find(code)? {
            Entry::Currency(row) => Some(self.make_currency(row)),
            _ => None,
        }
    }

    /// The currency that `$` and `cent` mean in this notebook, by its ISO 4217 code. What was read
    /// before keeps its meaning.
    ///
    /// # Errors
    ///
    /// When no currency has this code.
    pub fn set_default_currency(&mut self, code: &str) -> Result<(), DefinitionError> {
        match table().find(code) {
            Some(Entry::Currency(row)) => {
                self.currency = row;
                Ok(())
            }
            _ => Err(DefinitionError::NoCurrency),
        }
    }

    /// The notebook's currency.
    pub fn default_currency(&mut self) -> AtomId {
        self.make_currency(self.currency)
    }

    /// The unit in which a base dimension is counted.
    pub(super) fn counted_in(&self, base: Base) -> Option<Unit> {
        self.counted.get(&base).copied().map(Unit::of)
    }
}

/// What a prefixed word is without its reference: kVA is kW, and mtorr is mmHg as torr is.
fn bare_text(prefixed: bool, symbols: &str, bare: &str) -> String {
    if prefixed && table().find_prefixed(bare).is_some() {
        format!("{symbols}{bare}")
    } else {
        bare.to_string()
    }
}
