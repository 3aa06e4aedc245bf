//! Algorithms on doubles and closures: roots, interpolation, quantiles. Knows nothing of units,
//! of the language or of files.

pub mod distribution;
pub mod interpolation;
pub mod roots;
pub mod scan;
pub mod watch;
