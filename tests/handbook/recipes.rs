//! The published rows, each run through the notebook language as the recipes in `tests/reference/`
//! say. The source of each row stands beside it in the check file.

use super::rows::{self, Row};
use gaugebook::library::Library;
use gaugebook::notebook::{NoFiles, Notebook, Precision};
use gaugebook::source::{Document, Severity};
use std::collections::BTreeMap;
use std::rc::Rc;

/// How some rows become a notebook.
struct Recipe {
    ids: Vec<String>,
    lines: Vec<String>,
}

/// The files of recipes, one line each.
pub(super) const RECIPES: &[&str] = &[
    include_str!("../reference/recipes.md"),
    include_str!("../reference/recipes-air2.md"),
    include_str!("../reference/recipes-shop.md"),
];

fn recipes(rows: &[Row]) -> Vec<Recipe> {
    let mut recipes = Vec::new();
    let mut open: Option<Recipe> = None;
    for line in RECIPES.iter().flat_map(|text| text.lines()) {
        match &mut open {
            None if line.trim() == "```recipe" => {
                open = Some(Recipe {
                    ids: Vec::new(),
                    lines: Vec::new(),
                })
            }
            None => {}
            Some(_) if line.trim() == "```" => recipes.extend(open.take()),
            Some(recipe) => match line.strip_prefix("rows:") {
                Some(ids) => {
                    recipe.ids = ids
                        .split_whitespace()
                        .flat_map(|one| range(one, rows))
                        .collect()
                }
                None => recipe.lines.push(line.to_owned()),
            },
        }
    }
    recipes
}

/// `ORF-001..ORF-018` in the order of the file.
pub(super) fn range(text: &str, rows: &[Row]) -> Vec<String> {
    let Some((from, to)) = text.split_once("..") else {
        return vec![text.to_owned()];
    };
    let at = |id: &str| {
        rows.iter()
            .position(|row| row.id == id)
            .unwrap_or_else(|| panic!("no row {id}"))
    };
    rows[at(from)..=at(to)]
        .iter()
        .map(|row| row.id.clone())
        .collect()
}

/// Words of the rows that the language spells otherwise, longest first.
const RESPELLED: [(&str, &str); 5] = [
    ("kg/kmol", "g/mol"),
    ("degC", "°C"),
    ("degF", "°F"),
    ("degR", "°R"),
    ("$/", "USD/"),
];

/// A line with the row's inputs put in. A brace around more than a name, as in `{{l1}, {l2}}` or
/// `{1, 2} mm`, opens a column and stays.
fn filled(line: &str, row: &Row) -> String {
    let mut text = String::new();
    let mut rest = line;
    while let Some(start) = rest.find('{') {
        let inside = &rest[start + 1..];
        let end = inside.find(['{', '}', ',']).unwrap_or(inside.len());
        text.push_str(&rest[..start]);
        if inside[end..].starts_with('}') {
            text.push_str(&input(&inside[..end], row));
            rest = &inside[end + 1..];
        } else {
            text.push('{');
            rest = inside;
        }
    }
    text + rest
}

/// What a row gives for `name` or for `name as unit`.
fn input(place: &str, row: &Row) -> String {
    let (name, unit) = match place.split_once(" as ") {
        Some((name, unit)) => (name.trim(), Some(unit.trim())),
        None => (place.trim(), None),
    };
    let Some(value) = row.inputs.get(name) else {
        panic!("row {} has no input {name}: {:?}", row.id, row.inputs);
    };
    match unit {
        None => respelled(value),
        Some(unit) => format!("{} {unit}", number_of(value)),
    }
}

fn respelled(text: &str) -> String {
    RESPELLED
        .iter()
        .fold(text.to_owned(), |text, (from, to)| text.replace(from, to))
}

/// The number, or the bracket of numbers, that a value begins with.
fn number_of(value: &str) -> String {
    let value = value.trim();
    if value.starts_with('{') {
        return value
            .split_inclusive('}')
            .next()
            .unwrap_or(value)
            .to_owned();
    }
    value.split_whitespace().next().unwrap_or(value).to_owned()
}

/// The row's notebook, and whether what comes out lies within the tolerance.
fn run(row: &Row, recipe: &Recipe, library: &Rc<Library>) -> Result<(), String> {
    let lines: Vec<String> = recipe.lines.iter().map(|line| filled(line, row)).collect();
    let text = format!("```gaugebook\n{}\n```\n", lines.join("\n"));
    let notebook = Notebook::open(
        "row.md",
        Document::new(text.clone()),
        &NoFiles,
        library.clone(),
    );
    let mut problems: Vec<String> = notebook
        .statements()
        .iter()
        .flat_map(|statement| &statement.diagnostics)
        .filter(|one| one.severity == Severity::Error)
        .map(|one| format!("{} [{}]", one.message, one.label))
        .collect();
    for (id, _) in notebook.cells() {
        let errors = notebook
            .messages(id)
            .into_iter()
            .filter(|one| one.severity == Severity::Error);
        problems.extend(errors.map(|one| format!("{} [{}]", one.message, one.label)));
    }
    if !problems.is_empty() {
        return Err(format!("{}: {}\n{text}", row.id, problems.join("; ")));
    }
    let id = notebook
        .find("expect")
        .ok_or_else(|| format!("{}: nothing expected", row.id))?;
    let shown = notebook.shown_with(id, None, Precision::Full).value;
    let given: f64 = shown
        .parse()
        .map_err(|_| format!("{}: gives {shown}", row.id))?;
    let expected: f64 = row
        .expected
        .parse()
        .map_err(|_| format!("{}: {} is no number", row.id, row.expected))?;
    let off = if expected == 0.0 {
        given.abs()
    } else {
        ((given - expected) / expected).abs()
    };
    // Doubles are compared, so a tolerance of 0 means equal to the last digit of one.
    if off <= row.tolerance.max(4e-16) {
        return Ok(());
    }
    Err(format!(
        "{}: gives {given}, expected {expected} within {}; off by {off:.2e}\n    {}",
        row.id, row.tolerance, row.source
    ))
}

#[test]
fn published_rows_come_out_of_the_language() {
    let rows = rows::all();
    let by_id: BTreeMap<&str, &Row> = rows.iter().map(|row| (row.id.as_str(), row)).collect();
    let library = Rc::new(Library::new());
    let mut passed: BTreeMap<String, usize> = BTreeMap::new();
    let mut wrong = Vec::new();
    for recipe in recipes(&rows) {
        if recipe
            .lines
            .iter()
            .any(|line| line.trim_start().starts_with("trace "))
        {
            continue;
        }
        for id in &recipe.ids {
            let row = by_id
                .get(id.as_str())
                .unwrap_or_else(|| panic!("no row {id}"));
            match run(row, &recipe, &library) {
                Ok(()) => *passed.entry(row.topic.clone()).or_default() += 1,
                Err(why) => wrong.push(why),
            }
        }
    }
    for (topic, count) in &passed {
        println!("{topic}: {count} rows pass");
    }
    assert!(
        wrong.is_empty(),
        "{} rows fail:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

/// The rows that a file of recipes lists as being about another model: the first column of its
/// tables.
fn listed(rows: &[Row]) -> Vec<String> {
    RECIPES
        .iter()
        .flat_map(|text| text.lines())
        .filter_map(|line| line.strip_prefix("| "))
        .filter_map(|line| line.split('|').next())
        .flat_map(str::split_whitespace)
        .filter(|word| rows.iter().any(|row| word.starts_with(&row.id)))
        .flat_map(|word| range(word, rows))
        .collect()
}

#[test]
fn every_row_about_air_is_run_or_listed() {
    let rows = rows::all();
    let mut known = listed(&rows);
    known.extend(recipes(&rows).into_iter().flat_map(|recipe| recipe.ids));
    let missing: Vec<String> = rows::air()
        .into_iter()
        .map(|row| row.id)
        .filter(|id| !known.contains(id))
        .collect();
    assert!(missing.is_empty(), "{}", missing.join(" "));
}
