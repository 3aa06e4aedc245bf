//! How much there is: the line that people read who read the top only.

use super::check::{CheckLine, Outcome};
use super::section::{Item, RowKind, RowState, Section};

/// How many cells, tables and checks of each kind.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Cells that refer to nothing.
    pub given: usize,
    /// Cells worked out from others.
    pub worked_out: usize,
    /// Tables.
    pub tables: usize,
    /// Cells without a value that carry the mistake; they are not among the given and worked out.
    pub failed: usize,
    /// Cells without a value that wait for others.
    pub waiting: usize,
    /// Checks that hold.
    pub holds: usize,
    /// Checks that fail.
    pub fails: usize,
    /// Checks too close to call.
    pub open: usize,
    /// Checks that could not be worked out.
    pub unknown: usize,
}

pub(super) fn count(sections: &[Section], checks: &[CheckLine]) -> Counts {
    let mut counts = Counts::default();
    for item in sections.iter().flat_map(|section| &section.items) {
        let counter = match item {
            Item::Table(_) => &mut counts.tables,
            Item::Cell(row) => match (&row.state, row.kind) {
                (RowState::Failed, _) => &mut counts.failed,
                (RowState::Waits(_), _) => &mut counts.waiting,
                (RowState::Ok, RowKind::Given) => &mut counts.given,
                (RowState::Ok, RowKind::WorkedOut) => &mut counts.worked_out,
            },
        };
        *counter += 1;
    }
    for check in checks {
        let counter = match check.outcome {
            Outcome::Holds => &mut counts.holds,
            Outcome::Fails => &mut counts.fails,
            Outcome::Open => &mut counts.open,
            Outcome::Unknown(_) => &mut counts.unknown,
        };
        *counter += 1;
    }
    counts
}
