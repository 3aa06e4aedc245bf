//! Units as text, with and without a reference, in signs and in words.

use gaugebook::units::{Reference, Registry};

use super::reader::{read, unit};

fn shown(text: &str) -> String {
    let mut registry = Registry::new();
    let (unit, reference) = read(&mut registry, text).unwrap();
    registry.show(&unit, reference)
}

#[test]
fn the_canonical_spelling() {
    for (typed, canonical) in [
        ("ft3/min", "ft³/min"),
        ("ft.lbf/s", "ft lbf/s"),
        ("m/s^2", "m/s²"),
        ("kJ/(kg*K)", "kJ/(kg K)"),
        ("kJ/kg/K", "kJ/(kg K)"),
        ("kW/(100 cfm)", "kW/(100 cfm)"),
        ("(100 cfm)/hp", "(100 cfm)/hp"),
        ("1/h", "per h"),
        ("per h", "per h"),
        ("1/(h*ft2)", "per (h ft²)"),
        ("s K^(1/2)/m", "s K^(1/2)/m"),
        ("m/s kg", "m kg/s"),
        ("1", "1"),
        ("m/m", "1"),
        ("cm^-1", "per cm"),
        ("N m torque", "N m torque"),
        ("N m torque/rev", "N m/rev torque"),
        ("Nm3/h", "Nm3/h"),
        ("$/kWh", "USD/kWh"),
        ("%/psi", "%/psi"),
    ] {
        assert_eq!(shown(typed), canonical, "{typed}");
    }
}

#[test]
fn a_reference_is_a_suffix_or_a_word() {
    for (typed, canonical) in [
        ("psi gauge", "psig"),
        ("kPa abs", "kPaa"),
        ("Pa abs", "Pa abs"),
        ("inHg abs", "inHga"),
        ("mmHg gauge", "mmHg gauge"),
        ("cfm free", "cfm free"),
        ("cfm standard", "scfm"),
        ("cfm actual", "acfm"),
        ("L/min free", "L/min free"),
        ("m3/h normal", "m³/h normal"),
        ("cfm anr", "cfm anr"),
        ("cfm/psi free", "cfm/psi free"),
        ("gal free", "gal free"),
        ("L normal", "NL"),
    ] {
        assert_eq!(shown(typed), canonical, "{typed}");
    }
}

#[test]
fn what_a_unit_states_is_not_said_twice_and_gives_way() {
    use Reference::*;
    let mut registry = Registry::new();
    for (word, reference, text) in [
        ("psig", Gauge, "psig"),
        ("psig", Difference, "psi"),
        ("psig", Absolute, "psia"),
        ("scfm", Free, "cfm free"),
        ("Nm3/h", Normal, "Nm3/h"),
        ("Nm3/h", Free, "m³/h free"),
        ("°C", Thermometer, "°C"),
        ("K", Interval, "K"),
        ("K", Thermodynamic, "K"),
        ("psi", Difference, "psi"),
        ("gal", Room, "gal"),
        ("%", Share, "%"),
        ("kW", Active, "kW"),
        ("dB", SoundA, "dBA"),
        ("atm", Absolute, "atm"),
        ("inHg_vac", Gauge, "inHg_vac"),
    ] {
        let unit = unit(&mut registry, word);
        assert_eq!(
            registry.show(&unit, Some(reference)),
            text,
            "{word} {reference:?}"
        );
    }
}

#[test]
fn in_words() {
    let mut registry = Registry::new();
    for (text, words) in [
        ("cfm", "cubic feet per minute"),
        ("ft3/min", "cubic feet per minute"),
        ("gal", "US gallons"),
        ("in2", "square inches"),
        ("m/s2", "metres per second squared"),
        ("kW h", "kilowatt hours"),
        ("kWh", "kilowatt hours"),
        ("kW/(100 cfm)", "kilowatts per 100 cubic feet per minute"),
        ("kJ/(kg K)", "kilojoules per kilogram kelvin"),
        ("per h", "per hour"),
        ("N m torque", "newton metres of torque"),
        ("psig", "pounds per square inch gauge"),
        ("$/kWh", "US dollars per kilowatt hour"),
        ("°F", "degrees Fahrenheit"),
        ("um", "micrometres"),
        ("s^(1/2)", "seconds to the power 1/2"),
        ("1", ""),
    ] {
        let unit = unit(&mut registry, text);
        assert_eq!(registry.spoken(&unit), words, "{text}");
    }
}

#[test]
fn dimensions_in_words() {
    let mut registry = Registry::new();
    registry.define_dimension(&["part", "parts"]).unwrap();
    for (text, words) in [
        ("psi", "a pressure"),
        ("in", "a length"),
        ("cfm", "a volume per time"),
        ("lb/h", "a mass per time"),
        ("USD", "money"),
        ("USD/kWh", "money per energy"),
        ("USD/part", "money per part"),
        ("parts/h", "a part per time"),
        ("part", "a part"),
        ("per h", "a number per time"),
        ("lb/ft2", "a mass per area"),
        ("cfm/psi", "a volume per time per pressure"),
        ("kJ/(kg K)", "an energy per mass per temperature"),
        ("N m torque", "a torque"),
        ("acre", "an area"),
        ("%", "a plain number"),
        ("kg m", "length times mass"),
        ("mm4", "length to the power 4"),
    ] {
        let unit = unit(&mut registry, text);
        let dimension = registry.dimension(&unit);
        assert_eq!(registry.dimension_name(&dimension), words, "{text}");
    }
}
