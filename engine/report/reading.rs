//! A notebook with what every part of a report asks of it: its statements in order, the cells of
//! each, and why a cell has no value.

use crate::check::CellId;
use crate::notebook::{CellState, Notebook, Role, StatementId};
use crate::syntax::Statement;
use rustc_hash::FxHashMap;

/// A notebook while it is read out.
pub(super) struct Reading<'n> {
    pub(super) notebook: &'n Notebook,
    cells: FxHashMap<StatementId, Vec<CellId>>,
    /// For each cell that waits, the one to be mended.
    causes: FxHashMap<CellId, CellId>,
}

impl<'n> Reading<'n> {
    pub(super) fn of(notebook: &'n Notebook) -> Reading<'n> {
        let mut cells: FxHashMap<StatementId, Vec<CellId>> = FxHashMap::default();
        for (id, cell) in notebook.cells() {
            cells.entry(cell.statement).or_default().push(id);
        }
        Reading {
            notebook,
            cells,
            causes: causes(notebook),
        }
    }

    /// The statements of the notebook itself, in the order of its document; what was typed in the
    /// shell comes last.
    pub(super) fn own_statements(&self) -> impl Iterator<Item = StatementId> + '_ {
        self.statements(|part| part == 0)
    }

    /// The statements of all documents that take part, the handbook's left out.
    pub(super) fn all_statements(&self) -> impl Iterator<Item = StatementId> + '_ {
        self.statements(|_| true)
    }

    fn statements(&self, wanted: fn(u16) -> bool) -> impl Iterator<Item = StatementId> + '_ {
        let records = self.notebook.statements().iter().enumerate();
        records
            .filter(move |(_, record)| {
                wanted(record.part) && !record.removed && !record.is_handbook()
            })
            .map(|(number, _)| StatementId(number as u32))
    }

    /// The cells of a statement.
    pub(super) fn cells_of(&self, id: StatementId) -> &[CellId] {
        self.cells.get(&id).map(Vec::as_slice).unwrap_or_default()
    }

    /// The heading a statement stands under.
    pub(super) fn heading(&self, id: StatementId) -> Option<(usize, &'n str)> {
        let record = self.notebook.statement(id);
        let number = record.heading? as usize;
        let part = self.notebook.parts().get(usize::from(record.part))?;
        let heading = part.document.headings().get(number)?;
        Some((number, heading.text.as_str()))
    }

    /// The remark behind a statement.
    pub(super) fn remark(&self, id: StatementId, tree: &Statement) -> Option<String> {
        let remark = tree.remark?.of(self.notebook.text_of(id)).trim();
        (!remark.is_empty()).then(|| remark.to_owned())
    }

    /// The line of the document in which a statement begins; none for one typed in the shell.
    pub(super) fn line(&self, id: StatementId) -> Option<usize> {
        self.notebook.line_of(id)
    }

    /// The cell to be mended before this one has a value: itself if it fails.
    pub(super) fn cause(&self, cell: CellId) -> CellId {
        self.causes.get(&cell).copied().unwrap_or(cell)
    }

    /// A cell's name; a check has none and is named by its condition.
    pub(super) fn name(&self, cell: CellId) -> String {
        self.notebook.cell(cell).name.to_string()
    }

    /// Whether a cell is an ordinary one: named, and neither of a table nor a check.
    pub(super) fn is_plain(&self, cell: CellId) -> bool {
        let record = self.notebook.cell(cell);
        matches!(record.role, Role::Given | Role::WorkedOut) && !record.name.is_empty()
    }
}

/// Follows each waiting cell to the one that carries the mistake. Cells that wait for each other
/// in a circle are reported at one of them.
fn causes(notebook: &Notebook) -> FxHashMap<CellId, CellId> {
    let mut causes: FxHashMap<CellId, CellId> = FxHashMap::default();
    for (start, cell) in notebook.cells() {
        if !matches!(cell.state, CellState::Waits(_)) || causes.contains_key(&start) {
            continue;
        }
        let mut path = vec![start];
        let mut at = start;
        let cause = loop {
            let CellState::Waits(next) = notebook.cell(at).state else {
                break at;
            };
            if let Some(known) = causes.get(&next) {
                break *known;
            }
            if next == at || causes.contains_key(&at) {
                break at;
            }
            // Noted at once, so that a circle ends where it began.
            causes.insert(at, next);
            path.push(next);
            at = next;
        };
        for one in path.into_iter().filter(|one| *one != cause) {
            causes.insert(one, cause);
        }
        causes.remove(&cause);
    }
    causes
}
