//! The cells around a plan, as a run sees them; and the same cells with some of them overridden.

use super::run::Runner;
use super::source::Ledger;
use super::stream::Stream;
use super::value::Value;
use crate::check::CellId;
use crate::number::Number;
use crate::plan::{Plan, SubPlan};
use rustc_hash::FxHashMap;
use std::cell::RefCell;
use std::rc::Rc;

/// The cells around a plan.
pub trait World {
    /// What a cell is worth.
    fn value(&self, cell: CellId) -> Value;

    /// How a cell is worked out, if it has a plan.
    fn plan(&self, cell: CellId) -> Option<Rc<Plan>>;

    /// The cells that rest on `changed` and that `wanted` rest on, `wanted` included where they
    /// do, in the order of need.
    fn cone(&self, changed: &[CellId], wanted: &[CellId]) -> Rc<[CellId]>;

    /// The columns of a sweep over so many points that they are not kept; nothing where they
    /// cannot be worked out in blocks.
    fn stream(
        &self,
        axes: &[(CellId, Axis)],
        show: &[&SubPlan],
        inputs: &[Value],
    ) -> Option<Rc<dyn Stream>>;
}

/// The points of an axis.
#[derive(Clone, Debug)]
pub enum Axis {
    /// So many points from the first on, this far apart.
    Steps(Number, Number, usize),
    /// These.
    Points(Rc<[Value]>),
}

impl Axis {
    /// How many points there are.
    pub fn count(&self) -> usize {
        match self {
            Axis::Steps(_, _, count) => *count,
            Axis::Points(points) => points.len(),
        }
    }
}

/// Cells of which some are overridden, and those that follow from them.
pub struct Overlay<'w> {
    base: &'w dyn World,
    overridden: Vec<CellId>,
    values: RefCell<FxHashMap<CellId, Value>>,
}

impl<'w> Overlay<'w> {
    /// The world as it would be with these values; `cone` are the cells that follow, in the order
    /// of need.
    pub(super) fn new(
        base: &'w dyn World,
        overrides: &[(CellId, Value)],
        cone: &[CellId],
        ledger: &mut Ledger<'_>,
    ) -> Overlay<'w> {
        let overlay = Overlay {
            base,
            overridden: overrides.iter().map(|(cell, _)| *cell).collect(),
            values: RefCell::new(overrides.iter().cloned().collect()),
        };
        for cell in cone {
            if overlay.overridden.contains(cell) {
                continue;
            }
            let Some(plan) = base.plan(*cell) else {
                continue;
            };
            let value = Runner::value_of(&plan, &[], &overlay, ledger);
            overlay.values.borrow_mut().insert(*cell, value);
        }
        overlay
    }
}

impl World for Overlay<'_> {
    fn value(&self, cell: CellId) -> Value {
        match self.values.borrow().get(&cell) {
            Some(value) => value.clone(),
            None => self.base.value(cell),
        }
    }

    fn plan(&self, cell: CellId) -> Option<Rc<Plan>> {
        // An overridden cell keeps its other value, whatever a scenario inside asks.
        if self.overridden.contains(&cell) {
            None
        } else {
            self.base.plan(cell)
        }
    }

    fn cone(&self, changed: &[CellId], wanted: &[CellId]) -> Rc<[CellId]> {
        self.base.cone(changed, wanted)
    }

    fn stream(&self, _: &[(CellId, Axis)], _: &[&SubPlan], _: &[Value]) -> Option<Rc<dyn Stream>> {
        // Blocks read the cells as they are, not as a scenario around has them.
        None
    }
}

/// Cells without any doubt about them, for a search that needs only values.
pub(super) struct Bare<'w>(pub(super) &'w dyn World);

impl World for Bare<'_> {
    fn value(&self, cell: CellId) -> Value {
        self.0.value(cell).bare()
    }

    fn plan(&self, cell: CellId) -> Option<Rc<Plan>> {
        self.0.plan(cell)
    }

    fn cone(&self, changed: &[CellId], wanted: &[CellId]) -> Rc<[CellId]> {
        self.0.cone(changed, wanted)
    }

    fn stream(
        &self,
        axes: &[(CellId, Axis)],
        show: &[&SubPlan],
        inputs: &[Value],
    ) -> Option<Rc<dyn Stream>> {
        self.0.stream(axes, show, inputs)
    }
}

/// Runs a sub-plan, its inputs taken from these registers.
pub(super) fn run_sub_plan(
    sub: &SubPlan,
    registers: &[Value],
    world: &dyn World,
    ledger: &mut Ledger<'_>,
) -> Value {
    let inputs: Vec<Value> = sub
        .inputs
        .iter()
        .map(|input| {
            registers
                .get(*input as usize)
                .cloned()
                .unwrap_or(Value::Gap)
        })
        .collect();
    Runner::value_of(&sub.plan, &inputs, world, ledger)
}
