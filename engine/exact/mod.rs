//! Runs a plan on decimals, with first-order uncertainty beside each number: what a person reads.
//! Knows nothing of units; numbers come in and go out in the units that `check` settled.

mod column;
mod doubt;
mod failure;
mod root;
mod rows;
mod run;
mod scenario;
mod source;
mod stream;
mod uncertain;
mod value;
mod world;

pub use doubt::Doubt;
pub use failure::{Failure, Mishap};
pub use run::{Outcome, run};
pub use scenario::MOST_POINTS;
pub use source::{Group, Shape, Source, SourceId, Sources};
pub use stream::{Stream, Streamed};
pub use uncertain::{Summary, Uncertain};
pub use value::Value;
pub use world::{Axis, Overlay, World};
