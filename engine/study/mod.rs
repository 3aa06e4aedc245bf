//! Studies of one cell: trials over all its sources. Override-and-rerun of a cone, like the
//! scenarios inside a notebook, but asked from outside. Knows nothing of how results are shown.

mod spread;

pub use spread::{Bin, Spread, SpreadTrouble, spread};
