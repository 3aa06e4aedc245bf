//! The derivatives of the operation table, against differences of its own doubles. A difference
//! over a step h of five points is good to about h⁴, so six digits are asked for.

use gaugebook::check::Binary;
use gaugebook::plan::operation::{BINARIES, Bend, UNARIES};

/// First, second and third difference quotient of a function of one number.
fn differences(function: impl Fn(f64) -> f64, at: f64) -> [f64; 3] {
    let first = |h: f64, x: f64| {
        (8.0 * (function(x + h) - function(x - h))
            - (function(x + 2.0 * h) - function(x - 2.0 * h)))
            / (12.0 * h)
    };
    let second = |h: f64| (first(1e-3, at + h) - first(1e-3, at - h)) / (2.0 * h);
    let third =
        |h: f64| (first(2e-3, at + h) - 2.0 * first(2e-3, at) + first(2e-3, at - h)) / (h * h);
    // Two steps and what they leave: the error of the second and third falls with the square.
    let better = |coarse: f64, fine: f64| fine + (fine - coarse) / 3.0;
    [
        first(1e-3, at),
        better(second(2e-3), second(1e-3)),
        better(third(2e-2), third(1e-2)),
    ]
}

fn assert_like(given: f64, expected: f64, what: &str, digits: f64) {
    let scale = expected.abs().max(1.0);
    assert!(
        (given - expected).abs() <= digits * scale,
        "{what}: {given}, by differences {expected}"
    );
}

#[test]
fn derivatives_of_functions_of_one_number() {
    for row in UNARIES {
        for at in [0.11, 0.42, 0.61] {
            let value = (row.double)(at);
            let known = (row.derivatives)(at, value);
            let found = differences(row.double, at);
            let what = |order: &str| format!("{order} derivative of {:?} at {at}", row.function);
            assert_like(known[0], found[0], &what("first"), 1e-8);
            assert_like(known[1], found[1], &what("second"), 1e-5);
            assert_like(known[2], found[2], &what("third"), 2e-3);
        }
    }
}

#[test]
fn derivatives_of_functions_of_two_numbers() {
    for row in BINARIES {
        let stepped = matches!(row.function, Binary::Round | Binary::Floor | Binary::Ceil);
        if stepped {
            continue;
        }
        for (x, y) in [(1.3, 0.7), (0.6, 2.2), (2.5, 1.1)] {
            let value = (row.double)(x, y);
            let (by_x, by_y) = (row.first)(x, y, value);
            let bend = row
                .higher
                .map_or(Bend::default(), |higher| higher(x, y, value));
            let along_x = differences(|x| (row.double)(x, y), x);
            let along_y = differences(|y| (row.double)(x, y), y);
            let slope = |y: f64| differences(|x| (row.double)(x, y), x)[0];
            let mixed = differences(slope, y);
            let slope_y = |x: f64| differences(|y| (row.double)(x, y), y)[0];
            let mixed_y = differences(slope_y, x);
            let what = |part: &str| format!("{part} of {:?} at {x}, {y}", row.function);
            assert_like(by_x, along_x[0], &what("x"), 1e-8);
            assert_like(by_y, along_y[0], &what("y"), 1e-8);
            assert_like(bend.xx, along_x[1], &what("xx"), 1e-5);
            assert_like(bend.yy, along_y[1], &what("yy"), 1e-5);
            assert_like(bend.xy, mixed[0], &what("xy"), 1e-6);
            assert_like(bend.xxx, along_x[2], &what("xxx"), 2e-3);
            assert_like(bend.yyy, along_y[2], &what("yyy"), 2e-3);
            assert_like(bend.xyy, mixed[1], &what("xyy"), 1e-3);
            assert_like(bend.xxy, mixed_y[1], &what("xxy"), 1e-3);
        }
    }
}

#[test]
fn a_power_of_a_negative_base_has_derivatives_by_the_base() {
    let row = BINARIES
        .iter()
        .find(|row| row.function == Binary::Power)
        .expect("powers are there");
    let bend = row.higher.expect("a power bends")(-2.0, 3.0, -8.0);
    assert_eq!((bend.xx, bend.xxx), (-12.0, 6.0));
    assert_eq!((bend.xy, bend.yy, bend.yyy), (0.0, 0.0, 0.0));
}
