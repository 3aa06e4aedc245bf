//! Functions that run through doubles, against another arithmetic of many digits.

use super::read;
use crate::tables::rows;
use gaugebook::number::{Number, Trouble};
use std::collections::BTreeMap;

fn work_out(function: &str, a: Number, b: &str) -> Result<Number, Trouble> {
    match function {
        "exp" => a.exp(),
        "ln" => a.ln(),
        "log10" => a.log10(),
        "power" => a.power(read(b)),
        "sin" => a.sin_turns(),
        "cos" => a.cos_turns(),
        "tan" => a.tan_turns(),
        "asin" => a.asin(),
        "acos" => a.acos(),
        "atan" => a.atan(),
        "atan2" => a.atan2(read(b)),
        other => panic!("no function {other}"),
    }
}

/// The relative error of a result, in decimals.
fn relative_error(found: Number, expected: Number) -> f64 {
    let ratio = found.over(expected).expect("not zero");
    ratio.minus(Number::ONE).expect("in range").to_f64().abs()
}

#[test]
fn every_function_is_right_to_fifteen_digits_and_more() {
    let rows = rows("number-functions.csv");
    let mut worst: BTreeMap<&str, (f64, String)> = BTreeMap::new();
    for row in &rows {
        let case = format!("{}({}, {})", &row["function"], &row["a"], &row["b"]);
        let found = work_out(&row["function"], read(&row["a"]), &row["b"])
            .unwrap_or_else(|trouble| panic!("{case}: {trouble}"));
        let error = relative_error(found, read(&row["expected"]));
        let entry = worst.entry(&row["function"]).or_default();
        if error >= entry.0 {
            *entry = (error, case);
        }
    }
    for (function, (error, case)) in &worst {
        println!("{function}: at worst {error:.2e} off, at {case}");
    }
    assert!(rows.len() > 1000);
    assert_eq!(worst.len(), 11);
    assert!(worst.values().all(|(error, _)| *error < 1e-15), "{worst:?}");
}
