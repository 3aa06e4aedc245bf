//! Tables: every row of the group `interpolation` of `numerics-checks.csv`, and outcomes.

use crate::tables::{Row, rows_of};
use gaugebook::numerics::interpolation::{RisingKeys, Rows, TableTrouble, interpolate};

/// `(0,10) (2,14) (5,20); x=3`.
fn table_of(row: &Row) -> (Vec<f64>, Vec<f64>, f64) {
    let (points, x) = row["input"].split_once("; x=").expect("points and x");
    let pairs = points.split(' ').map(|point| {
        let (x, y) = point
            .trim_matches(['(', ')'])
            .split_once(',')
            .expect("a point");
        (x.parse::<f64>().expect("x"), y.parse::<f64>().expect("y"))
    });
    let (xs, ys) = pairs.unzip();
    (xs, ys, x.parse().expect("x"))
}

#[test]
fn every_row_of_the_table() {
    for row in rows_of("numerics-checks.csv", &["interpolation"]) {
        let (xs, ys, x) = table_of(&row);
        let found = interpolate(x, &xs, &ys);
        match &row["expected"] {
            "ambiguous table" => assert_eq!(found, Err(TableTrouble::NotRising(2))),
            "refuse or flag extrapolation" => {
                assert_eq!(found, Err(TableTrouble::Outside(0.0, 2.0)));
            }
            number => assert_eq!(found, Ok(number.parse().expect("a number"))),
        }
    }
}

#[test]
fn rows_of_the_table_come_back_as_they_are() {
    let (xs, ys) = ([0.1, 0.3, 0.7, 1.1], [3.3, -1.7, 0.1, 5.9]);
    for (x, y) in xs.iter().zip(ys) {
        assert_eq!(interpolate(*x, &xs, &ys), Ok(y));
    }
    assert_eq!(interpolate(5.0, &[5.0], &[2.0]), Ok(2.0));
}

#[test]
fn tables_that_cannot_answer_say_why() {
    use TableTrouble::{Empty, Lengths, NotRising, Outside};
    assert_eq!(interpolate(1.0, &[], &[]), Err(Empty));
    assert_eq!(interpolate(1.0, &[1.0, 2.0], &[1.0]), Err(Lengths(2, 1)));
    assert_eq!(
        interpolate(1.0, &[2.0, 1.0], &[1.0, 1.0]),
        Err(NotRising(1))
    );
    assert!(matches!(
        interpolate(1.0, &[0.0, f64::NAN, 2.0], &[1.0; 3]),
        Err(NotRising(1))
    ));
    assert_eq!(
        interpolate(0.9, &[1.0, 2.0], &[1.0, 1.0]),
        Err(Outside(1.0, 2.0))
    );
    assert_eq!(
        interpolate(2.1, &[1.0, 2.0], &[1.0, 1.0]),
        Err(Outside(1.0, 2.0))
    );
    assert!(matches!(
        interpolate(f64::NAN, &[1.0, 2.0], &[1.0, 1.0]),
        Err(Outside(..))
    ));
}

#[test]
fn keys_of_any_kind_are_found() {
    let keys = RisingKeys::new(&[10_i64, 20, 40]).expect("rising");
    assert_eq!(keys.rows_around(20), Ok(Rows { lower: 1, upper: 1 }));
    assert_eq!(keys.rows_around(21), Ok(Rows { lower: 1, upper: 2 }));
    assert_eq!(keys.rows_around(41), Err(TableTrouble::Outside(10, 40)));
}
