//! Decimals of 28 digits with a wide exponent: read, worked with, rounded and shown. Knows
//! nothing of units.
//!
//! Sums, products, quotients, whole powers and roots run in decimals and are rounded once. The
//! other functions run through doubles and mark what they give as inexact, and the mark spreads
//! to everything computed from it.
//!
//! The coefficient is our own, since `rust_decimal` ends at 28 places and loses digits below 0.1
//! without a word; where the digits lie as it needs them, its division does the work.

mod angle;
mod approximation;
mod arithmetic;
mod decimal;
mod display;
mod division;
mod double;
mod functions;
mod parts;
mod power;
mod ratio;
mod rational;
mod read;
mod root;
mod rounding;
mod wide;

pub use decimal::{Number, Trouble};
pub use display::round_pair;
pub use rational::{Factor, Rational};
pub use read::ReadTrouble;
