//! The unit words of one notebook: what a word means, and what is known of it. In: words as typed;
//! out: units, or what else the word could be. Joining words to expressions is the reader's; what
//! a notebook defines for itself is in `definition.rs`.

use rustc_hash::FxHashMap;

use super::atom::{Atom, AtomKind};
use super::dimension::{Base, Dimension, WHOLE};
use super::prefix;
use super::suggest;
use super::table::{Entry, table};
use super::unit::{AtomId, Unit};
use crate::number::{Factor, Rational};

/// What a word in unit position means.
#[derive(Clone, Debug, PartialEq)]
pub enum Lookup {
    /// A unit; a word such as `ft3` or `lpm` is a power or a product.
    Found(Unit),
    /// A word with several readings, or one that is no unit.
    Refused {
        /// Completes “ton is …”.
        reads: String,
        /// What to type in its place, and what that is.
        offers: Vec<(String, String)>,
    },
    /// No word that is known.
    Unknown {
        /// The known word that looks most like it.
        nearest: Option<String>,
        /// Known words of the same letters in another case.
        case_variants: Vec<String>,
    },
    /// A known word to a power that is too large.
    TooLarge,
}

/// What an atom was made from.
#[derive(Clone, Copy, PartialEq, Eq, Hash, Debug)]
pub(super) enum Origin {
    /// A row of the table, with a prefix or without.
    Row(Option<u8>, u16),
    /// The row of a currency.
    Currency(u16),
    /// A hundredth of it.
    Cent(u16),
    /// A whole number.
    Number(u32),
}

/// The unit words of one notebook.
#[derive(Clone, Debug)]
pub struct Registry {
    pub(super) atoms: Vec<Atom>,
    /// Atoms made so far.
    pub(super) made: FxHashMap<Origin, AtomId>,
    /// Words of the table met so far.
    known: FxHashMap<Box<str>, Unit>,
    /// Names that the notebook defined.
    pub(super) defined: FxHashMap<Box<str>, AtomId>,
    /// Every unit defined so far by its first name, taken back or not, so that the same text means
    /// the same.
    pub(super) former_units: FxHashMap<Box<str>, AtomId>,
    /// The same for dimensions.
    pub(super) former_dimensions: FxHashMap<Box<str>, AtomId>,
    /// The unit in which each currency and each dimension of the notebook's own is counted.
    pub(super) counted: FxHashMap<Base, AtomId>,
    /// How many dimensions the notebook defined.
    pub(super) defined_bases: usize,
    /// The row of the notebook's currency.
    pub(super) currency: u16,
}

impl Default for Registry {
    fn default() -> Self {
        Registry::new()
    }
}

impl Registry {
    /// The words of the table, dollars of the United States, nothing defined.
    pub fn new() -> Registry {
        let mut registry = Registry {
            atoms: Vec::with_capacity(32),
            made: FxHashMap::default(),
            known: FxHashMap::default(),
            defined: FxHashMap::default(),
            former_units: FxHashMap::default(),
            former_dimensions: FxHashMap::default(),
            counted: FxHashMap::default(),
            defined_bases: 0,
            currency: 0,
        };
        registry.make_first_atoms();
        registry
    }

    /// What is known of a word. The id must come from this registry.
    pub fn atom(&self, atom: AtomId) -> &Atom {
        &self.atoms[atom.0 as usize]
    }

    /// What a word means. Letter for letter first, then as a power (`in2`), then with one prefix.
    pub fn word(&mut self, word: &str) -> Lookup {
        match self.find(word) {
            Some(unit) => Lookup::Found(unit),
            None => self.explain(word),
        }
    }

    /// What a word to a power means: `Nm³` is the normal cubic metre, any other the power of its
    /// word.
    pub fn word_to_power(&mut self, word: &str, numerator: i32, denominator: i32) -> Lookup {
        if denominator == 1
            && (2..=4).contains(&numerator)
            && let Some(Entry::Unit(row)) = table().find(&format!("{word}{numerator}"))
            && let Some(atom) = self.make_row(None, row)
        {
            return Lookup::Found(Unit::of(atom));
        }
        match self.word(word) {
            Lookup::Found(unit) => match unit.power(numerator, denominator) {
                Some(unit) => Lookup::Found(unit),
                None => Lookup::TooLarge,
            },
            other => other,
        }
    }

    /// A unit that the program itself names: words joined by a blank, each perhaps behind a `/`,
    /// which divides by that word alone. Nothing if a word is no unit.
    pub fn compose(&mut self, text: &str) -> Option<Unit> {
        let mut unit = Unit::one();
        let spaced = text.replace('/', " /");
        for part in spaced.split(' ').filter(|part| !part.is_empty()) {
            let (below, word) = match part.strip_prefix('/') {
                Some(word) => (true, word),
                None => (false, part),
            };
            if word == "torque" {
                unit = self.torque(&unit)?;
                continue;
            }
            let next = self.find(word)?;
            unit = if below {
                unit.over(&next)?
            } else {
                unit.times(&next)?
            };
        }
        Some(unit)
    }

    /// The word for a whole number in front of a unit, as in `kW/(100 cfm)`; nothing for zero.
    pub fn whole_number(&mut self, number: u32) -> Option<AtomId> {
        if number == 0 {
            return None;
        }
        let origin = Origin::Number(number);
        if let Some(atom) = self.made.get(&origin) {
            return Some(*atom);
        }
        let factor = Factor {
            ratio: Rational::whole(i64::from(number)),
            pi: 0,
        };
        let mut atom = Atom::plain(&number.to_string(), Dimension::PLAIN, factor);
        atom.kind = AtomKind::Number;
        Some(self.keep(origin, atom))
    }

    /// The unit with the word `torque` behind it: energy per angle. Nothing if it is no energy.
    pub fn torque(&self, unit: &Unit) -> Option<Unit> {
        if self.dimension(unit) != Dimension::ENERGY {
            return None;
        }
        unit.times(&Unit::of(AtomId::TORQUE))
    }

    /// The unit of a word, if it has one meaning.
    pub(super) fn find(&mut self, word: &str) -> Option<Unit> {
        if let Some(unit) = self.known.get(word) {
            return Some(unit.clone());
        }
        if word == "$" {
            return self.dollar();
        }
        if let Some(atom) = self.defined.get(word) {
            return Some(Unit::of(*atom));
        }
        let unit = match table().find(word) {
            Some(Entry::Unit(row)) => self.make_row(None, row).map(Unit::of),
            Some(Entry::Product(row)) => self.compose(table().product(row)),
            Some(Entry::Currency(row)) => Some(Unit::of(self.make_currency(row))),
            Some(Entry::Cent) => return Some(Unit::of(self.make_cent())),
            Some(Entry::Refused(_)) => None,
            None => self
                .find_prefixed(word)
                .map(Unit::of)
                .or_else(|| self.find_power(word)),
        }?;
        if !self.is_defined_power(word) {
            self.known.insert(word.into(), unit.clone());
        }
        Some(unit)
    }

    /// Whether a word may be the power of a unit that the notebook can still take back.
    fn is_defined_power(&self, word: &str) -> bool {
        let base = word.trim_end_matches(|sign: char| sign.is_ascii_digit());
        self.defined.contains_key(base)
    }

    /// `kPa`, `µm`.
    fn find_prefixed(&mut self, word: &str) -> Option<AtomId> {
        prefix::split(word).find_map(|(prefix, rest)| {
            let row = table().find_prefixed(rest)?;
            self.make_row(Some(prefix as u8), row)
        })
    }

    /// `in2`, `mm4`: a word of one unit and the digit of its power.
    fn find_power(&mut self, word: &str) -> Option<Unit> {
        let digit = word.chars().last()?.to_digit(10)?;
        let base = &word[..word.len() - 1];
        if !(2..=4).contains(&digit) || base.ends_with(|sign: char| sign.is_ascii_digit()) {
            return None;
        }
        let unit = self.find(base)?;
        let atom = self.atom(unit.single()?);
        let scales = atom.reference.is_none() && atom.kind == AtomKind::Unit;
        scales.then(|| unit.power(digit as i32, 1)).flatten()
    }

    /// `$` is the notebook's currency, if that is one with this sign.
    fn dollar(&mut self) -> Option<Unit> {
        let signed = table().currency(self.currency).sign == "$";
        signed.then(|| Unit::of(self.make_currency(self.currency)))
    }

    /// Why a word has no unit.
    fn explain(&self, word: &str) -> Lookup {
        if word == "$" {
            let code = table().currency(self.currency).code;
            return refused(
                format!("a dollar or a peso, and this notebook counts in {code}"),
                &[
                    ("USD", "the US dollar"),
                    ("CAD", "the Canadian dollar"),
                    ("MXN", "the Mexican peso"),
                ],
            );
        }
        let without_digit = word.trim_end_matches(['2', '3', '4']);
        for spelling in [word, without_digit] {
            if let Some(Entry::Refused(row)) = table().find(spelling) {
                let row = table().refused(row);
                return refused(row.reads.to_string(), &row.offers);
            }
        }
        let mut defined: Vec<&str> = self.defined.keys().map(AsRef::as_ref).collect();
        defined.sort_unstable();
        Lookup::Unknown {
            nearest: suggest::nearest(word, &defined),
            case_variants: suggest::case_variants(word, &defined),
        }
    }
}

fn refused(reads: String, offers: &[(&str, &str)]) -> Lookup {
    Lookup::Refused {
        reads,
        offers: offers
            .iter()
            .map(|(typed, what)| ((*typed).to_string(), (*what).to_string()))
            .collect(),
    }
}

/// Whether a unit is one word with a power other than one, or several.
pub(super) fn is_compound(unit: &Unit) -> bool {
    !unit.is_one() && !matches!(unit.words(), [(_, WHOLE)])
}
