//! What a page reads in its fields and how it shows numbers, held to the program: the same units,
//! the same references, the same digits. Every unit word is tried in every kind of field.

use super::script::{open, run};
use gaugebook::notebook::Notebook;
use gaugebook::number::{Number, round_pair};
use gaugebook::numerics::distribution::{coverage_factor, student_cdf};
use gaugebook::units::words;

/// One field of each kind; each cell is used so that nothing is left open.
const FIELDS: &str = "```gaugebook
unit rim, rims
tank = 60 gal
dial = 100 psig
sealed = 14.7 psia
drop = 10 psi
vacuum = 5 inHg_vac
outside = 75 °F
inside = 300 K
flow = 12 cfm free
rated = 12 scfm
line = 12 acfm
metric = 20 Nm3/h
bore = 1/4 in
area = 2 in2
time = 90 s
speed = 20 ft/s
mass = 50 lb
force = 12 lbf
power = 5 hp
apparent = 6 kVA
energy = 3 kWh
torque = 20 lbf ft torque
turning = 1750 rpm
often = 3 per h
price = 12 USD
rate = $ 0.14/kWh
share = 55 %
plain = 3
noise = 85 dBA
pace = 2.4 min/rim
slope = 0.05 cfm/psi
specific = 18 kW/(100 cfm)
viscosity = 1.8e-5 kg/(m s)
```
";

fn read_by_page(notebook: &Notebook, texts: &[String]) -> Vec<Vec<Option<f64>>> {
    let list = serde_json::to_string(texts).expect("texts");
    let script = format!(
        "const typed = {list};\
         return JSON.stringify(fields.filter(f => !f.isDefault).map(f => typed.map(t => {{\
           try {{ return readEntry(f, t, '').number }} catch (e) {{ if (e instanceof Wrong) return null; throw e }} }})));"
    );
    serde_json::from_str(&run(notebook, &script)).expect("numbers")
}

/// The value of a literal in the unit of a cell, or nothing if the program refuses it.
fn read_by_program(notebook: &Notebook, unit: &str, text: &str) -> Option<f64> {
    let expression = match unit {
        "" => format!("({text}) [1]"),
        unit => format!("({text}) [{unit}]"),
    };
    let worked = notebook.work_expression(0, &expression).ok()?;
    worked.value.number().map(Number::to_f64)
}

#[test]
fn every_unit_word_is_read_as_the_program_reads_it() {
    let notebook = open(FIELDS);
    let mut texts: Vec<String> = Vec::new();
    for (word, prefixed) in words() {
        // A bracket inside a word, and three-letter currencies, are not for fields.
        let money = word.len() == 3 && word.bytes().all(|byte| byte.is_ascii_uppercase());
        if word.contains(['(', ')']) || (money && word != "USD") {
            continue;
        }
        texts.push(format!("10 {word}"));
        if prefixed {
            texts.extend([format!("10 k{word}"), format!("10 µ{word}")]);
        }
    }
    for compound in [
        "L/min",
        "L/min free",
        "m3/h",
        "m³/h free",
        "cm³/s",
        "ft3/min standard",
        "gal/h",
        "m3 free",
        "kPa gauge",
        "bar abs",
        "hPa",
        "mbar gauge",
        "kgf/cm2",
        "N/mm2 gauge",
        "lbf/in2",
        "lb/in2",
        "ft lbf",
        "N m torque",
        "kg/s",
        "W h",
        "kJ/(kg K)",
        "kW/(100 cfm)",
        "kW/(m3/min)",
        "hp/(100 cfm)",
        "L/s/bar",
        "cfm/bar",
        "L/(min kPa)",
        "min/rim",
        "s/rims",
        "rim/h",
        "USD/h",
        "USD/kWh",
        "USD/MJ",
        "in^2",
        "mm^2",
        "mm²",
        "m/s",
        "km/h",
        "1/h",
        "per h",
        "per min",
        "per 2 h",
        "kg/(m s)",
        "Pa s",
        "mPa s",
        "rev/min",
        "rad/s",
        "kV A",
        "V A",
        "L free free",
        "psig gauge",
        "psia gauge",
        "gauge",
        "free",
        "psig/min",
        "galons",
        "Gal",
        "PSI",
        "Psig",
        "mm-1",
        "ft/in",
        "%",
        "% ",
        "°C gauge",
        "dB",
    ] {
        texts.push(format!("10 {compound}"));
    }
    let by_page = read_by_page(&notebook, &texts);
    let cells: Vec<_> = notebook
        .statements()
        .iter()
        .filter(|record| record.tag == gaugebook::notebook::Tag::Cell)
        .collect();
    assert_eq!(cells.len(), by_page.len());
    let mut wrong = Vec::new();
    let mut both = 0;
    for (record, found) in cells.iter().zip(&by_page) {
        let source = record.span.of(notebook.document().text());
        let name = source.split(' ').next().expect("a name");
        let cell = notebook.find(name).expect("a cell");
        let unit = notebook
            .unit_of(cell)
            .filter(|unit| unit != "1")
            .unwrap_or_default();
        for (text, found) in texts.iter().zip(found) {
            let wanted = read_by_program(&notebook, &unit, text);
            match (wanted, found) {
                (None, None) => {}
                (Some(wanted), Some(found))
                    if (wanted - found).abs() <= 1e-13 * wanted.abs().max(1e-12) =>
                {
                    both += 1
                }
                _ => wrong.push(format!(
                    "{text} in {name} [{unit}]: page {found:?}, program {wanted:?}"
                )),
            }
        }
    }
    assert!(both > 450, "{both} accepted");
    assert!(
        wrong.is_empty(),
        "{} of them:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
}

#[test]
fn numbers_are_read_as_the_program_reads_them() {
    let notebook = open(FIELDS);
    let texts: Vec<String> = [
        "12",
        "12.5",
        ".5",
        "5.",
        "1e3",
        "1.2e-3",
        "1_200",
        "-3",
        "−3",
        "1/8",
        "3/64",
        "1 1/2",
        "1½",
        "⅜",
        "2 3/32",
        "1/5",
        "5/4",
        "1,5",
        "1,200",
        "1:30",
        "40-60",
        "40–60",
        "1-1/2",
        "1..2",
        "--3",
        "",
        "x",
        "12 12",
        "0x10",
        "1e400",
        "½ in",
        "1 1/2 in",
        "1\u{a0}1/2\u{a0}in",
        "300\u{2009}mm",
        "3⁄8 in",
        "1/8\"",
        "6'",
        "+5",
        "5 e3",
        "1e",
        "12 mm",
        "12mm",
        "0.5in",
    ]
    .map(str::to_owned)
    .to_vec();
    let by_page = read_by_page(&notebook, &texts);
    // The bore: a length, in which workshop fractions are at home.
    let bore = notebook
        .statements()
        .iter()
        .filter(|record| record.tag == gaugebook::notebook::Tag::Cell)
        .position(|record| {
            record
                .span
                .of(notebook.document().text())
                .starts_with("bore")
        })
        .expect("the bore");
    for (text, found) in texts.iter().zip(&by_page[bore]) {
        // A bare number borrows the unit beside the field, as it does in a table.
        let lines =
            format!("```gaugebook\ntable t\n    k | x [in]\n    a | {text}\ny = t[\"a\"].x\n```\n");
        let table = open(&lines);
        let cell = table.find("y").expect("y");
        let wanted = table
            .value(cell)
            .number()
            .map(Number::to_f64)
            .filter(|_| !text.is_empty());
        match (wanted, found) {
            (Some(wanted), Some(found)) => assert!(
                (wanted - found).abs() <= 1e-15 * wanted.abs(),
                "{text}: {found}, not {wanted}"
            ),
            (None, None) => {}
            // A page holds doubles, and a plus before a number does no harm there.
            _ if *text == "1e400" || *text == "+5" || *text == "0x10" => {}
            _ => panic!("{text}: page {found:?}, program {wanted:?}"),
        }
    }
}

#[test]
fn numbers_are_shown_as_the_program_shows_them() {
    let notebook = open("```gaugebook\nx = 1\n```\n");
    let mut values: Vec<f64> = vec![
        0.0,
        1.0,
        17.862345,
        17.865,
        17.875,
        -0.12345,
        123_456.7,
        12_345.5,
        9_999_999_999_999_999.0,
        1e16,
        0.0001,
        0.00009999,
        1e-7,
        -5e-300,
        2.5,
        0.125,
        1e20,
        99.995,
        9.9995,
        0.30000000000000004,
        100.0,
        1.0 / 3.0,
    ];
    let mut seed = 1u64;
    for _ in 0..400 {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        let mantissa = (seed >> 11) as f64 / (1u64 << 53) as f64;
        values.push((mantissa - 0.3) * 10f64.powi((seed % 17) as i32 - 8));
    }
    let list = serde_json::to_string(&values).expect("numbers");
    let script = format!(
        "const all = {list};\
         return JSON.stringify(all.map((v, i) => [shownDigits(v, 4), shownFixed(v, 2), ...roundPair(v, Math.abs(all[(i * 7 + 3) % all.length]))]));"
    );
    let shown: Vec<[String; 4]> = serde_json::from_str(&run(&notebook, &script)).expect("texts");
    for (index, (value, shown)) in values.iter().zip(&shown).enumerate() {
        // Differences of doubles vouch for twelve digits, large whole numbers for more.
        let decimal = |value: f64| {
            let whole = value.abs().max(1.0).log10().floor() as u32 + 1;
            let number = Number::from_f64(value).expect("a number");
            number.significant(whole.clamp(12, 15))
        };
        let exact = |value: f64| Number::read(&decimal(value)).expect("a number");
        let other = values[(index * 7 + 3) % values.len()].abs();
        let (first, second) = round_pair(exact(*value), exact(other));
        let wanted = [exact(*value).shown(), exact(*value).fixed(2), first, second];
        let wanted = wanted.map(|text| text.replace('-', "\u{2212}"));
        assert_eq!(*shown, wanted, "{value:e} and {other:e}");
    }
}

#[test]
fn shares_of_t_are_those_of_the_program() {
    let notebook = open("```gaugebook\nx = 1\n```\n");
    let dofs = [
        1.0,
        1.5,
        2.0,
        3.7,
        9.0,
        29.9,
        30.0,
        200.0,
        999.0,
        1000.0,
        5e4,
        1e9,
        f64::INFINITY,
    ];
    let scores = [
        -40.0, -6.0, -3.0, -1.96, -0.4, 0.0, 0.001, 0.9, 2.4, 2.6, 5.0, 12.0,
    ];
    let levels = [0.5, 0.6827, 0.9, 0.95, 0.99, 0.9999];
    let script = format!(
        "const d = [{}], out = [];\
         for (const n of d) {{ for (const t of {scores:?}) out.push(studentShareBelow(t, n)); for (const p of {levels:?}) out.push(coverageFactor(p, n)); }}\
         return JSON.stringify(out);",
        dofs.map(|dof: f64| if dof.is_infinite() {
            "Infinity".to_owned()
        } else {
            format!("{dof:?}")
        })
        .join(",")
    );
    let found: Vec<f64> = serde_json::from_str(&run(&notebook, &script)).expect("numbers");
    let mut found = found.into_iter();
    for dof in dofs {
        for score in scores {
            let (found, wanted) = (found.next().expect("a share"), student_cdf(score, dof));
            assert!(
                (found - wanted).abs() <= 1e-12 * wanted.max(1e-12),
                "t {score}, {dof}: {found}, not {wanted}"
            );
        }
        for level in levels {
            let (found, wanted) = (found.next().expect("a factor"), coverage_factor(level, dof));
            assert!(
                (found - wanted).abs() <= 1e-11 * wanted,
                "k {level}, {dof}: {found}, not {wanted}"
            );
        }
    }
}
