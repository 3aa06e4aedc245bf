//! What is known of one unit word, and how it is made from a row of the table. Rows are read once
//! a notebook, when a word is first met.

use num_bigint::BigInt;

use super::dimension::{Base, Dimension};
use super::reference::Reference;
use super::table::{UnitRow, reference_named};
use super::unit::Unit;
use crate::number::{Factor, Rational};

/// A unit word.
#[derive(Clone, Debug, PartialEq)]
pub struct Atom {
    /// As shown: `cfm`, `°F`, `kPa`.
    pub symbol: Box<str>,
    /// In words, for one: “US gallon”.
    pub name: Box<str>,
    /// In words, for several: “US gallons”.
    pub plural: Box<str>,
    /// What kind of amount it is.
    pub dimension: Dimension,
    /// Its size in coherent units; below zero for a gauge that counts downwards.
    pub factor: Factor,
    /// For a scale that does not begin at zero: what is added to a reading before it is multiplied
    /// with the factor.
    pub offset: Option<Rational>,
    /// The reference that the word states by itself.
    pub reference: Option<Reference>,
    /// The unit that shows the same amount, or a difference of two, without that reference; of the
    /// same size but for `atm`, `torr` and `inHg_vac`.
    pub bare: Option<Unit>,
    /// The product that a short word stands for: `ft3/min` for `cfm`.
    pub spelled: Option<Unit>,
    /// What may be mistaken about it.
    pub hint: Option<&'static str>,
    /// Prefix and word, where it has a prefix.
    pub(super) stem: Option<(&'static str, &'static str)>,
    /// What kind of word it is.
    pub(super) kind: AtomKind,
}

/// What kind of word an atom is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum AtomKind {
    /// A unit of the table or of the notebook.
    Unit,
    /// A part of a whole: `%`, `ppm`.
    Ratio,
    /// A number of things: `each`.
    Count,
    /// A whole number in front of a unit: the 100 of `kW/(100 cfm)`.
    Number,
}

impl Atom {
    /// A unit without reference, hint or other spelling.
    pub(super) fn plain(symbol: &str, dimension: Dimension, factor: Factor) -> Atom {
        Atom {
            symbol: symbol.into(),
            name: symbol.into(),
            plural: symbol.into(),
            dimension,
            factor,
            offset: None,
            reference: None,
            bare: None,
            spelled: None,
            hint: None,
            stem: None,
            kind: AtomKind::Unit,
        }
    }

    /// The unit of a row, but for the units it refers to. Nothing if the row is malformed.
    pub(super) fn from_row(row: &UnitRow) -> Option<Atom> {
        let dimension = dimension(row.dimension)?;
        let pi = if row.pi.is_empty() { "0" } else { row.pi };
        let factor = Factor {
            ratio: rational(row.factor)?,
            pi: pi.parse().ok()?,
        };
        let mut atom = Atom::plain(row.symbol, dimension, factor);
        if atom.dimension.is_plain() {
            let counts = matches!(row.symbol, "each" | "dozen");
            atom.kind = if counts {
                AtomKind::Count
            } else {
                AtomKind::Ratio
            };
        }
        atom.name = row.name.into();
        atom.plural = if row.plural.is_empty() {
            format!("{}s", row.name).into()
        } else {
            row.plural.into()
        };
        if !row.offset.is_empty() {
            atom.offset = Some(rational(row.offset)?);
        }
        atom.reference = reference_named(row.reference);
        atom.hint = (!row.hint.is_empty()).then_some(row.hint);
        Some(atom)
    }
}

/// `kg m-1 s-2` as a dimension; `1` is plain.
fn dimension(text: &str) -> Option<Dimension> {
    let mut dimension = Dimension::PLAIN;
    for part in text.split(' ').filter(|part| *part != "1") {
        let end = part
            .find(|sign: char| sign == '-' || sign.is_ascii_digit())
            .unwrap_or(part.len());
        let (symbol, exponent) = part.split_at(end);
        let exponent = if exponent.is_empty() { "1" } else { exponent };
        let (_, base) = BASES.into_iter().find(|(own, _)| *own == symbol)?;
        let power = Dimension::of(base).power(exponent.parse().ok()?, 1)?;
        dimension = dimension.times(&power)?;
    }
    Some(dimension)
}

/// The symbols of the base units.
pub(super) const BASES: [(&str, Base); 8] = [
    ("m", Base::LENGTH),
    ("kg", Base::MASS),
    ("s", Base::TIME),
    ("A", Base::CURRENT),
    ("K", Base::TEMPERATURE),
    ("mol", Base::AMOUNT),
    ("rad", Base::ANGLE),
    ("dB", Base::GAIN),
];

/// `381/1250` as a fraction.
fn rational(text: &str) -> Option<Rational> {
    let (numerator, denominator) = text.split_once('/').unwrap_or((text, "1"));
    Rational::new(numerator.parse::<BigInt>().ok()?, denominator.parse().ok()?)
}
