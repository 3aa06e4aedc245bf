//! What an edit moved: each cell that changed, as it was and as it is, and each check that
//! flipped. What stayed is not listed.

use super::check::{Chance, CheckLine, Outcome, judge, line};
use super::difference::{By, by, numbers, told_apart};
use super::reading::Reading;
use super::section::{RowState, state};
use super::sentence::{Sentence, sentence};
use crate::check::{CellId, Type};
use crate::exact::Value;
use crate::notebook::{Edit, Moved, Notebook, Precision, Role, Shown, Tag};

/// What an edit did.
#[derive(Clone, Debug, Default)]
pub struct Rippled {
    /// Cells that are new, or set to what they were before.
    pub sentences: Vec<Sentence>,
    /// What else was defined, as in “formula bend”.
    pub defined: Option<String>,
    /// A check that is new.
    pub check: Option<CheckLine>,
    /// Cells that changed, those set first.
    pub changes: Vec<Change>,
    /// Checks whose outcome changed.
    pub flips: Vec<FlipLine>,
    /// Cells that have no value any more, and why.
    pub broken: Vec<(String, RowState)>,
}

/// A cell, or a row of a column, that changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Its name as one types it.
    pub name: String,
    /// As it was; nothing where it had no value.
    pub was: Option<Shown>,
    /// As it is.
    pub now: Shown,
    /// By how much.
    pub by: Option<By>,
}

/// A check whose outcome changed.
#[derive(Clone, Debug, PartialEq)]
pub struct FlipLine {
    /// The condition as written.
    pub condition: String,
    /// How it was.
    pub was: (Outcome, Option<Chance>),
    /// How it is.
    pub now: (Outcome, Option<Chance>),
}

/// Reads an edit out.
pub fn ripple(notebook: &Notebook, edit: &Edit) -> Rippled {
    let reading = Reading::of(notebook);
    let mut rippled = Rippled::default();
    let own = reading.cells_of(edit.statement).to_vec();
    let record = notebook.statement(edit.statement);
    for moved in &edit.ripple.moved {
        // The columns of a study are shown with it.
        if record.tag == Tag::Study && own.contains(&moved.cell) {
            continue;
        }
        let new = edit.added && own.contains(&moved.cell);
        let column = matches!(notebook.value(moved.cell), Value::Column(_));
        match (new, column) {
            (true, _) => rippled.sentences.push(sentence(notebook, moved.cell)),
            (false, true) => rippled.changes.extend(changed_rows(&reading, moved)),
            (false, false) => rippled.changes.extend(change(notebook, moved)),
        }
    }
    for flip in &edit.ripple.flipped {
        if edit.added && own.contains(&flip.cell) {
            rippled.check = line(&reading, edit.statement, flip.cell);
        } else {
            rippled
                .flips
                .extend(flipped(&reading, flip.cell, &flip.was));
        }
    }
    for cell in &edit.ripple.broken {
        let name = reading.name(*cell);
        if !name.is_empty() && notebook.cell(*cell).role != Role::Handbook {
            rippled.broken.push((name, state(&reading, *cell)));
        }
    }
    if !record.removed {
        rippled.defined = defined(notebook, edit);
        let nothing = rippled.changes.is_empty() && rippled.broken.is_empty();
        if nothing && rippled.sentences.is_empty() && record.tag == Tag::Cell {
            rippled.sentences = own.iter().map(|cell| sentence(notebook, *cell)).collect();
        }
    }
    rippled
}

fn defined(notebook: &Notebook, edit: &Edit) -> Option<String> {
    use crate::syntax::StatementKind;
    match notebook.tree(edit.statement).kind {
        StatementKind::Formula(formula) => Some(format!("formula {}", formula.name.text)),
        StatementKind::Table(table) => Some(format!("table {}", table.name.text)),
        StatementKind::Unit(unit) => {
            let names: Vec<&str> = unit.names.iter().map(|name| &*name.text).collect();
            Some(format!("unit {}", names.join(", ")))
        }
        _ => None,
    }
}

fn flipped(reading: &Reading<'_>, cell: CellId, was: &Value) -> Option<FlipLine> {
    let statement = reading.notebook.cell(cell).statement;
    let line = line(reading, statement, cell)?;
    let was = judge(was);
    let same = match (&was.0, &line.outcome) {
        (Outcome::Unknown(_), Outcome::Unknown(_)) => true,
        (a, b) => a == b,
    };
    (!same).then_some(FlipLine {
        condition: line.condition,
        was,
        now: (line.outcome, line.chance),
    })
}

/// One cell that changed; nothing where no digit of it did.
fn change(notebook: &Notebook, moved: &Moved) -> Option<Change> {
    let ty = notebook.cell(moved.cell).ty.clone();
    let now = notebook.value(moved.cell);
    compared(
        notebook,
        reading_name(notebook, moved.cell),
        (moved.was.clone(), moved.was_value.as_ref()),
        (notebook.shown(moved.cell, None), now),
        ty.as_deref(),
    )
}

fn reading_name(notebook: &Notebook, cell: CellId) -> String {
    notebook.cell(cell).name.to_string()
}

/// The rows of a column that changed.
fn changed_rows(reading: &Reading<'_>, moved: &Moved) -> Vec<Change> {
    let notebook = reading.notebook;
    let Value::Column(rows) = notebook.value(moved.cell) else {
        return Vec::new();
    };
    let ty = notebook.cell(moved.cell).ty.clone();
    let now = notebook.shown_rows(moved.cell, rows.len());
    let names = super::key::row_names(reading, moved.cell, rows.len());
    let mut changes = Vec::new();
    for (row, (now, name)) in now.into_iter().zip(names).enumerate() {
        let was_value = moved.was_value.as_ref().map(|was| was.row(row));
        if was_value.as_ref() == Some(&rows[row]) {
            continue;
        }
        let was = was_value
            .as_ref()
            .filter(|value| !matches!(value, Value::Gap | Value::Failed(_)))
            .map(|value| notebook.shown_value(value, ty.as_deref(), Precision::Table));
        let values = (was, was_value.as_ref());
        changes.extend(compared(
            notebook,
            name,
            values,
            (now, &rows[row]),
            ty.as_deref(),
        ));
    }
    changes
}

fn compared(
    notebook: &Notebook,
    name: String,
    (was, was_value): (Option<Shown>, Option<&Value>),
    (now, now_value): (Shown, &Value),
    ty: Option<&Type>,
) -> Option<Change> {
    let quantity = ty.and_then(Type::as_quantity);
    let (Some(was), Some(before), Some(quantity)) = (&was, was_value, quantity) else {
        let same = was.as_ref() == Some(&now);
        return (!same).then_some(Change {
            name,
            was,
            now,
            by: None,
        });
    };
    let numbers = numbers(notebook, quantity, (was, before), (&now, now_value));
    let (was, now) = match (was.line() == now.line(), numbers) {
        (true, Some(numbers)) => told_apart(was, &now, numbers)?,
        (true, None) => return None,
        (false, _) => (was.clone(), now),
    };
    let by = numbers.and_then(|numbers| by(notebook, quantity, numbers, (&was, &now)));
    Some(Change {
        name,
        was: Some(was),
        now,
        by,
    })
}
