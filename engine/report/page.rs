//! One cell with everything there is to show of it: every digit, what it rests on, who uses it.

use super::figure::{Uncertainty, figure};
use super::reading::Reading;
use super::section::{RowState, state};
use crate::check::CellId;
use crate::notebook::{Notebook, Precision, Role, Shown};

/// One cell in full.
#[derive(Clone, Debug)]
pub struct Page {
    /// Its name.
    pub name: String,
    /// Whether it has a value.
    pub state: RowState,
    /// Its value with all its digits; the state word where it has none.
    pub value: Shown,
    /// Its uncertainty, all four figures; nothing for an exact value.
    pub uncertainty: Option<Uncertainty>,
    /// The statement as written.
    pub source: String,
    /// The line of the document it stands in.
    pub line: Option<usize>,
    /// The cells it reads, in the order met.
    pub rests_on: Vec<String>,
    /// The cells that read it; a check is named by its condition.
    pub used_by: Vec<String>,
}

/// One cell in full.
pub fn page(notebook: &Notebook, cell: CellId) -> Page {
    let reading = Reading::of(notebook);
    let record = notebook.cell(cell);
    let state = state(&reading, cell);
    let value = match state.word() {
        Some(word) => Shown::word(word),
        None => notebook.shown_with(cell, None, Precision::Full),
    };
    let typed = (record.role == Role::Given).then(|| notebook.shown(cell, None));
    let full = figure(
        notebook,
        notebook.value(cell),
        record.ty.as_deref(),
        typed.as_ref(),
    );
    let uncertainty = match full {
        super::Figure::Number { uncertainty, .. } => uncertainty,
        _ => None,
    };
    let mut rests_on: Vec<String> = record.uses.iter().map(|one| reading.name(*one)).collect();
    rests_on.dedup();
    let mut used_by: Vec<String> = record
        .used_by
        .iter()
        .filter(|reader| notebook.cell(**reader).role != Role::Handbook)
        .map(|reader| match notebook.cell(*reader).role {
            Role::Check => check_name(notebook, *reader),
            _ => reading.name(*reader),
        })
        .collect();
    used_by.sort_by_key(|name| name.starts_with("check "));
    Page {
        name: record.name.to_string(),
        state,
        value,
        uncertainty,
        source: notebook.source_of(record.statement).to_owned(),
        line: reading.line(record.statement),
        rests_on,
        used_by,
    }
}

fn check_name(notebook: &Notebook, cell: CellId) -> String {
    let statement = notebook.cell(cell).statement;
    let tree = notebook.tree(statement);
    match &tree.kind {
        crate::syntax::StatementKind::Check(check) => {
            let text = check.condition.span.of(notebook.text_of(statement));
            let words: Vec<&str> = text.split_whitespace().collect();
            format!("check {}", words.join(" "))
        }
        _ => "a check".to_owned(),
    }
}
