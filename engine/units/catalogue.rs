//! The unit words as a list, for help and completion. Out: one entry a unit or currency, in the
//! order of the table; prefixed words and powers are not listed one by one.

use super::table::table;

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
