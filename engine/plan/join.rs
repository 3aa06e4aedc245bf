//! Several plans as one: what rests on overridden cells is written out, those cells become
//! inputs, all other cells stay what they are.

use super::{Operation, Plan, Register, Step};
use crate::check::CellId;
use rustc_hash::FxHashMap;
use std::rc::Rc;

/// One program for a cone of cells.
#[derive(Clone, Debug, Default)]
pub struct Joined {
    /// The program; input number `n` is the `n`th overridden cell.
    pub plan: Plan,
    /// The step with each wanted value.
    pub results: Vec<Register>,
}

/// Joins the plans of a cone, in the order of need, with those of what is wanted.
pub fn join(overridden: &[CellId], cone: &[(CellId, Rc<Plan>)], wanted: &[&Plan]) -> Joined {
    let mut joined = Joined::default();
    let mut known: FxHashMap<CellId, Register> = FxHashMap::default();
    for (number, cell) in overridden.iter().enumerate() {
        let register = push(&mut joined.plan, Operation::Input(number as u32));
        known.insert(*cell, register);
    }
    for (cell, plan) in cone {
        if !overridden.contains(cell) {
            let register = append(&mut joined.plan, plan, &mut known);
            known.insert(*cell, register);
        }
    }
    for plan in wanted {
        let register = append(&mut joined.plan, plan, &mut known);
        joined.results.push(register);
    }
    joined
}

fn push(plan: &mut Plan, operation: Operation) -> Register {
    plan.steps.push(Step { operation, site: 0 });
    (plan.steps.len() - 1) as Register
}

/// Writes a plan out behind the others; gives the step with its result.
fn append(into: &mut Plan, plan: &Plan, known: &mut FxHashMap<CellId, Register>) -> Register {
    let mut places: Vec<Register> = Vec::with_capacity(plan.steps.len());
    for step in &plan.steps {
        let place = match &step.operation {
            Operation::Cell(cell) => match known.get(cell) {
                Some(register) => *register,
                None => {
                    let register = push(into, Operation::Cell(*cell));
                    known.insert(*cell, register);
                    register
                }
            },
            other => {
                let moved = other.moved(|register| places[register as usize]);
                push(into, moved)
            }
        };
        places.push(place);
    }
    places.get(plan.result as usize).copied().unwrap_or(0)
}
