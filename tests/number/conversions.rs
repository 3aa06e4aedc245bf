//! Factors, offsets and exact ratios: one rounding each.

use super::read;
use crate::tables::{Row, rows};
use gaugebook::number::{Factor, Number, Rational};
use num_bigint::BigInt;

fn whole(text: &str) -> BigInt {
    text.parse()
        .unwrap_or_else(|_| panic!("{text} is no whole number"))
}

fn ratio(row: &Row, upper: &str, lower: &str) -> Rational {
    Rational::new(whole(&row[upper]), whole(&row[lower])).expect("not over zero")
}

#[test]
fn every_conversion_of_the_table_is_rounded_once() {
    let rows = rows("number-conversions.csv");
    for row in &rows {
        let x = read(&row["x"]);
        let ratio_of_row = ratio(row, "numerator", "denominator");
        let offset = ratio(row, "offset_numerator", "offset_denominator");
        let found = match &row["kind"] {
            "factor" => x.scaled(&Factor {
                ratio: ratio_of_row.clone(),
                pi: row["pi"].parse().expect("a power of pi"),
            }),
            _ => x.affine(&ratio_of_row, &offset),
        };
        let case = format!(
            "{} of {} by {ratio_of_row:?}, {offset:?}",
            &row["kind"], &row["x"]
        );
        assert_eq!(found, Ok(read(&row["expected"])), "{case}");
        if &row["pi"] == "0" {
            let exact = x.rational().times(&ratio_of_row).plus(&offset);
            assert_eq!(Number::from_rational(&exact), found, "{case}");
        }
    }
    assert!(rows.len() > 400, "{} rows", rows.len());
}

#[test]
fn a_number_is_a_ratio_and_back() {
    for text in [
        "0",
        "-12.5",
        "1e300",
        "3.3e-300",
        "0.1234567890123456789012345678",
        "7e40",
    ] {
        let number = read(text);
        assert_eq!(
            Number::from_rational(&number.rational()),
            Ok(number),
            "{text}"
        );
    }
    let quarter = Rational::new(BigInt::from(-1), BigInt::from(4)).expect("not over zero");
    assert_eq!(read("-0.250").rational(), quarter);
}

#[test]
fn a_conversion_keeps_the_mark() {
    let factor = Factor::one();
    let (nine, five) = (Rational::whole(9), Rational::whole(5));
    let inexact = read("1.5").as_inexact();
    assert!(!inexact.scaled(&factor).is_ok_and(Number::is_exact));
    assert!(!inexact.affine(&nine, &five).is_ok_and(Number::is_exact));
    assert!(read("1.5").affine(&nine, &five).is_ok_and(Number::is_exact));
}
