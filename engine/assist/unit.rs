//! A unit as its help shows it: what it is, how large, what it may count from, and how one gets
//! from one to the other.

use crate::library::EntryKind;
use crate::notebook::{Notebook, Precision, ShownKind};
use crate::syntax::StatementKind;
use crate::units::{Family, Lookup, Reference, Unit};

/// A unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitHelp {
    /// As shown.
    pub symbol: String,
    /// In words, for one: “US gallon”.
    pub name: String,
    /// What kind of amount it is: “a pressure”.
    pub kind: String,
    /// How large it is: “1 psi is 6.895 kPa”.
    pub size: Option<String>,
    /// The ways in which it is typed, and what each counts from.
    pub lines: Vec<UnitLine>,
    /// The functions that lead from one to the other.
    pub cross_over: Vec<&'static str>,
    /// What may be mistaken about it.
    pub hint: Option<String>,
}

/// A way to type a unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnitLine {
    /// As typed.
    pub symbol: String,
    /// What it means.
    pub meaning: String,
}

/// Units that others are compared with, metric beside customary.
const COMPARED: &[[&str; 2]] = &[
    ["kPa", "psi"],
    ["mm", "in"],
    ["mm2", "in2"],
    ["L", "gal"],
    ["kg", "lb"],
    ["min", "s"],
    ["L/min", "cfm"],
    ["m/s", "ft/s"],
    ["N", "lbf"],
    ["kJ", "kWh"],
    ["kW", "hp"],
    ["N m torque", "lbf ft torque"],
    ["kg/m3", "lb/ft3"],
    ["K", "°R"],
];

/// The help of a word that is a unit.
pub(super) fn page(notebook: &Notebook, word: &str) -> Option<UnitHelp> {
    let Lookup::Found(unit) = notebook.unit_word(word) else {
        return None;
    };
    let (symbol, bare, name, kind, hint, family) = {
        let registry = notebook.registry();
        let atom = registry.single_atom(&unit);
        let bare = registry.bare(&unit);
        let name = atom.map_or_else(|| registry.spoken(&unit), |atom| atom.name.to_string());
        let dimension = registry.dimension(&unit);
        let kind = match dimension.is_plain() {
            true => "a plain number".to_owned(),
            false => registry.dimension_name(&dimension),
        };
        let hint = atom.and_then(|atom| atom.hint).map(str::to_owned);
        let family = registry.carried_family(&unit);
        (registry.show(&unit, None), bare, name, kind, hint, family)
    };
    let base = notebook.registry().show(&bare, None);
    Some(UnitHelp {
        size: size(notebook, &base),
        lines: lines(notebook, &unit, &bare, family),
        cross_over: family.map_or_else(Vec::new, cross_over),
        symbol,
        name,
        kind,
        hint,
    })
}

/// “1 bar is 100 kPa or 14.5 psi”
fn size(notebook: &Notebook, symbol: &str) -> Option<String> {
    for pair in COMPARED {
        let others: Vec<String> = pair
            .iter()
            .filter_map(|target| {
                let shown = worth(notebook, &format!("1 {symbol} [{target}]"), 4)?;
                (shown != format!("1 {symbol}")).then_some(shown)
            })
            .collect();
        if !others.is_empty() {
            return Some(format!("1 {symbol} is {}", others.join(" or ")));
        }
    }
    None
}

fn worth(notebook: &Notebook, expression: &str, digits: u32) -> Option<String> {
    let worked = notebook.work_expression(0, expression).ok()?;
    let ty = Some(&worked.typed.ty);
    let shown = notebook.shown_value(&worked.value, ty, Precision::Digits(digits));
    (shown.kind == ShownKind::Number).then(|| shown.line())
}

/// The air outside in the absolute form of a unit: this notebook's, or the handbook's.
fn outside(notebook: &Notebook, bare: &Unit) -> Option<String> {
    let set = notebook.find("atmosphere").map(|cell| {
        let shown = notebook.shown(cell, None);
        format!("{} {}", shown.value, shown.unit)
    });
    let library = notebook.library();
    let default = || {
        let entry = library.entry(EntryKind::Default, "atmosphere")?;
        let (statement, text) = library.statement(entry);
        match statement.kind {
            StatementKind::Default(cell) => Some(cell.value.span.of(text).to_owned()),
            _ => None,
        }
    };
    let atmosphere = set.or_else(default)?;
    let absolute = notebook.registry().show(bare, Some(Reference::Absolute));
    worth(notebook, &format!("({atmosphere}) [{absolute}]"), 5)
}

/// The references that a unit of a family may state, in the order told.
fn references(family: Family) -> Vec<Reference> {
    use Reference::*;
    match family {
        Family::Pressure => vec![Difference, Gauge, Absolute],
        Family::Volume => vec![Room, Free, Actual, Standard, Normal, Anr],
        Family::Flow => vec![Free, Actual, Standard, Normal, Anr],
        Family::Power | Family::Ratio | Family::Sound | Family::Temperature => Vec::new(),
    }
}

fn lines(notebook: &Notebook, unit: &Unit, bare: &Unit, family: Option<Family>) -> Vec<UnitLine> {
    let mut lines = Vec::new();
    let Some(family) = family else { return lines };
    if family == Family::Flow {
        lines.push(UnitLine {
            symbol: notebook.registry().show(bare, None),
            meaning: "a flow that does not say of which air: it takes the one it meets".to_owned(),
        });
    }
    for reference in references(family) {
        let row = reference.row();
        let symbol = notebook.registry().show(bare, Some(reference));
        let mut meaning = format!("{}, {}", row.noun, row.counts);
        if reference == Reference::Gauge
            && let Some(outside) = outside(notebook, bare)
        {
            meaning.push_str(&format!("; 0 {symbol} is {outside}"));
        }
        lines.push(UnitLine { symbol, meaning });
    }
    if lines.is_empty() {
        lines.extend(scale_lines(notebook, unit, family));
    }
    lines
}

/// Temperatures, levels and powers: what the unit itself says.
fn scale_lines(notebook: &Notebook, unit: &Unit, family: Family) -> Vec<UnitLine> {
    let symbol = notebook.registry().show(unit, None);
    let stated = notebook.registry().states(unit);
    let line = |meaning: String| UnitLine {
        symbol: symbol.clone(),
        meaning,
    };
    match (family, stated) {
        (Family::Temperature, None) => vec![line(
            "a temperature counted from absolute zero, or a difference of two".to_owned(),
        )],
        (Family::Temperature, Some(reference)) => {
            let row = reference.row();
            let degrees = notebook
                .registry()
                .show(&notebook.registry().bare(unit), None);
            vec![
                line(format!("{}, {}", row.noun, row.counts)),
                UnitLine {
                    symbol: degrees,
                    meaning: "the difference of two such readings".to_owned(),
                },
            ]
        }
        (_, stated) => stated
            .or(family.bare())
            .map(|reference| {
                line(format!(
                    "{}, {}",
                    reference.row().noun,
                    reference.row().counts
                ))
            })
            .into_iter()
            .collect(),
    }
}

fn cross_over(family: Family) -> Vec<&'static str> {
    match family {
        Family::Pressure => vec!["absolute", "gauge", "overpressure"],
        Family::Temperature => vec!["absolute", "thermometer"],
        Family::Flow | Family::Volume => {
            vec![
                "free_air",
                "standard_air",
                "normal_air",
                "anr_air",
                "actual_air",
            ]
        }
        Family::Sound => vec!["combined_level", "mean_level"],
        Family::Power | Family::Ratio => Vec::new(),
    }
}
