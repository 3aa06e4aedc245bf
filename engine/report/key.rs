//! What the rows of a column are called.

use super::reading::Reading;
use crate::check::CellId;
use crate::exact::Value;
use crate::notebook::ShownKind;

/// The keys of the table that a column belongs to; row numbers for any other column.
pub(super) fn row_keys(reading: &Reading<'_>, column: CellId, rows: usize) -> Vec<String> {
    match key_column(reading, column, rows) {
        Some(key) => reading
            .notebook
            .shown_rows(key, rows)
            .into_iter()
            .map(|shown| shown.line())
            .collect(),
        None => (1..=rows).map(|row| format!("row {row}")).collect(),
    }
}

/// The rows of a column as one types them: `guns["small"].duty`.
pub(super) fn row_names(reading: &Reading<'_>, column: CellId, rows: usize) -> Vec<String> {
    let notebook = reading.notebook;
    let name = &notebook.cell(column).name;
    match (key_column(reading, column, rows), name.rsplit_once('.')) {
        (Some(key), Some((table, own))) => notebook
            .shown_rows(key, rows)
            .into_iter()
            .map(|shown| match shown.kind {
                ShownKind::Word => format!("{table}[\"{}\"].{own}", shown.value),
                ShownKind::Number => format!("{table}[{}].{own}", shown.line()),
            })
            .collect(),
        _ => (1..=rows).map(|row| format!("{name}, row {row}")).collect(),
    }
}

/// The first column of the table that a column, written or computed, belongs to.
fn key_column(reading: &Reading<'_>, column: CellId, rows: usize) -> Option<CellId> {
    let notebook = reading.notebook;
    let (table, _) = notebook.cell(column).name.rsplit_once('.')?;
    let statement = notebook.statement_of_name(table)?;
    let first = *reading.cells_of(statement).first()?;
    matches!(notebook.value(first), Value::Column(keys) if keys.len() == rows).then_some(first)
}
