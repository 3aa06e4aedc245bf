//! Tables of the notebook with their computed columns, row by row.

use super::figure::{Figure, figure};
use super::reading::Reading;
use super::section::{RowState, state};
use crate::check::{CellId, Kind};
use crate::exact::Value;
use crate::notebook::{Role, Shown, StatementId};
use crate::syntax::StatementKind;

/// A table.
#[derive(Clone, Debug)]
pub struct Table {
    /// Its name.
    pub name: String,
    /// The line of the document it begins in.
    pub line: Option<usize>,
    /// Its columns: first those written, the key before all, then those computed.
    pub columns: Vec<Column>,
    /// How many rows it has.
    pub rows: usize,
    /// The remark behind its name.
    pub remark: Option<String>,
}

/// A column.
#[derive(Clone, Debug)]
pub struct Column {
    /// Its name as one types it, with the table's.
    pub name: String,
    /// Its own name.
    pub heading: String,
    /// What is in it.
    pub kind: ColumnKind,
    /// Whether it has values.
    pub state: RowState,
    /// The unit as shown above it; empty for texts, switches and plain numbers.
    pub shown_unit: String,
    /// Its unit in canonical spelling, as for a cell.
    pub unit: Option<String>,
    /// Its values as shown, one a row, without their unit.
    pub rows: Vec<Shown>,
    /// Its values in full.
    pub figure: Figure,
}

/// What is in a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ColumnKind {
    /// Text as written.
    Text,
    /// Quantities as typed; a ± without a tag is a limit.
    Given,
    /// Worked out; a ± without a tag is one at 95 %.
    WorkedOut,
}

/// The table of a statement; nothing if it has no columns.
pub(super) fn table(reading: &Reading<'_>, id: StatementId) -> Option<Table> {
    let notebook = reading.notebook;
    let tree = notebook.tree(id);
    let StatementKind::Table(table) = &tree.kind else {
        return None;
    };
    let own = reading.cells_of(id);
    let name = table.name.text.to_string();
    let mut cells = own.to_vec();
    for other in reading.own_statements() {
        let computed = reading.cells_of(other).iter().copied();
        cells.extend(computed.filter(|cell| is_computed_column(reading, *cell, &name)));
    }
    let rows = table.rows.len();
    let columns: Vec<Column> = cells
        .iter()
        .map(|cell| column(reading, *cell, rows))
        .collect();
    (!columns.is_empty()).then(|| Table {
        name,
        line: reading.line(id),
        columns,
        rows,
        remark: reading.remark(id, &tree),
    })
}

fn is_computed_column(reading: &Reading<'_>, cell: CellId, table: &str) -> bool {
    let record = reading.notebook.cell(cell);
    record.role == Role::ComputedColumn
        && record.name.split_once('.').map(|(before, _)| before) == Some(table)
}

fn column(reading: &Reading<'_>, id: CellId, rows: usize) -> Column {
    let notebook = reading.notebook;
    let cell = notebook.cell(id);
    let text = matches!(cell.ty.as_deref().map(|ty| &ty.kind), Some(Kind::Text));
    let kind = match cell.role {
        _ if text => ColumnKind::Text,
        Role::ComputedColumn => ColumnKind::WorkedOut,
        _ => ColumnKind::Given,
    };
    let state = state(reading, id);
    let value = notebook.value(id);
    let shown: Vec<Shown> = match state.word() {
        Some(word) => vec![Shown::word(word); rows],
        None => notebook.shown_rows(id, rows),
    };
    let shown_unit = shown
        .iter()
        .map(|row| row.unit.as_str())
        .find(|unit| !unit.is_empty());
    Column {
        name: cell.name.to_string(),
        heading: cell
            .name
            .split_once('.')
            .map_or(&*cell.name, |(_, own)| own)
            .to_owned(),
        kind,
        shown_unit: shown_unit.unwrap_or_default().to_owned(),
        unit: notebook.unit_of(id),
        figure: in_full(reading, id, value, &shown, kind, &state),
        state,
        rows: shown,
    }
}

fn in_full(
    reading: &Reading<'_>,
    id: CellId,
    value: &Value,
    shown: &[Shown],
    kind: ColumnKind,
    state: &RowState,
) -> Figure {
    if *state != RowState::Ok {
        return Figure::Nothing;
    }
    let notebook = reading.notebook;
    let ty = notebook.cell(id).ty.as_deref();
    let row = |(number, shown): (usize, &Shown)| {
        let typed = (kind == ColumnKind::Given).then_some(shown);
        figure(notebook, &value.row(number), ty, typed)
    };
    Figure::Column(shown.iter().enumerate().map(row).collect())
}
