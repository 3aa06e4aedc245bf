//! The second order against moments in closed form. Where the function is a polynomial of second
//! degree, the second order is the whole truth; elsewhere the next terms of the series are written
//! out here.

use super::{assert_close, cell, double, open, standard};
use gaugebook::notebook::Notebook;

fn second(notebook: &Notebook, name: &str) -> f64 {
    notebook
        .second_order(cell(notebook, name), None)
        .unwrap_or_else(|| panic!("{name} is followed"))
        .standard
}

fn mean(notebook: &Notebook, name: &str) -> f64 {
    let order = notebook
        .second_order(cell(notebook, name), None)
        .unwrap_or_else(|| panic!("{name} is followed"));
    double(notebook, name) + order.shift
}

#[test]
fn a_product_of_two_normals() {
    // Var(xy) = x²v + y²u + uv, Q284.
    let notebook = open("x = 10 ± 0.5 (k = 1)\ny = 4 ± 0.3 (k = 1)\nz = x * y");
    assert_close(second(&notebook, "z"), 3.60867011515323, "sd of a product");
    assert_close(mean(&notebook, "z"), 40.0, "mean of a product");
}

#[test]
fn a_square_with_the_fourth_moment_of_its_own_source() {
    // At 0 the variance of x² is E x⁴ − (E x²)², with E x⁴ = K u⁴.
    for (tag, square, kurtosis) in [
        ("", 1.0 / 3.0, 9.0 / 5.0),
        (" (k = 1)", 1.0, 3.0),
        (" (triangular)", 1.0 / 6.0, 12.0 / 5.0),
        (" (u_shaped)", 0.5, 1.5),
        (" (step)", 1.0 / 12.0, 9.0 / 5.0),
    ] {
        let notebook = open(&format!("x = 0 ± 1{tag}\ny = x^2"));
        let expected = square * f64::sqrt(kurtosis - 1.0);
        assert_close(second(&notebook, "y"), expected, tag);
        assert_close(mean(&notebook, "y"), square, tag);
        assert_eq!(standard(&notebook, "y"), 0.0, "first order sees nothing");
    }
}

#[test]
fn a_third_derivative_counts_by_the_fourth_moment() {
    // x³ at 1: f′ = 3, f″ = 6, f‴ = 6: variance 9u² + (36 (K − 1)/4 + 3·6·K/3) u⁴.
    let notebook = open("x = 1 ± 0.1\ny = x^3\nz = x * x * x");
    let square: f64 = 0.01 / 3.0;
    let fourth = (9.0 * 0.8 + 6.0 * 1.8) * square * square;
    assert_close(
        second(&notebook, "y"),
        f64::sqrt(9.0 * square + fourth),
        "a power",
    );
    assert_close(
        second(&notebook, "z"),
        second(&notebook, "y"),
        "a product of itself",
    );
}

#[test]
fn an_exponential_of_a_normal() {
    // e^x with u = 0.1: variance (u² + (1/2 + 1) u⁴) e^2x, mean (1 + u²/2) e^x.
    let notebook = open("x = 0.3 ± 0.1 (k = 1)\ny = exp(x)");
    let size = f64::exp(0.3);
    assert_close(
        second(&notebook, "y"),
        size * f64::sqrt(0.01 + 1.5e-4),
        "sd",
    );
    assert_close(mean(&notebook, "y"), size * 1.005, "mean");
}

#[test]
fn what_cancels_has_no_second_order_either() {
    let notebook = open(
        "x = 10 ± 3 (k = 1)\ny = 4 ± 0.2 (k = 1)\na = x - x\nb = x * y / x\nc = (x + y) * (x - y) - (x^2 - y^2)",
    );
    assert_eq!(second(&notebook, "a"), 0.0);
    let b = second(&notebook, "b");
    assert!((b - 0.2).abs() < 1e-12, "x y / x is y: {b}");
    assert!(second(&notebook, "c") < 1e-12);
}

#[test]
fn curves_go_through_cells_formulas_columns_and_reductions() {
    let notebook = open(
        "x = 2 ± 0.3 (k = 1)\ny = 3 ± 0.2 (k = 1)\nby_hand = x^2 + x * y + y^2\n\
         square_x = x^2\ncolumn = {x^2, x * y, y^2}\nthrough = sum(column)\n\
         cells = square_x + x * y + y^2\naverage = mean(column) * 3",
    );
    let expected = second(&notebook, "by_hand");
    for name in ["through", "cells", "average"] {
        assert_close(second(&notebook, name), expected, name);
    }
    let rows = (0..3).map(|row| notebook.second_order(cell(&notebook, "column"), Some(row)));
    let of_rows: Vec<f64> = rows.map(|order| order.expect("a row").standard).collect();
    assert_close(of_rows[0], second(&notebook, "square_x"), "the first row");
}

#[test]
fn a_root_bends_like_its_closed_form() {
    // p² + b p = c has the root (−b + √(b² + 4c)) / 2.
    let notebook = open(
        "b = 1.5 ± 0.2 (k = 1)\nc = 5 ± 0.6 (k = 1)\n\
         closed = (-b + sqrt(b^2 + 4 * c)) / 2\n\
         found = solve p [1] for p^2 + b * p = c from 0 to 10",
    );
    assert_close(
        standard(&notebook, "found"),
        standard(&notebook, "closed"),
        "first order",
    );
    let (found, closed) = (second(&notebook, "found"), second(&notebook, "closed"));
    assert!(
        (found / closed - 1.0).abs() < 1e-7,
        "second order: {found}, closed {closed}"
    );
    let (found, closed) = (mean(&notebook, "found"), mean(&notebook, "closed"));
    assert!(
        (found / closed - 1.0).abs() < 1e-7,
        "mean: {found}, {closed}"
    );
}

#[test]
fn a_cell_sought_bends_like_its_closed_form() {
    // hold = tank / draw, so the tank for a hold is hold · draw; its own source stays.
    let notebook = open(
        "tank = 60 ± 3 (k = 1)\ndraw = 4 ± 0.5 (k = 1)\nhold = (tank - 10)^2 / draw\n\
         sought = solve tank for hold = 900 from 20 to 500",
    );
    // (t + e − 10)² = 900 d, with e the tank's own doubt: t = 10 − e + 30 √d.
    let (u_own, u_draw): (f64, f64) = (3.0, 0.5);
    let (slope, bend, third) = (7.5, -0.9375, 0.3515625);
    let fourth = (0.5 * bend * bend + slope * third) * u_draw.powi(4);
    let expected = f64::sqrt(u_own * u_own + slope * slope * u_draw * u_draw + fourth);
    let found = second(&notebook, "sought");
    assert!(
        (found / expected - 1.0).abs() < 1e-6,
        "{found}, expected {expected}"
    );
}

#[test]
fn readings_count_as_one_normal_source() {
    let notebook = open(
        "x = readings({1.2, 0.7, 1.4, 0.9, 1.1})\nm = 1.06 ± (u) (k = 1)\n\
         u = standard_uncertainty(x)\na = x^2\nb = m^2",
    );
    assert_close(second(&notebook, "a"), second(&notebook, "b"), "a square");
}

#[test]
fn an_overridden_cell_is_followed_as_it_is_overridden() {
    let notebook = open(
        "x = 2 ± 0.5 (k = 1)\ny = x^2\nother = y with x = 3 ± 0.5 (k = 1)\n\
         z = 3 ± 0.5 (k = 1)\nplain = z^2",
    );
    assert_close(
        second(&notebook, "other"),
        second(&notebook, "plain"),
        "with another value",
    );
}

#[test]
fn an_edit_is_followed_anew() {
    let mut notebook = open("x = 2 ± 0.5 (k = 1)\ny = x^2");
    let before = second(&notebook, "y");
    notebook
        .enter_statement("x = 4 ± 0.5 (k = 1)")
        .expect("a value");
    let after = second(&notebook, "y");
    let fresh = open("x = 4 ± 0.5 (k = 1)\ny = x^2");
    assert_close(after, second(&fresh, "y"), "after an edit");
    assert!(after > before);
}

#[test]
fn too_many_sources_are_not_followed_and_nothing_is_claimed() {
    let mut lines: Vec<String> = (0..60)
        .map(|n| format!("x{n} = {}.5 ± 0.1 (k = 1)", n + 1))
        .collect();
    let names: Vec<String> = (0..60).map(|n| format!("x{n}")).collect();
    lines.push(format!("total = {}", names.join(" + ")));
    lines.push("square = total^2".to_owned());
    let notebook = open(&lines.join("\n"));
    let total = notebook.second_order(cell(&notebook, "total"), None);
    assert!(
        total.is_some_and(|order| order.change() == 0.0),
        "a sum is straight"
    );
    assert!(
        notebook
            .second_order(cell(&notebook, "square"), None)
            .is_none()
    );
}
