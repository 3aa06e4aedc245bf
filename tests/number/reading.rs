//! Reading decimals.

use super::read;
use gaugebook::number::{Number, ReadTrouble};

#[test]
fn every_way_to_write_a_decimal() {
    for (text, full) in [
        ("1200", "1200"),
        ("0.125", "0.125"),
        ("1.2e-3", "0.0012"),
        ("1.2E+3", "1200"),
        ("1_200", "1200"),
        ("1_200.000_5", "1200.0005"),
        (".5", "0.5"),
        ("5.", "5"),
        ("-5", "-5"),
        ("+5", "5"),
        ("-.5e1", "-5"),
        ("000012", "12"),
        ("0e99999999999999999999", "0"),
        ("-0", "0"),
        ("1e-9999", "1e-9999"),
        ("0.00001e10004", "1e9999"),
        ("1e1_0", "10000000000"),
    ] {
        assert_eq!(read(text).full(), full, "{text}");
        assert!(read(text).is_exact());
    }
}

#[test]
fn more_than_28_digits_are_rounded_half_to_even_once() {
    for (text, full) in [
        (
            "12345678901234567890123456785",
            "1.234567890123456789012345678e28",
        ),
        (
            "12345678901234567890123456775",
            "1.234567890123456789012345678e28",
        ),
        (
            "123456789012345678901234567850000000000000000000000000000001",
            "1.234567890123456789012345679e59",
        ),
        (
            "0.1234567890123456789012345678499999999999999999999",
            "0.1234567890123456789012345678",
        ),
        ("9999999999999999999999999999.9", "1e28"),
    ] {
        assert_eq!(read(text).full(), full, "{text}");
    }
    let long = format!("0.{}1", "0".repeat(5000));
    assert_eq!(read(&long), read("1e-5001"));
    let long = format!("{}.{}e-3000", "7".repeat(3000), "7".repeat(3000));
    assert_eq!(read(&long), read("0.7777777777777777777777777778"));
}

#[test]
fn what_is_no_decimal_is_refused_where_it_goes_wrong() {
    use ReadTrouble::{Empty, TooLarge, TooSmall, Unexpected};
    for (text, trouble) in [
        ("", Empty),
        ("-", Empty),
        (".", Empty),
        ("1,000", Unexpected(1)),
        ("1 000", Unexpected(1)),
        ("_1", Unexpected(0)),
        ("1_", Unexpected(1)),
        ("1__0", Unexpected(1)),
        ("1_.5", Unexpected(1)),
        ("1._5", Unexpected(2)),
        ("1.2.3", Unexpected(3)),
        ("1e", Unexpected(2)),
        ("1e+", Unexpected(3)),
        ("1e2.5", Unexpected(3)),
        ("e5", Unexpected(0)),
        ("--1", Unexpected(1)),
        ("12psi", Unexpected(2)),
        ("٣", Unexpected(0)),
        ("½", Unexpected(0)),
        ("inf", Unexpected(0)),
        ("NaN", Unexpected(0)),
        ("1e10000", TooLarge),
        ("-1e99999999999999999999", TooLarge),
        ("1e-10000", TooSmall),
        ("1e-99999999999999999999", TooSmall),
    ] {
        assert_eq!(Number::read(text), Err(trouble), "{text:?}");
    }
}
