//! Grids: where the sign changes, and whether the function moves.

use gaugebook::numerics::scan::{Course, STEPS, scan_around, scan_between};

#[test]
fn a_grid_has_64_steps_and_both_ends() {
    let mut points = Vec::new();
    scan_between(
        |x| {
            points.push(x);
            x
        },
        1.0,
        2.0,
    );
    assert_eq!(points.len(), STEPS as usize + 1);
    assert_eq!((points[0], points[32], points[64]), (1.0, 1.5, 2.0));
}

#[test]
fn around_a_value_the_grid_goes_from_a_thousandth_to_a_thousand_times() {
    for start in [2.5, -0.3] {
        let mut points = Vec::new();
        scan_around(
            |x| {
                points.push(x);
                x
            },
            start,
        );
        assert_eq!(points.len(), STEPS as usize + 1);
        assert_eq!(points[32], start);
        assert!((points[0] / start - 0.001).abs() < 1e-15);
        assert!((points[64] / start - 1000.0).abs() < 1e-9);
        let ratio = points[1] / points[0];
        assert!(
            points
                .windows(2)
                .all(|pair| (pair[1] / pair[0] / ratio - 1.0).abs() < 1e-12)
        );
    }
    let nowhere = scan_around(|x| x, 0.0);
    assert_eq!(
        (nowhere.course, nowhere.brackets.len()),
        (Course::NoValue, 0)
    );
}

#[test]
fn a_zero_on_the_grid_counts_once() {
    assert_eq!(scan_between(|x| x, -1.0, 1.0).brackets, [(0.0, 0.0)]);
    assert_eq!(scan_between(|x| x * x, -1.0, 1.0).brackets, [(0.0, 0.0)]);
    assert_eq!(scan_between(|x| x, 0.0, 1.0).brackets, [(0.0, 0.0)]);
    assert_eq!(scan_between(|x| x - 1.0, 0.0, 1.0).brackets, [(1.0, 1.0)]);
    let flat = |x: f64| (x - 0.5).max(0.0) + (x + 0.5).min(0.0);
    assert_eq!(scan_between(flat, -1.0, 1.0).brackets, [(-0.5, 0.5)]);
}

#[test]
fn whether_a_function_moves_is_told() {
    assert_eq!(
        scan_between(|_| 7.0, 0.0, 1.0).course,
        Course::Constant(7.0)
    );
    assert_eq!(scan_between(|_| f64::NAN, 0.0, 1.0).course, Course::NoValue);
    assert_eq!(scan_between(|x| x, 0.0, 1.0).course, Course::Varies);
    let late = |x: f64| if x < 1.0 { 7.0 } else { 7.5 };
    assert_eq!(scan_between(late, 0.0, 1.0).course, Course::Varies);
}

#[test]
fn a_gap_does_not_hide_a_change_of_sign() {
    let gap = |x: f64| if x.abs() < 0.1 { f64::NAN } else { x };
    let scan = scan_between(gap, -1.0, 1.0);
    assert_eq!(scan.brackets.len(), 1);
    let (from, to) = scan.brackets[0];
    assert!(from < -0.1 && to > 0.1);
}
