//! Names with two readings, one test a policy: what is refused, what is fixed and hinted at, what
//! has its own word, what is a kind of its own.
//!
//! The sizes are those of NIST SP 811, Appendix B; the policies are the language's.

use gaugebook::number::Rational;
use gaugebook::units::{Dimension, Lookup, Reference, Registry};

use super::exact::decimal;
use super::reader::unit;

fn offers(word: &str) -> Vec<String> {
    match Registry::new().word(word) {
        Lookup::Refused { offers, .. } => offers.into_iter().map(|(typed, _)| typed).collect(),
        other => panic!("{word}: {other:?}"),
    }
}

fn hint(word: &str) -> &'static str {
    let mut registry = Registry::new();
    let unit = unit(&mut registry, word);
    let atom = unit.single().expect("one word");
    registry
        .hint(atom)
        .unwrap_or_else(|| panic!("{word} has no hint"))
}

fn size(text: &str) -> Rational {
    let mut registry = Registry::new();
    let unit = unit(&mut registry, text);
    registry.factor_to_base(&unit).ratio
}

fn dimension(text: &str) -> Dimension {
    let mut registry = Registry::new();
    let unit = unit(&mut registry, text);
    registry.dimension(&unit)
}

fn states(text: &str) -> Option<Reference> {
    let mut registry = Registry::new();
    let unit = unit(&mut registry, text);
    registry.states(&unit)
}

#[test]
fn words_without_one_reading_are_refused_with_what_to_type() {
    assert_eq!(offers("ton"), ["ton_short", "ton_long", "t", "TR", "tonf"]);
    assert_eq!(offers("cal"), ["cal_th", "cal_IT", "kcal_th"]);
    assert_eq!(offers("Cal"), ["cal_th", "cal_IT", "kcal_th"]);
    assert_eq!(offers("R"), ["°R"]);
    assert_eq!(offers("year"), ["yr365", "yr_julian", "h"]);
    assert_eq!(offers("month"), ["d", "h"]);
    assert_eq!(offers("cwt"), ["lb"]);
    assert_eq!(offers("ata"), ["at abs", "bara", "psia"]);
    assert_eq!(offers("atü"), ["at gauge", "barg", "psig"]);
    assert_eq!(offers("ati"), ["psia", "psig"]);
}

#[test]
fn words_that_are_no_units_are_refused_with_advice() {
    for word in [
        "mesh", "grit", "gauge", "HRC", "HV", "Mohs", "Sa", "SP", "pH", "Brix", "cycle", "shift",
        "shot",
    ] {
        assert!(
            matches!(Registry::new().word(word), Lookup::Refused { .. }),
            "{word}"
        );
        assert!(Registry::is_ambiguous(word), "{word}");
    }
}

#[test]
fn ounces_pounds_and_kilograms_are_masses() {
    assert_eq!(size("oz"), decimal("0.028349523125"));
    assert_eq!(dimension("oz"), Dimension::MASS);
    assert_eq!(dimension("floz"), Dimension::VOLUME);
    assert_eq!(dimension("ozf"), Dimension::FORCE);
    for other in ["floz", "floz_imp", "ozf"] {
        assert!(hint("oz").contains(other), "{other}");
    }
    assert_eq!(dimension("lb"), Dimension::MASS);
    assert_eq!(dimension("lbm"), Dimension::MASS);
    assert_eq!(dimension("lbf"), Dimension::FORCE);
    assert!(hint("lb").contains("lbf"));
}

#[test]
fn mass_per_area_is_no_pressure_but_force_per_area_is_offered() {
    let mut registry = Registry::new();
    for (typed, meant) in [
        ("lb/in2", "lbf/in²"),
        ("kg/cm2", "kgf/cm²"),
        ("oz/in2", "ozf/in²"),
        ("ft lb", "ft lbf"),
    ] {
        let unit = unit(&mut registry, typed);
        assert_ne!(registry.dimension(&unit), Dimension::PRESSURE, "{typed}");
        let force = registry.force_instead(&unit).expect("an offer");
        assert_eq!(registry.show(&force, None), meant);
    }
    let density = unit(&mut registry, "lb/ft3");
    assert_eq!(registry.force_instead(&density), None);
}

#[test]
fn gallons_and_their_kin_are_those_of_the_united_states_and_say_so() {
    for word in ["gal", "qt", "pt", "floz", "gpm"] {
        assert!(hint(word).starts_with("US "), "{word}");
        assert!(hint(word).contains(&format!("{word}_imp")), "{word}");
    }
    assert_eq!(size("gal"), decimal("0.003785411784"));
    assert_eq!(size("gal_imp"), decimal("0.00454609"));
}

#[test]
fn horsepower_btu_barrel_and_acre_have_one_size() {
    assert_eq!(size("hp"), decimal("745.69987158227022"));
    assert!(hint("hp").contains("hp_metric") && hint("hp").contains("hp_electric"));
    assert_eq!(size("BTU"), decimal("1055.05585262"));
    assert!(hint("BTU").contains("BTU_th"));
    assert_eq!(size("bbl"), decimal("0.158987294928"));
    assert_eq!(size("acre"), decimal("4046.8564224"));
    assert_eq!(size("mil"), size("thou"));
    assert_eq!(size("mil"), decimal("0.0000254"));
}

#[test]
fn c_f_and_h_keep_their_electric_meaning() {
    assert_eq!(dimension("C"), dimension("A s"));
    assert_eq!(dimension("F"), dimension("C/V"));
    assert_eq!(dimension("H"), dimension("V s/A"));
    assert!(hint("C").contains("°C") && hint("F").contains("°F"));
}

#[test]
fn temperatures_are_points_alone_and_differences_in_products() {
    assert_eq!(states("°C"), Some(Reference::Thermometer));
    assert_eq!(states("degF"), Some(Reference::Thermometer));
    assert_eq!(states("K"), None);
    assert_eq!(states("°R"), None);
    assert_eq!(states("delta_degC"), Some(Reference::Interval));
    assert_eq!(states("BTU/(lb degF)"), None);
    assert_eq!(size("BTU/(lb degF)"), decimal("4186.8"));
}

#[test]
fn pressures_state_what_they_count_from_or_nothing() {
    for bare in ["psi", "bar", "kPa", "MPa", "inHg", "at", "mmHg"] {
        assert_eq!(states(bare), None, "{bare}");
    }
    for gauge in ["psig", "barg", "kPag", "MPag", "inH2Og", "inHg_vac"] {
        assert_eq!(states(gauge), Some(Reference::Gauge), "{gauge}");
    }
    for absolute in ["psia", "bara", "kPaa", "inHga", "atm", "torr", "mtorr"] {
        assert_eq!(states(absolute), Some(Reference::Absolute), "{absolute}");
    }
    assert_eq!(states("psid"), Some(Reference::Difference));
    assert_eq!(size("atm"), decimal("101325"));
    assert_eq!(size("at"), decimal("98066.5"));
}

#[test]
fn near_equal_pressures_are_two_units() {
    assert_ne!(size("mmHg"), size("torr"));
    assert_ne!(size("inHg"), size("inHg_32F"));
    assert_ne!(size("inH2O"), size("inH2O_60F"));
    assert_eq!(size("inHg"), decimal("3386.388640341"));
}

#[test]
fn flows_state_the_air_they_count_or_nothing() {
    for open in ["cfm", "ft3/min", "m3/min", "L/s", "lpm"] {
        assert_eq!(states(open), None, "{open}");
    }
    for standard in [
        "scfm", "SCFM", "Sm3/h", "slpm", "sccm", "scf", "scf/min", "scfm/hp",
    ] {
        assert_eq!(states(standard), Some(Reference::Standard), "{standard}");
    }
    assert_eq!(states("Nm3/h"), Some(Reference::Normal));
    assert_eq!(states("NL/min"), Some(Reference::Normal));
    assert_eq!(states("acfm"), Some(Reference::Actual));
    assert_eq!(states("icfm"), Some(Reference::Free));
    assert_eq!(states("cfm_fad"), Some(Reference::Free));
}

#[test]
fn letters_of_another_case_are_other_units() {
    assert_eq!(size("MPa"), size("mPa").times(&decimal("1e9")));
    assert_eq!(size("MW"), size("mW").times(&decimal("1e9")));
    assert_ne!(dimension("Nm"), dimension("nm"));
    assert_ne!(dimension("kn"), dimension("kN"));
    assert_ne!(dimension("T"), dimension("t"));
    assert_ne!(dimension("H"), dimension("h"));
    assert_ne!(dimension("S"), dimension("s"));
    assert_eq!(dimension("l"), Dimension::VOLUME);
}

#[test]
fn thousands_of_the_gas_trade_only_as_whole_words() {
    assert_eq!(size("MBH"), size("BTU/h").times(&decimal("1000")));
    assert_eq!(size("MMBTU"), size("BTU").times(&decimal("1e6")));
    for word in ["MBTU", "MMcfm", "kkg", "kin"] {
        assert!(
            matches!(Registry::new().word(word), Lookup::Unknown { .. }),
            "{word}"
        );
    }
    assert_eq!(dimension("pct"), Dimension::PLAIN);
    assert_eq!(dimension("mcg"), Dimension::MASS);
    assert_eq!(dimension("min"), Dimension::TIME);
    assert_eq!(dimension("d"), Dimension::TIME);
    assert_eq!(dimension("gr"), Dimension::MASS);
    assert_eq!(dimension("g_n"), Dimension::ACCELERATION);
}

#[test]
fn kinds_of_one_dimension_are_told_apart() {
    assert_eq!(dimension("rpm"), Dimension::ROTATION);
    assert_eq!(dimension("Hz"), Dimension::FREQUENCY);
    assert_eq!(dimension("Nm"), Dimension::TORQUE);
    assert_eq!(dimension("N m"), Dimension::ENERGY);
    assert_eq!(states("W"), None);
    assert_eq!(states("kVA"), Some(Reference::Apparent));
    assert_eq!(states("kvar"), Some(Reference::Reactive));
    assert_eq!(states("dB"), Some(Reference::Gain));
    assert_eq!(states("dBA"), Some(Reference::SoundA));
    assert_eq!(states("dBC"), Some(Reference::SoundC));
    assert_eq!(states("dB_SPL"), Some(Reference::SoundPressure));
    assert_eq!(states("dB_SWL"), Some(Reference::SoundPower));
    assert_eq!(states("%"), None);
    assert_eq!(states("pp"), Some(Reference::Points));
    assert!(hint("ppm").contains("volume") && hint("ppb").contains("volume"));
}

#[test]
fn left_to_right_and_a_number_in_brackets() {
    assert_eq!(size("ms/m/g"), size("ms/(m g)"));
    assert_eq!(dimension("s/m*mg"), dimension("s mg/m"));
    assert_eq!(size("mg/(24 h)").times(&decimal("24")), size("mg/h"));
}

#[test]
fn each_counts_without_a_dimension() {
    assert_eq!(dimension("each"), Dimension::PLAIN);
    assert_eq!(size("dozen"), decimal("12"));
}
