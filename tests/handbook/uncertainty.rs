//! The published rows on uncertainty, each run through the notebook language as
//! `tests/reference/recipes-uncertainty.md` says. The source of each row stands beside it in the
//! check file.

use gaugebook::check::CellId;
use gaugebook::library::Library;
use gaugebook::notebook::{NoFiles, Notebook, Precision};
use gaugebook::source::{Document, Severity};
use gaugebook::study;
use std::collections::BTreeMap;
use std::rc::Rc;

const RECIPES: &str = include_str!("../reference/recipes-uncertainty.md");
const ROWS: &str = include_str!("../reference/uncertainty-checks.csv");

/// One row of the check file.
struct Row {
    expected: String,
    tolerance: f64,
    /// Whether it holds what a mistake would give.
    wrong: bool,
    source: String,
}

fn rows() -> BTreeMap<String, Row> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(ROWS.as_bytes());
    let head = reader.headers().expect("a head line").clone();
    let column = |name: &str| {
        head.iter()
            .position(|one| one == name)
            .expect("the column is there")
    };
    let (id, quantity, expected) = (column("id"), column("quantity"), column("expected"));
    let (tolerance, source) = (column("tolerance"), column("source"));
    reader
        .records()
        .map(|record| {
            let record = record.expect("a well-formed row");
            let row = Row {
                expected: record[expected].to_owned(),
                tolerance: record[tolerance].parse().unwrap_or(0.0),
                wrong: record[quantity].starts_with("NOT "),
                source: record[source].to_owned(),
            };
            (record[id].to_owned(), row)
        })
        .collect()
}

/// A row's name with a number: `Q001`.
fn is_row(name: &str) -> bool {
    name.len() == 4 && name.starts_with('Q') && name[1..].bytes().all(|sign| sign.is_ascii_digit())
}

/// What the recipes leave out, by row.
fn listed() -> Vec<String> {
    let mut names = Vec::new();
    for line in RECIPES.lines() {
        let Some((rows, reason)) = line
            .strip_prefix("- Q")
            .and_then(|rest| rest.split_once(": "))
        else {
            continue;
        };
        assert!(
            reason.len() > 20,
            "a row is left out with its reason: {line}"
        );
        let number = |text: &str| {
            text.trim_start_matches('Q')
                .parse::<u32>()
                .expect("a row's number")
        };
        let (first, last) = rows.split_once("..").unwrap_or((rows, rows));
        names.extend((number(first)..=number(last)).map(|number| format!("Q{number:03}")));
    }
    names
}

/// A recipe: the notebook, and what is asked beside it.
#[derive(Default)]
struct Recipe {
    lines: Vec<String>,
    asked: Vec<(String, String, String)>,
}

fn recipes() -> Vec<Recipe> {
    let mut recipes = Vec::new();
    let mut open: Option<Recipe> = None;
    for line in RECIPES.lines() {
        match &mut open {
            None if line == "```recipe" => open = Some(Recipe::default()),
            None => {}
            Some(_) if line == "```" => recipes.extend(open.take()),
            Some(recipe) => match asked(line) {
                Some(asked) => recipe.asked.push(asked),
                None => recipe.lines.push(line.to_owned()),
            },
        }
    }
    recipes
}

/// `second order: Q012 = standard of l` as its kind, row and subject.
fn asked(line: &str) -> Option<(String, String, String)> {
    let (kind, rest) = line.split_once(": ")?;
    let (row, subject) = rest.split_once(" = ")?;
    ["as shown", "second order", "trials"]
        .contains(&kind)
        .then(|| (kind.to_owned(), row.to_owned(), subject.to_owned()))
}

fn open(recipe: &Recipe, library: &Rc<Library>) -> Notebook {
    let text = format!("```gaugebook\n{}\n```\n", recipe.lines.join("\n"));
    let notebook = Notebook::open(
        "row.md",
        Document::new(text.clone()),
        &NoFiles,
        library.clone(),
    );
    let writing = notebook
        .statements()
        .iter()
        .flat_map(|statement| statement.diagnostics.clone());
    let working = notebook.cells().flat_map(|(id, _)| notebook.messages(id));
    let errors: Vec<String> = writing
        .chain(working)
        .filter(|one| one.severity == Severity::Error)
        .map(|one| format!("{} [{}]", one.message, one.label))
        .collect();
    assert!(errors.is_empty(), "{}\n{text}", errors.join("\n"));
    notebook
}

fn cell(notebook: &Notebook, name: &str) -> CellId {
    notebook
        .find(name)
        .unwrap_or_else(|| panic!("no cell is called {name}"))
}

/// What is wrong with a number, if it is not the row's.
fn judged(id: &str, given: f64, row: &Row) -> Option<String> {
    let expected: f64 = row.expected.parse().expect("a number is expected");
    let off = (given - expected).abs();
    // A tolerance of 0 means equal to the last digit of a double.
    let close = off <= row.tolerance.max(4e-16 * expected.abs());
    (close == row.wrong).then(|| {
        format!(
            "{id}: gives {given}, {}expected {expected} within {}; off by {off:.2e}\n    {}",
            if row.wrong { "not " } else { "" },
            row.tolerance,
            row.source
        )
    })
}

fn answer(notebook: &Notebook, kind: &str, id: &str, subject: &str, row: &Row) -> Option<String> {
    if kind == "as shown" {
        let shown = notebook.shown(cell(notebook, subject), None);
        let amount = shown.plus_minus.unwrap_or_default();
        let given = match row.expected.contains("+-") {
            true => format!("{} +- {amount}", shown.value),
            false => amount,
        };
        return (given != row.expected)
            .then(|| format!("{id}: shows {given}, expected {}", row.expected));
    }
    let (what, name) = subject.split_once(" of ").expect("what of which cell");
    let id_of = cell(notebook, name);
    let order = notebook
        .second_order(id_of, None)
        .unwrap_or_else(|| panic!("{id}: {name} has no second order"));
    let value = notebook.value(id_of).number().expect("a number").to_f64();
    match what {
        "standard" => judged(id, order.standard, row),
        "mean" => judged(id, value + order.shift, row),
        other => panic!("{id}: what is the {other} of something?"),
    }
}

/// What trials give, with the tolerance that their number leaves.
fn tried(notebook: &Notebook, id: &str, subject: &str, row: &Row) -> Option<String> {
    let (subject, within) = match subject.split_once(" within ") {
        Some((subject, within)) => (subject, Some(within.parse().expect("a tolerance"))),
        None => (subject, None),
    };
    let (what, name) = subject.split_once(" of ").expect("what of which cell");
    let made = study::spread(notebook, cell(notebook, name), 7)
        .unwrap_or_else(|why| panic!("{id}: {name}: {why:?}"));
    let fewer = (1e6 / made.trials as f64).max(1.0).sqrt();
    let given = match what {
        "mean" => made.mean.expect("a mean"),
        "sd" => made.deviation.expect("a standard deviation"),
        "high" => made.high,
        other => panic!("{id}: what is the {other} of trials?"),
    };
    let row = Row {
        expected: row.expected.clone(),
        tolerance: within.unwrap_or(row.tolerance) * fewer,
        wrong: false,
        source: row.source.clone(),
    };
    judged(id, given, &row)
}

#[test]
fn rows_on_uncertainty_come_out_of_the_language() {
    let rows = rows();
    let library = Rc::new(Library::new());
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let mut wrong = Vec::new();
    for recipe in recipes() {
        let notebook = open(&recipe, &library);
        let named: Vec<(CellId, String)> = notebook
            .cells()
            .filter(|(_, cell)| is_row(&cell.name))
            .map(|(id, cell)| (id, cell.name.to_string()))
            .collect();
        for (id, name) in named {
            *seen.entry(name.clone()).or_default() += 1;
            let shown = notebook.shown_with(id, None, Precision::Full).value;
            let given: f64 = shown
                .parse()
                .unwrap_or_else(|_| panic!("{name}: gives {shown}"));
            wrong.extend(judged(&name, given, &rows[&name]));
        }
        for (kind, name, subject) in &recipe.asked {
            *seen.entry(name.clone()).or_default() += 1;
            if kind != "trials" {
                wrong.extend(answer(&notebook, kind, name, subject, &rows[name]));
            }
        }
    }
    println!("{} rows run, {} listed", seen.len(), listed().len());
    assert!(
        wrong.is_empty(),
        "{} rows fail:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    for name in listed() {
        assert!(!seen.contains_key(&name), "{name} is run and left out");
        *seen.entry(name).or_default() += 1;
    }
    for (name, count) in &seen {
        assert_eq!(*count, 1, "{name} stands once");
    }
    let missing: Vec<&String> = rows.keys().filter(|id| !seen.contains_key(*id)).collect();
    assert!(missing.is_empty(), "neither run nor left out: {missing:?}");
}

#[test]
fn rows_on_trials_come_out_of_the_language() {
    let rows = rows();
    let library = Rc::new(Library::new());
    let mut wrong = Vec::new();
    for recipe in recipes() {
        let trials: Vec<_> = recipe
            .asked
            .iter()
            .filter(|(kind, ..)| kind == "trials")
            .collect();
        if trials.is_empty() {
            continue;
        }
        let notebook = open(&recipe, &library);
        for (_, name, subject) in trials {
            wrong.extend(tried(&notebook, name, subject, &rows[name]));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
