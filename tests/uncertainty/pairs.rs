//! Readings that were taken together: columns of one table, row by row.

use super::{assert_close, double, open, standard};

const LOG: &str = "table log\n    run | fall [psi] | time [s]\n    1 | 30.2 | 61.0\n    2 | 29.6 | 59.7\n    3 | 30.5 | 61.4\n    4 | 29.9 | 60.5\n";

#[test]
fn columns_of_one_table_keep_their_covariance() {
    let notebook = open(&format!(
        "{LOG}fall = readings(log.fall)\ntime = readings(log.time)\nr = correlation(fall, time)"
    ));
    // Σ dx·dy / √(Σ dx² · Σ dy²), by an independent library.
    let r = double(&notebook, "r");
    assert!((r - 0.98687033).abs() < 1e-8, "{r}");
}

#[test]
fn columns_of_two_tables_are_independent() {
    let other = LOG.replace("table log", "table other");
    let notebook = open(&format!(
        "{LOG}{other}fall = readings(log.fall)\ntime = readings(other.time)\n\
         r = correlation(fall, time)"
    ));
    assert_eq!(double(&notebook, "r"), 0.0);
}

#[test]
fn a_computed_column_is_paired_too() {
    let notebook = open(&format!(
        "{LOG}log.rate = log.fall / log.time\nrate = readings(log.rate)\n\
         fall = readings(log.fall)\ntime = readings(log.time)\nquotient = fall / time"
    ));
    // The two ways to the rate differ in the second order only.
    let (one, other) = (standard(&notebook, "rate"), standard(&notebook, "quotient"));
    assert!((one / other - 1.0).abs() < 0.02, "{one}, {other}");
}

#[test]
fn an_expression_over_a_column_is_paired() {
    let notebook = open(&format!(
        "{LOG}plain = readings(log.fall)\ntwice = readings(2 * log.fall)\n\
         rest = twice - plain - plain"
    ));
    assert!(standard(&notebook, "rest") < 1e-12, "one set of readings");
}

#[test]
fn the_same_column_cell_read_twice_is_one_set_of_readings() {
    let notebook = open(
        "times = {54.6, 55.3, 55.1} s\na = readings(times)\nb = readings(times)\nc = a - b\n\
         d = readings({54.6, 55.3, 55.1} s) - readings({54.6, 55.3, 55.1} s)",
    );
    assert_eq!(standard(&notebook, "c"), 0.0);
    let alone = standard(&notebook, "a");
    let typed_twice = standard(&notebook, "d");
    assert_close(
        typed_twice,
        alone * std::f64::consts::SQRT_2,
        "typed twice, they are two sets",
    );
}

#[test]
fn paired_readings_are_one_component_of_the_degrees_of_freedom() {
    let notebook = open(&format!(
        "{LOG}fall = readings(log.fall)\ntime = readings(log.time)\nrate = fall / time\n\
         dof = degrees_of_freedom(rate)\n\
         alone = readings({{30.2, 29.6, 30.5, 29.9}} psi) / readings({{61.0, 59.7, 61.4, 60.5}} s)\n\
         more = degrees_of_freedom(alone)"
    ));
    assert_close(double(&notebook, "dof"), 3.0, "four pairs");
    assert!(double(&notebook, "more") > 3.5, "two sets of four");
}

/// The interval of trials and that of first order.
fn intervals(notebook: &gaugebook::notebook::Notebook, name: &str) -> ((f64, f64), (f64, f64)) {
    let cell = notebook.find(name).expect("named");
    let made = gaugebook::study::spread(notebook, cell, 7).expect("trials");
    ((made.low, made.high), made.first_order)
}

#[test]
fn trials_draw_readings_that_were_taken_together_together() {
    let notebook = open(&format!(
        "{LOG}fall = readings(log.fall)\ntime = readings(log.time)\nrate = fall / time\n\
         alone = readings({{30.2, 29.6, 30.5, 29.9}} psi) / readings({{61.0, 59.7, 61.4, 60.5}} s)"
    ));
    let (trials, first) = intervals(&notebook, "rate");
    let (wide, narrow) = (trials.1 - trials.0, first.1 - first.0);
    assert!((wide / narrow - 1.0).abs() < 0.02, "{trials:?}, {first:?}");
    // Taken for independent they would spread much wider.
    let (apart, _) = intervals(&notebook, "alone");
    assert!(apart.1 - apart.0 > 4.0 * wide, "{apart:?}, {trials:?}");
}

#[test]
fn trials_know_readings_that_are_named_twice() {
    let notebook = open(
        "times = {54.6, 55.3, 55.1} s\na = readings(times)\nb = readings(times)\n\
         both = a + b\ntwice = 2 * a",
    );
    let ((low, high), _) = intervals(&notebook, "both");
    let (_, (first_low, first_high)) = intervals(&notebook, "twice");
    let ratio = (high - low) / (first_high - first_low);
    assert!((ratio - 1.0).abs() < 0.02, "{ratio}");
}
