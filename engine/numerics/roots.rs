//! The root of a function in a bracket, told from a pole and from a jump, which change their sign
//! as well.
//!
//! In: a closure and two ends. Out: the root with the bracket it was narrowed to, or why there is
//! none. Where to look for brackets is `scan`'s business.

/// A root.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Root {
    /// The best single value.
    pub at: f64,
    /// The lower end of where it lies; apart from `at` where the function is zero, as far as
    /// doubles tell, over a stretch.
    pub from: f64,
    /// The upper end of where it lies.
    pub to: f64,
}

/// Why a bracket has no root.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NoRoot {
    /// Both ends lie on the same side of zero.
    SameSign,
    /// The function is zero at both ends and between.
    Every,
    /// The sign changes through infinity here.
    Pole(f64),
    /// The function jumps over zero here.
    Jump(f64),
    /// The function has no value here, nor nearby.
    NoValue(f64),
}

/// A point of the function.
#[derive(Clone, Copy)]
struct Point {
    x: f64,
    y: f64,
}

/// The root of `function` between `from` and `to`, to the last digits of a double.
///
/// The ends may be poles, or have no value: the search then starts just inside. Points without
/// value (NaN) between them are stepped around.
///
/// # Errors
/// See [`NoRoot`].
pub fn find_root(mut function: impl FnMut(f64) -> f64, from: f64, to: f64) -> Result<Root, NoRoot> {
    let mut at = |x: f64| Point { x, y: function(x) };
    let (low, high) = (from.min(to), from.max(to));
    let a = end_with_value(&mut at, low, high)?;
    let b = end_with_value(&mut at, high, low)?;
    if a.y == 0.0 && b.y == 0.0 && low < high && at(low.midpoint(high)).y == 0.0 {
        return Err(NoRoot::Every);
    }
    for end in [a, b] {
        if end.y == 0.0 {
            return Ok(Root {
                at: end.x,
                from: end.x,
                to: end.x,
            });
        }
    }
    if same_side(a, b) {
        return Err(NoRoot::SameSign);
    }
    let (best, other) = narrow(&mut at, a, b)?;
    if best.y == 0.0 {
        return Ok(widen(&mut at, best.x, low, high));
    }
    tell_crossing(&mut at, best, other, low, high)
}

fn same_side(a: Point, b: Point) -> bool {
    (a.y > 0.0) == (b.y > 0.0)
}

/// The end of a range, or a point a little inside where the end has no finite value.
fn end_with_value(
    at: &mut impl FnMut(f64) -> Point,
    end: f64,
    opposite: f64,
) -> Result<Point, NoRoot> {
    const INSIDE: [f64; 5] = [0.0, 1e-12, 1e-9, 1e-6, 1e-3];
    INSIDE
        .iter()
        .map(|share| at(end + share * (opposite - end)))
        .find(|point| point.y.is_finite())
        .ok_or(NoRoot::NoValue(end))
}

/// Chandrupatla's method (Advances in Engineering Software 28, 1997, 145): inverse quadratic
/// interpolation where that is safe, else halving. Gives the better end of the last bracket and
/// the other one.
fn narrow(
    at: &mut impl FnMut(f64) -> Point,
    mut a: Point,
    mut b: Point,
) -> Result<(Point, Point), NoRoot> {
    let finest = (b.x - a.x).abs() * 1e-30;
    let mut share = 0.5;
    // Halving alone needs 150 steps to get below `finest`.
    for _ in 0..400 {
        let point = valued_point(at, a, b, share)?;
        let c;
        if same_side(point, a) {
            c = a;
        } else {
            c = b;
            b = a;
        }
        a = point;
        let best = if a.y.abs() < b.y.abs() { a } else { b };
        let tolerance = 2.0 * f64::EPSILON * best.x.abs() + finest;
        let least = tolerance / (b.x - a.x).abs();
        if best.y == 0.0 || least > 0.5 {
            break;
        }
        share = next_share(a, b, c).clamp(least, 1.0 - least);
    }
    Ok(if a.y.abs() < b.y.abs() {
        (a, b)
    } else {
        (b, a)
    })
}

/// Where between `a` and `b` to look next; half way unless the curve through all three points
/// rises or falls steadily.
fn next_share(a: Point, b: Point, c: Point) -> f64 {
    let x = (a.x - b.x) / (c.x - b.x);
    let y = (a.y - b.y) / (c.y - b.y);
    if !(y * y < x && (1.0 - y) * (1.0 - y) < 1.0 - x) {
        return 0.5;
    }
    let share = a.y / (b.y - a.y) * c.y / (b.y - c.y)
        + (c.x - a.x) / (b.x - a.x) * a.y / (c.y - a.y) * b.y / (c.y - b.y);
    if share.is_finite() { share } else { 0.5 }
}

/// The point at a share of the way from `a` to `b`, or another between them that has a value.
fn valued_point(
    at: &mut impl FnMut(f64) -> Point,
    a: Point,
    b: Point,
    share: f64,
) -> Result<Point, NoRoot> {
    let shares = [share, 0.5, 0.4, 0.6, 0.2, 0.8, 0.05, 0.95];
    shares
        .iter()
        .map(|share| at(a.x + share * (b.x - a.x)))
        .find(|point| !point.y.is_nan())
        .ok_or(NoRoot::NoValue(a.x.midpoint(b.x)))
}

/// Around an exact zero, the stretch in which the function is zero.
fn widen(at: &mut impl FnMut(f64) -> Point, zero: f64, low: f64, high: f64) -> Root {
    let step = (zero.abs() * 1e-6).max((high - low) * 1e-9);
    let from = edge_of_zero(at, zero, step, low);
    let to = edge_of_zero(at, zero, step, high);
    let is_single = from == zero || to == zero;
    Root {
        at: if is_single { zero } else { from.midpoint(to) },
        from,
        to,
    }
}

/// How far towards `end` the function stays zero; `zero` itself if not even for one step.
fn edge_of_zero(at: &mut impl FnMut(f64) -> Point, zero: f64, step: f64, end: f64) -> f64 {
    let near = if end < zero { zero - step } else { zero + step };
    if (near - zero).abs() >= (end - zero).abs() || at(near).y != 0.0 {
        return zero;
    }
    let (mut inside, mut outside) = (near, end);
    for _ in 0..60 {
        let middle = inside.midpoint(outside);
        if at(middle).y == 0.0 {
            inside = middle;
        } else {
            outside = middle;
        }
    }
    inside
}

/// Tells a root from a pole and a jump by looking a little further out: towards a root the
/// function gets smaller, towards a pole larger, beside a jump it stays.
fn tell_crossing(
    at: &mut impl FnMut(f64) -> Point,
    best: Point,
    other: Point,
    low: f64,
    high: f64,
) -> Result<Root, NoRoot> {
    let (from, to) = (best.x.min(other.x), best.x.max(other.x));
    let step = (best.x.abs() * 1e-6).max((high - low) * 1e-12);
    let further = [(from - step).max(low), (to + step).min(high)]
        .map(|x| at(x).y.abs())
        .into_iter()
        .filter(|size| size.is_finite())
        .fold(0.0, f64::max);
    if best.y.abs() < 0.25 * further {
        return Ok(Root {
            at: best.x,
            from,
            to,
        });
    }
    let middle = from.midpoint(to);
    if best.y.abs() > 4.0 * further || best.y.is_infinite() {
        Err(NoRoot::Pole(middle))
    } else {
        Err(NoRoot::Jump(middle))
    }
}
