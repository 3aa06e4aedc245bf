//! The checks: whether each holds, how likely, and with which numbers.

use super::message::Message;
use super::reading::Reading;
use super::remark::{self, Remark, Said};
use super::section::{RowState, state};
use crate::check::CellId;
use crate::exact::Value;
use crate::notebook::{Notebook, Precision, Shown, ShownKind, StatementId, Tag};
use crate::syntax::{self, BinaryOperator, Expr, ExprKind, NameKind, StatementKind};

/// A condition holds from this probability on.
const HOLDS_FROM: f64 = 0.95;
/// A condition fails up to this one.
const FAILS_TO: f64 = 0.05;

/// How a check went.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It holds.
    Holds,
    /// It fails.
    Fails,
    /// Too close to call.
    Open,
    /// It could not be worked out.
    Unknown(RowState),
}

/// The range that the probability lies in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chance {
    /// The least it can be.
    pub low: f64,
    /// The most.
    pub high: f64,
}

/// One check.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckLine {
    /// The condition as written, on one line.
    pub condition: String,
    /// What is wrong when it does not hold.
    pub text: Option<String>,
    /// The line of the document it stands in.
    pub line: Option<usize>,
    /// How it went.
    pub outcome: Outcome,
    /// How likely it holds; nothing where nothing in it is uncertain.
    pub chance: Option<Chance>,
    /// The values compared, where it does not hold: all but literals.
    pub found: Vec<Shown>,
    /// For a check of a column, its rows.
    pub rows: Vec<CheckRow>,
}

/// One row of a check.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckRow {
    /// The key of the row, or its number.
    pub key: String,
    /// How it went.
    pub outcome: Outcome,
    /// How likely it holds.
    pub chance: Option<Chance>,
    /// The values compared, where it does not hold.
    pub found: Vec<Shown>,
}

/// The checks in the order of the document, and what is said below them.
pub(super) fn checks(
    reading: &Reading<'_>,
    messages: &[Message],
    said: &mut Said,
) -> (Vec<CheckLine>, Vec<Remark>) {
    let mut lines = Vec::new();
    let mut cells = Vec::new();
    for id in reading.own_statements() {
        if reading.notebook.statement(id).tag != Tag::Check {
            continue;
        }
        if let Some(cell) = reading.cells_of(id).first() {
            lines.extend(line(reading, id, *cell));
            cells.push(*cell);
        }
    }
    let remarks = remark::below(reading, &cells, messages, said);
    (lines, remarks)
}

/// One check; nothing where its line could not be read as one.
pub(super) fn line(reading: &Reading<'_>, id: StatementId, cell: CellId) -> Option<CheckLine> {
    let notebook = reading.notebook;
    let tree = notebook.tree(id);
    let StatementKind::Check(check) = &tree.kind else {
        return None;
    };
    let text = notebook.text_of(id);
    let words: Vec<&str> = check.condition.span.of(text).split_whitespace().collect();
    let mut line = CheckLine {
        condition: words.join(" "),
        text: check.text.as_ref().map(|text| text.value.to_string()),
        line: reading.line(id),
        outcome: Outcome::Unknown(RowState::Failed),
        chance: None,
        found: Vec::new(),
        rows: Vec::new(),
    };
    let state = state(reading, cell);
    if state != RowState::Ok {
        line.outcome = Outcome::Unknown(state);
        return Some(line);
    }
    let value = notebook.value(cell);
    let mut found = None;
    let mut found_in = |row: Option<usize>, outcome: &Outcome| {
        let wanted = matches!(outcome, Outcome::Fails | Outcome::Open);
        if !wanted {
            return Vec::new();
        }
        let operands = found.get_or_insert_with(|| Operands::of(reading, id, &check.condition));
        operands.shown(reading, row)
    };
    if let Value::Column(rows) = value {
        let keys = keys(reading, &check.condition, rows.len());
        for (number, (row, key)) in rows.iter().zip(keys).enumerate() {
            let (outcome, chance) = judge(row);
            let found = found_in(Some(number), &outcome);
            line.rows.push(CheckRow {
                key,
                outcome,
                chance,
                found,
            });
        }
        let worst = line
            .rows
            .iter()
            .min_by(|a, b| worse(a).total_cmp(&worse(b)));
        if let Some(worst) = worst {
            (line.outcome, line.chance) = (worst.outcome.clone(), worst.chance);
        }
    } else {
        (line.outcome, line.chance) = judge(value);
        line.found = found_in(None, &line.outcome);
    }
    Some(line)
}

/// How a condition went, and how likely it holds.
pub(super) fn judge(value: &Value) -> (Outcome, Option<Chance>) {
    match value {
        Value::Switch(true) => (Outcome::Holds, None),
        Value::Switch(false) => (Outcome::Fails, None),
        Value::Doubtful(doubt) => {
            let outcome = match (doubt.low >= HOLDS_FROM, doubt.high <= FAILS_TO) {
                (true, _) => Outcome::Holds,
                (_, true) => Outcome::Fails,
                _ => Outcome::Open,
            };
            let chance = Chance {
                low: doubt.low,
                high: doubt.high,
            };
            (outcome, Some(chance))
        }
        Value::Column(rows) => {
            let worst = rows
                .iter()
                .map(judge)
                .min_by(|a, b| worse_of(&a.0, a.1).total_cmp(&worse_of(&b.0, b.1)));
            worst.unwrap_or((Outcome::Holds, None))
        }
        _ => (Outcome::Unknown(RowState::Failed), None),
    }
}

/// Rows are as bad as this is low: those without a value, then failing, open, holding ones.
fn worse(row: &CheckRow) -> f64 {
    worse_of(&row.outcome, row.chance)
}

fn worse_of(outcome: &Outcome, chance: Option<Chance>) -> f64 {
    let rank = match outcome {
        Outcome::Unknown(_) => 0.0,
        Outcome::Fails => 2.0,
        Outcome::Open => 4.0,
        Outcome::Holds => 6.0,
    };
    let certain = if matches!(outcome, Outcome::Holds) {
        1.0
    } else {
        0.0
    };
    rank + chance.map_or(certain, |chance| chance.low)
}

/// What the condition of a check compares, as written: all but literals.
pub fn compared(notebook: &Notebook, id: StatementId) -> Vec<String> {
    let tree = notebook.tree(id);
    match &tree.kind {
        StatementKind::Check(check) => {
            Operands::of(&Reading::of(notebook), id, &check.condition).texts
        }
        _ => Vec::new(),
    }
}

/// What a condition compares, literals left out.
struct Operands {
    part: u16,
    texts: Vec<String>,
}

impl Operands {
    fn of(reading: &Reading<'_>, id: StatementId, condition: &Expr) -> Operands {
        let text = reading.notebook.text_of(id);
        let mut compared = Vec::new();
        collect_compared(condition, &mut compared);
        let mut texts: Vec<String> = Vec::new();
        for expr in compared.into_iter().filter(|expr| names_something(expr)) {
            let own = expr.span.of(text).to_owned();
            if !own.is_empty() && !texts.contains(&own) {
                texts.push(own);
            }
        }
        Operands {
            part: reading.notebook.statement(id).part,
            texts,
        }
    }

    /// Their values, of one row where they are columns.
    fn shown(&self, reading: &Reading<'_>, row: Option<usize>) -> Vec<Shown> {
        let shown = self.texts.iter().filter_map(|text| {
            let worth = worth(reading, self.part, text, row)?;
            (worth.kind == ShownKind::Number).then_some(worth)
        });
        shown.collect()
    }
}

/// What an operand is worth: a cell as its table shows it.
fn worth(reading: &Reading<'_>, part: u16, text: &str, row: Option<usize>) -> Option<Shown> {
    let notebook = reading.notebook;
    if let Some(cell) = notebook.find(text).filter(|_| part == 0) {
        let column = matches!(notebook.value(cell), Value::Column(_));
        return Some(notebook.shown(cell, row.filter(|_| column)));
    }
    let worked = notebook.work_expression(part, text).ok()?;
    let value = match row {
        Some(row) => worked.value.row(row),
        None => worked.value.clone(),
    };
    Some(notebook.shown_value(&value, Some(&worked.typed.ty), Precision::Table))
}

fn collect_compared<'t>(condition: &'t Expr, compared: &mut Vec<&'t Expr>) {
    match &condition.kind {
        ExprKind::Comparison(operands, _) => compared.extend(operands),
        ExprKind::Bracketed(inner) | ExprKind::Not(inner) => collect_compared(inner, compared),
        ExprKind::Binary(BinaryOperator::And | BinaryOperator::Or, left, right) => {
            collect_compared(left, compared);
            collect_compared(right, compared);
        }
        ExprKind::Call(_, arguments) => {
            compared.extend(arguments.iter().map(|argument| &argument.value));
        }
        _ => {}
    }
}

fn names_something(expr: &Expr) -> bool {
    let mut named = false;
    syntax::visit_expr_names(expr, &mut |used| {
        named |= matches!(used.kind, NameKind::Cell | NameKind::Formula);
    });
    named
}

/// The keys of the first table named in a condition; row numbers where there is none.
fn keys(reading: &Reading<'_>, condition: &Expr, rows: usize) -> Vec<String> {
    let notebook = reading.notebook;
    let mut column = None;
    syntax::visit_expr_names(condition, &mut |used| {
        if column.is_none() && used.names.len() > 1 {
            column = notebook.find(&used.names.join("."));
        }
    });
    match column {
        Some(column) => row_keys(reading, column, rows),
        None => (1..=rows).map(|row| format!("row {row}")).collect(),
    }
}

/// The keys of the table that a column belongs to; row numbers for any other column.
pub(super) fn row_keys(reading: &Reading<'_>, column: CellId, rows: usize) -> Vec<String> {
    match key_column(reading, column, rows) {
        Some(key) => reading
            .notebook
            .shown_rows(key, rows)
            .into_iter()
            .map(|shown| shown.line())
            .collect(),
        None => (1..=rows).map(|row| format!("row {row}")).collect(),
    }
}

/// The rows of a column as one types them: `guns["small"].duty`.
pub(super) fn row_names(reading: &Reading<'_>, column: CellId, rows: usize) -> Vec<String> {
    let notebook = reading.notebook;
    let name = &notebook.cell(column).name;
    match (key_column(reading, column, rows), name.rsplit_once('.')) {
        (Some(key), Some((table, own))) => notebook
            .shown_rows(key, rows)
            .into_iter()
            .map(|shown| match shown.kind {
                ShownKind::Word => format!("{table}[\"{}\"].{own}", shown.value),
                ShownKind::Number => format!("{table}[{}].{own}", shown.line()),
            })
            .collect(),
        _ => (1..=rows).map(|row| format!("{name}, row {row}")).collect(),
    }
}

/// The first column of the table that a column, written or computed, belongs to.
fn key_column(reading: &Reading<'_>, column: CellId, rows: usize) -> Option<CellId> {
    let notebook = reading.notebook;
    let (table, _) = notebook.cell(column).name.rsplit_once('.')?;
    let statement = notebook.statement_of_name(table)?;
    let first = *reading.cells_of(statement).first()?;
    matches!(notebook.value(first), Value::Column(keys) if keys.len() == rows).then_some(first)
}
