//! The `number` layer.

mod arithmetic;
mod checks;
mod conversions;
mod display;
mod doubles;
mod functions;
mod laws;
mod marks;
mod questions;
mod reading;
mod rounding;

use gaugebook::number::Number;

/// Reads a number that is known to be one.
fn read(text: &str) -> Number {
    Number::read(text).unwrap_or_else(|trouble| panic!("{text}: {trouble}"))
}
