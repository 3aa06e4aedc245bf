//! Dimensions by themselves: exponents, limits, families.

use gaugebook::units::{Base, Dimension, Family, Registry, Unit, WHOLE};

use super::reader::unit;

#[test]
fn exponents_are_kept_in_twelfths() {
    let root = Dimension::AREA.power(1, 4).unwrap();
    assert_eq!(root.exponent(Base::LENGTH), WHOLE / 2);
    assert_eq!(
        Dimension::LENGTH
            .power(1, 12)
            .unwrap()
            .exponent(Base::LENGTH),
        1
    );
    assert_eq!(Dimension::LENGTH.power(1, 5), None);
    assert_eq!(Dimension::LENGTH.power(1, 0), None);
    assert_eq!(Dimension::LENGTH.power(i32::MAX, 1), None);
}

#[test]
fn what_leaves_the_range_is_nothing() {
    let mut dimension = Dimension::VOLUME;
    let mut steps = 0;
    while let Some(square) = dimension.times(&dimension) {
        dimension = square;
        steps += 1;
        assert!(steps < 20);
    }
    assert!(dimension.over(&dimension).unwrap().is_plain());
}

#[test]
fn dimensions_of_the_constants() {
    let mut registry = Registry::new();
    for (text, dimension) in [
        ("psi", Dimension::PRESSURE),
        ("cfm", Dimension::FLOW),
        ("gal", Dimension::VOLUME),
        ("°F", Dimension::TEMPERATURE),
        ("hp", Dimension::POWER),
        ("lb/ft3", Dimension::DENSITY),
        ("min", Dimension::TIME),
        ("lb/h", Dimension::MASS_FLOW),
        ("rpm", Dimension::ROTATION),
        ("N m torque", Dimension::TORQUE),
        ("cP", Dimension::VISCOSITY),
        ("V", Dimension::VOLTAGE),
        ("ohm", Dimension::RESISTANCE),
        ("lbf", Dimension::FORCE),
        ("BTU", Dimension::ENERGY),
        ("dB", Dimension::GAIN),
        ("g_n", Dimension::ACCELERATION),
        ("mph", Dimension::SPEED),
        ("acre", Dimension::AREA),
        ("A", Dimension::CURRENT),
        ("deg", Dimension::ANGLE),
        ("Hz", Dimension::FREQUENCY),
        ("1", Dimension::PLAIN),
    ] {
        let unit = unit(&mut registry, text);
        assert_eq!(registry.dimension(&unit), dimension, "{text}");
    }
}

#[test]
fn families_have_references() {
    for (dimension, family) in [
        (Dimension::PRESSURE, Some(Family::Pressure)),
        (Dimension::FLOW, Some(Family::Flow)),
        (Dimension::VOLUME, Some(Family::Volume)),
        (Dimension::TEMPERATURE, Some(Family::Temperature)),
        (Dimension::POWER, Some(Family::Power)),
        (Dimension::GAIN, Some(Family::Sound)),
        (Dimension::PLAIN, Some(Family::Ratio)),
        (Dimension::LENGTH, None),
    ] {
        assert_eq!(dimension.family(), family);
    }
}

#[test]
fn specific_power_is_a_pressure() {
    let mut registry = Registry::new();
    let unit = unit(&mut registry, "kW/(100 cfm)");
    assert_eq!(registry.dimension(&unit), Dimension::PRESSURE);
}

#[test]
fn a_unit_has_a_largest_number_of_words() {
    let mut registry = Registry::new();
    let mut product = Unit::one();
    let mut words = 0;
    for number in 2..100 {
        let atom = registry.whole_number(number).unwrap();
        match product.times(&Unit::of(atom)) {
            Some(next) => product = next,
            None => break,
        }
        words += 1;
    }
    assert_eq!(words, 32);
    assert_eq!(registry.whole_number(0), None);
}
