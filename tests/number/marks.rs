//! What is exact and what is not, and how the mark spreads.

use super::read;
use gaugebook::number::Number;

#[test]
fn results_that_are_exactly_known_are_exact() {
    let exact = [
        (Number::ZERO.exp(), "1"),
        (Number::ONE.ln(), "0"),
        (read("1e-7").log10(), "-7"),
        (read("1e300").log10(), "300"),
        (Number::ZERO.asin(), "0"),
        (Number::ONE.acos(), "0"),
        (Number::ZERO.atan(), "0"),
        (Number::ZERO.atan2(read("5")), "0"),
    ];
    for (found, expected) in exact {
        let found = found.expect("a value");
        assert_eq!(found, read(expected));
        assert!(found.is_exact(), "{expected}");
    }
}

#[test]
fn sines_of_twelfths_of_a_turn_are_exact() {
    let twelfth = |count: i64| {
        Number::from(count)
            .over(Number::from(12))
            .expect("a twelfth")
    };
    let sines = [
        "0", "0.5", "", "1", "", "0.5", "0", "-0.5", "", "-1", "", "-0.5",
    ];
    for turn in [-2, 0, 1, 1000] {
        for (place, expected) in sines.iter().enumerate() {
            let angle = twelfth(place as i64 + 12 * turn);
            let sine = angle.sin_turns().expect("a sine");
            let cosine = twelfth(place as i64 + 12 * turn - 3)
                .cos_turns()
                .expect("a cosine");
            for found in [sine, cosine] {
                assert_eq!(
                    found.is_exact(),
                    !expected.is_empty(),
                    "{place}/12 + {turn}"
                );
                if !expected.is_empty() {
                    assert_eq!(found, read(expected), "{place}/12 + {turn}");
                }
            }
        }
    }
}

#[test]
fn tangents_of_eighths_of_a_turn_are_exact_or_have_no_value() {
    for (angle, expected) in [
        ("0", "0"),
        ("0.125", "1"),
        ("0.375", "-1"),
        ("0.5", "0"),
        ("-0.125", "-1"),
        ("7.625", "1"),
        ("1e300", "0"),
    ] {
        let tangent = read(angle).tan_turns().expect("a tangent");
        assert_eq!(tangent, read(expected), "{angle}");
        assert!(tangent.is_exact(), "{angle}");
    }
    for angle in ["0.25", "-0.25", "0.75", "100.25"] {
        assert!(read(angle).tan_turns().is_err(), "{angle}");
    }
}

#[test]
fn functions_through_doubles_are_marked_and_the_mark_spreads() {
    let marked = read("0.3").exp().expect("a value");
    assert!(!marked.is_exact());
    let two = read("2");
    for result in [
        marked.plus(two),
        two.minus(marked),
        marked.times(two),
        two.over(marked),
        marked.remainder(two),
        marked.power_whole(3),
        marked.power_whole(0),
        two.power(marked),
        marked.square_root(),
        marked.root(7),
        marked.round_to(two),
        marked.times(Number::ZERO),
        Number::ZERO.as_inexact().plus(read("1e40")),
        Number::ZERO.as_inexact().exp(),
        Number::from(2).power(read("0.3")),
        read("10").ln(),
        Number::ONE.asin(),
        Number::ZERO.acos(),
        read("-1").acos(),
        Number::ONE.atan(),
        Number::ONE.atan2(Number::ZERO),
        read("0.5").as_inexact().sin_turns(),
    ] {
        assert!(!result.expect("a value").is_exact(), "{result:?}");
    }
    assert!(!marked.negated().magnitude().is_exact());
    assert!(two.square_root().is_ok_and(Number::is_exact));
}

#[test]
fn logarithms_of_powers_of_ten_have_all_digits() {
    // ln 10 to 50 digits: 2.3025850929940456840179914546843642076011014886288.
    assert_eq!(Number::TEN.ln(), Ok(read("2.302585092994045684017991455")));
    assert_eq!(read("0.1").ln(), Ok(read("-2.302585092994045684017991455")));
}

#[test]
fn functions_have_no_value_outside_their_domain() {
    assert!(Number::ZERO.ln().is_err());
    assert!(read("-3").log10().is_err());
    assert!(read("1.0000000000000000000000001").asin().is_err());
    assert!(read("-1.5").acos().is_err());
    assert!(Number::ZERO.atan2(Number::ZERO).is_err());
    assert!(read("1e6").exp().is_err());
    assert!(read("-1e6").exp().is_err());
}

#[test]
fn angles_of_axes_and_quadrants_come_out_right() {
    // Multiples of π, by definition.
    for (up, along, turns) in [
        ("0", "-2", "0.5"),
        ("3", "0", "0.25"),
        ("-3", "0", "-0.25"),
        ("1", "-1", "0.375"),
        ("-1", "-1", "-0.375"),
        ("1e9000", "-1e-9000", "0.25"),
        ("1e-9000", "-1e9000", "0.5"),
    ] {
        let angle = read(up).atan2(read(along)).expect("an angle");
        let expected = read(turns)
            .times(read("2"))
            .expect("in range")
            .times(Number::PI)
            .expect("in range");
        assert!(angle.equals(expected), "{up}, {along}: {angle}");
    }
    assert!(read("1e-9000").atan2(read("1e9000")).is_err());
    assert!(
        read("1e9999")
            .atan()
            .expect("an angle")
            .equals(Number::PI.over(read("2")).expect("in range"))
    );
}
