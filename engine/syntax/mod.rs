//! From the lines of a block to trees, and back to text. Knows how things are written, not what
//! names mean; nom stays in this folder.

mod tree;

pub use tree::*;
