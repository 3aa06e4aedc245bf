//! Tables as comma-separated values for other programs: the cells, each table of the notebook, each
//! sweep. Values in full with a decimal point, names and units in the head line, so that a table
//! reads back with `table log from "…"`. A text that a spreadsheet would run as a formula is quoted
//! with an apostrophe.

use crate::notebook::Notebook;
use crate::report::{
    Column, Figure, Item, Options, Report, RowKind, StudyTable, Table, report, studies,
};

/// A table as text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CsvTable {
    /// The name by which one asks for it: `cells`, a table's, a sweep's.
    pub name: String,
    /// The file.
    pub text: String,
}

/// Every table of a notebook: its cells first.
///
/// ```
/// use gaugebook::{export::csv, library::Library, notebook::{NoFiles, Notebook}, source::Document};
/// use std::rc::Rc;
/// let text = "```gaugebook\ntank = 60 gal\ntable guns\n    gun | bore [mm]\n    red | 2.4\n```\n";
/// let document = Document::new(text.to_owned());
/// let notebook = Notebook::open("shop.md", document, &NoFiles, Rc::new(Library::new()));
/// let tables = csv::tables(&notebook);
/// assert_eq!(tables[0].text, "section,name,kind,value,expanded,unit\n,tank,given,60,,gal\n");
/// assert_eq!((tables[1].name.as_str(), tables[1].text.as_str()), ("guns", "gun,bore [mm]\nred,2.4\n"));
/// ```
pub fn tables(notebook: &Notebook) -> Vec<CsvTable> {
    let report = report(notebook, Options::default());
    let mut tables = vec![CsvTable {
        name: "cells".to_owned(),
        text: cells(&report),
    }];
    for item in report.sections.iter().flat_map(|section| &section.items) {
        if let Item::Table(table) = item {
            tables.push(CsvTable {
                name: table.name.clone(),
                text: table_text(table),
            });
        }
    }
    for (number, study) in studies(notebook).iter().enumerate() {
        let name = study.name.clone();
        tables.push(CsvTable {
            name: name.unwrap_or_else(|| format!("study_{}", number + 1)),
            text: study_text(study),
        });
    }
    tables
}

fn cells(report: &Report) -> String {
    let mut lines = vec![
        ["section", "name", "kind", "value", "expanded", "unit"]
            .map(str::to_owned)
            .to_vec(),
    ];
    for section in &report.sections {
        let heading = section.heading.clone().unwrap_or_default();
        for item in &section.items {
            let Item::Cell(row) = item else { continue };
            let kind = match row.kind {
                RowKind::Given => "given",
                RowKind::WorkedOut => "worked out",
            };
            let (value, expanded) = match row.state.word() {
                Some(word) => (word, String::new()),
                None => figure(&row.figure),
            };
            let unit = row.unit.clone().unwrap_or_default();
            lines.push(vec![
                heading.clone(),
                row.name.clone(),
                kind.to_owned(),
                value,
                expanded,
                unit,
            ]);
        }
    }
    written(&lines)
}

/// A value and its expanded uncertainty.
fn figure(figure: &Figure) -> (String, String) {
    match figure {
        Figure::Nothing => (String::new(), String::new()),
        Figure::Text(text) => (text.clone(), String::new()),
        Figure::Switch(on) => (on.to_string(), String::new()),
        Figure::Number { value, uncertainty } => (
            value.clone(),
            uncertainty
                .as_ref()
                .map(|one| one.expanded.clone())
                .unwrap_or_default(),
        ),
        Figure::Column(rows) => {
            let values: Vec<String> = rows.iter().map(|row| self::figure(row).0).collect();
            (values.join(" "), String::new())
        }
    }
}

fn table_text(table: &Table) -> String {
    let mut columns: Vec<Vec<String>> = Vec::new();
    for column in &table.columns {
        columns.extend(column_texts(column, table.rows));
    }
    by_rows(&columns)
}

/// A column, and behind it its expanded uncertainty if it has any.
fn column_texts(column: &Column, rows: usize) -> Vec<Vec<String>> {
    let values = match &column.figure {
        Figure::Column(values) => values.iter().map(figure).collect(),
        _ => vec![(column.state.word().unwrap_or_default(), String::new()); rows],
    };
    let unit = column.unit.as_deref();
    two_columns(&column.heading, unit, values)
}

fn two_columns(name: &str, unit: Option<&str>, values: Vec<(String, String)>) -> Vec<Vec<String>> {
    let head = |name: &str| match unit {
        Some(unit) => format!("{name} [{unit}]"),
        None => name.to_owned(),
    };
    let uncertain = values.iter().any(|(_, expanded)| !expanded.is_empty());
    let mut first = vec![head(name)];
    let mut second = vec![head(&format!("{name}_expanded"))];
    for (value, expanded) in values {
        first.push(value);
        second.push(expanded);
    }
    match uncertain {
        true => vec![first, second],
        false => vec![first],
    }
}

fn study_text(study: &StudyTable) -> String {
    let mut columns: Vec<Vec<String>> = Vec::new();
    for column in &study.columns {
        let values = column
            .points
            .iter()
            .zip(&column.rows)
            .map(|(point, shown)| match point {
                Some((value, expanded)) => {
                    let expanded = match *expanded == 0.0 {
                        true => String::new(),
                        false => number(*expanded),
                    };
                    (number(*value), expanded)
                }
                None => (shown.value.clone(), String::new()),
            });
        let unit = match column.points.iter().any(Option::is_some) {
            true if column.unit.is_empty() => Some("1"),
            true => Some(column.unit.as_str()),
            false => None,
        };
        columns.extend(two_columns(&as_name(&column.label), unit, values.collect()));
    }
    by_rows(&columns)
}

/// A double with the 15 digits that it vouches for.
fn number(value: f64) -> String {
    use crate::number::Number;
    Number::from_f64(value).map_or_else(|_| String::new(), Number::full)
}

/// What is shown in a sweep as the name of a column: signs become `_`.
fn as_name(label: &str) -> String {
    let mut name = String::new();
    for sign in label.chars() {
        match sign.is_alphanumeric() {
            true => name.push(sign),
            false if !name.is_empty() && !name.ends_with('_') => name.push('_'),
            false => {}
        }
    }
    let name = name.trim_end_matches('_').to_owned();
    match name.starts_with(|sign: char| sign.is_ascii_digit()) || name.is_empty() {
        true => format!("value_{name}"),
        false => name,
    }
}

fn by_rows(columns: &[Vec<String>]) -> String {
    let rows = columns.iter().map(Vec::len).max().unwrap_or(0);
    let lines: Vec<Vec<String>> = (0..rows)
        .map(|row| {
            let fields = columns.iter().map(|column| column.get(row).cloned());
            fields.map(Option::unwrap_or_default).collect()
        })
        .collect();
    written(&lines)
}

fn written(lines: &[Vec<String>]) -> String {
    let mut text = String::new();
    for line in lines {
        let fields: Vec<String> = line.iter().map(|field| quoted(&harmless(field))).collect();
        text.push_str(&fields.join(","));
        text.push('\n');
    }
    text
}

/// A text that a spreadsheet would take for a formula has an apostrophe before it; numbers have
/// not.
fn harmless(field: &str) -> String {
    let begins_formula = field.starts_with(['=', '+', '@', '-', '\t', '\r', '|', '%']);
    let is_number = crate::number::Number::read(field).is_ok();
    match begins_formula && !is_number && field != "-" {
        true => format!("'{field}"),
        false => field.to_owned(),
    }
}

/// RFC 4180: quotes around a field with a comma, a quote or a line end in it.
fn quoted(field: &str) -> String {
    match field.contains([',', '"', '\n', '\r']) || field.trim() != field {
        true => format!("\"{}\"", field.replace('"', "\"\"")),
        false => field.to_owned(),
    }
}
