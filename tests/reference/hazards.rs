//! Names that a unit library has read as something else: each means here what was meant.

use super::{full_value, is_within};
use crate::support::cells;
use crate::units::exact::{decimal, records};

/// Rows whose size is not a number of coherent units here, with what is said or shown instead.
const OTHERWISE: [(&str, &str); 4] = [
    (
        "kcal/h",
        "a kilocalorie has two readings: refused with both",
    ),
    ("dB", "counted in decibels, not in bels"),
    ("Np", "counted in decibels"),
    ("Nm", "a torque is energy per angle"),
];

/// `kg1 m-1 s-2` as `kg/(m s^2)`.
fn spelled(unit: &str) -> String {
    let power = |word: &str| {
        let at = word
            .find(|c: char| c.is_ascii_digit() || c == '-')
            .unwrap_or(word.len());
        let (base, exponent) = word.split_at(at);
        (base.to_owned(), exponent.parse::<i32>().unwrap_or(1))
    };
    let words: Vec<(String, i32)> = unit.split(' ').map(power).collect();
    let side = |sign: i32| -> Vec<String> {
        let of_side = words
            .iter()
            .filter(|(base, power)| power.signum() == sign && !base.is_empty());
        of_side
            .map(|(base, power)| match power.abs() {
                1 => base.clone(),
                power => format!("{base}^{power}"),
            })
            .collect()
    };
    match (side(1).join(" "), side(-1).join(" ")) {
        (above, below) if above.is_empty() && below.is_empty() => "1".to_owned(),
        (above, below) if below.is_empty() => above,
        (above, below) => format!("{above}/({below})"),
    }
}

#[test]
fn every_hazardous_name_has_the_size_that_was_meant() {
    let mut seen = 0;
    for row in records("name-hazards.csv") {
        let (name, meant) = (&row[0], &row[2]);
        if OTHERWISE.iter().any(|(one, _)| *one == name) {
            continue;
        }
        let (value, unit) = meant.split_once(' ').expect("a value and a unit");
        let unit = match unit {
            "currency1" => "USD".to_owned(),
            unit => spelled(unit),
        };
        // A difference of percentages is a share of one where it multiplies.
        let typed = match name {
            "pp" => format!("1 {name} * 1"),
            _ => format!("1 {name}"),
        };
        let lines = match name {
            "pp" => format!("typed = {typed}\nresult = typed * 1 m / 1 m"),
            _ => format!("typed = {typed}\nresult [{unit}] = typed"),
        };
        let found = full_value(&lines).unwrap_or_else(|why| panic!("{name}\n{lines}\n{why}"));
        let expected = decimal(value);
        // The file prints ten to twelve digits.
        let tolerance = expected.times(&decimal("1e-9"));
        assert!(
            is_within(&found, &expected, &tolerance),
            "{name}\n{lines}\n{found:?}"
        );
        seen += 1;
    }
    assert_eq!(seen, 20 - OTHERWISE.len());
}

#[test]
fn names_decided_otherwise_say_or_show_it() {
    assert_eq!(cells("a = 1 kcal/h").codes(), ["ambiguous-unit"]);
    assert_eq!(cells("a = 92 dBA + 1 dB").value("a"), "93 dBA");
    assert_eq!(cells("a [dB] = 1 Np").value("a"), "8.686 dB");
    assert_eq!(cells("a [J] = 1 Nm * 1 rad").value("a"), "1 J");
}
