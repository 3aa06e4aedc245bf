//! Laws that hold for all numbers.

use super::read;
use gaugebook::number::{Factor, Number, Rational};
use num_bigint::BigInt;
use proptest::prelude::*;
use rust_decimal::Decimal;
use std::cmp::Ordering;

/// Numbers of every length and size, and some that lie close together.
fn numbers() -> impl Strategy<Value = Number> {
    let any_size = (
        -(10_i128.pow(28)) + 1..10_i128.pow(28),
        0_u32..28,
        -330_i32..330,
    );
    let usual = (-1_000_000_i64..1_000_000, -6_i32..3);
    prop_oneof![
        any_size.prop_map(|(digits, shorter, power)| {
            read(&format!("{}e{power}", digits / 10_i128.pow(shorter)))
        }),
        usual.prop_map(|(digits, power)| read(&format!("{digits}e{power}"))),
        (-3_i64..4).prop_map(Number::from),
    ]
}

/// As [`numbers`], without zero.
fn divisors() -> impl Strategy<Value = Number> {
    numbers().prop_map(|number| {
        if number.is_zero() {
            Number::ONE
        } else {
            number
        }
    })
}

/// Numbers as `rust_decimal` holds them without rounding.
fn short_decimals() -> impl Strategy<Value = Decimal> {
    (-10_i64.pow(13)..10_i64.pow(13), 0_u32..14)
        .prop_map(|(digits, places)| Decimal::new(digits, places))
}

fn same(found: Number, expected: Decimal) -> bool {
    found == read(&expected.to_string())
}

proptest! {
    #[test]
    fn reading_what_is_written_in_full_gives_the_number(a in numbers()) {
        prop_assert_eq!(read(&a.full()), a);
    }

    #[test]
    fn sums_and_products_know_no_order(a in numbers(), b in numbers()) {
        prop_assert_eq!(a.plus(b), b.plus(a));
        prop_assert_eq!(a.times(b), b.times(a));
        prop_assert_eq!(a.minus(b), b.minus(a).map(Number::negated));
    }

    #[test]
    fn what_is_added_can_be_taken_away(a in numbers(), b in numbers()) {
        let sum = a.plus(b).unwrap();
        let error = sum.minus(b).unwrap().minus(a).unwrap().magnitude();
        let larger = a.magnitude().max(b.magnitude());
        prop_assert!(error <= larger.times(read("1e-27")).unwrap());
    }

    #[test]
    fn what_is_multiplied_can_be_divided(a in numbers(), b in divisors()) {
        prop_assert!(a.times(b).unwrap().over(b).unwrap().equals(a));
    }

    #[test]
    fn operations_are_the_exact_ratio_rounded(a in numbers(), b in numbers()) {
        let (x, y) = (a.rational(), b.rational());
        prop_assert_eq!(a.plus(b), Number::from_rational(&x.plus(&y)));
        prop_assert_eq!(a.times(b), Number::from_rational(&x.times(&y)));
        if let Some(quotient) = x.over(&y) {
            prop_assert_eq!(a.over(b), Number::from_rational(&quotient));
        }
    }

    #[test]
    fn short_operands_agree_with_another_decimal(a in short_decimals(), b in short_decimals()) {
        let (x, y) = (read(&a.to_string()), read(&b.to_string()));
        prop_assert!(same(x.plus(y).unwrap(), a + b));
        prop_assert!(same(x.times(y).unwrap(), a * b));
        prop_assert_eq!(x.compare(y), a.cmp(&b));
        if !b.is_zero() {
            prop_assert!(same(x.remainder(y).unwrap(), a % b));
        }
    }

    #[test]
    fn order_is_the_sign_of_the_difference(a in numbers(), b in numbers()) {
        let difference = a.minus(b).unwrap();
        let expected = match (difference.is_zero(), difference.is_negative()) {
            (true, _) => Ordering::Equal,
            (false, true) => Ordering::Less,
            (false, false) => Ordering::Greater,
        };
        prop_assert_eq!(a.compare(b), expected);
        prop_assert_eq!(b.compare(a), expected.reverse());
        prop_assert_eq!(a.equals(b), b.equals(a));
        prop_assert!(a.equals(a));
    }

    #[test]
    fn a_factor_leads_there_and_back(a in numbers(), upper in 1_i64.., lower in 1_i64.., pi in -2_i16..3) {
        let ratio = Rational::new(BigInt::from(upper), BigInt::from(lower)).unwrap();
        let there = Factor { ratio, pi };
        let back = Factor::one().over(&there).unwrap();
        let again = a.scaled(&there).unwrap().scaled(&back).unwrap();
        prop_assert!(again.equals(a), "{again} for {a}");
    }

    #[test]
    fn the_remainder_is_what_a_whole_multiple_leaves(a in numbers(), b in divisors()) {
        let rest = a.remainder(b).unwrap();
        prop_assert!(rest.magnitude() < b.magnitude());
        prop_assert!(rest.is_zero() || rest.is_negative() == a.is_negative());
        let multiple = a.rational().minus(&rest.rational()).over(&b.rational()).unwrap();
        prop_assert_eq!(multiple.denominator(), &BigInt::from(1));
    }

    #[test]
    fn a_square_root_squared_is_the_number(a in numbers()) {
        let root = a.magnitude().square_root().unwrap();
        prop_assert!(root.times(root).unwrap().equals(a.magnitude()));
        let square = a.power_whole(2).unwrap().square_root().unwrap();
        prop_assert!(square.equals(a.magnitude()));
    }

    #[test]
    fn floor_and_ceil_enclose(a in numbers(), step in divisors()) {
        let (floor, ceil) = (a.floor_to(step).unwrap(), a.ceil_to(step).unwrap());
        let round = a.round_to(step).unwrap();
        prop_assert!(floor <= a && a <= ceil || floor.equals(ceil));
        prop_assert!(round == floor || round == ceil);
    }

    #[test]
    fn doubles_come_back(value in any::<f64>()) {
        prop_assume!(value.is_finite());
        prop_assert_eq!(Number::from_f64(value).unwrap().to_f64(), value);
    }

    #[test]
    fn no_text_makes_reading_panic(text in "[-+_.eE0-9 ]{0,40}|\\PC{0,20}") {
        if let Ok(number) = Number::read(&text) {
            prop_assert_eq!(read(&number.full()), number);
        }
    }

    #[test]
    fn shown_digits_are_near(a in divisors(), digits in 1_u32..30) {
        let allowed = a.magnitude().shifted(1 - digits as i32).unwrap();
        for text in [a.shown_with(digits), a.significant(digits)] {
            let error = read(&text).minus(a).unwrap().magnitude();
            prop_assert!(error <= allowed, "{text}");
        }
    }
}
