//! Numbers that describe a value's uncertainty.

use super::arithmetic::not_a_number;
use super::failure::Mishap;
use super::source::Sources;
use super::uncertain::{Terms, Uncertain, combined};
use super::value::Value;
use crate::check::Description;
use crate::number::Number;

pub(super) fn describe(what: Description, values: &[Value], site: u32, sources: &Sources) -> Value {
    let first = &values[0];
    if what == Description::Probability {
        return match first {
            Value::Switch(on) => Value::Number(if *on { Number::ONE } else { Number::ZERO }),
            Value::Doubtful(doubt) => double(doubt.low, site),
            other => not_a_number(other, site),
        };
    }
    let Some(number) = first.number() else {
        return not_a_number(first, site);
    };
    let exact = Uncertain::new(number, Terms::new());
    let one = match first {
        Value::Uncertain(x) => x,
        _ => &exact,
    };
    let summary = one.summary(sources);
    match what {
        Description::Value => Value::Number(number),
        Description::Standard => double(summary.standard, site),
        Description::Expanded => double(summary.expanded, site),
        Description::Coverage => match summary.coverage {
            Some(coverage) => double(coverage, site),
            None => Value::failed(Mishap::Undescribed(what), site),
        },
        Description::DegreesOfFreedom if summary.dof.is_infinite() => {
            Value::failed(Mishap::Undescribed(what), site)
        }
        Description::DegreesOfFreedom => double(summary.dof, site),
        Description::Share
        | Description::Correlation
        | Description::Compatible
        | Description::Probability => describe_pair(what, one, &values[1], site, sources),
    }
}

fn describe_pair(
    what: Description,
    one: &Uncertain,
    second: &Value,
    site: u32,
    sources: &Sources,
) -> Value {
    let Some(number) = second.number() else {
        return not_a_number(second, site);
    };
    let exact = Uncertain::new(number, Terms::new());
    let other = match second {
        Value::Uncertain(x) => x,
        _ => &exact,
    };
    match what {
        Description::Compatible => {
            let Ok(value) = one.value.minus(other.value) else {
                return Value::failed(Mishap::Kind, site);
            };
            let terms = combined(&one.terms, 1.0, &other.terms, -1.0);
            let summary = Uncertain::new(value, terms).summary(sources);
            Value::Switch(value.to_f64().abs() <= summary.expanded)
        }
        Description::Share => {
            let whole = one.variance(sources);
            let own: Terms = one
                .terms
                .iter()
                .filter(|(id, _)| other.terms.iter().any(|(one, _)| one == id))
                .copied()
                .collect();
            let part = Uncertain::new(one.value, own).variance(sources);
            double(share_of(part, whole), site)
        }
        _ => double(correlation(one, other, sources), site),
    }
}

/// A part of a variance; what rounding left of a source that cancelled is none.
fn share_of(part: f64, whole: f64) -> f64 {
    if part <= 1e-18 * whole {
        return 0.0;
    }
    part / whole
}

fn correlation(one: &Uncertain, other: &Uncertain, sources: &Sources) -> f64 {
    let mut both = 0.0;
    for (id, slope) in &one.terms {
        if let Ok(index) = other.terms.binary_search_by_key(id, |(id, _)| *id) {
            let standard = sources.get(*id).map_or(0.0, |source| source.standard);
            both += slope * other.terms[index].1 * standard * standard;
        }
    }
    let size = libm::sqrt(one.variance(sources) * other.variance(sources));
    if size == 0.0 { 0.0 } else { both / size }
}

fn double(value: f64, site: u32) -> Value {
    match Number::from_f64(value) {
        Ok(number) => Value::Number(number),
        Err(trouble) => Value::failed(Mishap::Number(trouble), site),
    }
}
