//! From trees back to text in one canonical spelling: blanks around operators and `±`, raised
//! powers of units, plain operators. Reading what is printed gives the same tree.

mod align;
mod expression;
mod quantity;
mod statement;

pub use expression::print_expr;
pub use quantity::print_unit;
pub use statement::print_statement;

pub(super) use align::align;
pub(super) use quantity::{print_literal, print_plus_minus};
