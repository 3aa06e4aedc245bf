//! Numbers as text. Check values by hand from the rules, where no table is named.

use super::read;
use crate::tables::rows_of;
use gaugebook::number::{Number, round_pair};

#[test]
fn in_full_all_digits_and_no_more() {
    for (text, full) in [
        ("0", "0"),
        ("1.500", "1.5"),
        ("-0.0000001", "-0.0000001"),
        ("0.00000009999", "9.999e-8"),
        ("999999999999999999999", "999999999999999999999"),
        ("1e21", "1e21"),
        ("-1.5e-12", "-1.5e-12"),
        (
            "0.1234567890123456789012345678",
            "0.1234567890123456789012345678",
        ),
        ("100e18", "100000000000000000000"),
        ("12.5e300", "1.25e301"),
    ] {
        assert_eq!(read(text).full(), full, "{text}");
    }
}

#[test]
fn an_inexact_number_has_15_digits() {
    for (text, full) in [
        ("0.12345678901234567", "0.123456789012346"),
        ("2.00000000000000044", "2"),
        ("99999999999999996", "100000000000000000"),
        ("1.23456789012345678e-40", "1.23456789012346e-40"),
    ] {
        assert_eq!(read(text).as_inexact().full(), full, "{text}");
    }
}

#[test]
fn shown_to_four_digits_without_cutting_whole_ones() {
    for (text, shown) in [
        ("0", "0"),
        ("17.862345", "17.86"),
        ("17.865", "17.86"),
        ("17.875", "17.88"),
        ("5.00", "5"),
        ("-0.12345", "-0.1234"),
        ("123456.7", "123457"),
        ("12345.5", "12346"),
        ("1234567890123456", "1234567890123456"),
        ("9999999999999999.4", "9999999999999999"),
        ("9999999999999999.6", "1.000e16"),
        ("12345678901234567890", "1.235e19"),
        ("0.00012345", "0.0001234"),
        ("0.0001", "0.0001"),
        ("0.00009999", "9.999e-5"),
        ("0.000099996", "0.0001000"),
        ("-1.23456e-300", "-1.235e-300"),
        ("9.9996e-7", "1.000e-6"),
        ("1e300", "1e300"),
        ("17.4", "17.4"),
        ("17.3968", "17.40"),
        ("0.99996", "1.000"),
    ] {
        assert_eq!(read(text).shown(), shown, "{text}");
    }
    assert_eq!(read("17.862345").shown_with(6), "17.8623");
    assert_eq!(read("17.862345").shown_with(1), "18");
    assert_eq!(read("17.862345").shown_with(0), "18");
    assert_eq!(
        read("0.3333333333333333333").shown_with(40),
        "0.3333333333333333333"
    );
    assert_eq!(
        read("0.33333333333333333").as_inexact().shown_with(40),
        "0.333333333333333"
    );
}

#[test]
fn significant_digits_are_filled_up_with_zeros() {
    for (text, digits, shown) in [
        ("0", 3, "0.00"),
        ("9.996", 3, "10.0"),
        ("-9.996", 3, "-10.0"),
        ("0.5", 2, "0.50"),
        ("123456", 3, "123000"),
        ("999999", 3, "1000000"),
        ("12", 30, "12.0000000000000000000000000000"),
        ("1.23456e300", 3, "1.23e300"),
        ("9.999e300", 3, "1.00e301"),
        ("9.9996e-9", 3, "1.00e-8"),
        ("99.99999e-9", 3, "0.000000100"),
        ("2.5", 0, "2"),
    ] {
        assert_eq!(read(text).significant(digits), shown, "{text} to {digits}");
    }
}

#[test]
fn fixed_places() {
    for (text, places, shown) in [
        ("2.675", 2, "2.68"),
        ("1.005", 2, "1.00"),
        ("62", 2, "62.00"),
        ("-0.004", 2, "0.00"),
        ("999.995", 2, "1000.00"),
        ("2.5", 0, "2"),
        ("-3.5", 0, "-4"),
        ("1e22", 1, "10000000000000000000000.0"),
        ("1e-300", 3, "0.000"),
    ] {
        assert_eq!(read(text).fixed(places), shown, "{text} to {places}");
    }
    // However many are asked for, the text stays within what a number can have.
    assert!(read("1").fixed(u32::MAX).len() < 20_000);
    assert!(read("1").significant(u32::MAX).len() < 20_000);
}

/// Rows that round otherwise than half to even to two digits.
const OTHER_ROUNDING: [&str; 9] = [
    // The guide allows rounding up where it matters; that is a choice of the user, not ours.
    "Q309", // The three-digit rule of particle physics.
    "Q326", "Q327", "Q328", "Q329", "Q330", "Q331", "Q332", "Q333",
];

#[test]
fn a_value_is_rounded_to_its_uncertainty() {
    let mut left_out = Vec::new();
    for row in rows_of("uncertainty-checks.csv", &["rounding"]) {
        if OTHER_ROUNDING.contains(&&row["id"]) {
            left_out.push(row["id"].to_owned());
            continue;
        }
        let field = |name: &str| {
            let inputs = row["inputs"].split(", ");
            let text = inputs.filter_map(|input| input.strip_prefix(name)).next()?;
            Some(read(text.split(' ').next()?))
        };
        let expanded = field("u=").expect("an uncertainty");
        let (value, uncertainty) = round_pair(field("y=").unwrap_or(Number::ZERO), expanded);
        match row["expected"].split_once(" +- ") {
            Some(pair) => assert_eq!(
                (value.as_str(), uncertainty.as_str()),
                pair,
                "{}",
                &row["id"]
            ),
            None => assert_eq!(uncertainty, row["expected"], "{}", &row["id"]),
        }
    }
    assert_eq!(left_out, OTHER_ROUNDING);
}

#[test]
fn pairs_of_every_size() {
    for (value, expanded, shown) in [
        ("21.6666", "1.23", ("21.7", "1.2")),
        ("5", "0", ("5", "0")),
        ("12.34567", "0", ("12.35", "0")),
        ("5", "1234", ("0", "1200")),
        ("-5", "1234", ("0", "1200")),
        ("-0.002", "0.034", ("-0.002", "0.034")),
        ("99.96", "0.995", ("100.0", "1.0")),
        ("1.23456e-7", "1.23e-9", ("1.235e-7", "0.012e-7")),
        ("0", "1.2e-9", ("0.0e-9", "1.2e-9")),
        ("1.23456e20", "2.5e18", ("1.235e20", "0.025e20")),
        ("2", "-0.1", ("2.00", "0.10")),
        ("3e300", "1e-300", ("", "")),
    ] {
        let found = round_pair(read(value), read(expanded));
        if shown.0.is_empty() {
            assert!(found.0.len() < 20_000);
            continue;
        }
        assert_eq!(
            (found.0.as_str(), found.1.as_str()),
            shown,
            "{value} ± {expanded}"
        );
    }
}
