//! The prefixes of the SI (Brochure, 9th edition, table 7) and how they come off a word. Which
//! words take one is a column of the unit table.

use num_bigint::BigInt;

use crate::number::Rational;

/// One prefix.
pub(super) struct Prefix {
    /// As in “kilometre”.
    pub(super) name: &'static str,
    /// As in `km`.
    pub(super) symbol: &'static str,
    /// Other signs for it.
    pub(super) signs: &'static [&'static str],
    /// The power of ten.
    power: i32,
}

impl Prefix {
    /// What it multiplies with.
    pub(super) fn factor(&self) -> Rational {
        let size = BigInt::from(10).pow(self.power.unsigned_abs());
        let (numerator, denominator) = if self.power < 0 {
            (BigInt::from(1), size)
        } else {
            (size, BigInt::from(1))
        };
        Rational::new(numerator, denominator).unwrap_or_else(Rational::one)
    }

    /// The power of ten that it multiplies with.
    pub(super) fn power(&self) -> i32 {
        self.power
    }

    /// What is left of a word behind this prefix.
    fn strip<'a>(&self, word: &'a str) -> Option<&'a str> {
        std::iter::once(&self.symbol)
            .chain(self.signs)
            .find_map(|sign| word.strip_prefix(sign))
            .filter(|rest| !rest.is_empty())
    }
}

const fn prefix(name: &'static str, symbol: &'static str, power: i32) -> Prefix {
    Prefix {
        name,
        symbol,
        signs: &[],
        power,
    }
}

/// Every prefix.
pub(super) const PREFIXES: [Prefix; 24] = [
    prefix("quetta", "Q", 30),
    prefix("ronna", "R", 27),
    prefix("yotta", "Y", 24),
    prefix("zetta", "Z", 21),
    prefix("exa", "E", 18),
    prefix("peta", "P", 15),
    prefix("tera", "T", 12),
    prefix("giga", "G", 9),
    prefix("mega", "M", 6),
    prefix("kilo", "k", 3),
    prefix("hecto", "h", 2),
    prefix("deca", "da", 1),
    prefix("deci", "d", -1),
    prefix("centi", "c", -2),
    prefix("milli", "m", -3),
    Prefix {
        name: "micro",
        symbol: "u",
        signs: &["\u{b5}", "\u{3bc}"],
        power: -6,
    },
    prefix("nano", "n", -9),
    prefix("pico", "p", -12),
    prefix("femto", "f", -15),
    prefix("atto", "a", -18),
    prefix("zepto", "z", -21),
    prefix("yocto", "y", -24),
    prefix("ronto", "r", -27),
    prefix("quecto", "q", -30),
];

/// The ways to take one prefix off a word: its place in the table, and the rest.
pub(super) fn split(word: &str) -> impl Iterator<Item = (usize, &str)> {
    PREFIXES
        .iter()
        .enumerate()
        .filter_map(move |(index, prefix)| Some((index, prefix.strip(word)?)))
}
