//! Cells and tables as HTML tables: given and worked out apart, each value with its ± and unit in
//! columns of their own.

use crate::report::{Column, ColumnKind, Row, RowKind, Shown, ShownKind, Table};
use maud::{Markup, html};

/// A number with the minus that is printed.
pub fn signed(text: &str) -> String {
    match text.strip_prefix('-') {
        Some(rest) if rest.starts_with(|sign: char| sign.is_ascii_digit()) => format!("−{rest}"),
        _ => text.to_owned(),
    }
}

/// What a number lacks behind its point to stand on its decimal marker above and below others: as
/// hidden signs that a style sheet sets behind it.
pub fn pads<'t>(texts: impl IntoIterator<Item = &'t str>) -> Vec<String> {
    let places: Vec<Option<usize>> = texts.into_iter().map(places).collect();
    let most = places.iter().flatten().copied().max().unwrap_or(0);
    let pad = |own: &Option<usize>| match own {
        None => String::new(),
        Some(0) if most > 0 => format!(".{}", "0".repeat(most)),
        Some(own) => "0".repeat(most - own),
    };
    places.iter().map(pad).collect()
}

/// Digits behind the point of a plain number.
fn places(text: &str) -> Option<usize> {
    let digits = text.trim_start_matches(['-', '−']);
    let plain = digits
        .bytes()
        .all(|byte| byte.is_ascii_digit() || byte == b'.');
    if digits.is_empty() || !plain {
        return None;
    }
    Some(digits.split_once('.').map_or(0, |(_, behind)| behind.len()))
}

/// A cell's name as tables show it.
pub fn shown_name(name: &str) -> String {
    name.replace('_', " ")
}

/// What a reader has to be told of a ±, in a table whose head says which ± is usual.
pub fn tag_said(shown: &Shown, kind: RowKind) -> Option<&str> {
    shown.plus_minus.as_ref()?;
    match (kind, shown.tag.as_deref()) {
        (RowKind::WorkedOut, None) => Some("limits"),
        (RowKind::WorkedOut, Some("95 %")) => None,
        (_, tag) => tag,
    }
}

/// The unit behind a value, with what deviates from the level of the table.
pub fn unit_and_tag(shown: &Shown, kind: RowKind) -> String {
    match tag_said(shown, kind) {
        Some(tag) => format!("{} ({tag})", shown.unit).trim().to_owned(),
        None => shown.unit.clone(),
    }
}

/// A value worked out, in one line.
pub fn value_line(shown: &Shown) -> String {
    let mut line = signed(&shown.value);
    if let Some(amount) = &shown.plus_minus {
        line.push_str(&format!(" ± {amount}"));
    }
    let unit = unit_and_tag(shown, RowKind::WorkedOut);
    if !unit.is_empty() {
        line.push_str(&format!(" {unit}"));
    }
    line
}

/// Cells of one group as a table; nothing without any.
pub fn rows_table(rows: &[&Row], kind: RowKind) -> Markup {
    let uncertain = rows.iter().any(|row| row.shown.plus_minus.is_some());
    let caption = match (kind, uncertain) {
        (RowKind::Given, false) => "Given",
        (RowKind::Given, true) => "Given (± is a limit unless it says otherwise)",
        (RowKind::WorkedOut, false) => "Worked out",
        (RowKind::WorkedOut, true) => "Worked out (± at 95 %)",
    };
    let pads = pads(rows.iter().map(|row| row.shown.value.as_str()));
    html! {
        @if !rows.is_empty() {
            table class="values" {
                caption { (caption) }
                tbody {
                    @for (row, pad) in rows.iter().zip(&pads) { (row_line(row, uncertain, pad)) }
                }
            }
        }
    }
}

fn row_line(row: &Row, uncertain: bool, pad: &str) -> Markup {
    let word = row.shown.kind == ShownKind::Word;
    let columns = if uncertain { "3" } else { "2" };
    html! {
        tr {
            th scope="row" { (shown_name(&row.name)) }
            @if word {
                td class="word" colspan=(columns) { (row.shown.value) }
            } @else {
                td class="value" data-pad=(pad) { (signed(&row.shown.value)) }
                @if uncertain {
                    td class="amount" {
                        @if let Some(amount) = &row.shown.plus_minus { "± " (amount) }
                    }
                }
                td class="unit" { (unit_and_tag(&row.shown, row.kind)) }
            }
            td class="remark" { @if let Some(remark) = &row.remark { (remark) } }
        }
    }
}

/// The head of a column: its name and unit.
pub fn column_head(heading: &str, unit: &str) -> Markup {
    html! {
        (shown_name(heading))
        @if !unit.is_empty() { " " span class="unit" { (unit) } }
    }
}

/// A value in a column whose head says the unit.
pub fn in_column(shown: &Shown, kind: RowKind) -> String {
    let mut text = signed(&shown.value);
    if let Some(amount) = &shown.plus_minus {
        text.push_str(&format!(" ± {amount}"));
    }
    if let Some(tag) = tag_said(shown, kind) {
        text.push_str(&format!(" ({tag})"));
    }
    text
}

/// Which ± is usual in a column.
pub fn kind_of(column: &Column) -> RowKind {
    match column.kind {
        ColumnKind::Given | ColumnKind::Text => RowKind::Given,
        ColumnKind::WorkedOut => RowKind::WorkedOut,
    }
}

/// A table of the notebook with its computed columns.
pub fn notebook_table(table: &Table) -> Markup {
    html! {
        div class="scroll" {
            table class="grid" {
                caption {
                    (shown_name(&table.name))
                    @if let Some(remark) = &table.remark { ", " (remark) }
                }
                thead {
                    tr {
                        @for column in &table.columns {
                            th scope="col" class=(alignment(column)) {
                                (column_head(&column.heading, &column.shown_unit))
                            }
                        }
                    }
                }
                tbody {
                    @for row in 0..table.rows {
                        tr { @for (number, column) in table.columns.iter().enumerate() {
                            (table_cell(column, row, number == 0))
                        } }
                    }
                }
            }
        }
    }
}

fn alignment(column: &Column) -> &'static str {
    match column.kind {
        ColumnKind::Text => "text",
        ColumnKind::Given | ColumnKind::WorkedOut => "number",
    }
}

fn table_cell(column: &Column, row: usize, key: bool) -> Markup {
    let text = column
        .rows
        .get(row)
        .map(|shown| in_column(shown, kind_of(column)))
        .unwrap_or_default();
    html! {
        @if key {
            th scope="row" class=(alignment(column)) { (text) }
        } @else {
            td class=(alignment(column)) { (text) }
        }
    }
}
