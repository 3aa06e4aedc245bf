//! What stands under each heading: cells given and worked out, tables, and what is to be said
//! below them.

use super::figure::{Figure, figure};
use super::message::Message;
use super::reading::Reading;
use super::remark::{self, Remark, Said};
use super::study::{Study, study};
use super::table::{self, Table};
use crate::check::CellId;
use crate::notebook::{CellState, Role, Shown, StatementId, Tag};

/// What stands under one heading.
#[derive(Clone, Debug, Default)]
pub struct Section {
    /// The heading; nothing for what stands above the first or below the title.
    pub heading: Option<String>,
    /// Cells and tables, in the order of the document.
    pub items: Vec<Item>,
    /// Sweeps, plots, budgets and trials, in the order of the document.
    pub studies: Vec<Study>,
    /// What is said below them.
    pub remarks: Vec<Remark>,
}

/// A cell or a table.
#[derive(Clone, Debug)]
pub enum Item {
    /// A cell.
    Cell(Box<Row>),
    /// A table.
    Table(Table),
}

/// One cell.
#[derive(Clone, Debug)]
pub struct Row {
    /// Its name as one types it.
    pub name: String,
    /// The line of the document it stands in; nothing if it was typed in the shell.
    pub line: Option<usize>,
    /// Given or worked out.
    pub kind: RowKind,
    /// Whether it has a value.
    pub state: RowState,
    /// Its value as shown; the state word where it has none.
    pub shown: Shown,
    /// Its unit in canonical spelling, `1` for a plain number; nothing for texts and switches.
    pub unit: Option<String>,
    /// Its value in full.
    pub figure: Figure,
    /// The remark behind it.
    pub remark: Option<String>,
}

/// The two groups of a section: no ± is read in two ways.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowKind {
    /// As typed; a ± without a tag is a limit.
    Given,
    /// Worked out; a ± without a tag is one at 95 %.
    WorkedOut,
}

/// Whether a cell has a value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum RowState {
    /// It has one.
    Ok,
    /// It carries a mistake.
    Failed,
    /// It waits for the cell of that name to be mended.
    Waits(String),
}

impl RowState {
    /// What stands in a table instead of a value.
    pub fn word(&self) -> Option<String> {
        match self {
            RowState::Ok => None,
            RowState::Failed => Some("failed".to_owned()),
            RowState::Waits(name) => Some(format!("waits for {name}")),
        }
    }
}

impl Section {
    /// The cells of one group, in the order of the document.
    pub fn rows(&self, kind: RowKind) -> impl Iterator<Item = &Row> {
        self.items.iter().filter_map(move |item| match item {
            Item::Cell(row) if row.kind == kind => Some(row.as_ref()),
            _ => None,
        })
    }

    /// The tables.
    pub fn tables(&self) -> impl Iterator<Item = &Table> {
        self.items.iter().filter_map(|item| match item {
            Item::Table(table) => Some(table),
            Item::Cell(_) => None,
        })
    }
}

/// A section while it is gathered: with the cells in it.
struct Gathered {
    heading: Option<usize>,
    section: Section,
    cells: Vec<CellId>,
}

pub(super) fn sections(
    reading: &Reading<'_>,
    messages: &[Message],
    said: &mut Said,
) -> Vec<Section> {
    let mut gathered: Vec<Gathered> = Vec::new();
    for id in reading.own_statements() {
        if let Some((item, cells)) = item(reading, id) {
            let place = place_for(reading, id, &mut gathered);
            place.cells.extend(cells);
            place.section.items.extend(item);
            place.section.studies.extend(study(reading, id));
        }
    }
    gathered
        .into_iter()
        .map(|mut one| {
            one.section.remarks = remark::below(reading, &one.cells, messages, said);
            one.section
        })
        .filter(|section| {
            let empty = section.items.is_empty() && section.studies.is_empty();
            !empty || !section.remarks.is_empty()
        })
        .collect()
}

/// What a statement shows, with its cells; a computed column is shown in its table.
fn item(reading: &Reading<'_>, id: StatementId) -> Option<(Option<Item>, Vec<CellId>)> {
    let cells = reading.cells_of(id).to_vec();
    let first = *cells.first()?;
    if reading.notebook.statement(id).tag == Tag::Table {
        return Some((table::table(reading, id).map(Item::Table), cells));
    }
    if reading.notebook.statement(id).tag == Tag::Study {
        return Some((None, cells));
    }
    if reading.is_plain(first) {
        return Some((Some(Item::Cell(Box::new(row(reading, first)))), cells));
    }
    let computed = reading.notebook.cell(first).role == Role::ComputedColumn;
    computed.then_some((None, cells))
}

/// The section of a statement, made when it is first met.
fn place_for<'g>(
    reading: &Reading<'_>,
    id: StatementId,
    gathered: &'g mut Vec<Gathered>,
) -> &'g mut Gathered {
    let heading = reading.heading(id);
    let number = heading.map(|(number, _)| number);
    let known = gathered.iter().position(|one| one.heading == number);
    let place = known.unwrap_or_else(|| {
        let shown = heading.filter(|(number, _)| !is_title(reading, *number));
        gathered.push(Gathered {
            heading: number,
            section: Section {
                heading: shown.map(|(_, text)| text.to_owned()),
                ..Section::default()
            },
            cells: Vec::new(),
        });
        gathered.len() - 1
    });
    &mut gathered[place]
}

/// Whether a heading is the title, which stands at the top anyway.
fn is_title(reading: &Reading<'_>, number: usize) -> bool {
    let headings = reading.notebook.document().headings();
    headings.iter().position(|heading| heading.level == 1) == Some(number)
}

pub(super) fn state(reading: &Reading<'_>, cell: CellId) -> RowState {
    match reading.notebook.cell(cell).state {
        CellState::Ok => RowState::Ok,
        CellState::Waits(_) => RowState::Waits(reading.name(reading.cause(cell))),
        CellState::Failed | CellState::Unchecked => RowState::Failed,
    }
}

/// One cell as a row.
pub(super) fn row(reading: &Reading<'_>, id: CellId) -> Row {
    let notebook = reading.notebook;
    let cell = notebook.cell(id);
    let kind = match cell.role {
        Role::Given => RowKind::Given,
        _ => RowKind::WorkedOut,
    };
    let state = state(reading, id);
    let shown = match state.word() {
        Some(word) => Shown::word(word),
        None => notebook.shown(id, None),
    };
    let typed = (kind == RowKind::Given).then_some(&shown);
    let figure = match state {
        RowState::Ok => figure(notebook, notebook.value(id), cell.ty.as_deref(), typed),
        _ => Figure::Nothing,
    };
    Row {
        name: cell.name.to_string(),
        line: reading.line(cell.statement),
        kind,
        unit: notebook.unit_of(id),
        figure,
        remark: reading.remark(cell.statement, &notebook.tree(cell.statement)),
        state,
        shown,
    }
}
