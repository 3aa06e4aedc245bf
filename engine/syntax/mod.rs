//! From the lines of a block to trees, and back to text. Knows how things are written, not what
//! names mean; nom stays in this folder.

mod tree;

pub use tree::*;
/// STAND-IN
pub fn print_unit(_: &UnitExpr) -> String { String::new() }
/// STAND-IN
pub fn print_expr(_: &Expr) -> String { String::new() }
/// STAND-IN
pub fn uses_name(_: &Expr, _: &str) -> bool { false }
