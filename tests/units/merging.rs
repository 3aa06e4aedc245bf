//! The unit in which a product is shown: own words, each dimension once, at most three words.

use gaugebook::units::{Reference, Registry};

use super::reader::unit;

fn merged(text: &str) -> String {
    let mut registry = Registry::new();
    let unit = unit(&mut registry, text);
    let merged = registry.merged(&unit);
    assert_eq!(
        registry.dimension(&unit),
        registry.dimension(&merged),
        "{text}"
    );
    registry.show(&merged, None)
}

#[test]
fn products_keep_their_own_words() {
    for (product, shown) in [
        ("cfm", "cfm"),
        ("gal/min", "gal/min"),
        ("ft lbf", "ft lbf"),
        ("cfm/psi", "cfm/psi"),
        ("kW/(100 cfm)", "kW/cfm"),
        ("per h", "per h"),
        ("each/h", "each/h"),
        ("% cfm", "cfm"),
        ("%", "%"),
    ] {
        assert_eq!(merged(product), shown, "{product}");
    }
}

#[test]
fn each_dimension_is_merged_into_its_first_word() {
    for (product, shown) in [
        ("in ft", "in²"),
        ("gal/in2", "in"),
        ("gal ft3/ft3", "gal"),
        ("min h", "min²"),
        ("gal/(min h)", "gal/min²"),
        ("kW hp/kW", "hp"),
        ("lb/kg", "1"),
        ("Hz min", "1"),
    ] {
        assert_eq!(merged(product), shown, "{product}");
    }
}

#[test]
fn short_words_are_spelled_out_where_parts_merge() {
    for (product, shown) in [
        ("cfm min", "ft³"),
        ("cfm/ft2", "ft/min"),
        ("rpm min", "rev"),
        ("rpm in3/rev", "in³/min"),
        ("kWh/h", "kW"),
        ("USD/kWh kW h", "USD"),
        ("USD/kWh hp h", "USD"),
        ("mph min", "mi"),
        ("cfm/gpm", "1"),
        ("scfm min", "scf"),
        ("scfm h", "scf"),
        ("Ah/h", "A"),
    ] {
        assert_eq!(merged(product), shown, "{product}");
    }
}

#[test]
fn readings_in_a_product_are_sizes_and_air_keeps_its_state() {
    for (product, shown) in [
        ("gal psig/psia", "gal"),
        ("kJ/(kg °C)", "kJ/(kg K)"),
        ("Nm3/h kg", "Nm3 kg/h"),
        ("W/VA", "1"),
    ] {
        assert_eq!(merged(product), shown, "{product}");
    }
    let mut registry = Registry::new();
    let unit = unit(&mut registry, "scfm psi/psi");
    let merged = registry.merged(&unit);
    assert_eq!(registry.show(&merged, Some(Reference::Free)), "cfm free");
}

#[test]
fn more_than_three_words_are_coherent() {
    for (product, shown) in [
        ("psi in lb/(min USD K)", "kg² /(USD s³ K)"),
        ("BTU ft/(h ft2 °F)", "W/(m K)"),
        ("lb in/(s V A)", "s²/m"),
    ] {
        assert_eq!(merged(product).replace("kg²/", "kg² /"), shown, "{product}");
    }
}

fn coherent(text: &str) -> String {
    let mut registry = Registry::new();
    let unit = unit(&mut registry, text);
    let coherent = registry.coherent(&registry.dimension(&unit));
    let factor = registry.factor(&unit, &coherent);
    assert_eq!(factor, Some(registry.factor_to_base(&unit)), "{text}");
    registry.show(&coherent, None)
}

#[test]
fn coherent_units_have_names_where_that_is_shorter() {
    for (text, shown) in [
        ("psi", "Pa"),
        ("hp", "W"),
        ("BTU", "J"),
        ("lbf", "N"),
        ("gal", "m³"),
        ("cfm", "m³/s"),
        ("mph", "m/s"),
        ("ft/s2", "m/s²"),
        ("lb/ft3", "kg/m³"),
        ("lb/h", "kg/s"),
        ("cP", "Pa s"),
        ("cSt", "m²/s"),
        ("BTU/(lb °R)", "J/(kg K)"),
        ("BTU/(h ft2 °R)", "W/(m² K)"),
        ("lbf ft torque", "N m torque"),
        ("rpm", "rad/s"),
        ("deg", "rad"),
        ("dB", "dB"),
        ("mV", "V"),
        ("kohm", "ohm"),
        ("Ah", "C"),
        ("USD/kWh", "USD/J"),
        ("USD/lb", "USD/kg"),
        ("per h", "per s"),
        ("°F", "K"),
        ("cfm/psi", "m³/(s Pa)"),
        ("%", "1"),
        ("s K^(1/2)/m", "s K^(1/2)/m"),
    ] {
        assert_eq!(coherent(text), shown, "{text}");
    }
}
