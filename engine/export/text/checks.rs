//! The checks in one block: outcome, chance, condition; what does not hold says so in words and
//! with its number.

use super::layout::{Layout, Paint, padded, padded_before, width};
use super::remarks;
use super::sheet::{Sheet, ruled};
use crate::report::{Chance, CheckLine, CheckRow, Outcome, Remark, RowState, Shown};
use crate::source::wrap;

/// Blanks before an outcome.
const INDENT: usize = 2;
/// Blanks before what stands below a check.
const BELOW: usize = 6;
/// Conditions beside their outcome have at least so much room.
const LEAST_CONDITION: usize = 22;
/// Rows of one check that are listed.
const MOST_ROWS: usize = 20;

pub(super) fn add_all(sheet: &mut Sheet, checks: &[CheckLine], said: &[Remark]) {
    if checks.is_empty() {
        return;
    }
    sheet.gap();
    let layout = sheet.layout;
    let outcome = checks
        .iter()
        .map(|check| width(&word(&check.outcome)))
        .max()
        .unwrap_or(0)
        .max("Checks".len());
    let chances = checks.iter().any(|check| check.chance.is_some());
    let chance = match chances {
        true => checks
            .iter()
            .map(|check| width(&aligned(check.chance)))
            .max()
            .unwrap_or(0)
            .max("chance".len()),
        false => 0,
    };
    let beside = INDENT + outcome + 2 + if chances { chance + 1 } else { 0 };
    let stacked = beside + LEAST_CONDITION > layout.columns();
    add_head(sheet, outcome, chances.then_some(chance), stacked);
    for check in checks {
        let word = padded(&word(&check.outcome), outcome);
        let word = match paint(&check.outcome) {
            Some(paint) => layout.paint(&word, paint),
            None => word,
        };
        let mut start = format!("{:INDENT$}{word}", "");
        if chances {
            start = format!("{start} {}", padded(&aligned(check.chance), chance));
        }
        let condition = layout.show(&check.condition);
        if stacked {
            sheet.line(&start);
            sheet.paragraph(&condition, BELOW - 2, BELOW);
        } else {
            let room = layout.columns() - beside;
            for (index, line) in wrap(&condition, room, room).iter().enumerate() {
                let before = if index == 0 { start.as_str() } else { "" };
                let gap = beside - width(before).min(beside);
                sheet.line(&format!("{before}{:gap$}{line}", ""));
            }
        }
        add_found(sheet, check);
    }
    remarks::add(sheet, said);
}

fn add_head(sheet: &mut Sheet, outcome: usize, chance: Option<usize>, stacked: bool) {
    let layout = sheet.layout;
    if stacked {
        sheet.rule("Checks", 0);
        return;
    }
    let mut head = ruled(&layout, "Checks", INDENT + outcome);
    if let Some(chance) = chance {
        head = format!("{head} {}", ruled(&layout, "chance", chance + 1));
    } else {
        head.push_str(&ruled(&layout, "", 1));
    }
    let room = layout.columns() - width(&head) - 1;
    let head = format!("{head} {}", ruled(&layout, "condition", room));
    let head = sheet.paint(&head, Paint::Bold);
    sheet.line(&head);
}

/// The word for an outcome.
pub(super) fn word(outcome: &Outcome) -> String {
    match outcome {
        Outcome::Holds => "holds".to_owned(),
        Outcome::Fails => "fails".to_owned(),
        Outcome::Open => "too close to call".to_owned(),
        Outcome::Unknown(state) => state.word().unwrap_or_else(|| "failed".to_owned()),
    }
}

pub(super) fn paint(outcome: &Outcome) -> Option<Paint> {
    match outcome {
        Outcome::Fails => Some(Paint::Red),
        Outcome::Open => Some(Paint::Yellow),
        Outcome::Unknown(RowState::Failed) => Some(Paint::Red),
        Outcome::Unknown(_) | Outcome::Holds => None,
    }
}

/// A chance on its decimal marker.
fn aligned(chance: Option<Chance>) -> String {
    let Some(chance) = chance else {
        return String::new();
    };
    let text = chance.to_string();
    if text.contains(" to ") {
        return text;
    }
    let at = text.find(['.', ' ']).filter(|at| *at > 1);
    let at = text
        .find('.')
        .or_else(|| text.rfind(" %"))
        .or(at)
        .unwrap_or(text.len());
    let (whole, rest) = text.split_at(at);
    format!("{}{rest}", padded_before(whole, 4))
}

fn add_found(sheet: &mut Sheet, check: &CheckLine) {
    let values = found(sheet, &check.found);
    let text = check.text.as_deref().map(|text| sheet.show(text));
    let line = match (&check.outcome, values.is_empty(), text) {
        (Outcome::Fails, false, Some(text)) => format!("{values}: {text}"),
        (Outcome::Fails, true, Some(text)) => text,
        (Outcome::Open, false, Some(text)) => format!("{values}; if it fails: {text}"),
        (Outcome::Open, true, Some(text)) => format!("if it fails: {text}"),
        (Outcome::Fails | Outcome::Open, _, None) => values,
        (Outcome::Holds | Outcome::Unknown(_), ..) => String::new(),
    };
    if !line.is_empty() {
        sheet.paragraph(&line, BELOW, BELOW);
    }
    let open: Vec<&CheckRow> = check
        .rows
        .iter()
        .filter(|row| row.outcome != Outcome::Holds)
        .collect();
    for row in open.iter().take(MOST_ROWS) {
        add_row(sheet, row);
    }
    if open.len() > MOST_ROWS {
        let rest = format!("and {} rows more that do not hold", open.len() - MOST_ROWS);
        sheet.paragraph(&rest, BELOW, BELOW);
    }
}

/// A row that does not hold.
fn add_row(sheet: &mut Sheet, row: &CheckRow) {
    let values = found(sheet, &row.found);
    let word = word(&row.outcome);
    let word = match paint(&row.outcome) {
        Some(paint) => sheet.paint(&word, paint),
        None => word,
    };
    let mut line = format!("{}: ", sheet.show(&row.key));
    if !values.is_empty() {
        line.push_str(&values);
        line.push_str(", ");
    }
    line.push_str(&word);
    if let Some(chance) = row.chance {
        line.push_str(&format!(" ({chance})"));
    }
    sheet.paragraph(&line, BELOW, BELOW + 2);
}

/// The values compared; a level that a reader expects is not said.
fn found(sheet: &Sheet, found: &[Shown]) -> String {
    let values: Vec<String> = found
        .iter()
        .map(|shown| {
            let usual = shown.tag.as_deref() == Some("95 %");
            let shown = Shown {
                tag: shown.tag.clone().filter(|_| !usual),
                ..shown.clone()
            };
            sheet.value(&shown)
        })
        .collect();
    match values.as_slice() {
        [left, right] => format!("{left} against {right}"),
        _ => values.join(", "),
    }
}

/// An outcome with its chance, for a sentence: “too close to call (18 %)”.
pub(super) fn said(layout: &Layout, outcome: &Outcome, chance: Option<Chance>) -> String {
    let word = match outcome {
        Outcome::Unknown(RowState::Failed) => "has no answer".to_owned(),
        _ => word(outcome),
    };
    let word = match paint(outcome) {
        Some(paint) => layout.paint(&word, paint),
        None => word,
    };
    match chance {
        Some(chance) => format!("{word} ({chance})"),
        None => word,
    }
}

/// How a check went before: “was too close to call (18 %)”.
pub(super) fn had(outcome: &Outcome, chance: Option<Chance>) -> String {
    let word = match outcome {
        Outcome::Holds => "held",
        Outcome::Fails => "failed",
        Outcome::Open => "was too close to call",
        Outcome::Unknown(_) => "had no answer",
    };
    match chance {
        Some(chance) => format!("{word} ({chance})"),
        None => word.to_owned(),
    }
}

/// A check that was just typed: how it went, and with which numbers.
pub(super) fn add_answer(sheet: &mut Sheet, check: &CheckLine) {
    let said = said(&sheet.layout, &check.outcome, check.chance);
    let text = format!("check {}: {said}", sheet.show(&check.condition));
    sheet.paragraph(&text, INDENT, INDENT + 2);
    add_found(sheet, check);
}

/// A check that does not hold, with its place first as messages have it; nothing for one that
/// holds, or whose mistake has a message of its own.
pub fn check_line(path: &str, check: &CheckLine, layout: Layout) -> String {
    if !matches!(check.outcome, Outcome::Fails | Outcome::Open) {
        return String::new();
    }
    let mut sheet = Sheet::new(layout);
    let place = match check.line {
        Some(line) => format!("{}:{line}", sheet.show(path)),
        None => sheet.show(path),
    };
    let said = said(&layout, &check.outcome, check.chance);
    let condition = sheet.show(&check.condition);
    sheet.line(&format!("{place}: {said}: {condition}"));
    add_found(&mut sheet, check);
    sheet.finish()
}
