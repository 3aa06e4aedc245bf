//! Words with and without the reference they state, and what may not stand in a product.

use gaugebook::number::Rational;
use gaugebook::units::{Reference, Registry, Unit};

use super::reader::unit;

fn without(text: &str) -> String {
    let mut registry = Registry::new();
    let unit = unit(&mut registry, text);
    let bare = registry.without_reference(&unit);
    registry.show(&bare, None)
}

#[test]
fn every_word_has_its_bare_unit() {
    for (word, bare) in [
        ("psig", "psi"),
        ("psid", "psi"),
        ("bara", "bar"),
        ("kPag", "kPa"),
        ("°C", "K"),
        ("°F", "°R"),
        ("delta_degF", "°R"),
        ("scfm", "cfm"),
        ("slpm", "L/min"),
        ("Nm3/h", "m³/h"),
        ("scf", "ft³"),
        ("dBA", "dB"),
        ("kVA", "kW"),
        ("mvar", "mW"),
        ("pp", "%"),
        ("inHg_vac", "inHg"),
        ("torr", "mmHg"),
        ("W/(m2 °C)", "W/(m² K)"),
        ("psi", "psi"),
    ] {
        assert_eq!(without(word), bare, "{word}");
    }
}

#[test]
fn a_vacuum_gauge_counts_downwards() {
    let mut registry = Registry::new();
    let vacuum = unit(&mut registry, "inHg_vac");
    let bare = registry.without_reference(&vacuum);
    let factor = registry.factor(&vacuum, &bare).unwrap();
    assert_eq!(factor.ratio, Rational::whole(-1));
}

#[test]
fn a_word_with_a_reference_is_one_word_where_there_is_one() {
    use Reference::*;
    for (bare, reference, word) in [
        ("psi", Gauge, Some("psig")),
        ("psi", Absolute, Some("psia")),
        ("bar", Absolute, Some("bara")),
        ("kPa", Gauge, Some("kPag")),
        ("MPa", Absolute, Some("MPaa")),
        ("inHg", Gauge, None),
        ("inHg", Absolute, Some("inHga")),
        ("cfm", Standard, Some("scfm")),
        ("cfm", Actual, Some("acfm")),
        ("cfm", Free, None),
        ("cfh", Standard, Some("scfh")),
        ("L", Normal, Some("NL")),
        ("mL", Normal, None),
        ("dB", SoundA, Some("dBA")),
        ("kW", Apparent, Some("kVA")),
        ("%", Points, Some("pp")),
        ("K", Thermometer, None),
    ] {
        let mut registry = Registry::new();
        let atom = unit(&mut registry, bare).single().unwrap();
        let found = registry.with_reference(atom, reference);
        let found = found.map(|atom| registry.atom(atom).symbol.to_string());
        assert_eq!(found.as_deref(), word, "{bare} {reference:?}");
    }
}

#[test]
fn readings_and_levels_only_stand_alone() {
    for (text, misplaced) in [
        ("psig", None),
        ("psig/min", Some("psig")),
        ("gal inHg_vac", Some("inHg_vac")),
        ("dBA/s", Some("dBA")),
        ("(100 psig)", Some("psig")),
        ("J/(kg °C)", None),
        ("psia ft3", None),
        ("W/VA", None),
        ("dB/m", None),
    ] {
        let mut registry = Registry::new();
        let unit = unit(&mut registry, text);
        let found = registry.misplaced(&unit);
        let found = found.map(|atom| registry.atom(atom).symbol.to_string());
        assert_eq!(found.as_deref(), misplaced, "{text}");
    }
}

#[test]
fn air_below_the_line_is_told_apart() {
    let mut registry = Registry::new();
    let unit = unit(&mut registry, "kW/(100 scfm)");
    assert_eq!(registry.states(&unit), None);
    assert_eq!(registry.states_below(&unit), Some(Reference::Standard));
}

#[test]
fn torque_is_energy_per_angle() {
    let mut registry = Registry::new();
    let torque = unit(&mut registry, "N m torque");
    let turn = unit(&mut registry, "rev");
    let joule = unit(&mut registry, "J");
    let work = torque.times(&turn).unwrap();
    let factor = registry.factor(&work, &joule).unwrap();
    assert_eq!((factor.ratio, factor.pi), (Rational::whole(2), 1));
    let metre = unit(&mut registry, "m");
    assert_eq!(registry.torque(&metre), None);
    assert_eq!(registry.torque(&Unit::one()), None);
}
