//! Conversion rows, gauge rows and level rows of `unit-checks.csv`.

use super::{full_value, is_within};
use crate::units::exact::{decimal, records};
use csv::StringRecord;
use gaugebook::number::Rational;

/// Levels are logarithms, which carry at least 15 digits where these rows print 22.
const LEVEL_TOLERANCE: &str = "1e-12";

/// A unit of the file as the language writes it: products with a blank, numbers in brackets.
fn spelled(unit: &str, group: &str) -> String {
    let plain = unit.replace(['*', '.'], " ");
    match (group, unit) {
        (_, "cm^-1") => "per cm".to_owned(),
        (_, "m^-1") => "per m".to_owned(),
        ("torque", _) => format!("{plain} torque"),
        _ => plain,
    }
}

fn is_scale(unit: &str) -> bool {
    ["degC", "degF"].contains(&unit)
}

fn is_thermodynamic(unit: &str) -> bool {
    ["K", "degR"].contains(&unit)
}

/// `atm` and `torr` count from empty space: what stands on the other side says so too.
fn counted(unit: &str, other: &str) -> String {
    let absolute = |unit: &str| ["atm", "torr"].contains(&unit);
    match absolute(other) && !absolute(unit) {
        true => format!("{unit} abs"),
        false => unit.to_owned(),
    }
}

/// The shop's barometer, as a context names it: `barometer = 12.23 psi (5000 ft)`.
fn barometer(context: &str) -> String {
    let value = context.strip_prefix("barometer = ").unwrap_or("");
    let value = value.split(" (").next().unwrap_or("");
    match value.is_empty() {
        true => String::new(),
        false => format!("atmosphere = {value} abs\n"),
    }
}

/// The lines for a conversion row.
fn conversion(row: &StringRecord) -> String {
    let (group, value, from, to, context) = (&row[1], &row[2], &row[3], &row[4], &row[5]);
    let head = barometer(context);
    let (from_unit, to_unit) = (spelled(from, group), spelled(to, group));
    let from_unit = counted(&from_unit, to);
    let to_unit = counted(&to_unit, from);
    let typed = format!("{head}typed = {value} {from_unit}\n");
    let call = match () {
        () if is_scale(from) && is_thermodynamic(to) => "absolute(typed)",
        () if is_thermodynamic(from) && is_scale(to) => "thermometer(typed)",
        () if from.ends_with('g') && to.ends_with('a') && group == "gauge" => "absolute(typed)",
        () if from.ends_with("_vac") && to.ends_with('a') => "absolute(typed)",
        () if from.ends_with('a') && to.ends_with('g') && group == "gauge" => "gauge(typed)",
        () => "typed",
    };
    format!("{typed}result [{to_unit}] = {call}")
}

/// The lines for the rows that are no plain conversion.
fn special(row: &StringRecord) -> Option<&'static str> {
    Some(match &row[0] {
        "U242" => "atmosphere = 14.5 psi abs\nresult = absolute(115 psig) / 14.5 psia",
        "U243" => "result = combined_level({90, 90} dBA)",
        "U244" => "result = combined_level({95, 90} dBA)",
        "U245" => "result = combined_level({85, 88, 91} dBA)",
        "U246" => "result = 0 dB_SPL + 20 dB * log10(20 uPa / (20 uPa))",
        "U247" => "result = 0 dB_SPL + 20 dB * log10(1 Pa / (20 uPa))",
        "U248" => "level = 94 dB_SPL\nresult [Pa] = 20 uPa * 10^((level - 0 dB_SPL) / 20 dB)",
        "U249" => {
            "all = 100 dBA\nrest = 95 dBA\n\
             part = 10^((all - 0 dBA) / 10 dB) - 10^((rest - 0 dBA) / 10 dB)\n\
             result = 0 dBA + 10 dB * log10(part)"
        }
        "U250" => "result = 10 dB * log10(2)",
        "U251" => "result = 20 dB * log10(2)",
        "U252" => "result = 95 dBA - 20 dB",
        _ => return None,
    })
}

#[test]
fn every_row_with_a_value_has_it() {
    let mut seen = 0;
    for row in records("unit-checks.csv") {
        if &row[1] == "error" {
            continue;
        }
        let lines = special(&row).map_or_else(|| conversion(&row), str::to_owned);
        let value = full_value(&lines).unwrap_or_else(|why| panic!("{}\n{lines}\n{why}", &row[0]));
        let tolerance = match &row[1] {
            "level" => decimal(LEVEL_TOLERANCE),
            _ => decimal(&row[8]),
        };
        let expected = decimal(&row[6]);
        let fits = is_within(&value, &expected, &tolerance);
        assert!(fits, "{}\n{lines}\n{value:?} is not {expected:?}", &row[0]);
        seen += 1;
    }
    assert_eq!(seen, 282 - 28);
}

#[test]
fn what_is_not_within_the_tolerance_is_seen() {
    let [one, more, tolerance] = ["1", "1.001", "0.0001"].map(decimal);
    assert!(!is_within(&one, &more, &tolerance) && !is_within(&more, &one, &tolerance));
    assert!(is_within(&one, &one, &Rational::zero()));
}
