//! The worked line of a cell, as a colleague would check it with a pencil: the formula with its
//! names, the same with the numbers put in, the result, the limits, source and cautions.

mod formula;
mod spelled;
mod written;

pub use formula::{Assumed, Kept, WhyFormula, WhyLimit};
pub use written::Written;

use super::message::{Message, located};
use super::reading::Reading;
use super::section::{RowState, state};
use crate::check::CellId;
use crate::exact::Value;
use crate::notebook::{Notebook, Precision, Shown, ShownKind};
use crate::syntax::{Expr, ExprKind, StatementKind};
use spelled::Spelled;
use written::Writer;

/// A cell worked out step by step.
#[derive(Clone, Debug)]
pub struct Why {
    /// The cell.
    pub name: String,
    /// Whether it has a value.
    pub state: RowState,
    /// Its own line; nothing where that only calls a formula, or for a check or column as typed.
    pub step: Option<Step>,
    /// Whether its line refers to nothing: the numbers are those typed.
    pub given: bool,
    /// The formulas called, in the order written.
    pub formulas: Vec<WhyFormula>,
    /// The row whose numbers are put in, where the cell is a column.
    pub row: Option<String>,
    /// The result, to the digits of a table; the state word where there is none.
    pub result: Shown,
    /// The remark behind the cell.
    pub remark: Option<String>,
    /// Everything said about it.
    pub messages: Vec<Message>,
}

/// A line of working.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What it works out: a cell, a formula, or a local of one.
    pub name: String,
    /// With the names.
    pub written: Written,
    /// With the numbers put in.
    pub numbers: Written,
    /// What comes out, for a local.
    pub value: Option<Shown>,
}

/// Works a cell out step by step.
pub fn why(notebook: &Notebook, cell: CellId) -> Why {
    let reading = Reading::of(notebook);
    let record = notebook.cell(cell);
    let tree = notebook.tree(record.statement);
    let value = match &tree.kind {
        StatementKind::Cell(one) | StatementKind::Default(one) => Some(&one.value),
        StatementKind::Check(check) => Some(&check.condition),
        _ => None,
    };
    let state = state(&reading, cell);
    let result = match state.word() {
        Some(word) => Shown::word(word),
        None => notebook.shown(cell, None),
    };
    let mut why = Why {
        name: record.name.to_string(),
        result,
        step: None,
        given: record.uses.is_empty() && record.formulas.is_empty(),
        formulas: Vec::new(),
        row: first_row(&reading, cell),
        remark: reading.remark(record.statement, &tree),
        messages: notebook
            .messages(cell)
            .into_iter()
            .map(|one| located(notebook, record.statement, one, Some(cell)))
            .collect(),
        state,
    };
    let waits = super::message::waits_at(&reading, record.statement, cell);
    let waits = waits.map(|one| located(notebook, record.statement, one, Some(cell)));
    why.messages.extend(waits);
    if let Some(value) = value {
        let text = notebook.text_of(record.statement);
        let row = why.row.is_some().then_some(0);
        let around = Spelled::cell(notebook, record.part, text, row);
        why.step = step(&around, &record.name, value);
        why.formulas = formula::formulas(notebook, cell, &around, value);
    }
    why
}

/// The cell's own line, unless it does nothing but call a formula.
fn step(around: &Spelled<'_>, name: &str, value: &Expr) -> Option<Step> {
    if let ExprKind::Call(called, _) = &bare(value).kind
        && !crate::check::is_native(&called.text)
    {
        return None;
    }
    Some(Step {
        name: name.to_owned(),
        written: Writer::names().write_whole(value),
        numbers: Writer::numbers(around).write_whole(value),
        value: None,
    })
}

/// An expression without the brackets around the whole of it.
fn bare(expr: &Expr) -> &Expr {
    match &expr.kind {
        ExprKind::Bracketed(inner) | ExprKind::In(inner, _) => bare(inner),
        _ => expr,
    }
}

/// The name of the first row of a column.
fn first_row(reading: &Reading<'_>, cell: CellId) -> Option<String> {
    let notebook = reading.notebook;
    let Value::Column(rows) = notebook.value(cell) else {
        return None;
    };
    super::key::row_keys(reading, cell, rows.len())
        .into_iter()
        .next()
}

/// A value as it is put into a formula: without its ±.
fn put_in(shown: &Shown) -> Option<String> {
    (shown.kind == ShownKind::Number).then(|| match shown.unit.is_empty() {
        true => shown.value.clone(),
        false => format!("{} {}", shown.value, shown.unit),
    })
}

/// The same of a value worked out beside the cells.
fn worth(around: &Spelled<'_>, text: &str) -> Option<Shown> {
    let worked = around.notebook.work_expression(around.part, text).ok()?;
    let value = match around.row {
        Some(row) => worked.value.row(row),
        None => worked.value.clone(),
    };
    let ty = Some(&worked.typed.ty);
    Some(around.notebook.shown_value(&value, ty, Precision::Table))
}
