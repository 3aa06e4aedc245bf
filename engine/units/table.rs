//! The unit words as data: four embedded files and one index of every word in them. In: a word;
//! out: where it stands. A row is cut into its fields only when it is asked for, so that starting
//! the program costs one pass over the words.

use std::sync::OnceLock;

use rustc_hash::FxHashMap;

use super::reference::Reference;

const UNITS: &str = include_str!("units.csv");
const WORDS: &str = include_str!("words.csv");
const REFUSED: &str = include_str!("refused.csv");
const CURRENCIES: &str = include_str!("currencies.csv");

/// The names of a hundredth of the notebook's currency.
pub(super) const CENT: [&str; 4] = ["cent", "cents", "c", "¢"];

/// Words to make room for: as many as fit without growing.
const MOST_WORDS: usize = 800;

/// Where a word stands.
#[derive(Clone, Copy, Debug)]
pub(super) enum Entry {
    /// A unit, by its row.
    Unit(u16),
    /// A short way to write a product, by its row.
    Product(u16),
    /// A word with several readings or none, by its row.
    Refused(u16),
    /// A currency, by its row.
    Currency(u16),
    /// A hundredth of the notebook's currency.
    Cent,
}

/// The fields of a unit's row, as written.
#[derive(Clone, Copy, Debug)]
pub(super) struct UnitRow {
    pub(super) symbol: &'static str,
    pub(super) names: &'static str,
    pub(super) name: &'static str,
    pub(super) plural: &'static str,
    pub(super) dimension: &'static str,
    pub(super) factor: &'static str,
    pub(super) pi: &'static str,
    pub(super) offset: &'static str,
    pub(super) prefixed: &'static str,
    pub(super) reference: &'static str,
    pub(super) bare: &'static str,
    pub(super) same: &'static str,
    pub(super) spelled: &'static str,
    pub(super) hint: &'static str,
}

/// The fields of a currency's row, as written.
#[derive(Clone, Copy, Debug)]
pub(super) struct CurrencyRow {
    pub(super) code: &'static str,
    pub(super) names: &'static str,
    pub(super) name: &'static str,
    pub(super) plural: &'static str,
    pub(super) sign: &'static str,
}

/// The fields of a refused word's row.
#[derive(Clone, Debug)]
pub(super) struct RefusedRow {
    /// What completes “the word is …”.
    pub(super) reads: &'static str,
    /// What to type instead, and what that is.
    pub(super) offers: Vec<(&'static str, &'static str)>,
}

/// The four files, cut into lines, and every word of them.
pub(super) struct Table {
    units: Vec<&'static str>,
    products: Vec<&'static str>,
    refused: Vec<&'static str>,
    currencies: Vec<&'static str>,
    entries: FxHashMap<&'static str, Entry>,
    prefixed: FxHashMap<&'static str, u16>,
}

/// The one table, indexed when it is first used.
pub(super) fn table() -> &'static Table {
    static TABLE: OnceLock<Table> = OnceLock::new();
    TABLE.get_or_init(Table::index)
}

/// The rows of a file: no comments, no head.
fn rows(text: &'static str) -> impl Iterator<Item = &'static str> {
    text.lines().filter(|line| !line.starts_with('#')).skip(1)
}

/// A row cut into its fields; what is missing at its end is empty.
fn fields<const N: usize>(line: &'static str) -> [&'static str; N] {
    let mut cut = line.split(';');
    std::array::from_fn(|_| cut.next().unwrap_or(""))
}

impl Table {
    fn index() -> Table {
        let mut table = Table {
            units: rows(UNITS).collect(),
            products: rows(WORDS).collect(),
            refused: rows(REFUSED).collect(),
            currencies: rows(CURRENCIES).collect(),
            entries: FxHashMap::default(),
            prefixed: FxHashMap::default(),
        };
        table.entries.reserve(MOST_WORDS);
        for row in 0..table.units.len() as u16 {
            let [symbol, names, prefixed] = fields(table.units[row as usize]);
            table.insert(symbol, names, Entry::Unit(row));
            for name in prefixed.split(' ').filter(|name| !name.is_empty()) {
                table.prefixed.insert(name, row);
            }
        }
        for row in 0..table.currencies.len() as u16 {
            let [code, names] = fields(table.currencies[row as usize]);
            table.insert(code, names, Entry::Currency(row));
        }
        for row in 0..table.refused.len() as u16 {
            let [names] = fields(table.refused[row as usize]);
            table.insert("", names, Entry::Refused(row));
        }
        for row in 0..table.products.len() as u16 {
            let [names] = fields(table.products[row as usize]);
            table.insert("", names, Entry::Product(row));
        }
        for name in CENT {
            table.entries.insert(name, Entry::Cent);
        }
        table
    }

    fn insert(&mut self, symbol: &'static str, names: &'static str, entry: Entry) {
        for name in std::iter::once(symbol).chain(names.split(' ')) {
            if !name.is_empty() {
                self.entries.insert(name, entry);
            }
        }
    }

    /// Where a word stands, letter for letter.
    pub(super) fn find(&self, word: &str) -> Option<Entry> {
        self.entries.get(word).copied()
    }

    /// The row of a word that takes a prefix.
    pub(super) fn find_prefixed(&self, word: &str) -> Option<u16> {
        self.prefixed.get(word).copied()
    }

    /// Every word that is a unit, a product or money.
    pub(super) fn words(&self) -> impl Iterator<Item = &'static str> + '_ {
        self.entries
            .iter()
            .filter(|(_, entry)| !matches!(entry, Entry::Refused(_)))
            .map(|(word, _)| *word)
    }

    /// Every word that has several readings or none.
    pub(super) fn refused_words(&self) -> impl Iterator<Item = &'static str> + '_ {
        self.entries
            .iter()
            .filter(|(_, entry)| matches!(entry, Entry::Refused(_)))
            .map(|(word, _)| *word)
    }

    /// Every word that takes a prefix.
    pub(super) fn prefixed_words(&self) -> impl Iterator<Item = &'static str> + '_ {
        self.prefixed.keys().copied()
    }

    /// Every row of a unit, in the order of the file.
    pub(super) fn unit_rows(&self) -> impl Iterator<Item = UnitRow> + '_ {
        self.units.iter().copied().map(cut_unit)
    }

    /// Every row of a currency, in the order of the file.
    pub(super) fn currency_rows(&self) -> impl Iterator<Item = CurrencyRow> + '_ {
        self.currencies.iter().copied().map(cut_currency)
    }

    /// The row of a unit.
    pub(super) fn unit(&self, row: u16) -> UnitRow {
        cut_unit(self.units.get(row as usize).copied().unwrap_or(""))
    }

    /// The product that a word stands for.
    pub(super) fn product(&self, row: u16) -> &'static str {
        let [_, unit] = fields(self.products.get(row as usize).copied().unwrap_or(""));
        unit
    }

    /// The row of a currency.
    pub(super) fn currency(&self, row: u16) -> CurrencyRow {
        cut_currency(self.currencies.get(row as usize).copied().unwrap_or(""))
    }

    /// The row of a refused word.
    pub(super) fn refused(&self, row: u16) -> RefusedRow {
        let line = self.refused.get(row as usize).copied().unwrap_or("");
        let [_, reads, offers] = fields(line);
        RefusedRow {
            reads,
            offers: offers
                .split('|')
                .filter_map(|offer| offer.split_once('='))
                .collect(),
        }
    }

    /// The word for `bare` with a reference, of the same size: `psi` and gauge make `psig`.
    pub(super) fn counterpart(&self, bare: &str, reference: Reference) -> Option<&'static str> {
        static COUNTERPARTS: OnceLock<Vec<(&str, Reference, &str)>> = OnceLock::new();
        COUNTERPARTS
            .get_or_init(|| {
                let same = self.units.iter().filter(|line| line.contains(";yes;"));
                same.map(|line| cut_unit(line))
                    .filter(|row| row.same == "yes")
                    .filter_map(|row| Some((row.bare, reference_named(row.reference)?, row.symbol)))
                    .collect()
            })
            .iter()
            .find(|(own, stated, _)| *own == bare && *stated == reference)
            .map(|(_, _, symbol)| *symbol)
    }
}

fn cut_unit(line: &'static str) -> UnitRow {
    let [
        symbol,
        names,
        prefixed,
        name,
        plural,
        dimension,
        factor,
        pi,
        offset,
        reference,
        bare,
        same,
        spelled,
        hint,
    ] = fields(line);
    UnitRow {
        symbol,
        names,
        name,
        plural,
        dimension,
        factor,
        pi,
        offset,
        prefixed,
        reference,
        bare,
        same,
        spelled,
        hint,
    }
}

fn cut_currency(line: &'static str) -> CurrencyRow {
    let [code, names, name, plural, sign] = fields(line);
    CurrencyRow {
        code,
        names,
        name,
        plural,
        sign,
    }
}

/// The reference that the table means by a word.
pub(super) fn reference_named(word: &str) -> Option<Reference> {
    [
        ("difference", Reference::Difference),
        ("gauge", Reference::Gauge),
        ("absolute", Reference::Absolute),
        ("thermometer", Reference::Thermometer),
        ("interval", Reference::Interval),
        ("free", Reference::Free),
        ("actual", Reference::Actual),
        ("standard", Reference::Standard),
        ("normal", Reference::Normal),
        ("sound pressure", Reference::SoundPressure),
        ("sound A", Reference::SoundA),
        ("sound C", Reference::SoundC),
        ("sound power", Reference::SoundPower),
        ("gain", Reference::Gain),
        ("apparent", Reference::Apparent),
        ("reactive", Reference::Reactive),
        ("points", Reference::Points),
    ]
    .into_iter()
    .find(|(name, _)| *name == word)
    .map(|(_, reference)| reference)
}
