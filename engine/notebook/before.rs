//! Cells as they were before an edit, and what moved since.

use super::Notebook;
use super::cell::{CellState, Role};
use super::edit::{Flip, Moved, Ripple};
use super::statement::StatementId;
use crate::check::CellId;
use crate::exact::Value;
use rustc_hash::FxHashMap;

/// Values before an edit.
#[derive(Debug, Default)]
pub(super) struct Before {
    values: FxHashMap<CellId, Noted>,
}

/// A cell as it was.
#[derive(Debug)]
struct Noted {
    value: Value,
    state: CellState,
    shown: super::Shown,
}

impl Before {
    /// Notes a cell as it is now, unless it was noted already.
    pub(super) fn note(&mut self, notebook: &Notebook, cell: CellId) {
        if self.values.contains_key(&cell) {
            return;
        }
        let record = notebook.cell(cell);
        let value = notebook.value(cell).clone();
        let shown = notebook.shown_value(&value, record.ty.as_deref(), super::Precision::Table);
        let noted = Noted {
            value,
            state: record.state,
            shown,
        };
        self.values.insert(cell, noted);
    }

    /// What moved; the cells of the statement that was edited come first.
    pub(super) fn ripple(self, notebook: &Notebook, own: &[CellId]) -> Ripple {
        let mut ripple = Ripple::default();
        let mut cells: Vec<(&CellId, &Noted)> = self.values.iter().collect();
        cells.sort_by_key(|(cell, _)| {
            (!own.contains(cell), notebook.cell(**cell).statement, **cell)
        });
        for (cell, noted) in cells {
            let Noted {
                value,
                state,
                shown,
            } = noted;
            let record = notebook.cell(*cell);
            if record.statement == StatementId(u32::MAX) {
                continue;
            }
            let same = notebook.value(*cell) == value && !own.contains(cell);
            if matches!(record.role, Role::Check) {
                if !same {
                    ripple.flipped.push(Flip {
                        cell: *cell,
                        was: value.clone(),
                    });
                }
                continue;
            }
            if record.state != *state && record.state != CellState::Ok {
                ripple.broken.push(*cell);
            }
            if same || record.name.is_empty() || record.state != CellState::Ok {
                continue;
            }
            let new = matches!(value, Value::Gap | Value::Failed(_));
            ripple.moved.push(Moved {
                cell: *cell,
                was: (!new).then(|| shown.clone()),
                was_value: (!new).then(|| value.clone()),
            });
        }
        ripple
    }
}
