//! The curve of a root: derivatives of `x(s)` where `f(x, s)` stays zero, from those of `f`.

use super::curve::{Curve, Pair};
use super::source::SourceId;
use super::uncertain::{Terms, Uncertain};
use super::value::Value;
use crate::number::Number;
use std::rc::Rc;

/// The unknown, as if it were a source.
const UNKNOWN: SourceId = SourceId(u32::MAX);

/// The curve of the root `x`. `evaluate` gives `f` for a value of the unknown.
pub(super) fn curve(x: Number, evaluate: &mut dyn FnMut(Value) -> Value) -> Curve {
    let Some(here) = differences(x, evaluate) else {
        return Curve::lost();
    };
    let size = x.to_f64().abs();
    let step = 1e-4 * if size > 0.0 { size } else { 1.0 };
    let beside = |by: f64| Number::from_f64(by).ok().and_then(|by| x.plus(by).ok());
    let ends = (beside(step), beside(-step));
    let (Some(ahead), Some(behind)) = ends else {
        return Curve::lost();
    };
    let (ahead, behind) = (differences(ahead, evaluate), differences(behind, evaluate));
    let (Some(ahead), Some(behind)) = (ahead, behind) else {
        return Curve::lost();
    };
    let implicit = Implicit {
        here,
        ahead,
        behind,
        step,
    };
    implicit.curve()
}

/// `f` with the unknown as a source of its own.
fn differences(x: Number, evaluate: &mut dyn FnMut(Value) -> Value) -> Option<Rc<Uncertain>> {
    let unknown = Uncertain {
        value: x,
        terms: Terms::from_slice(&[(UNKNOWN, 1.0)]),
        curve: Some(Rc::new(Curve::default())),
    };
    match evaluate(Value::Uncertain(Rc::new(unknown))) {
        Value::Uncertain(f) if f.curve.as_deref().is_some_and(|curve| !curve.is_lost()) => Some(f),
        _ => None,
    }
}

struct Implicit {
    here: Rc<Uncertain>,
    ahead: Rc<Uncertain>,
    behind: Rc<Uncertain>,
    step: f64,
}

/// Derivatives of `f` by two sources, and by the unknown besides.
struct Known {
    both: f64,
    first_twice: f64,
    second_twice: f64,
}

impl Implicit {
    fn curve(&self) -> Curve {
        let slope = slope(&self.here, UNKNOWN);
        if slope == 0.0 {
            return Curve::lost();
        }
        let ids: Vec<SourceId> = self
            .here
            .terms
            .iter()
            .map(|(id, _)| *id)
            .filter(|id| *id != UNKNOWN)
            .collect();
        let mut pairs = Vec::with_capacity(ids.len() * (ids.len() + 1) / 2);
        for (index, i) in ids.iter().enumerate() {
            for j in &ids[index..] {
                pairs.push(Pair {
                    first: *i,
                    second: *j,
                    both: self.second(*i, *j, slope),
                    first_twice: self.third(*i, *j, slope),
                    second_twice: self.third(*j, *i, slope),
                });
            }
        }
        Curve::of(pairs)
    }

    fn by(&self, one: SourceId, other: SourceId) -> Known {
        let (both, first_twice, second_twice) = at(&self.here, one, other);
        Known {
            both,
            first_twice,
            second_twice,
        }
    }

    /// The first derivative of the root.
    fn first(&self, i: SourceId, slope: f64) -> f64 {
        -self::slope(&self.here, i) / slope
    }

    fn second(&self, i: SourceId, j: SourceId, slope: f64) -> f64 {
        let (xi, xj) = (self.first(i, slope), self.first(j, slope));
        let sum = self.by(i, j).both
            + self.by(i, UNKNOWN).both * xj
            + self.by(j, UNKNOWN).both * xi
            + self.by(UNKNOWN, UNKNOWN).both * xi * xj;
        -sum / slope
    }

    /// Twice by `i`, once by `j`: the third total derivative of `f` is zero too.
    fn third(&self, i: SourceId, j: SourceId, slope: f64) -> f64 {
        let (xi, xj) = (self.first(i, slope), self.first(j, slope));
        let (xij, xii) = (self.second(i, j, slope), self.second(i, i, slope));
        let (with_i, with_j) = (self.by(i, UNKNOWN), self.by(j, UNKNOWN));
        let unknown = self.by(UNKNOWN, UNKNOWN);
        let sum = self.by(i, j).first_twice
            + with_i.first_twice * xj
            + 2.0 * self.across(i, j) * xi
            + 2.0 * with_i.second_twice * xi * xj
            + with_j.second_twice * xi * xi
            + unknown.first_twice * xi * xi * xj
            + 2.0 * with_i.both * xij
            + with_j.both * xii
            + unknown.both * (2.0 * xi * xij + xj * xii);
        -sum / slope
    }

    /// By `i`, by `j` and by the unknown: curves hold no three different sources, so this one is a
    /// difference of two of them.
    fn across(&self, i: SourceId, j: SourceId) -> f64 {
        (at(&self.ahead, i, j).0 - at(&self.behind, i, j).0) / (2.0 * self.step)
    }
}

fn at(f: &Uncertain, one: SourceId, other: SourceId) -> (f64, f64, f64) {
    f.curve
        .as_deref()
        .map_or((0.0, 0.0, 0.0), |curve| curve.at(one, other))
}

fn slope(f: &Uncertain, source: SourceId) -> f64 {
    f.terms
        .iter()
        .find(|(id, _)| *id == source)
        .map_or(0.0, |(_, slope)| *slope)
}
