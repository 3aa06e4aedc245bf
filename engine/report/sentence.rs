//! A cell's value as a sentence, since `=` belongs to what people write.

use crate::check::CellId;
use crate::notebook::Precision;
use crate::notebook::{CellState, Notebook, Shown, Worked};

/// “tank is 60 ± 1 gal”
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sentence {
    /// The cell; nothing for the value of an expression.
    pub name: Option<String>,
    /// The value as shown; the state word where there is none.
    pub shown: Shown,
}

/// What a cell is.
pub fn sentence(notebook: &Notebook, cell: CellId) -> Sentence {
    let record = notebook.cell(cell);
    let shown = match record.state {
        CellState::Ok => notebook.shown(cell, None),
        CellState::Waits(other) => Shown::word(format!("waits for {}", notebook.cell(other).name)),
        CellState::Failed | CellState::Unchecked => Shown::word("failed"),
    };
    Sentence {
        name: Some(record.name.to_string()),
        shown,
    }
}

/// What an expression typed alone is worth.
pub fn answer(notebook: &Notebook, worked: &Worked) -> Sentence {
    Sentence {
        name: None,
        shown: notebook.shown_value(&worked.value, Some(&worked.typed.ty), Precision::Table),
    }
}
