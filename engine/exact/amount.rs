//! Where doubt comes in: the amount behind a `±`, and the scatter of readings.

use super::arithmetic::{not_a_number, with_terms};
use super::column;
use super::curve::Curve;
use super::failure::Mishap;
use super::source::{Group, Ledger, Repeats, Shape, Source};
use super::uncertain::{Terms, combined};
use super::value::Value;
use crate::check::{Meaning, MeaningKind, Place, Reduction};
use crate::number::Number;
use crate::numerics::distribution;
use crate::plan;

/// Why a ± may say less than it seems to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seeming {
    /// The value is written to fewer digits than its ± implies.
    FewDigits,
    /// The amount behind ± is zero.
    NoDoubt,
    /// The amount behind ± is larger than the value.
    WiderThanValue,
    /// There are only two readings.
    OneRepeat,
    /// All readings are alike.
    NoScatter,
    /// A step up or down left the ± behind.
    Dropped,
}

/// A value with the source typed behind it, and what seems odd about the two.
pub(super) fn with_source(
    value: &Value,
    amount: &Value,
    step: &plan::Uncertain,
    group: Group,
    site: u32,
    ledger: &mut Ledger<'_>,
) -> (Value, Option<Seeming>) {
    let Some(number) = value.number() else {
        return (not_a_number(value, site), None);
    };
    let amount = match amount {
        Value::Number(amount) => *amount,
        Value::Uncertain(_) => return (Value::failed(Mishap::AmountUncertain, site), None),
        other => return (not_a_number(other, site), None),
    };
    if amount.is_negative() {
        return (Value::failed(Mishap::AmountNegative, site), None);
    }
    let size = if step.relative {
        amount.to_f64() * number.to_f64().abs()
    } else {
        amount.to_f64()
    };
    let mut source = source_of(size, &step.meaning, group);
    let behind_readings = matches!(value, Value::Uncertain(_));
    if !behind_readings {
        source.estimate = number;
    }
    let seems = seeming(number, size, &source, step);
    let id = ledger.enter(0, source);
    let own: Terms = std::iter::once((id, 1.0)).collect();
    let followed = || ledger.follows_curves().then(Curve::default);
    let made = match value {
        Value::Uncertain(x) => {
            let curve = x.curve.as_deref().cloned().or_else(followed);
            with_terms(number, combined(&x.terms, 1.0, &own, 1.0), curve)
        }
        _ => with_terms(number, own, followed()),
    };
    (made, seems)
}

/// What a reader may not have meant, the weightiest first.
fn seeming(number: Number, size: f64, source: &Source, step: &plan::Uncertain) -> Option<Seeming> {
    if size == 0.0 {
        return Some(Seeming::NoDoubt);
    }
    let written = step.written.as_ref()?;
    if !written.on_scale && !number.is_zero() && size > number.to_f64().abs() {
        return Some(Seeming::WiderThanValue);
    }
    // Half of the last digit is what writing a number down costs: a limit, or its standard
    // uncertainty, whichever is kept to.
    let digit = written.last_digit?.to_f64();
    let half = match step.meaning.kind {
        MeaningKind::Step => size / 2.0,
        _ => size,
    };
    let within = half < 0.5 * digit * (1.0 - 1e-9);
    let below = source.standard < digit / libm::sqrt(12.0) * (1.0 - 1e-9);
    (within && below).then_some(Seeming::FewDigits)
}

/// The source that an amount with this meaning is.
fn source_of(size: f64, meaning: &Meaning, group: Group) -> Source {
    let dof = meaning.dof.map_or(f64::INFINITY, Number::to_f64);
    let (standard, shape) = match &meaning.kind {
        MeaningKind::Limit => (size / libm::sqrt(3.0), Shape::Limits(size)),
        MeaningKind::Step => (size / libm::sqrt(12.0), Shape::Limits(size / 2.0)),
        MeaningKind::Triangular => (size / libm::sqrt(6.0), Shape::Triangular(size)),
        MeaningKind::UShaped => (size / libm::sqrt(2.0), Shape::UShaped(size)),
        MeaningKind::Coverage(k) => (size / k.to_f64(), Shape::Scatter),
        MeaningKind::Probability(level) => (
            size / distribution::coverage_factor(level.to_f64(), dof),
            Shape::Scatter,
        ),
    };
    Source {
        group,
        estimate: Number::ZERO,
        standard,
        dof,
        shape,
    }
}

/// The mean of readings. Each row is a source of unit size, so that two columns read together
/// keep their covariance: Σ dx·dy / (n (n − 1)), JCGM 100:2008 5.2.3.
pub(super) fn readings(
    column: &Value,
    place: Place,
    rows: Place,
    site: u32,
    ledger: &mut Ledger<'_>,
) -> (Value, Option<Seeming>) {
    let Value::Column(items) = column else {
        return (not_a_number(column, site), None);
    };
    if items.len() < 2 {
        return (Value::failed(Mishap::OneReading, site), None);
    }
    let mean = column::reduce(Reduction::Mean, column, false, site);
    let Some(center) = mean.number() else {
        return (mean, None);
    };
    let count = items.len() as f64;
    let by = 1.0 / libm::sqrt(count * (count - 1.0));
    let group = Group {
        place: rows,
        element: 0,
    };
    let mut terms = Terms::with_capacity(items.len());
    let mut deviations = Vec::with_capacity(items.len());
    for (row, item) in items.iter().enumerate() {
        let Some(number) = item.number() else {
            return (not_a_number(item, site), None);
        };
        let deviation = number.minus(center).map_or(0.0, Number::to_f64) * by;
        let source = Source {
            group,
            estimate: Number::ZERO,
            standard: 1.0,
            dof: count - 1.0,
            shape: Shape::Scatter,
        };
        terms.push((ledger.enter(row as u32, source), deviation));
        deviations.push(deviation);
    }
    terms.sort_by_key(|(id, _)| *id);
    let seems = match (items.len(), deviations.iter().all(|one| *one == 0.0)) {
        (_, true) => Some(Seeming::NoScatter),
        (2, false) => Some(Seeming::OneRepeat),
        _ => None,
    };
    let repeats = Repeats {
        group,
        mean: center,
        deviations: deviations.into(),
    };
    ledger.keep_repeats(place, repeats);
    let followed = || ledger.follows_curves().then(Curve::default);
    let made = match &mean {
        Value::Uncertain(x) => {
            let curve = x.curve.as_deref().cloned().or_else(followed);
            with_terms(center, combined(&x.terms, 1.0, &terms, 1.0), curve)
        }
        _ => with_terms(center, terms, followed()),
    };
    (made, seems)
}
