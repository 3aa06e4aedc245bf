//! The unit words as a list, for help and completion. Out: one entry a unit or currency, in the
//! order of the table; prefixed words and powers are not listed one by one.

use super::prefix::PREFIXES;
use super::table::{Entry, table};

/// A unit or currency of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Listed {
    /// As shown.
    pub symbol: &'static str,
    /// Other words for it, joined by blanks.
    pub names: &'static str,
    /// In words: “US gallon”.
    pub name: &'static str,
    /// Whether it takes prefixes.
    pub prefixed: bool,
    /// What may be mistaken about it; empty if nothing.
    pub hint: &'static str,
}

/// Every unit and every currency.
pub fn catalogue() -> impl Iterator<Item = Listed> {
    let units = table().unit_rows().map(|row| Listed {
        symbol: row.symbol,
        names: row.names,
        name: row.name,
        prefixed: !row.prefixed.is_empty(),
        hint: row.hint,
    });
    let money = table().currency_rows().map(|row| Listed {
        symbol: row.code,
        names: row.names,
        name: row.name,
        prefixed: false,
        hint: "",
    });
    units.chain(money)
}

/// Every word of the table that is a unit, the short words for products and currencies included,
/// in the order of the alphabet; and whether it takes prefixes.
pub fn words() -> Vec<(&'static str, bool)> {
    let table = table();
    let mut words: Vec<(&'static str, bool)> = table
        .words()
        .map(|word| (word, table.find_prefixed(word).is_some()))
        .collect();
    let only_prefixed = table
        .prefixed_words()
        .filter(|word| table.find(word).is_none());
    words.extend(only_prefixed.map(|word| (word, true)));
    words.sort_unstable();
    words
}

/// Every word with several readings or none: what completes “the word is …”, and what to type
/// instead.
pub fn refused_words() -> Vec<(&'static str, &'static str, Vec<&'static str>)> {
    let table = table();
    let mut words: Vec<(&'static str, &'static str, Vec<&'static str>)> = table
        .refused_words()
        .filter_map(|word| match table.find(word) {
            Some(Entry::Refused(row)) => {
                let row = table.refused(row);
                let offers = row.offers.iter().map(|(typed, _)| *typed).collect();
                Some((word, row.reads, offers))
            }
            _ => None,
        })
        .collect();
    words.sort_unstable();
    words
}

/// The signs of the prefixes with their powers of ten, in the order in which they are tried.
pub fn prefixes() -> impl Iterator<Item = (&'static str, i32)> {
    PREFIXES.iter().flat_map(|prefix| {
        let signs = std::iter::once(prefix.symbol).chain(prefix.signs.iter().copied());
        signs.map(|sign| (sign, prefix.power()))
    })
}
