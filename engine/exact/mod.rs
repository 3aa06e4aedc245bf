//! Runs a plan on decimals, with first-order uncertainty beside each number: what a person reads.
//! Knows nothing of units; numbers come in and go out in the units that `check` settled. The
//! second order is followed beside an ordinary run, when somebody asks for it.

mod amount;
mod arithmetic;
mod column;
mod corner;
mod curve;
mod describe;
mod doubt;
mod failure;
mod implicit;
mod root;
mod rows;
mod run;
mod scenario;
mod second;
mod source;
mod stream;
mod uncertain;
mod value;
mod world;

pub use amount::Seeming;
pub use curve::{Curve, Pair};
pub use doubt::Doubt;
pub use failure::{Failure, Mishap};
pub use run::{Followed, Outcome, follow, run};
pub use scenario::MOST_POINTS;
pub use second::SecondOrder;
pub use source::{Group, Repeats, Shape, Source, SourceId, Sources};
pub use stream::{Stream, Streamed};
pub use uncertain::{Summary, Terms, Uncertain};
pub use value::Value;
pub use world::{Axis, Overlay, World};
