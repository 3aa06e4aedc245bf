//! The checks: whether each holds, how likely, and with which numbers.

use super::compared::Operands;
use super::key::row_keys;
use super::message::Message;
use super::reading::Reading;
use super::remark::{self, Remark, Said};
use super::section::{RowState, state};
use crate::check::CellId;
use crate::exact::Value;
use crate::notebook::{Shown, StatementId, Tag};
use crate::syntax::{self, Expr, StatementKind};
use std::fmt;

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

/// Whole percent from 1 to 99, more digits where it is nearly certain.
impl fmt::Display for Chance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (low, high) = (percent(self.low), percent(self.high));
        match low == high {
            true => f.write_str(&low),
            false => write!(f, "{} to {high}", low.trim_end_matches(" %")),
        }
    }
}

fn percent(probability: f64) -> String {
    let percent = probability * 100.0;
    if percent > 99.9 {
        "> 99.9 %".to_owned()
    } else if percent < 0.1 {
        "< 0.1 %".to_owned()
    } else if (1.0..=99.0).contains(&percent) {
        format!("{percent:.0} %")
    } else {
        format!("{percent:.1} %")
    }
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
