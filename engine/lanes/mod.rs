//! Runs a plan on blocks of doubles, a column of points at a time: what sweeps with many points,
//! trials and solving use. What is the same at every point is worked out once, beforehand. Knows
//! nothing of units, and nothing of ±: a source is one more input.

mod build;
mod program;
mod root;
mod trial;

pub use build::{Uniform, build};
pub use program::{BLOCK, Program, Scratch};
pub use trial::{Draw, DrawShape, Trials};

/// Why a plan cannot run on lanes; the decimal runner takes it then.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unsupported {
    /// A scenario within the plan.
    Scenario,
    /// A question about an uncertainty.
    Description,
    /// A text, or a table looked up by values that vary.
    Table,
    /// Columns of different lengths, or a gap.
    Column,
}
