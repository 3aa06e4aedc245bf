//! Every row of the unit table: size as an exact fraction, printed digits, dimension, aliases.

use gaugebook::number::Rational;
use gaugebook::units::{Base, Dimension, Lookup, Registry, Unit, catalogue};

use super::exact::{decimal, fraction, printed_digits, ratio, records, rounded};
use super::reader::read;

/// Rows of the file that are read otherwise here, and why.
const OTHERWISE: [(&str, &str); 3] = [
    ("cwt", "refused: 100 lb or 112 lb"),
    (
        "kcal/h",
        "refused: kcal has two readings, kcal_IT and kcal_th are the words",
    ),
    (
        "Np",
        "20/ln(10) dB; the file counts the neper in a unit of its own",
    ),
];

/// Aliases of the file that stand for something else or nothing here, and why.
const ALIASES_OTHERWISE: [(&str, &str); 3] = [
    ("″", "inch or second of arc"),
    ("′", "foot or minute of arc"),
    ("″Hg", "begins with the inch mark"),
];

fn is_otherwise(symbol: &str) -> bool {
    OTHERWISE.iter().any(|(other, _)| *other == symbol)
}

/// How a row's symbol is typed in the language.
fn typed(symbol: &str, dimension: &str) -> String {
    match symbol {
        "m3/min_fad" => "m3/min".to_string(),
        _ if dimension.ends_with("rad-1") => format!("{symbol} torque"),
        _ => symbol.to_string(),
    }
}

fn unit(registry: &mut Registry, symbol: &str, dimension: &str) -> Unit {
    let text = typed(symbol, dimension);
    match read(registry, &text) {
        Ok((unit, _)) => unit,
        Err(why) => panic!("{symbol}: {why}"),
    }
}

#[test]
fn every_row_has_its_exact_size() {
    let mut registry = Registry::new();
    let mut seen = 0;
    for row in records("units.csv") {
        let symbol = &row[0];
        if is_otherwise(symbol) {
            continue;
        }
        let unit = unit(&mut registry, symbol, &row[6]);
        let size = registry.factor_to_base(&unit);
        // The file counts levels in bels, the engine in decibels.
        let scale = if row[6] == *"dB1" { 10 } else { 1 };
        let expected = fraction(row[7].parse().unwrap(), row[8].parse().unwrap());
        assert_eq!(
            size.ratio,
            expected.times(&Rational::whole(scale)),
            "{symbol}"
        );
        assert_eq!(size.pi.to_string(), row[9], "{symbol}");
        if let Some(decimals) = row[10].strip_prefix('~') {
            // Written with an exponent it is a double, good to 15 digits.
            let double = decimals.contains('e');
            let digits = if double { 15 } else { printed_digits(decimals) };
            let expected = rounded(&decimal(decimals), digits);
            assert_eq!(rounded(&ratio(&size), digits), expected, "{symbol}");
        }
        seen += 1;
    }
    assert_eq!(seen, 276 - OTHERWISE.len());
}

#[test]
fn every_size_rounds_to_the_printed_digits() {
    let mut registry = Registry::new();
    let mut seen = 0;
    for row in records("units.csv") {
        let (symbol, printed) = (&row[0], &row[15]);
        if printed.is_empty() || is_otherwise(symbol) {
            continue;
        }
        let unit = unit(&mut registry, symbol, &row[6]);
        let size = ratio(&registry.factor_to_base(&unit));
        // Printed to seven digits, trailing zeros left out.
        assert_eq!(rounded(&size, 7), decimal(printed), "{symbol}");
        seen += 1;
    }
    assert!(seen > 100, "{seen}");
}

#[test]
fn every_row_has_its_dimension() {
    let mut registry = Registry::new();
    for row in records("units.csv") {
        let symbol = &row[0];
        if is_otherwise(symbol) || row[6].starts_with("currency") {
            continue;
        }
        let unit = unit(&mut registry, symbol, &row[6]);
        assert_eq!(registry.dimension(&unit), dimension(&row[6]), "{symbol}");
    }
}

fn dimension(text: &str) -> Dimension {
    let bases = [
        ("mol", Base::AMOUNT),
        ("rad", Base::ANGLE),
        ("kg", Base::MASS),
        ("dB", Base::GAIN),
        ("m", Base::LENGTH),
        ("s", Base::TIME),
        ("A", Base::CURRENT),
        ("K", Base::TEMPERATURE),
    ];
    text.split(' ')
        .filter(|part| *part != "1")
        .fold(Dimension::PLAIN, |product, part| {
            let (symbol, base) = bases
                .iter()
                .find(|(symbol, _)| part.starts_with(symbol))
                .unwrap();
            let exponent: i32 = part[symbol.len()..].parse().unwrap();
            let power = Dimension::of(*base).power(exponent, 1).unwrap();
            product.times(&power).unwrap()
        })
}

#[test]
fn every_offset_is_exact() {
    let mut registry = Registry::new();
    for row in records("units.csv") {
        let offset = &row[11];
        if offset.is_empty() || offset == "+barometer" {
            continue;
        }
        let unit = unit(&mut registry, &row[0], &row[6]);
        assert_eq!(
            registry.offset(&unit),
            Some(&decimal(offset)),
            "{}",
            &row[0]
        );
    }
}

#[test]
fn every_alias_reads_as_its_row() {
    let mut registry = Registry::new();
    let mut seen = 0;
    for row in records("units.csv") {
        if is_otherwise(&row[0]) {
            continue;
        }
        let own = unit(&mut registry, &row[0], &row[6]);
        for alias in row[1].split(' ').chain(row[2].split(' ')) {
            if alias.is_empty() || ALIASES_OTHERWISE.iter().any(|(other, _)| *other == alias) {
                continue;
            }
            // A bracket inside a word is not read by the small reader.
            let other = match registry.word(alias) {
                Lookup::Found(unit) => unit,
                _ => unit(&mut registry, alias, &row[6]),
            };
            assert_eq!(
                registry.dimension(&own),
                registry.dimension(&other),
                "{alias}"
            );
            assert!(registry.factor(&own, &other).unwrap().is_one(), "{alias}");
            seen += 1;
        }
    }
    assert!(seen > 150, "{seen}");
}

#[test]
fn every_flagged_word_takes_every_prefix() {
    let mut registry = Registry::new();
    let prefixes = records("prefixes.csv");
    assert_eq!(prefixes.len(), 24);
    for row in records("units.csv").iter().filter(|row| row[18] == *"yes") {
        let symbol = &row[0];
        let own = unit(&mut registry, symbol, &row[6]);
        for prefix in &prefixes {
            let mut signs = vec![&prefix[1]];
            signs.extend(prefix[2].split(' ').filter(|sign| !sign.is_empty()));
            for sign in signs {
                check_prefixed(&mut registry, &own, &format!("{sign}{symbol}"), &prefix[3]);
            }
        }
    }
}

/// A prefixed word is the power of ten of its unit, unless the table has a word of these letters.
fn check_prefixed(registry: &mut Registry, own: &Unit, word: &str, power: &str) {
    let found = registry.word(word);
    if is_listed(word) {
        return;
    }
    let Lookup::Found(unit) = found else {
        panic!("{word}: {found:?}");
    };
    let factor = registry.factor(&unit, own).expect("the same dimension");
    let expected = Rational::whole(10).power(power.parse().unwrap()).unwrap();
    assert_eq!((factor.ratio, factor.pi), (expected, 0), "{word}");
}

/// Words that look prefixed, but are words of their own (dC, kt, pt …) or refused (mt, ct, hg).
fn is_listed(word: &str) -> bool {
    let own = catalogue()
        .any(|listed| listed.symbol == word || listed.names.split(' ').any(|name| name == word));
    own || Registry::is_ambiguous(word)
}

#[test]
fn a_word_of_the_table_wins_over_prefix_and_word() {
    let mut registry = Registry::new();
    let prefixes = records("prefixes.csv");
    let prefixed: Vec<_> = catalogue().filter(|listed| listed.prefixed).collect();
    let mut collisions = Vec::new();
    for listed in catalogue() {
        for word in std::iter::once(listed.symbol).chain(listed.names.split(' ')) {
            let collides = prefixes.iter().any(|prefix| {
                let rest = word.strip_prefix(&prefix[1]);
                prefixed.iter().any(|stem| rest == Some(stem.symbol))
            });
            if !collides {
                continue;
            }
            let Lookup::Found(unit) = registry.word(word) else {
                panic!("{word}");
            };
            let symbol = registry
                .single_atom(&unit)
                .map(|atom| atom.symbol.to_string());
            assert_eq!(symbol.as_deref(), Some(listed.symbol), "{word}");
            collisions.push(word);
        }
    }
    collisions.sort_unstable();
    assert_eq!(collisions, ["PS", "at", "dC", "dF", "ft", "kt", "pt", "qt"]);
}

#[test]
fn every_listed_word_is_shown_as_its_symbol_and_reads_back() {
    let mut registry = Registry::new();
    let mut seen = 0;
    for listed in catalogue() {
        for word in std::iter::once(listed.symbol).chain(listed.names.split(' ')) {
            if word.is_empty() {
                continue;
            }
            let Lookup::Found(unit) = registry.word(word) else {
                panic!("{word} is not found");
            };
            assert_eq!(registry.show(&unit, None), listed.symbol, "{word}");
            assert!(!registry.spoken(&unit).is_empty(), "{word}");
            seen += 1;
        }
    }
    assert!(seen > 400, "{seen}");
}
