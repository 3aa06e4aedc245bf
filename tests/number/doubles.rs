//! Decimals and doubles, against another conversion.

use super::read;
use crate::tables::rows;
use gaugebook::number::{Number, Trouble};

#[test]
fn the_nearest_double_is_found() {
    let rows = rows("number-doubles.csv");
    for row in &rows {
        let expected = u64::from_str_radix(&row["bits"], 16).expect("64 bits");
        let found = read(&row["decimal"]).to_f64();
        let case = &row["decimal"];
        // There is no negative zero here.
        assert_eq!(
            found.to_bits() & !(u64::from(found == 0.0) << 63),
            expected & !(u64::from(found == 0.0) << 63),
            "{case}: {found:e}"
        );
    }
    assert!(rows.len() > 300, "{} rows", rows.len());
}

#[test]
fn a_double_becomes_its_shortest_decimal_and_is_inexact() {
    for (value, text) in [
        (0.1, "0.1"),
        (64.0, "64"),
        (-2.5e-300, "-2.5e-300"),
        (1e23, "1e23"),
        (0.0, "0"),
        (-0.0, "0"),
    ] {
        let number = Number::from_f64(value).expect("a number");
        assert_eq!(number, read(text));
        assert!(!number.is_exact());
        assert_eq!(number.to_f64(), value);
    }
    for value in [
        f64::MAX,
        f64::MIN_POSITIVE,
        f64::from_bits(1),
        1.0 + f64::EPSILON,
    ] {
        assert_eq!(Number::from_f64(value).map(Number::to_f64), Ok(value));
    }
}

#[test]
fn what_is_no_number_is_refused() {
    assert_eq!(Number::from_f64(f64::NAN), Err(Trouble::Domain));
    assert_eq!(Number::from_f64(f64::INFINITY), Err(Trouble::Overflow));
    assert_eq!(Number::from_f64(f64::NEG_INFINITY), Err(Trouble::Overflow));
}
