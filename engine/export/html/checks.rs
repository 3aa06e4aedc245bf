//! Checks as a table: a shape and a word for how each went, its chance, its condition, and below
//! what does not hold what is wrong.

use super::values::{shown_name, value_line};
use crate::report::{CheckLine, Outcome, Shown};
use maud::{Markup, html};

/// The word for an outcome.
pub fn outcome_word(outcome: &Outcome) -> String {
    match outcome {
        Outcome::Holds => "holds".to_owned(),
        Outcome::Fails => "fails".to_owned(),
        Outcome::Open => "too close to call".to_owned(),
        Outcome::Unknown(state) => state.word().unwrap_or_else(|| "failed".to_owned()),
    }
}

/// The class that a style sheet knows an outcome by.
pub fn outcome_class(outcome: &Outcome) -> &'static str {
    match outcome {
        Outcome::Holds => "holds",
        Outcome::Fails => "fails",
        Outcome::Open => "open",
        Outcome::Unknown(_) => "unknown",
    }
}

/// The shape of an outcome, beside its word.
pub fn outcome_shape(outcome: &Outcome) -> &'static str {
    match outcome {
        Outcome::Holds => "○",
        Outcome::Fails => "■",
        Outcome::Open => "◆",
        Outcome::Unknown(_) => "–",
    }
}

/// A condition as typed, with the signs that are printed.
pub fn condition_text(condition: &str) -> String {
    shown_name(condition)
        .replace("<=", "≤")
        .replace(">=", "≥")
        .replace("!=", "≠")
        .replace("==", "=")
}

/// What stands below a check that does not hold: its numbers and what is wrong.
pub fn found_text(outcome: &Outcome, found: &[Shown], text: Option<&str>) -> String {
    let values: Vec<String> = found.iter().map(value_line).collect();
    let values = match values.as_slice() {
        [left, right] => format!("{left} against {right}"),
        _ => values.join(", "),
    };
    let text = text.unwrap_or_default();
    match (outcome, values.is_empty(), text.is_empty()) {
        (Outcome::Fails, false, false) => format!("{values}: {text}"),
        (Outcome::Open, false, false) => format!("{values}; if it fails: {text}"),
        (Outcome::Open, true, false) => format!("if it fails: {text}"),
        (Outcome::Fails, true, false) => text.to_owned(),
        (Outcome::Fails | Outcome::Open, false, true) => values,
        _ => String::new(),
    }
}

/// A table of checks.
pub fn checks_table(checks: &[&CheckLine]) -> Markup {
    let chances = checks.iter().any(|check| check.chance.is_some());
    html! {
        @if !checks.is_empty() {
            table class="checks" {
                caption { @if checks.len() == 1 { "Check" } @else { "Checks" } }
                tbody {
                    @for check in checks { (check_row(check, chances)) }
                }
            }
        }
    }
}

fn check_row(check: &CheckLine, chances: bool) -> Markup {
    let found = found_text(&check.outcome, &check.found, check.text.as_deref());
    html! {
        tr class=(outcome_class(&check.outcome)) {
            td class="outcome" {
                span aria-hidden="true" { (outcome_shape(&check.outcome)) " " }
                (outcome_word(&check.outcome))
            }
            th scope="row" {
                span class="condition" { (condition_text(&check.condition)) }
                @if !found.is_empty() { p class="found" { (found) } }
                @for row in check.rows.iter().filter(|row| row.outcome != Outcome::Holds).take(20) {
                    p class="found" {
                        (row.key) ": " (found_text(&row.outcome, &row.found, None)) " "
                        (outcome_word(&row.outcome))
                        @if let Some(chance) = row.chance { " (" (chance) ")" }
                    }
                }
            }
            @if chances {
                td class="chance" {
                    @if let Some(chance) = check.chance { (chance) }
                }
            }
        }
    }
}
