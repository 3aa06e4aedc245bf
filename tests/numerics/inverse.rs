//! Formulas turned round: every row of the group `inverse` of `numerics-checks.csv`.

use crate::tables::{Row, rows_of};
use gaugebook::numerics::roots::find_root;
use gaugebook::numerics::scan::{scan_around, scan_between};
use libm::{exp, log10, pow, sqrt};

/// What must be zero, and either the range or the value around which it is sought.
enum Sought {
    Between(f64, f64),
    Around(f64),
}

fn problem(row: &Row) -> (Box<dyn Fn(f64) -> f64>, Sought) {
    match row["problem"].split(':').next().unwrap_or_default() {
        "orifice" => (
            Box::new(|dp| 1.5 * sqrt(dp) - 12.0),
            Sought::Between(0.0, 1000.0),
        ),
        "exponential decay" => (
            Box::new(|t| 100.0 * exp(-t / 30.0) - 80.0),
            Sought::Around(30.0),
        ),
        "polytropic" => (
            Box::new(|n| pow(8.0, (n - 1.0) / n) - 1.7),
            Sought::Between(1.0, 1.67),
        ),
        "quadratic pipe loss" => (
            Box::new(|q| 0.02 * q * q + 0.5 * q - 50.0),
            Sought::Between(0.0, 1000.0),
        ),
        "Colebrook friction factor" => {
            let argument = |f: f64| 0.0005 / 3.7 + 2.51 / (1e5 * sqrt(f));
            (
                Box::new(move |f| 1.0 / sqrt(f) + 2.0 * log10(argument(f))),
                Sought::Around(0.02),
            )
        }
        "monthly payment" => (
            Box::new(|i| 90.0 * (1.0 - pow(1.0 + i, -12.0)) / i - 1000.0),
            Sought::Between(0.001, 0.1),
        ),
        "two-phase" => (Box::new(|x| x + exp(x) - 3.0), Sought::Between(0.0, 2.0)),
        other => panic!("no formula for {other}"),
    }
}

#[test]
fn every_row_is_solved() {
    for row in rows_of("numerics-checks.csv", &["inverse"]) {
        let (function, sought) = problem(&row);
        let scan = match sought {
            Sought::Between(from, to) => scan_between(&function, from, to),
            Sought::Around(start) => scan_around(&function, start),
        };
        let [(from, to)] = scan.brackets[..] else {
            panic!("{}: {scan:?}", &row["id"]);
        };
        let root = find_root(&function, from, to)
            .unwrap_or_else(|trouble| panic!("{}: {trouble:?}", &row["id"]));
        let expected: f64 = row["expected"].parse().expect("a number");
        let tolerance: f64 = row["tolerance"].parse().expect("a tolerance");
        assert!(
            (root.at - expected).abs() <= tolerance,
            "{}: {root:?}",
            &row["id"]
        );
    }
}
