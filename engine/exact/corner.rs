//! Places where a value turns a corner, or nearly loses its footing, within three standard
//! uncertainties: what derivatives at the value do not see.

use super::arithmetic::difference;
use super::source::Sources;
use super::uncertain::Uncertain;
use super::value::Value;
use crate::check::Reduction;

/// How many standard uncertainties are looked at.
const REACH: f64 = 3.0;

/// A divisor less than this many times its own standard uncertainty is small.
const FIRM: f64 = 10.0;

/// Whether any row lies close to zero, where `abs` turns.
pub(super) fn is_near_zero(value: &Value, sources: &Sources) -> bool {
    any_row(value, |row| is_within(row, REACH, sources))
}

/// Whether any row of a divisor is small beside its own uncertainty.
pub(super) fn is_small(value: &Value, sources: &Sources) -> bool {
    any_row(value, |row| is_within(row, FIRM, sources))
}

/// Whether two values that are chosen from lie close together in any row.
pub(super) fn are_rivals(left: &Value, right: &Value, sources: &Sources) -> bool {
    let rows = rows_of(left).len().max(rows_of(right).len());
    (0..rows).any(|row| are_close(&left.row(row), &right.row(row), sources))
}

/// Whether another value of a column lies close to the smallest or largest, which was chosen.
pub(super) fn has_rival(
    reduction: Reduction,
    column: &Value,
    chosen: &Value,
    sources: &Sources,
) -> bool {
    matches!(reduction, Reduction::Minimum | Reduction::Maximum)
        && any_row(column, |row| {
            row != chosen && are_close(row, chosen, sources)
        })
}

/// Whether a wanted size lies so close to a listed one that the next might be needed.
pub(super) fn is_close_to_size(wanted: &Value, sizes: &Value, sources: &Sources) -> bool {
    any_row(wanted, |wanted| {
        matches!(wanted, Value::Uncertain(_))
            && any_row(sizes, |size| are_close(size, wanted, sources))
    })
}

fn are_close(left: &Value, right: &Value, sources: &Sources) -> bool {
    is_within(&difference(left, right, 0), REACH, sources)
}

fn is_within(value: &Value, reach: f64, sources: &Sources) -> bool {
    let within = |value: &Uncertain| {
        let standard = libm::sqrt(value.variance(sources));
        standard > 0.0 && value.value.to_f64().abs() <= reach * standard
    };
    matches!(value, Value::Uncertain(value) if within(value))
}

fn any_row(value: &Value, test: impl Fn(&Value) -> bool) -> bool {
    rows_of(value).iter().any(test)
}

/// The rows of a column; a single value is one row.
fn rows_of(value: &Value) -> &[Value] {
    match value {
        Value::Column(items) => items,
        one => std::slice::from_ref(one),
    }
}
