//! Questions about a whole notebook that are answered from its values, as plain data: what an
//! uncertainty is made of. Knows nothing of how the answers are drawn.

mod budget;
mod component;

pub use budget::{Budget, BudgetRow, Improvement, NoBudget};
