//! Normal and Student's t, against tables and another arithmetic.

use crate::tables::{rows, rows_of};
use gaugebook::numerics::distribution::{
    coverage_factor, normal_cdf, normal_quantile, student_cdf, student_quantile,
};

fn number(text: &str) -> f64 {
    text.parse()
        .unwrap_or_else(|_| panic!("{text} is no number"))
}

/// The text behind `name=` up to the next comma.
fn field(inputs: &str, name: &str) -> Option<f64> {
    inputs
        .split(", ")
        .find_map(|input| input.strip_prefix(name))
        .map(number)
}

#[test]
fn every_row_of_student_t() {
    let rows = rows_of("uncertainty-checks.csv", &["Student t"]);
    assert_eq!(rows.len(), 57);
    let mut worst = 0.0_f64;
    for row in &rows {
        let level = field(&row["inputs"], "p=").expect("a level");
        let freedom = field(&row["inputs"], "nu=").expect("degrees of freedom");
        let expected = number(&row["expected"]);
        let error = (coverage_factor(level, freedom) - expected).abs();
        assert!(
            error <= number(&row["tolerance"]),
            "{}: {error:e} off",
            &row["id"]
        );
        worst = worst.max(error / expected);
    }
    // The rows have 15 digits.
    println!("Student t: at worst {worst:.1e} off");
    assert!(worst < 2e-14, "{worst:e}");
}

/// The rows about the mass standard: the first multiplies, the second is a t quantile.
const NOT_NORMAL: [&str; 2] = ["Q075", "Q076"];

#[test]
fn every_row_of_the_normal_coverage() {
    let mut others = Vec::new();
    for row in rows_of("uncertainty-checks.csv", &["coverage"]) {
        let inputs = &row["inputs"];
        let found = match &row["case"] {
            "normal coverage factor" => {
                field(inputs, "p=").map(|p| coverage_factor(p, f64::INFINITY))
            }
            "normal coverage probability" => {
                field(inputs, "k=").map(|k| 1.0 - 2.0 * normal_cdf(-k))
            }
            _ => None,
        };
        let Some(found) = found else {
            others.push(row["id"].to_owned());
            continue;
        };
        let error = (found - number(&row["expected"])).abs();
        assert!(
            error <= number(&row["tolerance"]),
            "{}: {error:e} off",
            &row["id"]
        );
    }
    assert_eq!(others, NOT_NORMAL);
    assert!((coverage_factor(0.95, 9.0) - 2.262_157_162_798_2).abs() < 2.3e-9);
}

#[test]
fn student_t_over_all_degrees_of_freedom() {
    let rows = rows("student-t.csv");
    let mut worst = 0.0_f64;
    for row in &rows {
        let (level, freedom) = (number(&row["level"]), number(&row["freedom"]));
        let expected = number(&row["factor"]);
        let error = (coverage_factor(level, freedom) / expected - 1.0).abs();
        // A level as a double leaves 1 − level with this relative error, which the quantile
        // enlarges by up to one over the degrees of freedom.
        let given = f64::EPSILON / (1.0 - level) / freedom.min(1.0);
        assert!(error < 1e-14 + given, "{level}, {freedom}: {error:e} off");
        if level < 0.999 {
            worst = worst.max(error);
        }
        let back = 1.0 - 2.0 * student_cdf(-expected, freedom);
        assert!((back - level).abs() < 2e-14, "{level}, {freedom}: {back}");
    }
    println!("Student t: at worst {worst:.1e} off, levels to 0.9973");
    assert!(rows.len() > 150, "{} rows", rows.len());
}

#[test]
fn cdf_and_quantile_undo_each_other() {
    for freedom in [
        0.5,
        1.0,
        3.3,
        29.9,
        30.0,
        150.0,
        999.9,
        1000.0,
        1e9,
        f64::INFINITY,
    ] {
        for p in [1e-12, 1e-5, 0.025, 0.3, 0.4999, 0.5, 0.6, 0.975, 0.999_99] {
            let back = student_cdf(student_quantile(p, freedom), freedom);
            // The expansion for many degrees of freedom is made for the usual levels.
            let allowed = if p < 1e-4 { 2e-9 } else { 1e-12 };
            assert!((back / p - 1.0).abs() < allowed, "{p}, {freedom}: {back}");
        }
    }
    for p in [1e-300, 1e-12, 0.025, 0.5, 0.975] {
        let back = normal_cdf(normal_quantile(p));
        assert!((back / p - 1.0).abs() < 2e-13, "{p}: {back}");
    }
}

#[test]
fn both_distributions_are_symmetric() {
    for t in [0.0, 0.1, 1.0, 7.5] {
        assert_eq!(normal_cdf(t) + normal_cdf(-t), 1.0);
        for freedom in [0.7, 4.0, 77.0, 1e5] {
            assert_eq!(student_cdf(t, freedom) + student_cdf(-t, freedom), 1.0);
        }
    }
    assert_eq!(normal_quantile(0.5), 0.0);
    assert_eq!(student_quantile(0.5, 4.0), 0.0);
    // One degree of freedom is the Cauchy distribution.
    assert!((student_cdf(1.0, 1.0) - 0.75).abs() < 1e-15);
}

#[test]
fn ends_and_nonsense() {
    assert_eq!(normal_quantile(0.0), f64::NEG_INFINITY);
    assert_eq!(normal_quantile(1.0), f64::INFINITY);
    assert_eq!(student_quantile(0.0, 3.0), f64::NEG_INFINITY);
    assert_eq!(coverage_factor(1.0, 3.0), f64::INFINITY);
    assert_eq!(coverage_factor(0.0, 3.0), 0.0);
    for (p, freedom) in [
        (-0.1, 3.0),
        (1.1, 3.0),
        (f64::NAN, 3.0),
        (0.9, 0.0),
        (0.9, -1.0),
        (0.9, f64::NAN),
    ] {
        assert!(student_quantile(p, freedom).is_nan(), "{p}, {freedom}");
    }
    assert!(student_cdf(f64::NAN, 3.0).is_nan());
    assert!(student_cdf(1.0, -3.0).is_nan());
    assert_eq!(student_cdf(f64::INFINITY, 3.0), 1.0);
    assert_eq!(student_cdf(f64::NEG_INFINITY, 3.0), 0.0);
}
