//! Where a function changes its sign on a grid, and whether it changes at all.

/// The steps of a grid.
pub const STEPS: u32 = 64;

/// What a grid shows of a function.
#[derive(Clone, Debug, PartialEq)]
pub struct Scan {
    /// Neighbouring points between which the sign changes, in order; both ends are the same where
    /// the function is zero at a point, and the ends of the stretch where it is at several.
    pub brackets: Vec<(f64, f64)>,
    /// Whether the function moves.
    pub course: Course,
}

/// How a function runs over a grid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Course {
    /// It takes different values.
    Varies,
    /// It has this value at every point: if zero, every point is a root; if not, none is.
    Constant(f64),
    /// It has no value at any point.
    NoValue,
}

/// Scans from `from` to `to` in [`STEPS`] equal steps. Points without value (NaN) are left out.
pub fn scan_between(function: impl FnMut(f64) -> f64, from: f64, to: f64) -> Scan {
    let point = |step: u32| match step {
        STEPS => to,
        _ => from + (to - from) * (f64::from(step) / f64::from(STEPS)),
    };
    scan((0..=STEPS).map(point), function)
}

/// Scans from a thousandth to a thousand times `start`, on its side of zero, in [`STEPS`] equal
/// ratios with `start` itself in the middle. Zero has no such neighbourhood: no point has a value.
pub fn scan_around(function: impl FnMut(f64) -> f64, start: f64) -> Scan {
    let half = f64::from(STEPS / 2);
    let point = |step: u32| match f64::from(step) - half {
        0.0 => start,
        from_middle => start * libm::exp10(3.0 * from_middle / half),
    };
    let points = (0..=STEPS).map(point).filter(|&x| x != 0.0);
    scan(points, function)
}

fn scan(points: impl Iterator<Item = f64>, mut function: impl FnMut(f64) -> f64) -> Scan {
    let mut brackets = Vec::new();
    let mut course = Course::NoValue;
    let mut last: Option<(f64, f64)> = None;
    for x in points {
        let y = function(x);
        if y.is_nan() {
            continue;
        }
        course = match course {
            Course::NoValue => Course::Constant(y),
            Course::Constant(value) if value == y => course,
            _ => Course::Varies,
        };
        note_crossing(&mut brackets, last, (x, y));
        last = Some((x, y));
    }
    if course == Course::Constant(0.0) {
        brackets.clear();
    }
    Scan { brackets, course }
}

/// Adds what happens between the last point and this one.
fn note_crossing(brackets: &mut Vec<(f64, f64)>, last: Option<(f64, f64)>, (x, y): (f64, f64)) {
    match (last, y == 0.0) {
        (Some((_, 0.0)), true) => {
            if let Some((_, end)) = brackets.last_mut() {
                *end = x;
            }
        }
        (_, true) => brackets.push((x, x)),
        (Some((before, height)), false) if height != 0.0 && (height > 0.0) != (y > 0.0) => {
            brackets.push((before, x));
        }
        _ => {}
    }
}
