//! The conversion rows that are a factor or an offset, as exact fractions; and the rows that are
//! to be refused because the dimensions differ or the word is no unit.
//!
//! Rows about references, levels and what a notebook declares are checked where values are.

use gaugebook::number::Rational;
use gaugebook::units::{Lookup, Registry, Unit};

use super::exact::{decimal, printed_digits, ratio, records, rounded};
use super::reader::read;

/// Rows that need a barometer, a level's logarithm, or a rule about references.
const LATER: [&str; 30] = [
    "U233", "U234", "U235", "U238", "U239", "U240", "U242", "U243", "U244", "U245", "U246", "U247",
    "U248", "U249", "U250", "U251", "U252", "U253", "U254", "U255", "U256", "U257", "U264", "U265",
    "U267", "U268", "U269", "U270", "U271", "U278",
];

fn typed(registry: &mut Registry, text: &str, group: &str) -> Unit {
    let torque = group == "torque" || text == "N.m";
    let text = if torque {
        format!("{text} torque")
    } else {
        text.to_string()
    };
    match read(registry, &text) {
        Ok((unit, _)) => unit,
        Err(why) => panic!("{text}: {why}"),
    }
}

fn number(text: &str) -> Rational {
    match text {
        "1 1/2" => decimal("1.5"),
        _ => decimal(text),
    }
}

/// The value in the other unit: offsets where a unit stands alone and has one.
fn converted(registry: &Registry, value: &Rational, from: &Unit, to: &Unit) -> Rational {
    let zero = Rational::zero();
    let above = registry.offset(from).unwrap_or(&zero);
    let below = registry.offset(to).unwrap_or(&zero);
    let factor = registry.factor(from, to).expect("the same dimension");
    value.plus(above).times(&ratio(&factor)).minus(below)
}

#[test]
fn every_conversion_row_agrees() {
    let mut registry = Registry::new();
    let mut seen = 0;
    for row in records("unit-checks.csv") {
        let (id, group) = (&row[0], &row[1]);
        if LATER.contains(&id) || group == "error" {
            continue;
        }
        let from = typed(&mut registry, &row[3], group);
        let to = typed(&mut registry, &row[4], group);
        let value = converted(&registry, &number(&row[2]), &from, &to);
        let expected = decimal(&row[6]);
        if row[7] == *"yes" {
            assert_eq!(value, expected, "{id}");
        } else {
            assert_eq!(rounded(&value, printed_digits(&row[6])), expected, "{id}");
        }
        seen += 1;
    }
    // Of 282 rows 28 are errors, and 17 others are for later.
    assert_eq!(seen, 282 - 28 - 17);
}

#[test]
fn rows_of_different_dimension_have_no_factor() {
    let mut registry = Registry::new();
    let rows = records("unit-checks.csv");
    let wanted = [
        "U258", "U259", "U260", "U261", "U262", "U263", "U266", "U273", "U277", "U279", "U280",
    ];
    for id in wanted {
        // U266: rpm and Hz have different dimensions here, since a turn is an angle.
        let row = rows.iter().find(|row| row[0] == *id).expect("the row");
        let from = typed(&mut registry, &row[3], "");
        let to = typed(&mut registry, &row[4], "");
        assert_eq!(registry.factor(&from, &to), None, "{id}");
    }
}

#[test]
fn rows_of_words_that_are_no_units_are_refused() {
    let mut registry = Registry::new();
    assert!(
        matches!(registry.word("ton"), Lookup::Refused { .. }),
        "U272"
    );
    assert!(
        matches!(registry.word("mesh"), Lookup::Refused { .. }),
        "U274"
    );
    assert!(
        matches!(registry.word("kkg"), Lookup::Unknown { .. }),
        "U275"
    );
    assert!(
        matches!(registry.word("kin"), Lookup::Unknown { .. }),
        "U276"
    );
}

#[test]
fn the_rows_left_for_later_are_all_there() {
    let rows = records("unit-checks.csv");
    for id in LATER {
        assert!(rows.iter().any(|row| row[0] == *id), "{id}");
    }
}
