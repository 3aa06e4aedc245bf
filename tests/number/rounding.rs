//! Rounding to multiples of a step. Check values by hand.

use super::read;
use gaugebook::number::{Number, Trouble};

#[test]
fn multiples_of_a_step() {
    // value, step, nearest, below, above
    for [value, step, nearest, floor, ceil] in [
        ["2.675", "0.01", "2.68", "2.67", "2.68"],
        ["2.665", "0.01", "2.66", "2.66", "2.67"],
        ["-2.665", "0.01", "-2.66", "-2.67", "-2.66"],
        ["7", "2", "8", "6", "8"],
        ["5", "2", "4", "4", "6"],
        ["6", "2", "6", "6", "6"],
        ["0.4", "1", "0", "0", "1"],
        ["-0.4", "1", "0", "-1", "0"],
        ["-0.5", "1", "0", "-1", "0"],
        ["-1.5", "1", "-2", "-2", "-1"],
        ["1e-300", "1", "0", "0", "1"],
        ["-1e-300", "1", "0", "-1", "0"],
        ["1e300", "7", "1e300", "1e300", "1e300"],
        [
            "0.3333333333333333333333333333",
            "0.125",
            "0.375",
            "0.25",
            "0.375",
        ],
        ["13", "-5", "15", "10", "15"],
        ["0", "3", "0", "0", "0"],
        [
            "9999999999999999999999999999",
            "10",
            "1e28",
            "9999999999999999999999999990",
            "1e28",
        ],
        [
            "3",
            "9999999999999999999999999999",
            "0",
            "0",
            "9999999999999999999999999999",
        ],
    ] {
        let (x, unit) = (read(value), read(step));
        assert_eq!(
            x.round_to(unit),
            Ok(read(nearest)),
            "round {value} to {step}"
        );
        assert_eq!(x.floor_to(unit), Ok(read(floor)), "floor {value} to {step}");
        assert_eq!(x.ceil_to(unit), Ok(read(ceil)), "ceil {value} to {step}");
    }
}

#[test]
fn there_is_no_multiple_of_zero() {
    assert_eq!(Number::ONE.round_to(Number::ZERO), Err(Trouble::Zero));
    assert_eq!(Number::ONE.floor_to(Number::ZERO), Err(Trouble::Zero));
    assert_eq!(Number::ONE.ceil_to(Number::ZERO), Err(Trouble::Zero));
}
