//! Studies as text: a sweep as a table with its checks beside, two axes as a cross table, a plot as
//! a picture of signs with the crossings named, a budget in the columns of the GUM, trials as bars.

use super::checks::{chance, paint};
use super::layout::Paint;
use super::plot;
use super::sheet::Sheet;
use super::table::{Lane, add_lanes, how_meant};
use super::{budget, spread};
use crate::notebook::StudyKind;
use crate::report::{
    Chance, ColumnKind, Outcome, Shown, Study, StudyCheck, StudyColumn, StudyTable,
};

/// A study with whatever is to be said of it, for an answer of the shell.
pub fn study(study: &Study, layout: super::Layout) -> String {
    let mut sheet = Sheet::new(layout);
    add(&mut sheet, study);
    sheet.finish()
}

pub(super) fn add(sheet: &mut Sheet, study: &Study) {
    match study {
        Study::Points(table) => add_points(sheet, table),
        Study::Budget(of) => budget::add(sheet, of),
        Study::Spread(of) => spread::add(sheet, of),
    }
}

fn add_points(sheet: &mut Sheet, table: &StudyTable) {
    sheet.gap();
    let title = sheet.show(&title(table));
    sheet.painted_paragraph(&title, 2, 4, Paint::Bold);
    if let Some(word) = table.state.word() {
        sheet.paragraph(&word, 4, 4);
        return;
    }
    if let Some(rows) = table.too_long {
        let example = match (&table.name, table.columns.last()) {
            (Some(name), Some(column)) => format!("max({name}.{})", column.label),
            _ => "a name, as in `sweep often: …`, and max(often.draw)".to_owned(),
        };
        let text = format!(
            "{rows} rows are too many to list; ask for one value, which is then without ±: {example}"
        );
        let text = sheet.show(&text);
        sheet.paragraph(&text, 4, 4);
        return;
    }
    match (table.kind, &table.columns[..]) {
        (StudyKind::Plot, _) if plot::add(sheet, table) => {}
        (_, [down, across, values]) if table.axes == 2 => {
            add_cross(sheet, table, [down, across, values]);
        }
        _ => add_table(sheet, table),
    }
    for (end, last) in &table.short {
        let text = format!("the last step stops short of {end}, at {}", last.line());
        let text = sheet.show(&text);
        sheet.paragraph(&text, 4, 4);
    }
}

/// What is shown against what.
fn title(table: &StudyTable) -> String {
    let (axes, shows) = table.columns.split_at(table.axes.min(table.columns.len()));
    let list = |columns: &[StudyColumn], joint: &str| {
        let names: Vec<String> = columns.iter().map(|one| name(&one.label)).collect();
        names.join(joint)
    };
    let word = match table.kind {
        StudyKind::Plot => "Plot",
        _ => "Sweep",
    };
    let own = table.name.as_ref().map(|own| format!(" {own}"));
    format!(
        "{word}{}: {} against {}",
        own.unwrap_or_default(),
        list(shows, ", "),
        list(axes, " and ")
    )
}

/// A label in words.
pub(super) fn name(label: &str) -> String {
    label.replace('_', " ")
}

fn values(sheet: &Sheet, column: &StudyColumn) -> Lane {
    let head = (column.label.as_str(), column.unit.as_str());
    Lane::of_values(
        &sheet.layout,
        head,
        &column.rows,
        ColumnKind::WorkedOut,
        false,
    )
}

fn add_table(sheet: &mut Sheet, table: &StudyTable) {
    let layout = sheet.layout;
    let mut lanes: Vec<Lane> = table.columns.iter().map(|one| values(sheet, one)).collect();
    for check in &table.checks {
        let words = check.rows.iter().map(|(outcome, chance)| {
            let text = match (outcome, chance) {
                (Outcome::Open, Some(chance)) => format!("close {}", self::chance(*chance)),
                _ => word(outcome).to_owned(),
            };
            painted(sheet, outcome, &text)
        });
        lanes.push(Lane::of_words(&layout, &check.condition, words.collect()));
    }
    let rows = table.columns.first().map_or(0, |column| column.rows.len());
    add_lanes(sheet, lanes, rows);
    let open = |check: &StudyCheck| check.rows.iter().any(|(one, _)| *one == Outcome::Open);
    if table.checks.iter().any(open) {
        sheet.paragraph(
            "close: too close to call, with the chance that it holds",
            4,
            4,
        );
    }
    for check in &table.checks {
        let fails = check.rows.iter().any(|(one, _)| *one == Outcome::Fails);
        if let (true, Some(text)) = (fails, &check.text) {
            let text = sheet.show(&format!("fails {}: {text}", check.condition));
            sheet.paragraph(&text, 4, 6);
        }
    }
}

/// An outcome in a word of five letters, so that the words of a cross table are equally long.
fn word(outcome: &Outcome) -> &'static str {
    match outcome {
        Outcome::Holds => "holds",
        Outcome::Fails => "fails",
        Outcome::Open => "close",
        Outcome::Unknown(_) => "no value",
    }
}

fn painted(sheet: &Sheet, outcome: &Outcome, text: &str) -> String {
    match paint(outcome) {
        Some(paint) => sheet.paint(text, paint),
        None => text.to_owned(),
    }
}

/// One axis down, the other across; the checks of what is shown are a word behind each value.
fn add_cross(sheet: &mut Sheet, table: &StudyTable, [down, across, values]: [&StudyColumn; 3]) {
    let layout = sheet.layout;
    let count = across_count(across);
    let rows = values.rows.len() / count.max(1);
    let checks: Vec<&StudyCheck> = table.checks.iter().filter(|one| one.names_shown).collect();
    let conditions: Vec<&str> = checks.iter().map(|one| one.condition.as_str()).collect();
    let unit = match values.unit.as_str() {
        "" => String::new(),
        unit => format!(" [{unit}]"),
    };
    let against = match conditions.is_empty() {
        true => String::new(),
        false => format!(", held to {}", conditions.join(" and ")),
    };
    let doubt = match how_meant(&values.rows, ColumnKind::WorkedOut) {
        Some(meant) => format!(", ± {meant}"),
        None => String::new(),
    };
    let text = sheet.show(&format!("{}{unit}{doubt}{against}", name(&values.label)));
    sheet.paragraph(&text, 2, 4);
    let every = |column: &StudyColumn| -> Vec<Shown> {
        column.rows.iter().step_by(count).cloned().collect()
    };
    let key = (down.label.as_str(), down.unit.as_str());
    let key_rows = every(down);
    let words = key_rows.iter().all(|row| row.unit.is_empty());
    let key_kind = if words {
        ColumnKind::Text
    } else {
        ColumnKind::WorkedOut
    };
    let mut lanes = vec![Lane::of_values(&layout, key, &key_rows, key_kind, false)];
    let mut close = Vec::new();
    for place in 0..count {
        let of_place = |row: usize| row * count + place;
        let own: Vec<Shown> = (0..rows)
            .map(|row| values.rows[of_place(row)].clone())
            .collect();
        let head = without_doubt(&across.rows[place]);
        let lane = Lane::of_values(&layout, ("", ""), &own, ColumnKind::WorkedOut, false);
        let lane = lane.headed(layout.show(&head));
        if checks.is_empty() {
            lanes.push(lane);
            continue;
        }
        let worst: Vec<(Outcome, Option<Chance>)> =
            (0..rows).map(|row| worst(&checks, of_place(row))).collect();
        let words: Vec<String> = worst
            .iter()
            .map(|(outcome, _)| painted(sheet, outcome, word(outcome)))
            .collect();
        for (row, (outcome, chance)) in worst.iter().enumerate() {
            if let (Outcome::Open, Some(chance)) = (outcome, chance) {
                let row = without_doubt(&key_rows[row]);
                close.push(format!("{row} with {head} {}", self::chance(*chance)));
            }
        }
        lanes.push(lane.beside(&words));
    }
    add_lanes(sheet, lanes, rows);
    if !close.is_empty() {
        let text = format!("close, chance that it holds: {}", close.join(", "));
        let text = sheet.show(&text);
        sheet.paragraph(&text, 4, 6);
    }
}

/// How many values the second axis has: it runs fastest.
pub(super) fn across_count(across: &StudyColumn) -> usize {
    let first = across.rows.first();
    let again = across
        .rows
        .iter()
        .skip(1)
        .position(|one| Some(one) == first);
    again.map_or(across.rows.len(), |at| at + 1).max(1)
}

fn without_doubt(shown: &Shown) -> String {
    let plain = Shown {
        plus_minus: None,
        tag: None,
        ..shown.clone()
    };
    plain.line()
}

/// The worst of the checks at a point.
fn worst(checks: &[&StudyCheck], point: usize) -> (Outcome, Option<Chance>) {
    let rank = |outcome: &Outcome| match outcome {
        Outcome::Unknown(_) => 0,
        Outcome::Fails => 1,
        Outcome::Open => 2,
        Outcome::Holds => 3,
    };
    let own = checks.iter().filter_map(|check| check.rows.get(point));
    let worst = own.min_by_key(|(outcome, _)| rank(outcome));
    worst.cloned().unwrap_or((Outcome::Holds, None))
}
