//! Results as lines of text: names, values on their decimal marker, ±, units.

use crate::export::html::{in_column, kind_of, pads, shown_name, signed, unit_and_tag};
use crate::report::{Item, Report, Row, RowKind, Shown, StudyTable, Table};

/// What is worked out, as lines in columns; tables with computed columns after the cells.
pub(super) fn result_lines(report: &Report, studies: &[StudyTable]) -> Vec<String> {
    let items = || report.sections.iter().flat_map(|section| &section.items);
    let rows: Vec<&Row> = items()
        .filter_map(|item| match item {
            Item::Cell(row) if row.kind == RowKind::WorkedOut => Some(&**row),
            _ => None,
        })
        .collect();
    let mut lines = cell_lines(&rows);
    for item in items() {
        if let Item::Table(table) = item
            && table
                .columns
                .iter()
                .any(|column| kind_of(column) == RowKind::WorkedOut)
        {
            lines.push(String::new());
            lines.extend(in_columns(&table_cells(table)));
        }
    }
    for study in studies.iter().filter(|study| study.state.word().is_none()) {
        lines.push(String::new());
        lines.extend(in_columns(&study_cells(study)));
    }
    lines
}

fn cell_lines(rows: &[&Row]) -> Vec<String> {
    let pads = pads(rows.iter().map(|row| row.shown.value.as_str()));
    let cells = rows.iter().zip(&pads).map(|(row, pad)| {
        // The sign before ± is on the marker too: what a number lacks is set as blanks.
        let value = format!(
            "{}{}",
            signed(&row.shown.value),
            " ".repeat(pad.chars().count())
        );
        let amount = row.shown.plus_minus.as_ref();
        vec![
            shown_name(&row.name),
            value,
            amount
                .map(|amount| format!("± {amount}"))
                .unwrap_or_default(),
            unit_and_tag(&row.shown, row.kind),
        ]
    });
    let cells: Vec<Vec<String>> = cells.collect();
    aligned(&cells, &[false, true, false, false])
}

/// A table with its heads.
pub(super) fn table_cells(table: &Table) -> Vec<Vec<String>> {
    let head = table
        .columns
        .iter()
        .map(|column| head(&column.heading, &column.shown_unit));
    let mut cells = vec![head.collect::<Vec<String>>()];
    for row in 0..table.rows {
        let line = table.columns.iter().map(|column| {
            let shown = column.rows.get(row);
            shown
                .map(|shown| in_column(shown, kind_of(column)))
                .unwrap_or_default()
        });
        cells.push(line.collect());
    }
    cells
}

/// A study with its heads; of the many points of a plot a dozen.
pub(super) fn study_cells(study: &StudyTable) -> Vec<Vec<String>> {
    let head = study
        .columns
        .iter()
        .map(|column| head(&column.label, &column.unit));
    let mut cells = vec![head.collect::<Vec<String>>()];
    let rows = study.columns.first().map_or(0, |column| column.rows.len());
    let step = match study.kind {
        crate::notebook::StudyKind::Plot => rows.div_ceil(12).max(1),
        _ => 1,
    };
    for row in (0..rows).step_by(step) {
        let line = study.columns.iter().map(|column| {
            let shown: Option<&Shown> = column.rows.get(row);
            shown
                .map(|shown| in_column(shown, RowKind::WorkedOut))
                .unwrap_or_default()
        });
        cells.push(line.collect());
    }
    cells
}

fn head(name: &str, unit: &str) -> String {
    format!("{} {unit}", shown_name(name)).trim_end().to_owned()
}

fn in_columns(cells: &[Vec<String>]) -> Vec<String> {
    let columns = cells.first().map_or(0, Vec::len);
    let right: Vec<bool> = (0..columns).map(|column| column > 0).collect();
    aligned(cells, &right)
}

/// Columns two blanks apart, text to the left, numbers to the right.
fn aligned(cells: &[Vec<String>], right: &[bool]) -> Vec<String> {
    let width = |text: &str| text.chars().count();
    let widths: Vec<usize> = (0..right.len())
        .map(|column| {
            let texts = cells.iter().filter_map(|line| line.get(column));
            texts.map(|text| width(text)).max().unwrap_or(0)
        })
        .collect();
    cells
        .iter()
        .map(|line| {
            let mut text = String::new();
            for ((cell, own), right) in line.iter().zip(&widths).zip(right) {
                let blanks = " ".repeat(own - width(cell));
                match right {
                    true => text.push_str(&format!("{blanks}{cell}")),
                    false => text.push_str(&format!("{cell}{blanks}")),
                }
                if *own > 0 {
                    text.push_str("  ");
                }
            }
            text.trim_end().to_owned()
        })
        .collect()
}
