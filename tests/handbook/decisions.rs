//! Notebooks that end in a decision: every cell has a value, and every check holds.

use gaugebook::exact::Value;
use gaugebook::library::Library;
use gaugebook::notebook::{NoFiles, Notebook, Role};
use gaugebook::source::{Document, Severity};
use std::rc::Rc;

/// The notebooks, by name and text.
const NOTEBOOKS: &[(&str, &str)] = &[
    (
        "two-pumps-or-one.md",
        include_str!("../../notebooks/two-pumps-or-one.md"),
    ),
    (
        "receiver-and-hose.md",
        include_str!("../../notebooks/receiver-and-hose.md"),
    ),
    (
        "hot-day-at-altitude.md",
        include_str!("../../notebooks/hot-day-at-altitude.md"),
    ),
    (
        "water-in-the-line.md",
        include_str!("../../notebooks/water-in-the-line.md"),
    ),
];

#[test]
fn decisions_come_out_without_a_warning_and_their_checks_hold() {
    let library = Rc::new(Library::new());
    let mut wrong = Vec::new();
    for (path, text) in NOTEBOOKS {
        let document = Document::new((*text).to_owned());
        let notebook = Notebook::open(path, document, &NoFiles, library.clone());
        let mut checks = 0;
        for statement in notebook.statements() {
            wrong.extend(
                statement
                    .diagnostics
                    .iter()
                    .map(|one| format!("{path}: {}", one.message)),
            );
        }
        for (id, cell) in notebook.cells() {
            for one in notebook.messages(id) {
                if one.severity != Severity::Note {
                    wrong.push(format!("{path}: {}: {}", cell.name, one.message));
                }
            }
            if cell.role == Role::Check {
                checks += 1;
                if notebook.value(id) != &Value::Switch(true) {
                    wrong.push(format!(
                        "{path}: a check does not hold: {:?}",
                        notebook.value(id)
                    ));
                }
            }
        }
        assert!(checks >= 3, "{path} ends in checks");
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
