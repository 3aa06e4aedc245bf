//! What is printed pastes back: every number of a screen is a literal of the same meaning.

use super::cells;
use gaugebook::exact::Value;
use gaugebook::export::text::{self, Layout};
use gaugebook::notebook::{Notebook, Shown};
use gaugebook::report::{self, Item, RowKind};
use proptest::prelude::*;

/// The value and its standard uncertainty, in the unit it is held in.
fn worth(notebook: &Notebook, name: &str) -> (f64, f64) {
    let cell = notebook.find(name).expect("it is there");
    let value = notebook.value(cell);
    let number = value.number().expect("it is a number").to_f64();
    let standard = match value {
        Value::Uncertain(uncertain) => uncertain.summary(notebook.sources()).standard,
        _ => 0.0,
    };
    (number, standard)
}

/// The literal that a row of a table shows, with the level of its group where it has no own.
fn literal(shown: &Shown, kind: RowKind) -> String {
    let sentence = report::Sentence {
        name: None,
        shown: shown.clone(),
    };
    let text = text::sentence(&sentence, Layout::plain(100));
    let _ = kind;
    text.trim().to_owned()
}

/// Types what each row shows, and compares.
fn assert_pastes(notebook: &Notebook) -> Result<(), TestCaseError> {
    let report = report::report(notebook, report::Options::default());
    let mut lines = String::new();
    let mut names = Vec::new();
    for item in report.sections.iter().flat_map(|section| &section.items) {
        if let Item::Cell(row) = item {
            lines.push_str(&format!(
                "{} = {}\n",
                row.name,
                literal(&row.shown, row.kind)
            ));
            names.push((row.name.clone(), row.kind, row.shown.clone()));
        }
    }
    let pasted = cells(&lines);
    for (name, _, shown) in names {
        let cell = pasted.find(&name).expect("it was pasted");
        let again = pasted.shown(cell, None);
        prop_assert_eq!(again.line(), shown.line(), "{}", lines);
        prop_assert_eq!(
            notebook.unit_of(notebook.find(&name).expect("it is there")),
            pasted.unit_of(cell)
        );
        let (value, standard) = worth(notebook, &name);
        let (pasted_value, pasted_standard) = worth(&pasted, &name);
        let close = (value - pasted_value).abs() <= 0.6 * standard + value.abs() * 1e-3;
        prop_assert!(close, "{name}: {value} {pasted_value}: {lines}");
        // Two digits of ± are good to one part in twenty.
        let spread = (standard - pasted_standard).abs() <= 0.05 * standard + 1e-12;
        prop_assert!(spread, "{name}: {standard} {pasted_standard}: {lines}");
    }
    Ok(())
}

const UNITS: [&str; 14] = [
    "mm",
    "gal",
    "psi",
    "psig",
    "psia",
    "cfm free",
    "scfm",
    "kW/(100 cfm)",
    "gal/min",
    "in²",
    "kg",
    "°F",
    "per h",
    "USD",
];

fn amount() -> impl Strategy<Value = String> {
    (1u32..99999, 0u32..8).prop_map(|(digits, places)| {
        let text = format!("{digits:08}");
        let (whole, rest) = text.split_at(8 - places as usize);
        let whole = whole.trim_start_matches('0');
        let whole = if whole.is_empty() { "0" } else { whole };
        match rest {
            "" => whole.to_owned(),
            rest => format!("{whole}.{rest}"),
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn inputs_and_results_paste_back(
        value in amount(), spread in amount(), unit in 0usize..UNITS.len(),
        tag in 0usize..4, factor in amount(), negative in any::<bool>(),
    ) {
        let unit = UNITS[unit];
        let tag = ["", " (95 %)", " (k = 2)", " (95 %, dof = 7)"][tag];
        let sign = if negative && unit != "psia" { "-" } else { "" };
        let bare = match unit {
            "psig" | "psia" => "psi",
            "°F" => "°R",
            "cfm free" => "cfm",
            other => other,
        };
        let scale = match unit {
            "psig" | "°F" => format!("y = x + {factor} {bare}"),
            _ => format!("y = x * {factor}"),
        };
        let notebook = cells(&format!("x = {sign}{value} {unit} ± {spread} {bare}{tag}\n{scale}\nz = {sign}{value} {unit}\n"));
        assert_pastes(&notebook)?;
    }
}

#[test]
fn what_the_shell_answers_is_a_literal() {
    let notebook = cells("held = readings({54.6, 55.3, 55.1} s)\nx = 3 mm ± 0.5 mm\ny = x * 2");
    let shown = |name: &str| {
        let cell = notebook.find(name).expect("it is there");
        text::sentence(&report::sentence(&notebook, cell), Layout::plain(80))
    };
    // s/√3 of the readings is 0.208 s; t for two degrees of freedom is 4.303 (JCGM 100:2008, G.2).
    assert_eq!(
        shown("held"),
        "  held is 55.00 ± 0.90 s (95 %, dof = 2.0)\n"
    );
    assert_eq!(shown("y"), "  y is 6.0 ± 1.0 mm\n");
}
