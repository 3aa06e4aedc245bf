//! What a unit means: dimensions, references, exact factors, the registry, reading and showing
//! unit expressions. Knows nothing of cells.

mod reference;

pub use reference::{Class, Family, Reference};
