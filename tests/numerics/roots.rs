//! Roots in brackets: every row of the group `root` of `numerics-checks.csv`, and outcomes.

use crate::tables::{Row, rows_of};
use gaugebook::numerics::roots::{NoRoot, Root, find_root};
use gaugebook::numerics::scan::{Course, scan_between};
use libm::{cos, exp, pow, sin};
use std::f64::consts::{FRAC_PI_2, PI};

type Function = Box<dyn Fn(f64) -> f64>;

/// The parameter `name=` of a row, a decimal.
fn parameter(row: &Row, name: &str) -> f64 {
    let text = row["input"]
        .split(name)
        .nth(1)
        .and_then(|rest| rest.split(' ').next());
    text.and_then(|text| text.parse().ok())
        .unwrap_or_else(|| panic!("{} has no {name}", &row["id"]))
}

fn poles(x: f64) -> f64 {
    let term = |i: i32| {
        let i = f64::from(i);
        pow(2.0 * i - 5.0, 2.0) / pow(x - i * i, 3.0)
    };
    -2.0 * (1..=20).map(term).sum::<f64>()
}

/// The problems that have a root, by their text.
fn function_of(row: &Row) -> Option<Function> {
    let n = || parameter(row, "n=");
    Some(match &row["problem"] {
        "sin x = x/2" => Box::new(|x| sin(x) - x / 2.0),
        text if text.starts_with("sum of poles") => Box::new(poles),
        "x^n = a" => {
            let (n, a) = (n(), parameter(row, "a="));
            Box::new(move |x| pow(x, n) - a)
        }
        "sin x = 1/2" => Box::new(|x| sin(x) - 0.5),
        "2x e^-n - 2 e^(-n x) + 1 = 0" => {
            let n = n();
            Box::new(move |x| 2.0 * x * exp(-n) - 2.0 * exp(-n * x) + 1.0)
        }
        "(1+(1-n)^2)x - (1-nx)^2 = 0" => {
            let n = n();
            Box::new(move |x| (1.0 + pow(1.0 - n, 2.0)) * x - pow(1.0 - n * x, 2.0))
        }
        "x^2 - (1-x)^n = 0" => {
            let n = n();
            Box::new(move |x| x * x - pow(1.0 - x, n))
        }
        "(1+(1-n)^4)x - (1-nx)^4 = 0" => {
            let n = n();
            Box::new(move |x| (1.0 + pow(1.0 - n, 4.0)) * x - pow(1.0 - n * x, 4.0))
        }
        "e^(-nx)(x-1) + x^n = 0" => {
            let n = n();
            Box::new(move |x| exp(-n * x) * (x - 1.0) + pow(x, n))
        }
        "(nx-1)/((n-1)x) = 0" => {
            let n = n();
            Box::new(move |x| (n * x - 1.0) / ((n - 1.0) * x))
        }
        "x^(1/n) - n^(1/n) = 0" => {
            let n = n();
            Box::new(move |x| pow(x, 1.0 / n) - pow(n, 1.0 / n))
        }
        "x exp(-1/x^2), 0 at x=0" => Box::new(|x| {
            if x == 0.0 {
                0.0
            } else {
                x * exp(-1.0 / (x * x))
            }
        }),
        "(n/20)(x/1.5 + sin x - 1) for x>=0, -n/20 for x<0" => {
            let n = n();
            Box::new(move |x| {
                if x >= 0.0 {
                    n / 20.0 * (x / 1.5 + sin(x) - 1.0)
                } else {
                    -n / 20.0
                }
            })
        }
        "x^3 - 2x - 5 = 0" => Box::new(|x| x * x * x - 2.0 * x - 5.0),
        "e^x - 2 - 0.01/x^2 + 0.000002/x^3 = 0" => {
            Box::new(|x| exp(x) - 2.0 - 0.01 / (x * x) + 0.000_002 / (x * x * x))
        }
        text if text.starts_with("-(3062(1-k)e^-x)") => Box::new(|x| {
            let k = 0.61489;
            let e = (1.0 - k) * exp(-x);
            -3062.0 * e / (k + e) - 1013.0 + 1628.0 / x
        }),
        "cos x = x" => Box::new(|x| cos(x) - x),
        "x e^x = 1" => Box::new(|x| x * exp(x) - 1.0),
        "x^2 = 2" => Box::new(|x| x * x - 2.0),
        "(x-3)^3 = 0" => Box::new(|x| pow(x - 3.0, 3.0)),
        _ => return None,
    })
}

/// The brackets of a row's input: `bracket [pi/2, pi]`, `bracket (1, 4) open: …`.
fn brackets_of(row: &Row) -> Vec<(f64, f64)> {
    let number = |text: &str| match text.trim() {
        "pi" => PI,
        "pi/2" => FRAC_PI_2,
        text => text
            .parse()
            .unwrap_or_else(|_| panic!("{text} in {}", &row["id"])),
    };
    let input = &row["input"];
    if input == "root near 0.7" {
        return vec![(0.5, 1.0)];
    }
    let ends = input.split(['[', '(']).skip(1);
    ends.filter_map(|rest| rest.split([']', ')']).next()?.split_once(','))
        .map(|(from, to)| (number(from), number(to)))
        .collect()
}

/// Rows that state an outcome in words have tests of their own below.
const OUTCOMES: [&str; 4] = ["N080", "N081", "N082", "N083"];

#[test]
fn every_row_with_a_root_finds_it() {
    let mut outcomes = Vec::new();
    for row in rows_of("numerics-checks.csv", &["root"]) {
        let Some(function) = function_of(&row) else {
            outcomes.push(row["id"].to_owned());
            continue;
        };
        let expected: f64 = row["expected"].parse().expect("a root");
        let tolerance: f64 = row["tolerance"].parse().expect("a tolerance");
        let brackets = brackets_of(&row);
        assert!(!brackets.is_empty(), "{}", &row["id"]);
        for (from, to) in brackets {
            let root = find_root(&function, from, to)
                .unwrap_or_else(|trouble| panic!("{}: {trouble:?}", &row["id"]));
            let error = (root.at - expected).abs();
            assert!(
                error <= tolerance,
                "{}: {root:?}, not {expected}",
                &row["id"]
            );
            assert!(
                root.from <= root.at && root.at <= root.to,
                "{}: {root:?}",
                &row["id"]
            );
        }
    }
    assert_eq!(outcomes, OUTCOMES);
}

#[test]
fn a_pole_is_no_root() {
    // N080
    let outcome = find_root(|x| 1.0 / (x - 1.0), 0.0, 3.0);
    assert!(
        matches!(outcome, Err(NoRoot::Pole(at)) if (at - 1.0).abs() < 1e-12),
        "{outcome:?}"
    );
    let outcome = find_root(|x| 1.0 / pow(x - 1.0, 3.0), 0.25, 3.0);
    assert!(
        matches!(outcome, Err(NoRoot::Pole(at)) if (at - 1.0).abs() < 1e-12),
        "{outcome:?}"
    );
    let outcome = find_root(libm::tan, 1.0, 2.0);
    assert!(
        matches!(outcome, Err(NoRoot::Pole(at)) if (at - FRAC_PI_2).abs() < 1e-12),
        "{outcome:?}"
    );
}

#[test]
fn a_jump_is_no_root() {
    let step = |x: f64| if x < 0.3 { -2.0 } else { 5.0 + x };
    let outcome = find_root(step, 0.0, 1.0);
    assert!(
        matches!(outcome, Err(NoRoot::Jump(at)) if (at - 0.3).abs() < 1e-12),
        "{outcome:?}"
    );
}

#[test]
fn one_side_of_zero_has_no_root() {
    // N081
    assert_eq!(find_root(|x| x * x + 1.0, -5.0, 5.0), Err(NoRoot::SameSign));
    assert!(scan_between(|x| x * x + 1.0, -5.0, 5.0).brackets.is_empty());
}

#[test]
fn several_roots_are_all_seen() {
    // N082
    let cubic = |x: f64| x * x * x - x;
    let scan = scan_between(cubic, -2.0, 2.0);
    let roots: Vec<f64> = scan
        .brackets
        .iter()
        .filter_map(|&(from, to)| find_root(cubic, from, to).ok())
        .map(|root| root.at)
        .collect();
    assert_eq!(roots, [-1.0, 0.0, 1.0]);
    // The same off the grid.
    let shifted = |x: f64| cubic(x - 0.01);
    assert_eq!(scan_between(shifted, -2.0, 2.0).brackets.len(), 3);
}

#[test]
fn zero_everywhere_has_every_root() {
    // N083
    assert_eq!(find_root(|_| 0.0, 0.0, 1.0), Err(NoRoot::Every));
    let scan = scan_between(|_| 0.0, 0.0, 1.0);
    assert_eq!(
        (scan.course, scan.brackets.len()),
        (Course::Constant(0.0), 0)
    );
}

#[test]
fn an_end_that_is_a_root_is_found() {
    assert_eq!(
        find_root(|x| x, 0.0, 1.0),
        Ok(Root {
            at: 0.0,
            from: 0.0,
            to: 0.0
        })
    );
    assert_eq!(
        find_root(|x| x - 1.0, 0.0, 1.0).map(|root| root.at),
        Ok(1.0)
    );
    assert_eq!(
        find_root(|x| x - 1.0, 1.0, 1.0).map(|root| root.at),
        Ok(1.0)
    );
    assert_eq!(
        find_root(|x| x - 1.0, 3.0, -1.0).map(|root| root.at),
        Ok(1.0)
    );
}

#[test]
fn a_stretch_of_zeros_is_told_with_both_ends() {
    let flat = |x: f64| (x - 2.0).max(0.0) + (x - 1.0).min(0.0);
    let root = find_root(flat, -4.0, 7.0).expect("a root");
    assert!(
        (root.from - 1.0).abs() < 1e-9 && (root.to - 2.0).abs() < 1e-9,
        "{root:?}"
    );
    assert!((root.at - 1.5).abs() < 1e-9, "{root:?}");
}

#[test]
fn points_without_value_are_stepped_around() {
    let gap = |x: f64| {
        if (0.49..0.51).contains(&x) {
            f64::NAN
        } else {
            x - 0.7
        }
    };
    assert!(find_root(gap, 0.0, 1.0).is_ok_and(|root| (root.at - 0.7).abs() < 1e-15));
    let edge = |x: f64| libm::log(x);
    assert!(find_root(edge, 0.0, 8.0).is_ok_and(|root| (root.at - 1.0).abs() < 1e-15));
    let half = |x: f64| libm::sqrt(x) - 0.5;
    assert!(find_root(half, -0.0001, 1.0).is_ok_and(|root| (root.at - 0.25).abs() < 1e-15));
    assert_eq!(find_root(|_| f64::NAN, 0.0, 1.0), Err(NoRoot::NoValue(0.0)));
    let wall = |x: f64| {
        if x < 0.4 {
            -1.0
        } else if x > 0.6 {
            1.0
        } else {
            f64::NAN
        }
    };
    assert!(matches!(
        find_root(wall, 0.0, 1.0),
        Err(NoRoot::NoValue(_) | NoRoot::Jump(_))
    ));
}

#[test]
fn a_root_costs_few_evaluations() {
    let mut calls = 0;
    let root = find_root(
        |x| {
            calls += 1;
            exp(x) - 3.0
        },
        0.0,
        10.0,
    );
    assert!(root.is_ok());
    assert!(calls < 30, "{calls} evaluations");
}

#[test]
fn steep_roots_are_roots() {
    for steep in [1e3, 1e6, 1e9] {
        let root = find_root(|x| libm::tanh(steep * (x - 0.123)), 0.0, 1.0);
        assert!(
            root.is_ok_and(|root| (root.at - 0.123).abs() < 1e-15),
            "{steep}: {root:?}"
        );
    }
    let root = find_root(|x| libm::cbrt(x - 0.5), -3.0, 2.0);
    assert!(
        root.is_ok_and(|root| (root.at - 0.5).abs() < 1e-15),
        "{root:?}"
    );
}
