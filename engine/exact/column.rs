//! Columns: reductions, rows by key, interpolation, listed sizes.

use super::arithmetic::{binary, with_terms};
use super::curve::Curve;
use super::failure::Mishap;
use super::uncertain::gathered;
use super::value::Value;
use crate::check::{Binary, Reduction};
use crate::number::Number;

/// One value of a column. A gap is refused unless it is to be left out.
pub(super) fn reduce(reduction: Reduction, column: &Value, skip: bool, site: u32) -> Value {
    if let Value::Streamed(streamed) = column {
        return match reduction {
            Reduction::Count => Value::Number(Number::from(streamed.stream.rows() as i64)),
            _ => streamed.stream.reduce(streamed.column, reduction),
        };
    }
    let Value::Column(items) = column else {
        return match column {
            Value::Failed(_) => column.clone(),
            _ => Value::failed(Mishap::Kind, site),
        };
    };
    let gap = items.iter().position(|item| matches!(item, Value::Gap));
    if let (Some(row), false) = (gap, skip) {
        return Value::failed(Mishap::Gap(Some(row + 1)), site);
    }
    let rows: Vec<&Value> = items
        .iter()
        .filter(|item| !matches!(item, Value::Gap))
        .collect();
    if reduction == Reduction::Count {
        return Value::Number(Number::from(rows.len() as i64));
    }
    if rows.is_empty() {
        return Value::failed(Mishap::NoRows, site);
    }
    if let Some(failed) = rows.iter().find(|row| row.number().is_none()) {
        return (*failed).clone();
    }
    match reduction {
        Reduction::Minimum | Reduction::Maximum => extreme(reduction, &rows),
        Reduction::Sum => total(&rows, site),
        Reduction::Mean => {
            let count = Value::Number(Number::from(rows.len() as i64));
            binary(Binary::Divide.into(), &total(&rows, site), &count, site)
        }
        Reduction::Count => Value::Gap,
    }
}

fn extreme(reduction: Reduction, rows: &[&Value]) -> Value {
    let mut best = rows[0];
    for row in &rows[1..] {
        let (Some(a), Some(b)) = (row.number(), best.number()) else {
            continue;
        };
        let order = a.compare(b);
        let better = if reduction == Reduction::Minimum {
            order.is_lt()
        } else {
            order.is_gt()
        };
        if better {
            best = row;
        }
    }
    best.clone()
}

fn total(rows: &[&Value], site: u32) -> Value {
    let mut sum = Number::ZERO;
    let (mut parts, mut curves) = (Vec::new(), Vec::new());
    for row in rows {
        let Some(number) = row.number() else { continue };
        match sum.plus(number) {
            Ok(more) => sum = more,
            Err(trouble) => return Value::failed(Mishap::Number(trouble), site),
        }
        if let Value::Uncertain(uncertain) = row {
            parts.push((&uncertain.terms[..], 1.0));
            curves.extend(uncertain.curve.as_deref().map(|curve| (curve, 1.0)));
        }
    }
    let curve = (!curves.is_empty()).then(|| Curve::sum(curves.into_iter()));
    with_terms(sum, gathered(&parts), curve)
}

/// The value in the row where each key column has its key.
pub(super) fn row(column: &Value, keys: &[(Value, Value)], site: u32) -> Value {
    if let Value::Streamed(streamed) = column {
        return Value::failed(Mishap::TooManyPoints(streamed.stream.rows()), site);
    }
    let Value::Column(items) = column else {
        return match column {
            Value::Failed(_) => column.clone(),
            _ => Value::failed(Mishap::Kind, site),
        };
    };
    let fits = |row: usize| keys.iter().all(|(head, key)| same(&head.row(row), key));
    if let Some((_, failed)) = keys.iter().find(|(_, key)| key.failure().is_some()) {
        return failed.clone();
    }
    let mut found = (0..items.len()).filter(|row| fits(*row));
    let name = || {
        keys.iter()
            .map(|(_, key)| key_text(key))
            .collect::<Vec<_>>()
            .join(", ")
    };
    match (found.next(), found.next()) {
        (None, _) => Value::failed(Mishap::NoKey(name(), known_keys(keys)), site),
        (Some(_), Some(_)) => Value::failed(Mishap::KeyTwice(name()), site),
        (Some(row), None) => match &items[row] {
            Value::Gap => Value::failed(Mishap::Gap(Some(row + 1)), site),
            item => item.clone(),
        },
    }
}

/// The keys that the first key column has.
fn known_keys(keys: &[(Value, Value)]) -> Vec<String> {
    match keys {
        [(Value::Column(items), _)] => items.iter().map(key_text).collect(),
        _ => Vec::new(),
    }
}

fn same(left: &Value, right: &Value) -> bool {
    match (left, right) {
        (Value::Text(a), Value::Text(b)) => a == b,
        _ => match (left.number(), right.number()) {
            (Some(a), Some(b)) => a.equals(b),
            _ => false,
        },
    }
}

fn key_text(key: &Value) -> String {
    match key {
        Value::Text(text) => format!("\"{text}\""),
        other => other.number().map(Number::full).unwrap_or_default(),
    }
}

/// Straight lines between points that rise.
pub(super) fn interpolate(at: &Value, points: &Value, values: &Value, site: u32) -> Value {
    let (Value::Column(xs), Value::Column(ys)) = (points, values) else {
        return [points, values]
            .into_iter()
            .find(|value| value.failure().is_some())
            .cloned()
            .unwrap_or_else(|| Value::failed(Mishap::Kind, site));
    };
    if xs.len() != ys.len() {
        return Value::failed(Mishap::Lengths(xs.len(), ys.len()), site);
    }
    let Some(x) = at.number() else {
        return at.clone();
    };
    let mut places = Vec::with_capacity(xs.len());
    for (row, point) in xs.iter().enumerate() {
        let Some(place) = point.number() else {
            return Value::failed(Mishap::Gap(Some(row + 1)), site);
        };
        if places
            .last()
            .is_some_and(|last: &Number| place.compare(*last).is_le())
        {
            return Value::failed(Mishap::NotRising(row + 1), site);
        }
        places.push(place);
    }
    let Some(upper) = places.iter().position(|place| place.compare(x).is_ge()) else {
        return Value::failed(Mishap::Outside, site);
    };
    if places[upper].compare(x).is_eq() && matches!(at, Value::Number(_)) {
        return usable(&ys[upper], upper, site);
    }
    let upper = if upper == 0 && places[0].compare(x).is_eq() {
        1
    } else {
        upper
    };
    if upper == 0 || upper >= places.len() {
        return Value::failed(Mishap::Outside, site);
    }
    line(
        at,
        (&xs[upper - 1], &xs[upper]),
        (
            &usable(&ys[upper - 1], upper - 1, site),
            &usable(&ys[upper], upper, site),
        ),
        site,
    )
}

fn usable(value: &Value, row: usize, site: u32) -> Value {
    match value {
        Value::Gap => Value::failed(Mishap::Gap(Some(row + 1)), site),
        other => other.clone(),
    }
}

fn line(at: &Value, xs: (&Value, &Value), ys: (&Value, &Value), site: u32) -> Value {
    let minus = |a: &Value, b: &Value| binary(Binary::Subtract.into(), a, b, site);
    let part = binary(
        Binary::Divide.into(),
        &minus(at, xs.0),
        &minus(xs.1, xs.0),
        site,
    );
    let rise = binary(Binary::Multiply.into(), &minus(ys.1, ys.0), &part, site);
    binary(Binary::Add.into(), ys.0, &rise, site)
}

/// The next listed size at or above, or at or below, what is wanted.
pub(super) fn size(above: bool, sizes: &Value, wanted: &Value, site: u32) -> Value {
    let Value::Column(items) = sizes else {
        return Value::failed(Mishap::Kind, site);
    };
    let Some(x) = wanted.number() else {
        return wanted.clone();
    };
    let serves = |item: &&Value| {
        item.number().is_some_and(|size| {
            let order = size.compare(x);
            size.equals(x) || if above { order.is_gt() } else { order.is_lt() }
        })
    };
    let found: Vec<&Value> = items.iter().filter(serves).collect();
    if found.is_empty() {
        return Value::failed(Mishap::NoSize(above), site);
    }
    extreme(
        if above {
            Reduction::Minimum
        } else {
            Reduction::Maximum
        },
        &found,
    )
}
