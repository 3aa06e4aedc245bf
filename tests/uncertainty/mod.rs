//! ± beyond the published rows: the second order, the notes about a ± that is rough or only seems
//! precise, budgets, pairs of readings, and inputs shown as they were typed.

mod budget;
mod derivatives;
mod notes;
mod pairs;
mod second_order;
mod shown;

use gaugebook::check::CellId;
use gaugebook::exact::Value;
use gaugebook::library::Library;
use gaugebook::notebook::{NoFiles, Notebook};
use gaugebook::source::{Code, Diagnostic, Document, Severity};
use std::rc::Rc;

/// A notebook of these lines, which must be free of errors.
fn open(lines: &str) -> Notebook {
    let text = format!("```gaugebook\n{lines}\n```\n");
    let notebook = Notebook::open(
        "test.md",
        Document::new(text),
        &NoFiles,
        Rc::new(Library::new()),
    );
    let writing = notebook
        .statements()
        .iter()
        .flat_map(|statement| statement.diagnostics.clone());
    let working = notebook.cells().flat_map(|(id, _)| notebook.messages(id));
    let errors: Vec<String> = writing
        .chain(working)
        .filter(|one| one.severity == Severity::Error)
        .map(|one| format!("{} [{}]", one.message, one.label))
        .collect();
    assert!(errors.is_empty(), "{lines}\n{}", errors.join("\n"));
    notebook
}

fn cell(notebook: &Notebook, name: &str) -> CellId {
    notebook
        .find(name)
        .unwrap_or_else(|| panic!("no cell is called {name}"))
}

fn double(notebook: &Notebook, name: &str) -> f64 {
    notebook
        .value(cell(notebook, name))
        .number()
        .unwrap_or_else(|| panic!("{name} is no number"))
        .to_f64()
}

/// Standard uncertainty to first order.
fn standard(notebook: &Notebook, name: &str) -> f64 {
    match notebook.value(cell(notebook, name)) {
        Value::Uncertain(uncertain) => uncertain.summary(notebook.sources()).standard,
        other => panic!("{name} is {other:?}"),
    }
}

/// The messages of a cell with this code.
fn notes(notebook: &Notebook, name: &str, code: Code) -> Vec<Diagnostic> {
    let mut found = notebook.messages(cell(notebook, name));
    found.retain(|one| one.code == code);
    found
}

fn assert_close(given: f64, expected: f64, what: &str) {
    let off = (given - expected).abs();
    assert!(
        off <= 1e-9 * expected.abs().max(1e-12),
        "{what}: {given}, expected {expected}"
    );
}
