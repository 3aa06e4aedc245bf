//! Cells.

use super::statement::StatementId;
use crate::check::{CellId, Type, TypedFormula};
use crate::plan::Plan;
use std::rc::Rc;

/// What a cell is in its document.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Role {
    /// It refers to nothing: an input.
    Given,
    /// Worked out from others.
    WorkedOut,
    /// A column of a table, by its number there.
    Column(u16),
    /// A computed column of a table.
    ComputedColumn,
    /// A check.
    Check,
    /// A default or a table's column of the handbook.
    Handbook,
    /// A sweep, plot or other study.
    Study,
    /// A column of a study, by its number there.
    StudyColumn(u16),
}

impl Role {
    /// Whether its value is shown as a person typed it.
    pub fn is_typed(self) -> bool {
        matches!(self, Role::Given | Role::Column(_) | Role::Handbook)
    }
}

/// Whether a cell has a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CellState {
    /// Not looked at yet.
    Unchecked,
    /// It has a value.
    Ok,
    /// It waits for another cell to be mended.
    Waits(CellId),
    /// It carries an error.
    Failed,
}

/// One cell.
#[derive(Debug)]
pub struct Cell {
    /// Its name, with the table's and the used document's in front; empty for checks.
    pub name: Box<str>,
    /// The statement it comes from.
    pub statement: StatementId,
    /// The part whose names it sees.
    pub part: u16,
    /// What it is.
    pub role: Role,
    /// Its type, where it could be told.
    pub ty: Option<Rc<Type>>,
    /// How it is worked out.
    pub plan: Option<Rc<Plan>>,
    /// Whether it has a value.
    pub state: CellState,
    /// The cells it reads.
    pub uses: Vec<CellId>,
    /// The cells that read it.
    pub used_by: Vec<CellId>,
    /// One more than the highest level it reads; cells of one level do not need each other.
    pub level: u32,
    /// The formulas it calls, and those that they call.
    pub formulas: Vec<Rc<TypedFormula>>,
    /// The cautions of its plan that are to be said.
    pub cautions: Vec<usize>,
    /// Whether the head bracket or an input's writing settles how it is shown.
    pub headed: bool,
}

impl Cell {
    pub(super) fn new(name: &str, statement: StatementId, part: u16, role: Role) -> Cell {
        Cell {
            name: name.into(),
            statement,
            part,
            role,
            ty: None,
            plan: None,
            state: CellState::Unchecked,
            uses: Vec::new(),
            used_by: Vec::new(),
            level: 0,
            formulas: Vec::new(),
            cautions: Vec::new(),
            headed: false,
        }
    }

    /// Whether it has no value.
    pub fn is_broken(&self) -> bool {
        !matches!(self.state, CellState::Ok)
    }
}
