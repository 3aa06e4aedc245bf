//! Correct rounding: sums, products, quotients, powers and roots against another arithmetic.

use super::read;
use crate::tables::rows;
use gaugebook::number::{Number, Trouble};

fn work_out(operation: &str, a: Number, b: Number) -> Result<Number, Trouble> {
    let whole = || b.to_i64().expect("a whole number");
    match operation {
        "plus" => a.plus(b),
        "minus" => a.minus(b),
        "times" => a.times(b),
        "over" => a.over(b),
        "remainder" => a.remainder(b),
        "power" => a.power_whole(i32::try_from(whole()).expect("an exponent")),
        "root" => a.root(u32::try_from(whole()).expect("a degree")),
        other => panic!("no operation {other}"),
    }
}

#[test]
fn every_case_of_the_table_is_rounded_correctly() {
    let mut wrong = Vec::new();
    let rows = rows("number-arithmetic.csv");
    for row in &rows {
        let (a, b) = (read(&row["a"]), read(&row["b"]));
        let found = work_out(&row["operation"], a, b);
        let holds = match &row["expected"] {
            "trouble" => matches!(found, Err(Trouble::Overflow | Trouble::Underflow)),
            expected => found == Ok(read(expected)),
        };
        if !holds {
            wrong.push(format!(
                "{} {} {}: {found:?}, not {} ({})",
                &row["a"], &row["operation"], &row["b"], &row["expected"], &row["group"],
            ));
        }
    }
    assert!(rows.len() > 1000, "{} rows", rows.len());
    assert!(
        wrong.is_empty(),
        "{} of {}:\n{}",
        wrong.len(),
        rows.len(),
        wrong[..wrong.len().min(40)].join("\n")
    );
}

#[test]
fn an_operation_without_result_says_why() {
    let (zero, one) = (Number::ZERO, Number::ONE);
    assert_eq!(one.over(zero), Err(Trouble::Zero));
    assert_eq!(zero.over(zero), Err(Trouble::Zero));
    assert_eq!(one.remainder(zero), Err(Trouble::Zero));
    assert_eq!(zero.power_whole(-1), Err(Trouble::Zero));
    assert_eq!(zero.power(read("-0.3")), Err(Trouble::Zero));
    assert_eq!(read("-8").power(read("0.5")), Err(Trouble::Domain));
    assert_eq!(read("-8").power(read("0.3")), Err(Trouble::Domain));
    assert_eq!(read("-4").square_root(), Err(Trouble::Domain));
    assert_eq!(read("-16").root(4), Err(Trouble::Domain));
    assert_eq!(read("16").root(0), Err(Trouble::Domain));
    assert_eq!(read("9e9999").plus(read("9e9999")), Err(Trouble::Overflow));
    assert_eq!(read("1e-9999").over(Number::TEN), Err(Trouble::Underflow));
    assert_eq!(read("1e2500").power_whole(-4), Err(Trouble::Underflow));
    assert_eq!(read("2e-2500").power_whole(-4), Ok(read("6.25e9998")));
    assert_eq!(read("10").power(read("1e30")), Err(Trouble::Overflow));
    assert_eq!(read("10").power(read("-1e30")), Err(Trouble::Underflow));
}

#[test]
fn zero_goes_through_every_operation() {
    let (zero, x) = (Number::ZERO, read("-2.50e-40"));
    assert_eq!(zero.plus(x), Ok(x));
    assert_eq!(x.plus(zero), Ok(x));
    assert_eq!(zero.minus(x), Ok(x.negated()));
    assert_eq!(x.minus(x), Ok(zero));
    assert_eq!(zero.times(x), Ok(zero));
    assert_eq!(zero.over(x), Ok(zero));
    assert_eq!(zero.power_whole(0), Ok(Number::ONE));
    assert_eq!(zero.power(read("0.3")), Ok(zero));
    assert_eq!(zero.square_root(), Ok(zero));
    assert_eq!(zero.root(5), Ok(zero));
    assert!(!x.minus(x).is_ok_and(Number::is_negative));
    assert!(!zero.negated().is_negative());
}

#[test]
fn an_exact_quotient_is_short() {
    assert_eq!(
        read("60").over(read("4")).map(Number::full),
        Ok("15".into())
    );
    assert_eq!(
        read("1").over(read("8")).map(Number::full),
        Ok("0.125".into())
    );
    assert_eq!(
        read("1e3").over(read("1e-3")).map(Number::full),
        Ok("1000000".into())
    );
}

#[test]
fn powers_with_a_half_are_roots_and_stay_exact() {
    for (base, exponent, expected) in [
        ("4", "0.5", "2"),
        ("4", "-0.5", "0.5"),
        ("4", "1.5", "8"),
        ("0.25", "-2.5", "32"),
        ("1e300", "0.5", "1e150"),
    ] {
        let power = read(base).power(read(exponent)).expect("a power");
        assert_eq!(power, read(expected), "{base}^{exponent}");
        assert!(power.is_exact(), "{base}^{exponent}");
    }
}

#[test]
fn whole_powers_of_negative_numbers_keep_their_sign() {
    assert_eq!(read("-2").power(read("3")), Ok(read("-8")));
    assert_eq!(read("-2").power(read("-2")), Ok(read("0.25")));
    assert_eq!(read("-1").power(read("4294967297")), Ok(read("-1")));
    assert_eq!(read("-27").cube_root(), Ok(read("-3")));
}

#[test]
fn high_roots_are_within_a_unit_of_the_last_digit() {
    for (number, degree) in [("2", 33), ("1.5e4000", 97), ("0.7", 1000), ("3", 1_000_000)] {
        let root = read(number).root(degree).expect("a root");
        let back = root
            .power_whole(degree.try_into().expect("an exponent"))
            .expect("a power");
        // One unit in the 28th digit of the root is worth `degree` units of its power.
        let allowed = f64::from(degree) * 1.1e-27;
        let error = back
            .over(read(number))
            .expect("a ratio")
            .minus(Number::ONE)
            .expect("small");
        assert!(
            error.to_f64().abs() < allowed,
            "{number}^(1/{degree}): {error}"
        );
    }
    assert_eq!(read("1e9900").root(99), Ok(read("1e100")));
    assert_eq!(read("1").root(2_000_000_000), Ok(Number::ONE));
}
