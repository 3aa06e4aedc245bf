//! The published rows about units, references, levels and names, each run through the language.
//!
//! Origin of the values: NIST SP 811, the SI Brochure, UCUM, ISO 80000 and exact arithmetic on
//! their definitions; each row names its own. A value is held to its printed tolerance, a refusal
//! to its code.

mod conversions;
mod hazards;
mod names;
mod refusals;

use crate::support::cells;
use crate::units::exact::decimal;
use gaugebook::number::Rational;

/// The value of the last line of a notebook, all its digits, in the unit it is shown in.
fn full_value(lines: &str) -> Result<Rational, String> {
    let shop = cells(lines);
    if shop.has_error() {
        return Err(shop.messages());
    }
    let text = shop.full("result");
    let number = text.split(' ').next().unwrap_or("");
    Ok(decimal(number))
}

/// Whether two values lie no further apart than a tolerance.
fn is_within(value: &Rational, expected: &Rational, tolerance: &Rational) -> bool {
    let off = value.minus(expected);
    let room = |off: &Rational| !tolerance.minus(off).is_negative();
    room(&off) && room(&Rational::zero().minus(&off))
}
