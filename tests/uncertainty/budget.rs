//! Budgets: the rows of JCGM 100:2008, table H.1, with what improving the first would bring.

use super::{assert_close, cell, open, standard};
use gaugebook::study::{Budget, NoBudget};

/// The test of a gun: one dial whose own error both readings share. Invented.
const GUN: &str = "needle_zero = 0 psi ± 2 psi\ntank = 74.0 gal ± 0.6 gal\n\
    held = readings({80.0, 80.6, 80.3, 80.3} s) ± 0.4 s\n\
    start = 126 psig ± 0.5 psi + needle_zero\nstop = 94 psig ± 0.5 psi + needle_zero\n\
    draw [cfm free] = bleed_down(tank, start, stop, held)\n";

fn budget(lines: &str, name: &str) -> Budget {
    let notebook = open(lines);
    notebook
        .budget(cell(&notebook, name), None)
        .unwrap_or_else(|why| panic!("{name}: {why:?}"))
}

/// The rows as text: source, value, standard uncertainty, sensitivity, share.
fn rows(budget: &Budget) -> Vec<String> {
    budget
        .rows
        .iter()
        .map(|row| {
            let number =
                |value: Option<f64>| value.map_or("?".to_owned(), |one| format!("{one:.4}"));
            format!(
                "{} | {} | {} {} | {} {} | {:.4} | {:.1} %",
                row.source,
                row.value.line(),
                number(row.standard),
                row.standard_unit,
                number(row.sensitivity),
                row.sensitivity_unit,
                row.contribution,
                row.share * 100.0
            )
        })
        .collect()
}

#[test]
fn a_row_for_each_source_the_largest_first() {
    let made = budget(GUN, "draw");
    assert_eq!(made.shown.line(), "16.09 ± 0.44 cfm free (95 %)");
    assert_eq!(made.unit, "cfm free");
    assert_eq!(
        rows(&made),
        [
            "start, reading | 126 psig | 0.2887 psi | 0.5030 cfm/psi | 0.1452 | 41.7 %",
            "stop, reading | 94 psig | 0.2887 psi | -0.5030 cfm/psi | 0.1452 | 41.7 %",
            "tank | 74.0 gal | 0.3464 gal | 0.2175 cfm/gal | 0.0753 | 11.2 %",
            "held, ± 0.4 s | 0 s | 0.2309 s | -0.2004 cfm/s | 0.0463 | 4.2 %",
            "held, 4 readings | 80.30 s | 0.1225 s | -0.2004 cfm/s | 0.0245 | 1.2 %",
            "needle_zero | 0 psi | 1.1547 psi | 0.0000 cfm/psi | 0.0000 | 0.0 %",
        ]
    );
}

#[test]
fn a_source_that_cancels_stays_in_and_says_who_shares_it() {
    let made = budget(GUN, "draw");
    let last = made.rows.last().expect("a row");
    assert!(last.cancels);
    assert_eq!(last.shared_by, ["start", "stop"]);
    assert!(made.rows[..5].iter().all(|row| !row.cancels));
}

#[test]
fn contributions_add_up_to_the_whole() {
    let notebook = open(GUN);
    let made = notebook
        .budget(cell(&notebook, "draw"), None)
        .expect("a budget");
    let sum: f64 = made.rows.iter().map(|row| row.contribution.powi(2)).sum();
    assert_close(sum.sqrt(), made.together.standard, "root of the squares");
    let shares: f64 = made.rows.iter().map(|row| row.share).sum();
    assert_close(shares, 1.0, "shares");
    assert_close(
        made.together.standard,
        standard(&notebook, "draw"),
        "as the cell has it",
    );
    for row in &made.rows {
        let (standard, sensitivity) = (row.standard.expect("one"), row.sensitivity.expect("one"));
        assert_close((standard * sensitivity).abs(), row.contribution, "a row");
    }
}

#[test]
fn equal_sources_are_improved_together() {
    let made = budget(GUN, "draw");
    let improve = made.improve.expect("something to improve");
    assert_eq!(improve.rows, [0, 1]);
    assert!((improve.share - 0.834).abs() < 0.001);
    assert_eq!(improve.shown.line(), "16.09 ± 0.27 cfm free (95 %)");
    // What it promises is what comes out.
    let better = GUN.replace("psig ± 0.5 psi", "psig ± 0.25 psi");
    let halved = budget(&better, "draw");
    assert_close(
        halved.together.expanded,
        improve.halved.expanded,
        "with half the limits",
    );
}

#[test]
fn halving_readings_is_what_four_times_as_many_would_do() {
    let made = budget(
        "held = readings({80.0, 81.4, 80.3, 79.1} s) ± 0.4 s\ntwice = 2 * held",
        "twice",
    );
    let improve = made.improve.expect("something to improve");
    assert_eq!(improve.rows, [0]);
    assert_eq!(made.rows[0].source.to_string(), "held, 4 readings");
    let (readings, watch) = (made.rows[0].contribution, made.rows[1].contribution);
    assert_close(
        improve.halved.standard,
        (0.25 * readings * readings + watch * watch).sqrt(),
        "half of the readings' part",
    );
}

#[test]
fn paired_readings_are_taken_apart() {
    let made = budget(
        "table log\n    n | v [V] | i [mA]\n    1 | 5.007 | 19.663\n    2 | 4.994 | 19.639\n    \
         3 | 5.005 | 19.640\n    4 | 4.990 | 19.685\n    5 | 4.999 | 19.678\n\
         v = readings(log.v)\ni = readings(log.i)\nz = v / i [ohm]",
        "z",
    );
    let names: Vec<String> = made.rows.iter().map(|row| row.source.to_string()).collect();
    assert_eq!(names, ["v, 5 readings", "i, 5 readings"]);
    // JCGM 100:2008, table H.2: u(V) = 3.2 mV, u(I) = 9.5 µA.
    assert_close(
        made.rows[0].standard.expect("one"),
        0.00320936130717618,
        "u(V)",
    );
    assert_close(
        made.rows[1].standard.expect("one"),
        0.0094710083940409,
        "u(I)",
    );
    let shares: f64 = made.rows.iter().map(|row| row.share).sum();
    assert_close(shares, 1.0, "shares with half the covariance each");
}

#[test]
fn the_same_readings_averaged_twice_are_one_row() {
    let made = budget(
        "times = {54.6, 55.3, 55.1} s\na = readings(times)\nb = readings(times)\nc = a + 2 * b",
        "c",
    );
    assert_eq!(made.rows.len(), 1);
    assert_close(made.rows[0].sensitivity.expect("one"), 3.0, "together");
}

#[test]
fn sources_are_named_by_where_they_were_typed() {
    let made = budget(
        "formula net(x, loss [psi] = 2 psi ± 0.3 psi) [psi]\n    source \"invented\"\n    x - loss\n\
         table parts\n    part | weight [lb]\n    lid | 7.5 ± 0.5\n    body | 13.8 ± 0.4\n\
         a = net(10 psi ± 0.7 psi) + 5 psi ± 0.1 psi\n\
         b = sum({1, 2} lb ± 0.2 lb) + sum(parts.weight)\nc = a / 1 psi + b / (1 lb)",
        "c",
    );
    let mut names: Vec<String> = made.rows.iter().map(|row| row.source.to_string()).collect();
    names.sort();
    assert_eq!(
        names,
        [
            "a, 10 psi",
            "a, 5 psi",
            "b, item 1",
            "b, item 2",
            "net, loss",
            "parts.weight, body",
            "parts.weight, lid",
        ]
    );
}

#[test]
fn a_column_is_asked_row_by_row() {
    let notebook = open("x = {1.0, 2.0} s ± 0.1 s\ny = 3 * x\nexact = 5 s\nword = \"x\"");
    let y = cell(&notebook, "y");
    assert_eq!(notebook.budget(y, None).err(), Some(NoBudget::Column));
    let second = notebook.budget(y, Some(1)).expect("a row");
    assert_eq!(
        rows(&second),
        ["x, item 2 | 2 s | 0.0577 s | 3.0000  | 0.1732 | 100.0 %"]
    );
    let exact = cell(&notebook, "exact");
    assert_eq!(notebook.budget(exact, None).err(), Some(NoBudget::Exact));
    let word = cell(&notebook, "word");
    assert_eq!(notebook.budget(word, None).err(), Some(NoBudget::NoNumber));
}

#[test]
fn a_budget_shows_units_of_differences() {
    let made = budget("t = 20 °C ± 0.5 °C\nf = t [°F]", "f");
    assert_eq!(made.unit, "°R");
    assert_eq!(
        rows(&made),
        ["t | 20 °C | 0.2887 K | 1.8000 °R/K | 0.5196 | 100.0 %"]
    );
    let made = budget("p = absolute(100 psig ± 1 psi) [bara]", "p");
    assert_eq!(made.unit, "bar");
    assert_eq!(made.rows[0].sensitivity_unit, "bar/psi");
}

#[test]
fn after_an_edit_the_budget_is_that_of_the_new_text() {
    let mut notebook = open(GUN);
    notebook
        .enter_statement("tank = 74.0 gal ± 3 gal (k = 2)")
        .expect("a value");
    let made = notebook
        .budget(cell(&notebook, "draw"), None)
        .expect("a budget");
    assert_eq!(made.rows[0].source.to_string(), "tank");
    assert_close(made.rows[0].standard.expect("one"), 1.5, "k = 2");
}
