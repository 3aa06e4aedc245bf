//! Comparing numbers and asking what they are.

use super::read;
use gaugebook::number::Number;
use std::cmp::Ordering;

#[test]
fn order_goes_by_value_however_written() {
    // Rising, over signs and the whole range.
    let rising = [
        "-1e9999",
        "-1e300",
        "-5",
        "-4.9999999999999999999999999",
        "-0.1",
        "-1e-300",
        "0",
        "1e-9999",
        "1e-300",
        "0.0999999999999999999999999999",
        "0.1",
        "1",
        "1.000000000000000000000000001",
        "2",
        "10",
        "9999999999999999999999999999",
        "1e28",
        "1e300",
    ];
    for (place, low) in rising.iter().enumerate() {
        for (other, high) in rising.iter().enumerate() {
            assert_eq!(
                read(low).compare(read(high)),
                place.cmp(&other),
                "{low}, {high}"
            );
            assert_eq!(read(low) < read(high), place < other, "{low}, {high}");
        }
    }
    assert_eq!(read("1.10"), read("1.1"));
    assert_eq!(read("1e3"), read("1000"));
    assert_eq!(read("1.5").as_inexact(), read("1.5"));
    assert_eq!(read("-0.00").compare(read("0e50")), Ordering::Equal);
}

#[test]
fn equal_means_24_digits_of_the_larger() {
    let third = Number::ONE.over(read("3")).expect("a third");
    let one = third.times(read("3")).expect("nearly one");
    assert_ne!(one, Number::ONE);
    assert!(one.equals(Number::ONE));
    // A difference is not compared with zero that way.
    assert!(!one.minus(Number::ONE).expect("small").equals(Number::ZERO));
    assert!(!read("1e-300").equals(Number::ZERO));
    assert!(Number::ZERO.equals(read("0.00")));
    // Just within and just beyond half a unit of the 24th digit.
    assert!(read("1").equals(read("1.00000000000000000000000499")));
    assert!(!read("1").equals(read("1.00000000000000000000000501")));
    assert!(read("1e300").equals(read("1.000000000000000000000000001e300")));
    // The larger decides: 9.99… has a finer 24th digit than 10.
    assert!(read("10").equals(read("9.999999999999999999999996")));
    assert!(!read("5").equals(read("-5")));
}

#[test]
fn equal_means_15_digits_where_doubles_were_used() {
    let rough = read("1.000000000000004").as_inexact();
    assert!(rough.equals(Number::ONE));
    assert!(Number::ONE.equals(rough));
    assert!(!read("1.000000000000004").equals(Number::ONE));
    assert!(!read("1.000000000000006").as_inexact().equals(Number::ONE));
}

#[test]
fn whole_numbers_are_known() {
    for (text, whole) in [
        ("0", Some(0)),
        ("-12.000", Some(-12)),
        ("1e3", Some(1000)),
        ("9223372036854775807", Some(i64::MAX)),
        ("-9223372036854775808", Some(i64::MIN)),
    ] {
        assert!(read(text).is_whole(), "{text}");
        assert_eq!(read(text).to_i64(), whole, "{text}");
    }
    for text in ["9223372036854775808", "1e300"] {
        assert!(read(text).is_whole(), "{text}");
        assert_eq!(read(text).to_i64(), None, "{text}");
    }
    for text in ["0.5", "1e-300", "12.0001"] {
        assert!(!read(text).is_whole(), "{text}");
        assert_eq!(read(text).to_i64(), None, "{text}");
    }
    assert_eq!(Number::from(i64::MIN), read("-9223372036854775808"));
}

#[test]
fn a_number_is_small_enough_for_registers() {
    assert_eq!(size_of::<Number>(), 16);
    assert_eq!(size_of::<Result<Number, gaugebook::number::Trouble>>(), 16);
}
