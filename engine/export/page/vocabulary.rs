//! The unit words that a page reads, as data for its script: sizes, dimensions, what each counts
//! from. The registry of the notebook is asked for each word, so that the page knows no unit that
//! the program does not know.

use super::literal;
use crate::notebook::{Notebook, Tag};
use crate::number::{Factor, Number};
use crate::syntax::StatementKind;
use crate::units::{
    Base, Dimension, Family, Lookup, ROWS, Reference, Registry, Unit, prefixes, refused_words,
    words,
};
use indexmap::{IndexMap, IndexSet};

/// A reference that a unit does not say.
pub(super) const OPEN: i32 = -1;

/// The dimensions of a page by number, and the script that holds its units.
pub(super) struct Vocabulary {
    registry: Registry,
    dimensions: IndexSet<Dimension>,
    bases: Vec<Base>,
}

impl Vocabulary {
    /// The words of a notebook; `used` are the dimensions of its fields.
    pub(super) fn new(notebook: &Notebook, used: &[Dimension]) -> Vocabulary {
        let mut bases = vec![
            Base::LENGTH,
            Base::MASS,
            Base::TIME,
            Base::CURRENT,
            Base::TEMPERATURE,
            Base::AMOUNT,
            Base::ANGLE,
            Base::GAIN,
        ];
        for (base, _) in used.iter().flat_map(Dimension::exponents) {
            if !bases.contains(&base) {
                bases.push(base);
            }
        }
        Vocabulary {
            registry: notebook.registry().clone(),
            dimensions: used.iter().cloned().collect(),
            bases,
        }
    }

    /// The number of a dimension.
    pub(super) fn dimension(&mut self, dimension: &Dimension) -> usize {
        self.dimensions.insert_full(dimension.clone()).0
    }

    /// The size of a unit in coherent units.
    pub(super) fn size(&self, unit: &Unit) -> f64 {
        double(&self.registry.factor_to_base(unit))
    }

    /// What is added to a reading before it is multiplied with its size.
    pub(super) fn offset(&self, unit: &Unit) -> f64 {
        let offset = self.registry.offset(unit);
        offset.map_or(0.0, |offset| {
            Number::from_rational(offset).map_or(0.0, Number::to_f64)
        })
    }

    /// The script: words, prefixes, refused words, references, families, dimensions and their
    /// nouns.
    pub(super) fn script(mut self, own: &[String]) -> String {
        let rows = self.rows(own);
        let families = self.families();
        let mut script = String::new();
        let mut line = |name: &str, value: String| {
            script.push_str(&format!("const {name}={value};\n"));
        };
        line("words", format!("readWords({rows})"));
        line("prefixes", prefix_list());
        line("refused", refused_list());
        line("references", reference_list());
        line("families", families);
        let dimensions = self.dimensions.iter().map(|one| self.exponents(one));
        line("dimensions", literal::list(dimensions));
        let nouns = self.dimensions.iter().enumerate().map(|(number, one)| {
            let noun = literal::text(&self.registry.dimension_name(one));
            format!("[{number},{noun}]")
        });
        line("nouns", literal::list(nouns));
        line("AIR", air_list());
        line("GAUGE", (Reference::Gauge as i32).to_string());
        line("OPEN", OPEN.to_string());
        line("TIME", self.place_of(Base::TIME));
        line("CURRENT", self.place_of(Base::CURRENT));
        line("ANGLE", self.place_of(Base::ANGLE));
        script
    }

    fn place_of(&self, base: Base) -> String {
        let place = self.bases.iter().position(|one| *one == base);
        place.unwrap_or(0).to_string()
    }

    fn exponents(&self, dimension: &Dimension) -> String {
        literal::list(
            self.bases
                .iter()
                .map(|base| dimension.exponent(*base).to_string()),
        )
    }

    /// Words of one unit together: `["gal gallon gallons",size,dimension,reference,offset,flags]`.
    fn rows(&mut self, own: &[String]) -> String {
        let mut rows: IndexMap<String, Vec<String>> = IndexMap::new();
        let listed = words()
            .into_iter()
            .map(|(word, prefixed)| (word.to_owned(), prefixed));
        let own = own.iter().map(|word| (word.clone(), false));
        for (word, prefixed) in listed.chain(own) {
            // Neither a bracket inside a word nor a lowered digit is read behind a number.
            let lowered = |sign: char| crate::source::fold::subscript(sign).is_some();
            if word.contains(['(', ')', '¢']) || word.contains(lowered) {
                continue;
            }
            let Lookup::Found(unit) = self.registry.word(&word) else {
                continue;
            };
            let Some(row) = self.row(&unit) else { continue };
            let names = rows.entry(row).or_default();
            if prefixed {
                names.push(format!("+{word}"));
            }
            names.push(word);
        }
        literal::list(
            rows.into_iter()
                .map(|(row, names)| format!("[{},{row}]", literal::text(&names.join(" ")))),
        )
    }

    /// A unit as data; nothing for one whose dimension no field can have.
    fn row(&mut self, unit: &Unit) -> Option<String> {
        let dimension = self.registry.dimension(unit);
        let known = |(base, _): (Base, i16)| self.bases.contains(&base);
        if !dimension.exponents().all(known) {
            return None;
        }
        let size = literal::number(self.size(unit))?;
        let number = self.dimension(&dimension);
        let mut row = format!("{size},{number}");
        let reference = self.registry.states(unit);
        let single = self.registry.single_atom(unit).is_some();
        let offset = self.offset(unit);
        let percent = self.registry.is_percent(unit);
        let scales = reference.is_none() && single;
        let reference = reference.map_or("0".to_owned(), |one| (one as i32 + 1).to_string());
        let flags = i32::from(scales) + 2 * i32::from(percent);
        row.push_str(&format!(
            ",{reference},{},{flags}",
            literal::number(offset)?
        ));
        Some(row)
    }

    fn families(&mut self) -> String {
        let families = [
            ("pressure", Dimension::PRESSURE, Family::Pressure),
            ("flow", Dimension::FLOW, Family::Flow),
            ("volume", Dimension::VOLUME, Family::Volume),
            ("temperature", Dimension::TEMPERATURE, Family::Temperature),
            ("power", Dimension::POWER, Family::Power),
            ("sound", Dimension::GAIN, Family::Sound),
        ];
        let rows: Vec<String> = families
            .into_iter()
            .map(|(name, dimension, family)| {
                let number = self.dimension(&dimension);
                let bare = family.bare().map_or(OPEN, |reference| reference as i32);
                let air = matches!(family, Family::Flow | Family::Volume);
                format!("{{name:\"{name}\",dimension:{number},bare:{bare},air:{air}}}")
            })
            .collect();
        literal::list(rows)
    }
}

/// The unit words that a notebook and the handbook define.
pub(super) fn own_words(notebook: &Notebook) -> Vec<String> {
    let mut words = Vec::new();
    let mut add = |kind: &StatementKind| {
        if let StatementKind::Unit(unit) = kind {
            words.extend(unit.names.iter().map(|name| name.text.to_string()));
        }
    };
    let library = notebook.library();
    for entry in library.entries() {
        if entry.kind == crate::library::EntryKind::Unit {
            add(&library.statement(entry).0.kind);
        }
    }
    for (number, record) in notebook.statements().iter().enumerate() {
        if record.tag == Tag::Unit && !record.removed {
            add(&notebook
                .tree(crate::notebook::StatementId(number as u32))
                .kind);
        }
    }
    words
}

fn double(factor: &Factor) -> f64 {
    Number::ONE.scaled(factor).map_or(f64::NAN, Number::to_f64)
}

fn prefix_list() -> String {
    literal::list(prefixes().map(|(sign, power)| format!("[{},{power}]", literal::text(sign))))
}

fn refused_list() -> String {
    let rows = refused_words().into_iter().map(|(word, reads, offers)| {
        let offers = literal::text(&offers.join(" or "));
        format!(
            "[{},[{},{offers}]]",
            literal::text(word),
            literal::text(reads)
        )
    });
    format!("new Map({})", literal::list(rows))
}

fn reference_list() -> String {
    literal::list(ROWS.iter().map(|row| {
        let (word, noun) = (literal::text(row.word), literal::text(row.noun));
        format!("{{word:{word},noun:{noun}}}")
    }))
}

fn air_list() -> String {
    let air = [
        Reference::Free,
        Reference::Actual,
        Reference::Standard,
        Reference::Normal,
        Reference::Anr,
    ];
    literal::list(air.into_iter().map(|one| (one as i32).to_string()))
}
