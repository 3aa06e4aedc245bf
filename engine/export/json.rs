//! A report for other programs: one object, a contract. Decimals are strings, so that no reader
//! loses a digit; what has no value is null. Order of fields and closed lists of words do not
//! change once released.

use crate::notebook::StudyKind;
use crate::number::Number;
use crate::report::{
    self, CheckLine, Figure, Item, Message, Outcome, Report, RowState, Section, Study, Uncertainty,
};
use crate::study;
use serde::Serialize;

/// The whole object.
#[derive(Serialize)]
struct Whole<'r> {
    title: Option<&'r str>,
    cells: Vec<Cell<'r>>,
    checks: Vec<Check<'r>>,
    messages: Vec<Said<'r>>,
    /// Sweeps, plots, budgets and spreads.
    studies: Vec<Studied<'r>>,
}

/// A cell, or a column of a table as `table.column`.
#[derive(Serialize)]
struct Cell<'r> {
    name: &'r str,
    /// The heading it stands under.
    section: Option<&'r str>,
    value: Value<'r>,
    /// Canonical spelling with the reference, `1` for a plain number; null for texts and switches.
    unit: Option<&'r str>,
    uncertainty: Spread<'r>,
    /// `ok`, `waiting` or `failed`.
    state: &'static str,
}

/// A decimal or a text as string, a switch as boolean, a column as array.
#[derive(Serialize)]
#[serde(untagged)]
enum Value<'r> {
    Nothing,
    Text(&'r str),
    Switch(bool),
    Column(Vec<Value<'r>>),
}

/// One uncertainty, or one for each row of a column.
#[derive(Serialize)]
#[serde(untagged)]
enum Spread<'r> {
    Nothing,
    One(Amounts<'r>),
    Column(Vec<Spread<'r>>),
}

#[derive(Serialize)]
struct Amounts<'r> {
    standard: &'r str,
    /// What is shown behind `±`.
    expanded: &'r str,
    /// Null for hard limits.
    coverage: Option<&'r str>,
    /// Null where infinite.
    dof: Option<&'r str>,
}

#[derive(Serialize)]
struct Check<'r> {
    /// What is said when it does not hold; the condition where nothing is.
    text: &'r str,
    condition: &'r str,
    /// `holds`, `fails` or `open`; null where it could not be worked out.
    outcome: Option<&'static str>,
    /// The lower end of the range it lies in; 1 or 0 where nothing is uncertain.
    probability: Option<f64>,
    /// For a check of a column.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    rows: Vec<CheckRow>,
}

#[derive(Serialize)]
struct CheckRow {
    outcome: Option<&'static str>,
    probability: Option<f64>,
}

/// A study; `kind` says which fields it has, `state` whether they hold anything.
#[derive(Serialize)]
struct Studied<'r> {
    /// `sweep`, `plot`, `budget` or `spread`.
    kind: &'static str,
    /// Its own name, or the cell's that it is about.
    name: Option<&'r str>,
    /// `ok`, `waiting` or `failed`.
    state: &'static str,
    /// Of sweeps and plots: the axes first, in row order.
    #[serde(skip_serializing_if = "Option::is_none")]
    columns: Option<Vec<StudyColumn<'r>>>,
    /// Of sweeps: the checks that turn on an axis, an outcome for each row.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    checks: Vec<Check<'r>>,
    /// Of budgets.
    #[serde(skip_serializing_if = "Option::is_none")]
    rows: Option<Vec<BudgetRow<'r>>>,
    /// Of spreads.
    #[serde(flatten)]
    spread: Option<Ends<'r>>,
}

#[derive(Serialize)]
struct StudyColumn<'r> {
    name: &'r str,
    value: Vec<Value<'r>>,
    unit: Option<&'r str>,
    uncertainty: Vec<Spread<'r>>,
}

#[derive(Serialize)]
struct BudgetRow<'r> {
    source: String,
    value: &'r str,
    /// Of the value; the columns behind it are in the units of differences.
    unit: &'r str,
    /// Null for readings that cannot be told apart.
    standard: Option<String>,
    sensitivity: Option<String>,
    contribution: String,
    /// From 0 to 1.
    share: String,
}

/// The 95 % interval of trials; `mean` is null where some have no bound.
#[derive(Serialize)]
struct Ends<'r> {
    low: String,
    high: String,
    median: String,
    mean: Option<String>,
    unit: &'r str,
    trials: u64,
    seed: u64,
}

#[derive(Serialize)]
struct Said<'r> {
    code: &'static str,
    /// `error`, `warning` or `note`.
    severity: &'static str,
    text: &'r str,
    line: Option<usize>,
    column: Option<usize>,
    cell: Option<&'r str>,
}

/// The report as one JSON object, with a line end behind it.
///
/// ```
/// use gaugebook::{export::json, library::Library, notebook::{NoFiles, Notebook}};
/// use gaugebook::{report, source::Document};
/// use std::rc::Rc;
/// let document = Document::new("```gaugebook\ntank = 60 gal\n```\n".to_owned());
/// let notebook = Notebook::open("shop.md", document, &NoFiles, Rc::new(Library::new()));
/// let text = json::report(&report::report(&notebook, report::Options::default()));
/// assert!(text.contains("\"name\": \"tank\""));
/// assert!(text.contains("\"value\": \"60\""));
/// ```
pub fn report(report: &Report) -> String {
    let title = report.title.as_deref();
    let whole = Whole {
        title,
        cells: report
            .sections
            .iter()
            .flat_map(|section| cells(section, title))
            .collect(),
        checks: report.checks.iter().map(check).collect(),
        messages: report.messages.iter().map(said).collect(),
        studies: report
            .sections
            .iter()
            .flat_map(|section| &section.studies)
            .map(studied)
            .collect(),
    };
    // Strings, booleans and finite numbers always serialize.
    let mut text = serde_json::to_string_pretty(&whole).unwrap_or_default();
    text.push('\n');
    text
}

fn cells<'r>(section: &'r Section, title: Option<&'r str>) -> Vec<Cell<'r>> {
    let heading = section.heading.as_deref().or(title);
    let mut cells = Vec::new();
    for item in &section.items {
        match item {
            Item::Cell(row) => cells.push(Cell {
                name: &row.name,
                section: heading,
                value: value(&row.figure),
                unit: row.unit.as_deref(),
                uncertainty: spread(&row.figure),
                state: state(&row.state),
            }),
            Item::Table(table) => cells.extend(table.columns.iter().map(|column| Cell {
                name: &column.name,
                section: heading,
                value: value(&column.figure),
                unit: column.unit.as_deref(),
                uncertainty: spread(&column.figure),
                state: state(&column.state),
            })),
        }
    }
    cells
}

fn studied(study: &Study) -> Studied<'_> {
    let none = Studied {
        kind: "",
        name: None,
        state: "failed",
        columns: None,
        checks: Vec::new(),
        rows: None,
        spread: None,
    };
    match study {
        Study::Points(table) => Studied {
            kind: match table.kind {
                StudyKind::Plot => "plot",
                _ => "sweep",
            },
            name: table.name.as_deref(),
            state: state(&table.state),
            columns: Some(table.columns.iter().map(study_column).collect()),
            checks: table.checks.iter().map(study_check).collect(),
            ..none
        },
        Study::Budget(of) => Studied {
            kind: "budget",
            name: Some(&of.name),
            state: if of.outcome.is_ok() { "ok" } else { "failed" },
            rows: of.outcome.as_ref().ok().map(|budget| {
                let rows = budget.rows.iter();
                rows.map(budget_row).collect()
            }),
            ..none
        },
        Study::Spread(of) => Studied {
            kind: "spread",
            name: Some(&of.name),
            state: if of.outcome.is_ok() { "ok" } else { "failed" },
            spread: of.outcome.as_ref().ok().map(|spread| Ends {
                low: decimal(spread.low),
                high: decimal(spread.high),
                median: decimal(spread.median),
                mean: spread.mean.map(decimal),
                unit: match spread.unit.as_str() {
                    "" => "1",
                    unit => unit,
                },
                trials: spread.trials,
                seed: spread.seed,
            }),
            ..none
        },
    }
}

fn study_column(column: &report::StudyColumn) -> StudyColumn<'_> {
    StudyColumn {
        name: &column.label,
        value: column.figures.iter().map(value).collect(),
        unit: column.full_unit.as_deref(),
        uncertainty: column.figures.iter().map(spread).collect(),
    }
}

fn study_check(check: &report::StudyCheck) -> Check<'_> {
    let rows = check.rows.iter().map(|(outcome, chance)| CheckRow {
        outcome: self::outcome(outcome),
        probability: probability(outcome, *chance),
    });
    Check {
        text: check.text.as_deref().unwrap_or(&check.condition),
        condition: &check.condition,
        outcome: None,
        probability: None,
        rows: rows.collect(),
    }
}

fn budget_row(row: &study::BudgetRow) -> BudgetRow<'_> {
    BudgetRow {
        source: row.source.to_string(),
        value: &row.value.value,
        unit: match row.value.unit.as_str() {
            "" => "1",
            unit => unit,
        },
        standard: row.standard.map(decimal),
        sensitivity: row.sensitivity.map(decimal),
        contribution: decimal(row.contribution),
        share: decimal(row.share),
    }
}

/// A double as a decimal of 15 digits.
fn decimal(value: f64) -> String {
    Number::from_f64(value).map_or_else(|_| value.to_string(), Number::full)
}

fn value(figure: &Figure) -> Value<'_> {
    match figure {
        Figure::Nothing => Value::Nothing,
        Figure::Text(text) => Value::Text(text),
        Figure::Number { value, .. } => Value::Text(value),
        Figure::Switch(on) => Value::Switch(*on),
        Figure::Column(rows) => Value::Column(rows.iter().map(value).collect()),
    }
}

fn spread(figure: &Figure) -> Spread<'_> {
    match figure {
        Figure::Number {
            uncertainty: Some(uncertainty),
            ..
        } => Spread::One(amounts(uncertainty)),
        Figure::Column(rows) => {
            let rows: Vec<Spread<'_>> = rows.iter().map(spread).collect();
            match rows.iter().all(|row| matches!(row, Spread::Nothing)) {
                true => Spread::Nothing,
                false => Spread::Column(rows),
            }
        }
        _ => Spread::Nothing,
    }
}

fn amounts(uncertainty: &Uncertainty) -> Amounts<'_> {
    Amounts {
        standard: &uncertainty.standard,
        expanded: &uncertainty.expanded,
        coverage: uncertainty.coverage.as_deref(),
        dof: uncertainty.dof.as_deref(),
    }
}

fn state(state: &RowState) -> &'static str {
    match state {
        RowState::Ok => "ok",
        RowState::Waits(_) => "waiting",
        RowState::Failed => "failed",
    }
}

fn check(line: &CheckLine) -> Check<'_> {
    let rows = line.rows.iter().map(|row| CheckRow {
        outcome: outcome(&row.outcome),
        probability: probability(&row.outcome, row.chance),
    });
    Check {
        text: line.text.as_deref().unwrap_or(&line.condition),
        condition: &line.condition,
        outcome: outcome(&line.outcome),
        probability: probability(&line.outcome, line.chance),
        rows: rows.collect(),
    }
}

fn outcome(outcome: &Outcome) -> Option<&'static str> {
    match outcome {
        Outcome::Holds => Some("holds"),
        Outcome::Fails => Some("fails"),
        Outcome::Open => Some("open"),
        Outcome::Unknown(_) => None,
    }
}

fn probability(outcome: &Outcome, chance: Option<crate::report::Chance>) -> Option<f64> {
    match (chance, outcome) {
        (Some(chance), _) => Some(chance.low),
        (None, Outcome::Holds) => Some(1.0),
        (None, Outcome::Fails) => Some(0.0),
        (None, Outcome::Open | Outcome::Unknown(_)) => None,
    }
}

fn said(message: &Message) -> Said<'_> {
    let diagnostic = &message.diagnostic;
    Said {
        code: diagnostic.code.name(),
        severity: diagnostic.severity.word(),
        text: &diagnostic.message,
        line: message.place.map(|(line, _)| line),
        column: message.place.map(|(_, column)| column),
        cell: message.cell.as_deref(),
    }
}
