//! The unit layer against the reference tables, and by its own laws.

mod ambiguous;
mod checks;
mod definitions;
mod dimensions;
pub(crate) mod exact;
mod laws;
mod merging;
mod reader;
mod references;
mod showing;
mod table;
mod words;
