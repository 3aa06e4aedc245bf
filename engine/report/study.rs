//! Sweeps and plots as tables and curves: columns with what they hold, in the unit shown.

use super::reading::Reading;
use super::section::state;
use super::{RowState, Shown};
use crate::check::{CellId, Type};
use crate::exact::Value;
use crate::notebook::{Notebook, Precision, StudyKind};
use crate::number::Number;

/// A study.
#[derive(Clone, Debug)]
pub struct StudyTable {
    /// Its cell.
    pub cell: CellId,
    /// Its statement, on one line.
    pub statement: String,
    /// What it is.
    pub kind: StudyKind,
    /// Its name, if it has one.
    pub name: Option<String>,
    /// The line of the document it stands in.
    pub line: Option<usize>,
    /// Whether it has values.
    pub state: RowState,
    /// How many of its columns are axes; they come first.
    pub axes: usize,
    /// Its columns.
    pub columns: Vec<StudyColumn>,
}

/// A column of a study.
#[derive(Clone, Debug)]
pub struct StudyColumn {
    /// What is in it, as written.
    pub label: String,
    /// The unit as shown; empty for texts, switches and plain numbers.
    pub unit: String,
    /// Its values as shown.
    pub rows: Vec<Shown>,
    /// Value and expanded uncertainty in the unit shown, for curves; nothing for what is no number.
    pub points: Vec<Option<(f64, f64)>>,
}

/// The sweeps and plots of the notebook itself, in its order.
pub fn studies(notebook: &Notebook) -> Vec<StudyTable> {
    let reading = Reading::of(notebook);
    let all = notebook.studies();
    let own = all.into_iter().filter(|(cell, study)| {
        let tables = matches!(study.kind, StudyKind::Sweep(_) | StudyKind::Plot);
        tables && notebook.cell(*cell).part == 0
    });
    own.map(|(cell, study)| {
        let statement = notebook.cell(cell).statement;
        let source = notebook.source_of(statement);
        let words: Vec<&str> = source.split_whitespace().collect();
        let values = notebook.study_columns(cell).unwrap_or_default();
        let columns = study.labels.iter().enumerate().map(|(number, label)| {
            let rows = values.get(number).map(|rows| &**rows).unwrap_or_default();
            column(notebook, label, study.types.get(number), rows)
        });
        StudyTable {
            cell,
            statement: words.join(" "),
            kind: study.kind,
            name: study.name.as_deref().map(str::to_owned),
            line: reading.line(statement),
            state: match values.is_empty() {
                true if state(&reading, cell) == RowState::Ok => RowState::Failed,
                _ => state(&reading, cell),
            },
            axes: study.axes(),
            columns: columns.collect(),
        }
    })
    .collect()
}

fn column(notebook: &Notebook, label: &str, ty: Option<&Type>, values: &[Value]) -> StudyColumn {
    let rows: Vec<Shown> = values
        .iter()
        .map(|value| notebook.shown_value(value, ty, Precision::Table))
        .collect();
    let factor = ty
        .and_then(Type::as_quantity)
        .map(|quantity| notebook.display_unit(quantity).1);
    let by = factor
        .and_then(|factor| Number::ONE.scaled(&factor).ok())
        .map_or(1.0, Number::to_f64);
    let points = values.iter().map(|value| {
        let number = value.number()?.to_f64() * by;
        let expanded = match value {
            Value::Uncertain(uncertain) => {
                uncertain.summary(notebook.sources()).expanded * by.abs()
            }
            _ => 0.0,
        };
        Some((number, expanded))
    });
    let unit = rows
        .iter()
        .map(|row| row.unit.as_str())
        .find(|unit| !unit.is_empty());
    StudyColumn {
        label: label.split_whitespace().collect::<Vec<_>>().join(" "),
        unit: unit.unwrap_or_default().to_owned(),
        points: points.collect(),
        rows,
    }
}
