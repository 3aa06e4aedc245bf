//! Decimals as fractions and fractions as decimals, and the reading of reference files.

use gaugebook::number::{Factor, Rational};
use num_bigint::BigInt;

/// A reference file without the line that names its origin.
pub(crate) fn records(name: &str) -> Vec<csv::StringRecord> {
    let path = format!("{}/tests/reference/{name}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).expect("the reference file");
    let (origin, table) = text.split_once('\n').expect("an origin line");
    assert!(origin.starts_with("# Origin: "), "{name}");
    csv::Reader::from_reader(table.as_bytes())
        .records()
        .map(|record| record.expect("a record"))
        .collect()
}

/// `-12.5e3` as a fraction.
pub(crate) fn decimal(text: &str) -> Rational {
    let (digits, exponent) = match text.split_once(['e', 'E']) {
        Some((digits, exponent)) => (digits, exponent.parse::<i32>().expect("an exponent")),
        None => (text, 0),
    };
    let (whole, part) = digits.split_once('.').unwrap_or((digits, ""));
    let all: BigInt = format!("{whole}{part}").parse().expect("digits");
    power_of_ten(exponent - part.len() as i32).times(&fraction(all, 1.into()))
}

pub(crate) fn fraction(numerator: BigInt, denominator: BigInt) -> Rational {
    Rational::new(numerator, denominator).expect("a denominator")
}

pub(crate) fn power_of_ten(exponent: i32) -> Rational {
    Rational::whole(10)
        .power(exponent)
        .expect("ten is not zero")
}

/// How many digits a printed number has, leading zeros apart.
pub(crate) fn printed_digits(text: &str) -> i32 {
    let digits = text.split(['e', 'E']).next().unwrap_or("");
    let digits: String = digits.chars().filter(char::is_ascii_digit).collect();
    digits.trim_start_matches('0').len() as i32
}

/// Rounded to so many significant digits, half to even.
pub(crate) fn rounded(value: &Rational, digits: i32) -> Rational {
    if value.is_zero() {
        return value.clone();
    }
    let mut exponent = value.numerator().magnitude().to_string().len() as i32
        - value.denominator().to_string().len() as i32
        - digits;
    let size = if value.is_negative() {
        Rational::zero().minus(value)
    } else {
        value.clone()
    };
    let limit = power_of_ten(digits);
    while size.times(&power_of_ten(-exponent)) >= limit {
        exponent += 1;
    }
    let scaled = value.times(&power_of_ten(-exponent));
    let twice = scaled.numerator() * 2;
    let mut whole = num_integer::Integer::div_floor(scaled.numerator(), scaled.denominator());
    let above: BigInt = twice - &whole * 2 * scaled.denominator();
    let odd = num_integer::Integer::is_odd(&whole);
    if above > *scaled.denominator() || (above == *scaled.denominator() && odd) {
        whole += 1;
    }
    fraction(whole, 1.into()).times(&power_of_ten(exponent))
}

/// A factor as a fraction, π to 50 digits.
pub(crate) fn ratio(factor: &Factor) -> Rational {
    let pi = decimal("3.1415926535897932384626433832795028841971693993751");
    factor
        .ratio
        .times(&pi.power(i32::from(factor.pi)).expect("π is not zero"))
}
