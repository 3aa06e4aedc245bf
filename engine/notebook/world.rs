//! The cells as a running plan sees them.

use super::Notebook;
use super::cell::Cell;
use crate::check::CellId;
use crate::exact::{Axis, Stream, Value, World};
use crate::plan::{Plan, SubPlan};
use rustc_hash::FxHashSet;
use std::rc::Rc;

/// Cells and their values, side by side.
pub(super) struct Around<'n> {
    pub(super) cells: &'n [Cell],
    pub(super) values: &'n [Value],
}

impl Notebook {
    /// The cells as a running plan sees them.
    pub(super) fn world(&self) -> Around<'_> {
        Around {
            cells: &self.cells,
            values: &self.values,
        }
    }
}

impl Notebook {
    /// The cells that rest on `changed` and that `wanted` rest on, in the order of need.
    pub fn cone(&self, changed: &[CellId], wanted: &[CellId]) -> Rc<[CellId]> {
        self.world().cone(changed, wanted)
    }
}

impl World for Around<'_> {
    fn value(&self, cell: CellId) -> Value {
        self.values[cell.0 as usize].clone()
    }

    fn plan(&self, cell: CellId) -> Option<Rc<Plan>> {
        self.cells[cell.0 as usize].plan.clone()
    }

    fn cone(&self, changed: &[CellId], wanted: &[CellId]) -> Rc<[CellId]> {
        let above = reach(wanted, |cell| {
            self.cells[cell.0 as usize].uses.iter().copied()
        });
        let mut cone: Vec<CellId> = reach(changed, |cell| {
            self.cells[cell.0 as usize]
                .used_by
                .iter()
                .copied()
                .filter(|reader| above.contains(reader))
        })
        .into_iter()
        .filter(|cell| above.contains(cell))
        .collect();
        cone.sort_by_key(|cell| (self.cells[cell.0 as usize].level, *cell));
        cone.into()
    }

    fn stream(
        &self,
        axes: &[(CellId, Axis)],
        show: &[&SubPlan],
        _: &[Value],
    ) -> Option<Rc<dyn Stream>> {
        self.swept(axes, show)
    }
}

/// The cells reached from these, themselves included.
pub(super) fn reach<I: Iterator<Item = CellId>>(
    from: &[CellId],
    next: impl Fn(CellId) -> I,
) -> FxHashSet<CellId> {
    let mut reached: FxHashSet<CellId> = from.iter().copied().collect();
    let mut open: Vec<CellId> = from.to_vec();
    while let Some(cell) = open.pop() {
        for other in next(cell) {
            if reached.insert(other) {
                open.push(other);
            }
        }
    }
    reached
}
