//! Checks at the points of a sweep: which of them turn on an axis, and what they come to there.
//!
//! What turns on an axis is narrower than what rests on it. A cell that holds a scenario rests on
//! everything its subject rests on; but where the scenario itself sets the axis, the value that
//! the axis has outside does not reach through.

use super::Notebook;
use super::cell::{CellState, Role};
use super::world::reach;
use crate::check::CellId;
use crate::exact::{self, Value};
use crate::plan::{Operation, Plan, SubPlan, Sweep};
use rustc_hash::FxHashSet;
use std::rc::Rc;

impl Notebook {
    /// The checks of the notebook that turn on an axis of a study, with what they come to at each
    /// of its points. Those without an answer now have none elsewhere.
    pub fn study_checks(&self, study: CellId) -> Vec<(CellId, Rc<[Value]>)> {
        let Some(plan) = self.cell(study).plan.clone() else {
            return Vec::new();
        };
        let mut plan = (*plan).clone();
        let sweep = plan
            .steps
            .iter_mut()
            .find_map(|step| match &mut step.operation {
                Operation::Sweep(sweep) => Some(sweep),
                _ => None,
            });
        let Some(sweep) = sweep else {
            return Vec::new();
        };
        let axes: Vec<CellId> = sweep.axes.iter().map(|(cell, _)| *cell).collect();
        let mut checks = self.turning_on(&axes);
        checks.retain(|one| {
            let cell = self.cell(*one);
            cell.role == Role::Check && cell.part == 0 && cell.state == CellState::Ok
        });
        checks.sort();
        if checks.is_empty() {
            return Vec::new();
        }
        let alone = |check: &CellId| SubPlan {
            plan: Plan::of_cell(*check),
            inputs: Vec::new(),
        };
        sweep.show = checks.iter().map(alone).collect();
        let mut sources = self.sources.clone();
        let outcome = exact::run(&plan, &self.world(), &mut sources);
        let Value::Column(columns) = outcome.value else {
            return Vec::new();
        };
        let columns = columns.iter().skip(axes.len());
        let rows = columns.map(|column| match column {
            Value::Column(rows) => rows.clone(),
            _ => Rc::default(),
        });
        checks.into_iter().zip(rows).collect()
    }

    /// The cells that a study shows, or works out what it shows from; its axes' values are not
    /// among them.
    pub fn study_shows(&self, study: CellId) -> Vec<CellId> {
        let plan = self.cell(study).plan.as_deref();
        let steps = plan.map_or(&[][..], |plan| &plan.steps[..]);
        let sweeps = steps.iter().filter_map(|step| match &step.operation {
            Operation::Sweep(sweep) => Some(sweep),
            _ => None,
        });
        let shows = sweeps.flat_map(|sweep| &sweep.show);
        shows.flat_map(|show| show.plan.cells()).collect()
    }

    /// The cells whose values follow the axes, the axes among them.
    fn turning_on(&self, axes: &[CellId]) -> Vec<CellId> {
        let reached = reach(axes, |one| self.cell(one).used_by.iter().copied());
        let mut order: Vec<CellId> = reached.into_iter().collect();
        order.sort_by_key(|one| (self.cell(*one).level, *one));
        let mut turning = Turning::default();
        // A scenario within a cell leaves fewer axes: what follows those has to be known first.
        for axis in axes {
            turning.add(self, &[*axis], &order);
        }
        if axes.len() > 1 {
            turning.add(self, axes, &order);
        }
        let all = turning.known.pop();
        all.map_or_else(Vec::new, |(_, cells)| cells.into_iter().collect())
    }
}

/// Which cells follow which axes.
#[derive(Default)]
struct Turning {
    known: Vec<(Vec<CellId>, FxHashSet<CellId>)>,
}

impl Turning {
    /// Goes through the cells in the order of need.
    fn add(&mut self, notebook: &Notebook, axes: &[CellId], order: &[CellId]) {
        let own = axes.iter().copied().collect();
        self.known.push((axes.to_vec(), own));
        for cell in order {
            let plan = notebook.cell(*cell).plan.as_deref();
            if plan.is_some_and(|plan| self.follows(plan, axes))
                && let Some((_, cells)) = self.known.last_mut()
            {
                cells.insert(*cell);
            }
        }
    }

    /// Whether what a program gives follows one of the axes.
    fn follows(&self, plan: &Plan, axes: &[CellId]) -> bool {
        let Some((_, cells)) = self.known.iter().find(|(known, _)| known == axes) else {
            return false;
        };
        plan.steps.iter().any(|step| match &step.operation {
            Operation::Cell(cell) => cells.contains(cell),
            Operation::Root(root) => self.follows(&root.plan, axes),
            Operation::With(with) => {
                let set = with.overrides.iter().map(|(cell, _)| *cell);
                self.follows(&with.value.plan, &without(axes, set))
            }
            Operation::Sought(sought) => {
                let left = without(axes, std::iter::once(sought.cell));
                self.follows(&sought.difference.plan, &left)
            }
            Operation::Sweep(sweep) => self.follows_sweep(sweep, axes),
            _ => false,
        })
    }

    fn follows_sweep(&self, sweep: &Sweep, axes: &[CellId]) -> bool {
        let left = without(axes, sweep.axes.iter().map(|(cell, _)| *cell));
        let mut shows = sweep.show.iter();
        shows.any(|show| self.follows(&show.plan, &left))
    }
}

/// The axes that a scenario does not set itself.
fn without(axes: &[CellId], set: impl Iterator<Item = CellId>) -> Vec<CellId> {
    let set: Vec<CellId> = set.collect();
    let left = axes.iter().copied();
    left.filter(|axis| !set.contains(axis)).collect()
}
