//! Pasted characters, their plain writing for output, and the nearest names.

use gaugebook::source::fold::{
    fold_char, fraction, is_blank, is_dash, normal_name, subscript, superscript,
};
use gaugebook::source::{ascii, nearest, wrap};

#[test]
fn pasted_characters_are_read_as_typed_ones() {
    for (pasted, plain) in [
        ("\u{a0}\u{2009}\u{202f}\t\u{feff}", " "),
        ("−\u{2011}", "-"),
        ("×·⋅", "*"),
        ("÷⁄", "/"),
        ("“”„″«", "\""),
        ("’′", "'"),
        ("≤", "<="),
        ("≥", ">="),
        ("≠", "!="),
        ("µ", "μ"),
        ("º", "°"),
        ("℉", "°F"),
    ] {
        for character in pasted.chars() {
            assert_eq!(fold_char(character), Some(plain), "{character:?}");
        }
    }
}

#[test]
fn what_stands_for_itself_is_left_alone() {
    for character in "aZ09 _-*/\"'<>=!#é漢Ωμ°±²½–₁".chars() {
        assert_eq!(fold_char(character), None, "{character:?}");
    }
}

#[test]
fn a_dash_is_no_minus_and_no_blank() {
    for dash in ['–', '—', '‒'] {
        assert!(is_dash(dash) && !is_blank(dash));
    }
    assert!(!is_dash('−') && !is_dash('-'));
}

#[test]
fn fractions_have_the_value_that_unicode_gives_them() {
    // Numeric values of the Unicode character database (DerivedNumericValues).
    let signs = "½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅐⅛⅜⅝⅞⅑⅒";
    let values = [
        0.5,
        1. / 3.,
        2. / 3.,
        0.25,
        0.75,
        0.2,
        0.4,
        0.6,
        0.8,
        1. / 6.,
        5. / 6.,
        1. / 7.,
        0.125,
        0.375,
        0.625,
        0.875,
        1. / 9.,
        0.1,
    ];
    for (sign, value) in signs.chars().zip(values) {
        let (numerator, denominator) = fraction(sign).unwrap();
        assert_eq!(
            f64::from(numerator) / f64::from(denominator),
            value,
            "{sign}"
        );
    }
    assert_eq!(fraction('1'), None);
}

#[test]
fn raised_and_lowered_characters() {
    let raised: String = "⁰¹²³⁴⁵⁶⁷⁸⁹⁺⁻".chars().filter_map(superscript).collect();
    assert_eq!(raised, "0123456789+-");
    let lowered: String = "₀₁₂₃₄₅₆₇₈₉₊₋ₐₘₓ".chars().filter_map(subscript).collect();
    assert_eq!(lowered, "0123456789+-amx");
    assert_eq!((superscript('2'), subscript('2')), (None, None));
}

#[test]
fn names_are_compared_in_normal_form() {
    assert_eq!(normal_name("de\u{301}bit"), "débit");
    assert_eq!(normal_name("\u{b5}_steel"), "\u{3bc}_steel");
    assert_eq!(normal_name("\u{2126}"), "\u{3a9}");
    assert_eq!(normal_name("in²"), "in²");
    assert_eq!(normal_name("tank_1"), "tank_1");
}

#[test]
fn signs_have_a_plain_writing() {
    for (text, plain) in [
        ("16.09 ± 0.45 cfm", "16.09 +/- 0.45 cfm"),
        ("−2 °F, 20 ℃", "-2 degF, 20 degC"),
        ("9.81 m/s² · 3 µm", "9.81 m/s2 * 3 um"),
        ("s⁻²", "s^-2"),
        ("1½ in, ⅛ in", "1 1/2 in, 1/8 in"),
        ("a × b ≤ c ≠ d", "a * b <= c != d"),
        ("── │ └┬ ▪▪ ■", "-- | ++ ## #"),
        ("“Receivers” …", "\"Receivers\" ..."),
        ("10 kΩ, Δp, ν", "10 kohm, Deltap, nu"),
        ("Größe, débit, 漢", "Grosse, debit, <U+6F22>"),
        ("tank = 60 gal", "tank = 60 gal"),
    ] {
        assert_eq!(ascii(text), plain);
    }
}

#[test]
fn the_nearest_name_is_found_and_far_ones_are_not() {
    let cells = ["pump_output", "pump", "tank", "bank", "duty", "t"];
    for (word, wanted) in [
        ("pump_ouput", Some("pump_output")),
        ("pmup", Some("pump")),
        ("Bank", Some("bank")),
        ("TANK", Some("tank")),
        ("tanks", Some("tank")),
        ("PUMP_OUTPUT", Some("pump_output")),
        ("dtuy", Some("duty")),
        ("x", None),
        ("T", Some("t")),
        ("compressor", None),
        ("", None),
    ] {
        assert_eq!(nearest(word, cells), wanted, "{word}");
    }
    assert_eq!(nearest(&"pump".repeat(100_000), cells), None);
}

#[test]
fn text_wraps_at_blanks() {
    let text = "a receiver is a pressure vessel";
    assert_eq!(
        wrap(text, 14, 10),
        ["a receiver is", "a pressure", "vessel"]
    );
    assert_eq!(wrap("incompressible air", 5, 5), ["incompressible", "air"]);
    assert_eq!(wrap("漢字 漢字", 5, 5), ["漢字", "漢字"]);
    assert_eq!(wrap("", 5, 5), [""]);
}
