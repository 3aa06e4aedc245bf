//! Studies: sweeps and plots as tables and curves, with the checks that turn on an axis; budgets
//! and trials of one cell.

use super::check::{Chance, Outcome, judge};
use super::figure::{Figure, figure};
use super::reading::Reading;
use super::section::state;
use super::{RowState, Shown};
use crate::check::{CellId, Type};
use crate::exact::Value;
use crate::notebook::{Notebook, Precision, StatementId, StudyKind};
use crate::number::Number;
use crate::study::{Budget, NoBudget, SEED, Spread, SpreadTrouble, spread};
use crate::syntax::{self, StatementKind};

/// What a study came to.
#[derive(Clone, Debug)]
pub enum Study {
    /// A sweep or a plot.
    Points(Box<StudyTable>),
    /// What makes up the ± of a cell.
    Budget(Box<OfCell<Budget, NoBudget>>),
    /// Trials of a cell.
    Spread(Box<OfCell<Spread, SpreadTrouble>>),
}

/// A study of one cell.
#[derive(Clone, Debug)]
pub struct OfCell<T, E> {
    /// The cell's name.
    pub name: String,
    /// What it came to, or why there is nothing.
    pub outcome: Result<T, E>,
}

/// The budget of a cell.
pub fn budget_of(notebook: &Notebook, cell: CellId) -> Study {
    Study::Budget(Box::new(OfCell {
        name: notebook.cell(cell).name.to_string(),
        outcome: notebook.budget(cell, None),
    }))
}

/// Trials of a cell.
pub fn spread_of(notebook: &Notebook, cell: CellId) -> Study {
    Study::Spread(Box::new(OfCell {
        name: notebook.cell(cell).name.to_string(),
        outcome: spread(notebook, cell, SEED),
    }))
}

/// The study that a statement is; nothing for any other statement.
pub fn study_of(notebook: &Notebook, id: StatementId) -> Option<Study> {
    study(&Reading::of(notebook), id)
}

pub(super) fn study(reading: &Reading<'_>, id: StatementId) -> Option<Study> {
    let notebook = reading.notebook;
    let cell = *reading.cells_of(id).first()?;
    let kind = notebook.study(cell)?.kind;
    match kind {
        StudyKind::Sweep(_) | StudyKind::Plot => {
            Some(Study::Points(Box::new(table(reading, cell)?)))
        }
        StudyKind::Budget => Some(budget_of(notebook, notebook.study_subject(cell)?)),
        StudyKind::Spread => Some(spread_of(notebook, notebook.study_subject(cell)?)),
    }
}

/// A sweep or a plot.
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
    /// The checks that turn on an axis, where it is a sweep.
    pub checks: Vec<StudyCheck>,
    /// How many rows there are, where they are too many to be kept.
    pub too_long: Option<usize>,
    /// For an axis whose steps do not meet its end: the end as written and the last value.
    pub short: Vec<(String, Shown)>,
}

/// A check at each point of a sweep.
#[derive(Clone, Debug, PartialEq)]
pub struct StudyCheck {
    /// The condition as written, on one line.
    pub condition: String,
    /// What is wrong when it does not hold.
    pub text: Option<String>,
    /// Whether it names something that is shown.
    pub names_shown: bool,
    /// How it goes at each point, and how likely it holds.
    pub rows: Vec<(Outcome, Option<Chance>)>,
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
    /// Its values in full.
    pub figures: Vec<Figure>,
    /// The unit in canonical spelling, `1` for plain numbers; nothing for texts and switches.
    pub full_unit: Option<String>,
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
    own.filter_map(|(cell, _)| table(&reading, cell)).collect()
}

fn table(reading: &Reading<'_>, cell: CellId) -> Option<StudyTable> {
    let notebook = reading.notebook;
    let study = notebook.study(cell)?;
    let statement = notebook.cell(cell).statement;
    let values = notebook.study_columns(cell).unwrap_or_default();
    let columns: Vec<StudyColumn> = (study.labels.iter().enumerate())
        .map(|(number, label)| {
            let rows = values.get(number).map(|rows| &**rows).unwrap_or_default();
            column(notebook, label, study.types.get(number), rows)
        })
        .collect();
    let too_long = notebook.study_length(cell);
    let state = match values.is_empty() && too_long.is_none() {
        true if state(reading, cell) == RowState::Ok => RowState::Failed,
        _ => state(reading, cell),
    };
    let settled = state == RowState::Ok && too_long.is_none();
    Some(StudyTable {
        cell,
        statement: one_line(notebook.source_of(statement)),
        kind: study.kind,
        name: study.name.as_deref().map(str::to_owned),
        line: reading.line(statement),
        axes: study.axes(),
        checks: match study.kind {
            StudyKind::Sweep(_) if settled => checks(reading, cell),
            _ => Vec::new(),
        },
        short: match settled {
            true => short(reading, statement, &columns),
            false => Vec::new(),
        },
        columns,
        too_long,
        state,
    })
}

/// The axes whose last step would pass their end.
fn short(reading: &Reading<'_>, id: StatementId, columns: &[StudyColumn]) -> Vec<(String, Shown)> {
    let notebook = reading.notebook;
    let tree = notebook.tree(id);
    let axes: Vec<&syntax::Axis> = match &tree.kind {
        StatementKind::Sweep(sweep) => sweep.axes.iter().collect(),
        StatementKind::Plot(plot) => vec![&plot.axis],
        _ => Vec::new(),
    };
    let text = notebook.text_of(id);
    let ends = axes.iter().zip(columns).filter_map(|(axis, column)| {
        let syntax::AxisValues::Steps { to, .. } = &axis.values else {
            return None;
        };
        let written = one_line(to.span.of(text));
        let end = notebook.work_expression(0, &written).ok()?;
        let end = notebook.shown_value(&end.value, Some(&end.typed.ty), Precision::Table);
        let last = column.rows.last()?;
        (end.unit == last.unit && end.value != last.value).then(|| (written, last.clone()))
    });
    ends.collect()
}

fn checks(reading: &Reading<'_>, study: CellId) -> Vec<StudyCheck> {
    let notebook = reading.notebook;
    let shown = notebook.study_shows(study);
    let checks = notebook.study_checks(study).into_iter();
    let made = checks.filter_map(|(cell, rows)| {
        let line = super::check::line(reading, notebook.cell(cell).statement, cell)?;
        let own = notebook.cell(cell).plan.as_deref()?.cells();
        Some(StudyCheck {
            condition: line.condition,
            text: line.text,
            names_shown: own.iter().any(|one| shown.contains(one)),
            rows: rows.iter().map(judge).collect(),
        })
    });
    made.collect()
}

fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
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
        label: one_line(label),
        unit: unit.unwrap_or_default().to_owned(),
        figures: (values.iter())
            .map(|value| figure(notebook, value, ty, None))
            .collect(),
        full_unit: ty.and_then(|ty| notebook.unit_of_type(ty)),
        points: points.collect(),
        rows,
    }
}
