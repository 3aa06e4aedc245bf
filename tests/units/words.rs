//! Words: what is found, what is refused and with which offers, what is suggested.

use gaugebook::number::Rational;
use gaugebook::units::{Lookup, Registry, Unit};

use super::exact::{decimal, ratio, records};
use super::reader::{read, unit};

fn found(registry: &mut Registry, word: &str) -> Unit {
    match registry.word(word) {
        Lookup::Found(unit) => unit,
        other => panic!("{word}: {other:?}"),
    }
}

fn shown(word: &str) -> String {
    let mut registry = Registry::new();
    let unit = found(&mut registry, word);
    registry.show(&unit, None)
}

#[test]
fn hazardous_names_mean_what_was_meant() {
    let mut registry = Registry::new();
    for row in records("name-hazards.csv") {
        let (name, meant) = (&row[0], &row[2]);
        // kcal/h is refused, since kcal has two readings; dC and dF are differences.
        if name == "kcal/h" {
            assert!(matches!(registry.word("kcal"), Lookup::Refused { .. }));
            continue;
        }
        let unit = unit(&mut registry, name);
        let size = ratio(&registry.factor_to_base(&unit));
        let (value, scale) = match (name, meant.split_once(' ').expect("a value").0) {
            // The engine counts levels in decibels: 0.1 bel, and a neper of 20/ln(10) dB.
            ("dB", value) => (decimal(value), Rational::whole(10)),
            ("Np", _) => (decimal("8.685889638065"), Rational::one()),
            (_, value) => (decimal(value), Rational::one()),
        };
        // The file prints ten to twelve digits.
        let error = size
            .over(&value.times(&scale))
            .expect("a size")
            .minus(&Rational::one());
        let limit = decimal("1e-9");
        assert!(error < limit && decimal("-1e-9") < error, "{name}");
    }
}

#[test]
fn newton_metres_in_one_word_are_torque() {
    assert_eq!(shown("Nm"), "N m torque");
    assert_eq!(shown("lbft"), "lbf ft torque");
    assert_eq!(shown("in_lb"), "lbf in torque");
    assert_eq!(shown("nm"), "nm");
}

#[test]
fn words_for_products_and_powers_are_shown_as_such() {
    for (word, text) in [
        ("lpm", "L/min"),
        ("fpm", "ft/min"),
        ("kph", "km/h"),
        ("pcf", "lb/ft³"),
        ("cc", "cm³"),
        ("sqft", "ft²"),
        ("in2", "in²"),
        ("mm4", "mm⁴"),
        ("hphr", "hp h"),
        ("BTUH", "BTU/h"),
        ("micron", "um"),
        ("µm", "um"),
        ("μm", "um"),
    ] {
        assert_eq!(shown(word), text, "{word}");
    }
}

#[test]
fn other_spellings_are_shown_in_the_canonical_one() {
    for (word, text) in [
        ("degF", "°F"),
        ("℃", "°C"),
        ("degR", "°R"),
        ("liters", "L"),
        ("ml", "mL"),
        ("$", "USD"),
        ("€", "EUR"),
        ("¢", "cent"),
        ("Ω", "ohm"),
        ("kΩ", "kohm"),
        ("\u{2126}", "ohm"),
        ("hours", "h"),
        ("CFM", "cfm"),
        ("pct", "%"),
        ("Δ°C", "delta_degC"),
        ("Nm3", "Nm3"),
    ] {
        assert_eq!(shown(word), text, "{word}");
    }
}

#[test]
fn normal_cubic_metres_may_have_a_raised_three() {
    let mut registry = Registry::new();
    let raised = unit(&mut registry, "Nm³/h");
    assert_eq!(raised, unit(&mut registry, "Nm3/h"));
    assert_eq!(registry.show(&raised, None), "Nm3/h");
}

#[test]
fn scales_and_plain_words_take_no_power_digit_and_no_prefix() {
    let mut registry = Registry::new();
    for word in [
        "psig2", "dBA2", "kpsi", "kin", "kcfm", "mdegC", "m°C", "kkg", "kUSD", "mmin",
    ] {
        assert!(
            matches!(registry.word(word), Lookup::Unknown { .. }),
            "{word}"
        );
    }
}

fn unknown(word: &str) -> (Option<String>, Vec<String>) {
    match Registry::new().word(word) {
        Lookup::Unknown {
            nearest,
            case_variants,
        } => (nearest, case_variants),
        other => panic!("{word}: {other:?}"),
    }
}

#[test]
fn an_unknown_word_gets_its_case_variants() {
    assert_eq!(unknown("PSIG").1, ["psig"]);
    assert_eq!(unknown("mpa").1, ["MPa", "mPa"]);
    assert_eq!(unknown("KW").1, ["kW"]);
    assert_eq!(unknown("Kg").1, ["kg"]);
    assert_eq!(unknown("nM").1, ["Nm", "nm"]);
    assert_eq!(unknown("Usd").1, ["USD", "usd"]);
}

#[test]
fn an_unknown_word_gets_the_nearest_one() {
    assert_eq!(unknown("galon").0.as_deref(), Some("gallon"));
    assert_eq!(unknown("psgi").0.as_deref(), Some("psig"));
    assert_eq!(unknown("inhes").0.as_deref(), Some("inches"));
    assert_eq!(unknown("inWg").0.as_deref(), Some("inWG"));
    assert_eq!(unknown("furlongs_per_fortnight").0, None);
    assert_eq!(unknown(&"x".repeat(100_000)).0, None);
    assert_eq!(unknown("").0, None);
}

#[test]
fn an_unknown_word_may_look_like_one_of_the_notebook() {
    let mut registry = Registry::new();
    registry.define_dimension(&["panel", "panels"]).unwrap();
    let Lookup::Unknown { nearest, .. } = registry.word("pannels") else {
        panic!("found");
    };
    assert_eq!(nearest.as_deref(), Some("panels"));
}

#[test]
fn every_offer_of_a_refused_word_can_be_typed() {
    let mut registry = Registry::new();
    let listed = [
        "ton", "cal", "kcal", "therm", "R", "degree", "year", "month", "cwt", "mesh",
    ];
    let more = [
        "gauge", "cycle", "ata", "atü", "ati", "Hg", "H2O", "″", "sq", "cu", "ftlb", "FAD",
    ];
    for word in listed
        .into_iter()
        .chain(more)
        .chain(["M", "b", "ct", "RH", "¥", "mt", "MCF"])
    {
        let Lookup::Refused { reads, offers } = registry.word(word) else {
            panic!("{word}");
        };
        assert!(!reads.is_empty() && !offers.is_empty(), "{word}");
        for (typed, what) in offers.iter().filter(|(typed, _)| typed != "unit") {
            read(&mut registry, typed).unwrap_or_else(|why| panic!("{word}: {why}"));
            assert!(!what.is_empty());
        }
    }
}

#[test]
fn dollars_are_the_notebooks_own() {
    let mut registry = Registry::new();
    registry.set_default_currency("CAD").unwrap();
    let dollar = found(&mut registry, "$");
    assert_eq!(registry.show(&dollar, None), "CAD");
    let cent = found(&mut registry, "cent");
    let factor = registry.factor(&dollar, &cent).unwrap();
    assert_eq!(factor.ratio, Rational::whole(100));
    let other = found(&mut registry, "USD");
    assert_eq!(registry.factor(&dollar, &other), None);
    registry.set_default_currency("EUR").unwrap();
    assert!(matches!(registry.word("$"), Lookup::Refused { .. }));
    assert!(registry.set_default_currency("psi").is_err());
}

#[test]
fn currencies_are_dimensions_of_their_own() {
    let mut registry = Registry::new();
    let yen = registry.currency("JPY").unwrap();
    let krone = registry.currency("DKK").unwrap();
    let [yen, krone] = [yen, krone].map(|atom| registry.dimension(&Unit::of(atom)));
    assert!(yen.is_money() && krone.is_money() && yen != krone);
    assert_eq!(registry.currency("psi"), None);
}
