//! From the lines of a block to trees, and back to text. Knows how things are written, not what
//! names mean; nom stays in this folder.

mod block;
mod body;
mod digits;
mod entry;
mod fold;
mod format;
mod lexer;
mod names;
mod outline;
mod owner;
mod parser;
mod printer;
mod rows;
mod signs;
mod token;
mod tree;
mod walk;

pub use block::parse;
pub use entry::{is_complete, parse_entry};
pub use format::format;
pub use names::{NameKind, NameUse, uses_name, visit_expr_names, visit_formula_names, visit_names};
pub use printer::{print_expr, print_statement, print_unit};
pub use tree::*;
