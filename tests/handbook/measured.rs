//! Notebooks about measuring: no message beyond a note, checks as their last paragraphs say, and
//! the figures that these name.

use gaugebook::exact::Value;
use gaugebook::library::Library;
use gaugebook::notebook::{NoFiles, Notebook, Role};
use gaugebook::source::{Document, Severity};
use std::rc::Rc;

/// How a check comes out.
#[derive(Debug, PartialEq)]
pub(super) enum Outcome {
    Holds,
    Fails,
    /// Neither at 95 %.
    Open,
}

fn outcome(value: &Value) -> Outcome {
    match value {
        Value::Switch(true) => Outcome::Holds,
        Value::Doubtful(doubt) if doubt.low >= 0.95 => Outcome::Holds,
        Value::Doubtful(doubt) if doubt.high > 0.05 => Outcome::Open,
        _ => Outcome::Fails,
    }
}

pub(super) fn hold(path: &str, text: &str, outcomes: &[Outcome], figures: &[(&str, &str)]) {
    let notebook = Notebook::open(
        path,
        Document::new(text.to_owned()),
        &NoFiles,
        Rc::new(Library::new()),
    );
    for statement in notebook.statements() {
        assert!(
            statement.diagnostics.is_empty(),
            "{path}: {:?}",
            statement.diagnostics
        );
    }
    for (id, cell) in notebook.cells() {
        for one in notebook.messages(id) {
            assert_eq!(
                one.severity,
                Severity::Note,
                "{path}: {}: {}",
                cell.name,
                one.message
            );
        }
    }
    let found: Vec<Outcome> = notebook
        .cells()
        .filter(|(_, cell)| cell.role == Role::Check)
        .map(|(id, _)| outcome(notebook.value(id)))
        .collect();
    assert_eq!(found, outcomes, "{path}");
    for (name, shown) in figures {
        let id = notebook.find(name).expect("the cell is there");
        assert_eq!(notebook.shown(id, None).line(), *shown, "{path}: {name}");
    }
}

#[test]
fn a_gun_by_bleed_down() {
    use Outcome::Holds;
    hold(
        "measure-a-gun.md",
        include_str!("../../notebooks/measure-a-gun.md"),
        &[Holds, Holds, Holds, Holds, Holds],
        &[
            ("gun", "12.52 ± 0.23 cfm free (95 %)"),
            ("draw", "12.52 ± 0.38 cfm free (95 %)"),
            ("of_the_zero", "0"),
            ("calm", "54.3 ± 3.1 psig (95 %)"),
        ],
    );
}

#[test]
fn a_pump_against_its_plate() {
    use Outcome::{Fails, Holds, Open};
    hold(
        "measure-a-pump.md",
        include_str!("../../notebooks/measure-a-pump.md"),
        &[Fails, Open, Holds],
        &[
            ("measured", "13.12 ± 0.59 scfm (95 %)"),
            ("of_plate", "77.2 % ± 3.4 pp (95 %)"),
            ("of_plate_there", "91.5 % ± 4.4 pp (95 %)"),
        ],
    );
}

#[test]
fn a_claim_against_repeated_tests() {
    use Outcome::{Fails, Holds};
    hold(
        "a-vendors-claim.md",
        include_str!("../../notebooks/a-vendors-claim.md"),
        &[Fails, Holds],
        &[
            ("output", "12.92 ± 0.21 cfm free (95 %)"),
            ("enough", "6"),
            ("score", "-2.942"),
        ],
    );
}

#[test]
fn a_gun_and_a_pump_on_one_tank() {
    use Outcome::{Holds, Open};
    hold(
        "same-tank-same-dial.md",
        include_str!("../../notebooks/same-tank-same-dial.md"),
        &[Holds, Holds, Open],
        &[
            ("gun", "9.53 ± 0.14 cfm free (95 %)"),
            ("load", "73.76 % ± 0.32 pp (95 %, dof = 9.2)"),
            ("still_the_tank", "0"),
            ("still_the_dial", "0"),
        ],
    );
}
