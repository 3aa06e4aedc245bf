//! What is to be said of one answer of the shell: as below a table, but what was said once in a
//! session is not said again.

use super::message::located;
use super::reading::Reading;
use super::remark::{Remark, Said, below, taken_defaults};
use crate::check::CellId;
use crate::notebook::{Notebook, Worked};
use crate::source::Severity;

/// What is to be said of cells that were just worked out.
pub fn remarks(notebook: &Notebook, cells: &[CellId], said: &mut Said) -> Vec<Remark> {
    let mut notes = Vec::new();
    for cell in cells {
        let found = notebook.messages(*cell).into_iter();
        let statement = notebook.cell(*cell).statement;
        notes.extend(
            found
                .filter(|message| message.severity == Severity::Note)
                .map(|message| located(notebook, statement, message, Some(*cell))),
        );
    }
    said.rests.clear();
    let mut remarks = below(&Reading::of(notebook), cells, &notes, said);
    remarks.retain(|remark| !matches!(remark, Remark::Caution { text: None, .. }));
    remarks
}

/// What is to be said of an expression that was worked out beside the cells.
pub fn remarks_of(notebook: &Notebook, worked: &Worked, said: &mut Said) -> Vec<Remark> {
    said.rests.clear();
    let reading = Reading::of(notebook);
    let taken = taken_defaults(&reading, &worked.plan.cells(), said);
    let mut remarks: Vec<Remark> = taken.into_iter().collect();
    let cautions = worked.outcome.cautions.iter();
    for caution in cautions.filter_map(|index| worked.plan.cautions.get(*index)) {
        if said.cautions.insert(caution.text.to_string()) {
            remarks.push(Remark::Caution {
                formulas: vec![caution.formula.name().to_owned()],
                text: Some(caution.text.to_string()),
            });
        }
    }
    remarks
}
