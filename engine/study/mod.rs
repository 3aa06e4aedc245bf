//! Studies of one cell: trials over all its sources, and what its uncertainty is made of. Trials
//! override and rerun a cone, like the scenarios inside a notebook, but asked from outside. Knows
//! nothing of how results are shown.

mod budget;
mod component;
mod draft;
mod spread;

pub use budget::{Budget, BudgetRow, Improvement, NoBudget};
pub use spread::{Bin, SEED, Spread, SpreadTrouble, spread};
