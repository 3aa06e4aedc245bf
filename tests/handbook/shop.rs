//! What the chapters on blasting, electric, costs and safety promise beyond their rows: refusals
//! before any figure, words at the edges, money of the notebook's own, and notebooks that come out
//! as their last paragraphs say.

use gaugebook::library::{CHAPTERS, EntryKind, Library};
use gaugebook::notebook::{NoFiles, Notebook, Role};
use gaugebook::source::{Document, Severity};
use gaugebook::syntax::Clause;
use std::rc::Rc;

fn open(text: &str) -> Notebook {
    Notebook::open(
        "shop.md",
        Document::new(text.to_owned()),
        &NoFiles,
        Rc::new(Library::new()),
    )
}

/// What the cell `x` shows, and what is said about it.
fn said(lines: &str) -> (String, Vec<String>) {
    let notebook = open(&format!("```gaugebook\n{lines}\n```\n"));
    let id = notebook.find("x").expect("a cell called x");
    let messages = notebook.messages(id);
    (
        notebook.shown(id, None).line(),
        messages.into_iter().map(|one| one.message).collect(),
    )
}

#[test]
fn silica_sand_gets_no_figure() {
    for line in [
        "x = bulk_density(\"silica sand\")",
        "x = media_cost(\"silica sand\", 20 lb, 0.05 USD/lb)",
    ] {
        let (shown, messages) = said(line);
        assert_eq!(shown, "failed", "{line}");
        assert_eq!(
            messages,
            ["silica sand is not worked out here: its dust scars the lungs, choose another medium"],
            "{line}"
        );
    }
}

#[test]
fn edges_have_words() {
    for (line, words) in [
        (
            "x = payback(900 USD, 0 USD/yr365)",
            "nothing is saved: it never pays for itself",
        ),
        (
            "x = swap_break_even(40 USD, 5 min, 6 min, 30 USD/h)",
            "the other medium is no faster: a swap never pays",
        ),
        (
            "x = blast_time(30 min, 20 psig)",
            "the rule is meant for about 70 to 110 psig",
        ),
        (
            "x = dwell_time(3 in, 0 in/s)",
            "a gun that stands still digs a hole",
        ),
        ("x = osha_twa(0 %)", "no dose has no level"),
        (
            "x = clear_time(16 ft3, 0 cfm)",
            "nothing is drawn off: it never clears",
        ),
        (
            "x = price_for_margin(10 USD, 120 %)",
            "a margin of 100 % would need a part that costs nothing",
        ),
    ] {
        let (shown, messages) = said(line);
        assert_eq!(
            (shown.as_str(), messages),
            ("failed", vec![words.to_owned()]),
            "{line}"
        );
    }
}

#[test]
fn a_vessel_above_its_plate_is_warned_about() {
    let (_, messages) = said("x = plate_share(180 psig, 150 psig)");
    assert_eq!(messages.len(), 1);
    assert!(
        messages[0].starts_with("this is above the plate"),
        "{messages:?}"
    );
}

#[test]
fn what_can_hurt_has_a_caution() {
    let library = Library::new();
    let circuits = [
        "table_current",
        "circuit_load",
        "conductor_current",
        "voltage_drop",
    ];
    let formulas = library
        .entries()
        .iter()
        .filter(|entry| entry.kind == EntryKind::Formula)
        .filter(|entry| {
            CHAPTERS[entry.chapter].topic() == "safety" || circuits.contains(&entry.name)
        });
    let silent: Vec<&str> = formulas
        .filter(|entry| {
            let formula = library.formula(entry.name).expect("it is in the list");
            let mut clauses = formula.tree.clauses.iter();
            !clauses.any(|clause| matches!(clause, Clause::Caution { when: None, .. }))
        })
        .map(|entry| entry.name)
        .collect();
    assert!(silent.is_empty(), "without a caution: {silent:?}");
}

#[test]
fn money_is_the_notebooks_own() {
    let (shown, messages) =
        said("default currency = \"CAD\"\nx = swap_cost(10 min, $ 36/h, 2 lb, $ 0.90/lb)");
    assert_eq!((shown.as_str(), messages.len()), ("15.60 CAD", 0));
}

#[test]
fn a_parameter_says_what_a_bare_pressure_is() {
    let (_, messages) = said("x = most_starts(60 gal, 10 cfm free, 30 psi)");
    assert!(messages.is_empty(), "{messages:?}");
}

/// The notebooks of these chapters, with what their checks come to, in order.
const NOTEBOOKS: [(&str, &str, &[bool]); 4] = [
    (
        "can-this-circuit-run-it.md",
        include_str!("../../notebooks/can-this-circuit-run-it.md"),
        &[true; 7],
    ),
    (
        "what-a-part-costs.md",
        include_str!("../../notebooks/what-a-part-costs.md"),
        &[true; 3],
    ),
    (
        "noise-and-dust-day-sheet.md",
        include_str!("../../notebooks/noise-and-dust-day-sheet.md"),
        &[true, false, false, false, true, true, true, false, false],
    ),
    (
        "a-second-batch.md",
        include_str!("../../notebooks/a-second-batch.md"),
        &[false, true, true, false],
    ),
];

#[test]
fn notebooks_come_out_as_they_say() {
    for (name, text, expected) in NOTEBOOKS {
        let notebook = open(text);
        let mut found: Vec<String> = notebook
            .statements()
            .iter()
            .flat_map(|statement| &statement.diagnostics)
            .map(|one| one.message.clone())
            .collect();
        let mut checks = Vec::new();
        for (id, cell) in notebook.cells() {
            let wrong = notebook
                .messages(id)
                .into_iter()
                .filter(|one| one.severity != Severity::Note);
            found.extend(wrong.map(|one| one.message));
            if cell.role == Role::Check {
                checks.push(notebook.shown(id, None).line());
            }
        }
        assert!(found.is_empty(), "{name}: {found:?}");
        let expected: Vec<String> = expected.iter().map(bool::to_string).collect();
        assert_eq!(checks, expected, "{name}");
    }
}
