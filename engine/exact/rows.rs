//! A root in each row, where what must become zero is a column. In: the plan of the difference
//! and its inputs. Out: how many rows it has, and what is left of both for one row.

use super::value::Value;
use super::world::World;
use crate::plan::{Operation, Plan, Step};

/// The same for one row: with the row of each column where the plan works row by row, else with
/// the columns whole and the row taken out at the end.
pub(super) fn one_row(
    plan: &Plan,
    inputs: &[Value],
    row: usize,
    world: &dyn World,
) -> (Plan, Vec<Value>) {
    let mut plan = plan.clone();
    if is_row_by_row(&plan, world) {
        return (plan, inputs.iter().map(|input| input.row(row)).collect());
    }
    let site = plan
        .steps
        .get(plan.result as usize)
        .map_or(0, |step| step.site);
    let operation = Operation::Pick(plan.result, row as u32);
    plan.result = plan.steps.len() as u32;
    plan.steps.push(Step { operation, site });
    (plan, inputs.to_vec())
}

/// Whether no step looks at several rows of a column, or at a cell that is one.
fn is_row_by_row(plan: &Plan, world: &dyn World) -> bool {
    plan.steps.iter().all(|step| match &step.operation {
        Operation::Constant(_)
        | Operation::Input(_)
        | Operation::Unary(..)
        | Operation::Binary(..)
        | Operation::WholePower(..)
        | Operation::Scale(..)
        | Operation::Affine(..)
        | Operation::Compare(..)
        | Operation::Not(_)
        | Operation::And(_)
        | Operation::Or(_)
        | Operation::Select(..) => true,
        Operation::Cell(cell) => !matches!(world.value(*cell), Value::Column(_)),
        Operation::Root(root) => is_row_by_row(&root.plan, world),
        _ => false,
    })
}
