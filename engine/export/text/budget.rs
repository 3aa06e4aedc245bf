//! A budget of uncertainty in the columns of JCGM 100, table H.1, and what to improve first.

use super::layout::Paint;
use super::sheet::Sheet;
use super::table::{Lane, add_lanes};
use crate::number::{Number, round_pair};
use crate::report::{ColumnKind, OfCell, Shown};
use crate::study::{Budget, BudgetRow, NoBudget};

pub(super) fn add(sheet: &mut Sheet, of: &OfCell<Budget, NoBudget>) {
    match &of.outcome {
        Ok(budget) => add_budget(sheet, &of.name, budget),
        Err(why) => {
            let text = format!("Budget: {} {}", of.name, none(*why));
            let text = sheet.show(&text);
            sheet.paragraph(&text, 2, 4);
        }
    }
}

/// Why there is no budget, as the end of a sentence.
fn none(why: NoBudget) -> &'static str {
    match why {
        NoBudget::Exact => "has no ±: nothing it rests on has one",
        NoBudget::NoValue => "has no value yet: mend it first",
        NoBudget::Column => "is a column: give one of its rows a cell, and ask for that",
        NoBudget::NoNumber => "is no number",
    }
}

fn add_budget(sheet: &mut Sheet, name: &str, budget: &Budget) {
    let layout = sheet.layout;
    sheet.gap();
    let title = format!("Budget: {name} is {}", sheet.value(&budget.shown));
    sheet.painted_paragraph(&title, 2, 4, Paint::Bold);
    let column = |head: &str,
                  unit: &dyn Fn(&BudgetRow) -> String,
                  value: &dyn Fn(&BudgetRow) -> Option<f64>| {
        let figures: Vec<Shown> = (budget.rows.iter())
            .map(|row| figure(value(row), String::new()))
            .collect();
        let lane = Lane::of_values(&layout, (head, ""), &figures, ColumnKind::Given, false);
        let units: Vec<String> = budget
            .rows
            .iter()
            .map(|row| layout.show(&unit(row)))
            .collect();
        match units.iter().all(String::is_empty) {
            true => lane,
            false => lane.beside(&units),
        }
    };
    let nothing = |_: &BudgetRow| String::new();
    let names = budget
        .rows
        .iter()
        .map(|row| layout.show(&row.source.to_string()));
    let values: Vec<Shown> = (budget.rows.iter())
        .map(|row| Shown {
            plus_minus: None,
            unit: String::new(),
            tag: None,
            ..row.value.clone()
        })
        .collect();
    let units: Vec<String> = (budget.rows.iter())
        .map(|row| layout.show(&row.value.unit))
        .collect();
    let value = Lane::of_values(&layout, ("value", ""), &values, ColumnKind::Given, false);
    let shares = budget
        .rows
        .iter()
        .map(|row| format!("{:5.1} %", row.share * 100.0));
    let lanes = vec![
        Lane::of_words(&layout, "source", names.collect()),
        value.beside(&units),
        column("std unc.", &|row| row.standard_unit.clone(), &|row| {
            row.standard
        }),
        column("sensitivity", &|row| row.sensitivity_unit.clone(), &|row| {
            row.sensitivity
        }),
        column("contribution", &nothing, &|row| Some(row.contribution)),
        Lane::of_words(&layout, "share", shares.collect()),
    ];
    add_lanes(sheet, lanes, budget.rows.len());
    add_together(sheet, name, budget);
}

fn add_together(sheet: &mut Sheet, name: &str, budget: &Budget) {
    let together = &budget.together;
    let standard = three(together.standard);
    let mut text = match together.coverage {
        Some(coverage) if together.dof.is_finite() => format!(
            "together: standard {standard} {}, {} degrees of freedom, k = {}",
            budget.unit,
            Number::from_f64(together.dof)
                .unwrap_or(Number::ZERO)
                .shown_with(3),
            four(coverage)
        ),
        Some(coverage) => format!(
            "together: standard {standard} {}, k = {}",
            budget.unit,
            four(coverage)
        ),
        None => format!(
            "together: standard {standard} {}; all are hard limits, so their sum is shown: ± {} {}",
            budget.unit,
            two(together.expanded),
            budget.unit
        ),
    };
    text = sheet.show(text.trim_end());
    sheet.paragraph(&text, 2, 4);
    let cancelled = budget.rows.iter().filter(|row| row.cancels);
    let mut words: Vec<String> = cancelled
        .map(|row| match row.shared_by.len() {
            0 | 1 => format!("{} cancels.", row.source),
            _ => format!(
                "{} cancels: {} share it.",
                row.source,
                joined(&row.shared_by)
            ),
        })
        .collect();
    if let Some(improve) = &budget.improve {
        let rows = improve.rows.iter().filter_map(|row| budget.rows.get(*row));
        let sources: Vec<String> = rows.map(|row| row.source.to_string()).collect();
        let many = sources.len() > 1;
        words.push(format!(
            "Improve {} first: {} {:.0} % of the variance; with half of {} {name} is {}.",
            joined(&sources),
            if many { "they make" } else { "it makes" },
            improve.share * 100.0,
            if many { "them" } else { "it" },
            sheet.value(&improve.shown)
        ));
    }
    if !words.is_empty() {
        let text = sheet.show(&words.join(" "));
        sheet.paragraph(&text, 2, 4);
    }
}

/// Words in a row: “a, b and c”.
pub(super) fn joined(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [before @ .., last] => format!("{} and {last}", before.join(", ")),
    }
}

fn figure(value: Option<f64>, unit: String) -> Shown {
    match value {
        Some(value) => Shown {
            value: three(value),
            unit,
            ..Shown::number()
        },
        None => Shown::word("-"),
    }
}

fn digits(value: f64, count: u32) -> String {
    let number = Number::from_f64(value).unwrap_or(Number::ZERO);
    match value == 0.0 {
        true => "0".to_owned(),
        false => number.significant(count),
    }
}

fn two(value: f64) -> String {
    let number = Number::from_f64(value).unwrap_or(Number::ZERO);
    round_pair(number, number).1
}

fn three(value: f64) -> String {
    digits(value, 3)
}

fn four(value: f64) -> String {
    digits(value, 4)
}
