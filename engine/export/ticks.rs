//! Round places on an axis: steps of 1, 2 or 5 times a power of ten.

use crate::number::Number;

/// Places on an axis with their texts.
#[derive(Clone, Debug, PartialEq)]
pub struct Ticks {
    /// The first and last value of the axis.
    pub from: f64,
    /// See `from`.
    pub to: f64,
    /// Where numbers stand, and what they are.
    pub places: Vec<(f64, String)>,
}

/// Ticks for values from `low` to `high`, about `count` of them. With `round`, the axis goes from
/// tick to tick; without, it ends where the values do.
pub fn ticks(low: f64, high: f64, count: f64, round: bool) -> Ticks {
    let (low, high) = if low == high {
        let by = if low == 0.0 { 1.0 } else { low.abs() * 0.1 };
        (low - by, high + by)
    } else {
        (low, high)
    };
    let step = step(high - low, count);
    // A value that misses a tick by rounding only counts as on it.
    let slack = step * 1e-9;
    let first = ((low - slack) / step).floor();
    let last = ((high + slack) / step).ceil();
    let (from, to) = match round {
        true => (first * step, last * step),
        false => (low, high),
    };
    let places = (0..=((last - first) as usize).min(50))
        .map(|number| (first + number as f64) * step)
        .filter(|place| *place >= from - slack && *place <= to + slack)
        .map(|place| (place, label(place, step)))
        .collect();
    Ticks { from, to, places }
}

fn step(span: f64, count: f64) -> f64 {
    let rough = span / count.max(1.0);
    let power = libm::pow(10.0, libm::floor(libm::log10(rough)));
    let size = rough / power;
    let nice = if size < 1.5 {
        1.0
    } else if size < 3.5 {
        2.0
    } else if size < 7.5 {
        5.0
    } else {
        10.0
    };
    nice * power
}

fn label(place: f64, step: f64) -> String {
    let place = if place.abs() < step * 1e-6 {
        0.0
    } else {
        place
    };
    let number = Number::from_f64(place).unwrap_or(Number::ZERO);
    number.shown_with(6).replace('-', "−")
}
