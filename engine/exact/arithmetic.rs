//! Functions of single values: the number in decimals, its sensitivities by the chain rule, and
//! its curve while that is followed.

use super::curve::{Course, Curve, bent};
use super::doubt::Doubt;
use super::failure::Mishap;
use super::source::Sources;
use super::uncertain::{Terms, Uncertain, combined};
use super::value::Value;
use crate::check::Binary;
use crate::number::{Factor, Number, Rational, Trouble};
use crate::plan::operation::{Bend, BinaryId, UnaryId};
use crate::syntax::Comparison;
use std::rc::Rc;

const EXACT: Course<'static> = Course {
    terms: &[],
    curve: None,
};

pub(super) fn finish(result: Result<Number, Trouble>, site: u32) -> Value {
    match result {
        Ok(number) => Value::Number(number),
        Err(trouble) => Value::failed(Mishap::Number(trouble), site),
    }
}

/// What stands in the way of working with a value that is no number.
pub(super) fn not_a_number(value: &Value, site: u32) -> Value {
    match value {
        Value::Failed(_) => value.clone(),
        Value::Gap => Value::failed(Mishap::Gap(None), site),
        Value::Streamed(streamed) => {
            Value::failed(Mishap::TooManyPoints(streamed.stream.rows()), site)
        }
        _ => Value::failed(Mishap::Kind, site),
    }
}

/// A number with sensitivities, or a plain number where there are none.
pub(super) fn with_terms(value: Number, terms: Terms, curve: Option<Curve>) -> Value {
    if terms.is_empty() {
        return Value::Number(value);
    }
    Value::Uncertain(Rc::new(Uncertain {
        value,
        terms,
        curve: curve.map(Rc::new),
    }))
}

fn course(value: &Value) -> Course<'_> {
    match value {
        Value::Uncertain(uncertain) => uncertain.course(),
        _ => EXACT,
    }
}

/// Whether a function that is infinitely steep here would have to carry a ±.
fn too_steep(by: f64, terms: Course<'_>) -> bool {
    !by.is_finite() && terms.terms.iter().any(|(_, slope)| *slope != 0.0)
}

/// A slope that carries nothing counts as none, however steep.
fn carried(by: f64) -> f64 {
    if by.is_finite() { by } else { 0.0 }
}

/// One value through a function with these derivatives.
fn through(
    value: &Value,
    made: Result<Number, Trouble>,
    derivatives: impl Fn(f64, f64) -> [f64; 3],
    site: u32,
) -> Value {
    let (made, x) = match (made, value) {
        (Err(trouble), _) => return Value::failed(Mishap::Number(trouble), site),
        (Ok(made), Value::Uncertain(x)) => (made, x),
        (Ok(made), _) => return Value::Number(made),
    };
    let [by, xx, xxx] = derivatives(x.value.to_f64(), made.to_f64());
    if too_steep(by, x.course()) {
        return Value::failed(Mishap::TooSteep, site);
    }
    let bend = Bend {
        xx,
        xxx,
        ..Bend::default()
    };
    let by = carried(by);
    let curve = bent(x.course(), EXACT, (by, 0.0), Some(&bend));
    with_terms(made, combined(&x.terms, by, &[], 0.0), curve)
}

pub(super) fn unary(function: UnaryId, value: &Value, site: u32) -> Value {
    let Some(number) = value.number() else {
        return not_a_number(value, site);
    };
    let row = function.row();
    through(value, (row.exact)(number), row.derivatives, site)
}

pub(super) fn binary(function: BinaryId, left: &Value, right: &Value, site: u32) -> Value {
    let (Some(a), Some(b)) = (left.number(), right.number()) else {
        return not_a_number(if left.number().is_none() { left } else { right }, site);
    };
    let row = function.row();
    let made = match (row.exact)(a, b) {
        Ok(made) => made,
        Err(trouble) => return Value::failed(Mishap::Number(trouble), site),
    };
    // A step up or down leaves nothing of a small difference.
    let stepped = matches!(row.function, Binary::Floor | Binary::Ceil);
    if stepped || matches!((left, right), (Value::Number(_), Value::Number(_))) {
        return Value::Number(made);
    }
    let (x, y) = (course(left), course(right));
    let at = (a.to_f64(), b.to_f64(), made.to_f64());
    let (by_left, by_right) = (row.first)(at.0, at.1, at.2);
    if too_steep(by_left, x) || too_steep(by_right, y) {
        return Value::failed(Mishap::TooSteep, site);
    }
    let slopes = (carried(by_left), carried(by_right));
    let bend = row.higher.map(|higher| higher(at.0, at.1, at.2));
    let curve = bent(x, y, slopes, bend.as_ref());
    with_terms(made, combined(x.terms, slopes.0, y.terms, slopes.1), curve)
}

pub(super) fn whole_power(value: &Value, exponent: i32, site: u32) -> Value {
    let Some(number) = value.number() else {
        return not_a_number(value, site);
    };
    let falling = |x: f64, times: i32| -> f64 {
        let factor: f64 = (0..times).map(|n| f64::from(exponent - n)).product();
        match factor {
            0.0 => 0.0,
            factor => factor * libm::pow(x, f64::from(exponent - times)),
        }
    };
    let derivatives = |x: f64, _| [falling(x, 1), falling(x, 2), falling(x, 3)];
    through(value, number.power_whole(exponent), derivatives, site)
}

pub(super) fn scale(value: &Value, factor: &Factor, site: u32) -> Value {
    let Some(number) = value.number() else {
        return not_a_number(value, site);
    };
    let made = number.scaled(factor);
    match value {
        Value::Uncertain(_) => {
            let by = Number::ONE.scaled(factor).map_or(1.0, Number::to_f64);
            through(value, made, |_, _| [by, 0.0, 0.0], site)
        }
        _ => finish(made, site),
    }
}

pub(super) fn affine(value: &Value, factor: &Rational, offset: &Rational, site: u32) -> Value {
    let Some(number) = value.number() else {
        return not_a_number(value, site);
    };
    let by = Number::from_rational(factor).map_or(1.0, Number::to_f64);
    let made = number.affine(factor, offset);
    through(value, made, |_, _| [by, 0.0, 0.0], site)
}

pub(super) fn compare(
    sign: Comparison,
    left: &Value,
    right: &Value,
    site: u32,
    sources: &Sources,
) -> Value {
    if let (Value::Text(a), Value::Text(b)) = (left, right) {
        return Value::Switch((sign == Comparison::Equal) == (a == b));
    }
    if let (Some(a), Some(b)) = (left.holds(), right.holds()) {
        return Value::Switch((sign == Comparison::Equal) == (a == b));
    }
    let (Some(a), Some(b)) = (left.number(), right.number()) else {
        return not_a_number(if left.number().is_none() { left } else { right }, site);
    };
    let equal = a.equals(b);
    let below = !equal && a.compare(b).is_lt();
    let holds = match sign {
        Comparison::Less => below,
        Comparison::LessOrEqual => below || equal,
        Comparison::Greater => !below && !equal,
        Comparison::GreaterOrEqual => !below,
        Comparison::Equal => equal,
        Comparison::Unequal => !equal,
    };
    let exact = matches!((left, right), (Value::Number(_), Value::Number(_)));
    if exact {
        return Value::Switch(holds);
    }
    if matches!(sign, Comparison::Equal | Comparison::Unequal) {
        return Value::failed(Mishap::Equality, site);
    }
    let greater = matches!(sign, Comparison::Greater | Comparison::GreaterOrEqual);
    match difference(left, right, site) {
        Value::Uncertain(margin) => {
            Value::Doubtful(Rc::new(Doubt::of_margin(&margin, holds, greater, sources)))
        }
        _ => Value::Switch(holds),
    }
}

pub(super) fn difference(left: &Value, right: &Value, site: u32) -> Value {
    binary(Binary::Subtract.into(), left, right, site)
}

pub(super) fn negation(value: &Value, site: u32) -> Value {
    match value {
        Value::Switch(on) => Value::Switch(!on),
        Value::Doubtful(doubt) => Value::Doubtful(Rc::new(doubt.reversed())),
        other => not_a_number(other, site),
    }
}

pub(super) fn combine_conditions(values: &[Value], all: bool, site: u32) -> Value {
    let mut made = Doubt::certain(all);
    let mut doubtful = false;
    for value in values {
        let part = match value {
            Value::Switch(on) => Doubt::certain(*on),
            Value::Doubtful(doubt) => {
                doubtful = true;
                **doubt
            }
            other => return not_a_number(other, site),
        };
        made = if all { made.and(part) } else { made.or(part) };
    }
    if doubtful {
        Value::Doubtful(Rc::new(made))
    } else {
        Value::Switch(made.holds)
    }
}
