//! Roots of a sub-plan: found in doubles, finished in decimals, with ± by the implicit
//! derivative.

use super::arithmetic::with_terms;
use super::failure::Mishap;
use super::implicit;
use super::run::Runner;
use super::source::Ledger;
use super::uncertain::combined;
use super::value::Value;
use super::world::{Bare, World};
use crate::number::Number;
use crate::numerics::{roots, scan};
use crate::plan::Plan;

/// Where a root is looked for.
#[derive(Clone, Copy, Debug)]
pub(super) enum Where {
    /// Between two ends.
    Between(Number, Number),
    /// From a thousandth to a thousand times a value.
    Around(Number),
}

/// What is asked of a difference.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Depth {
    /// Its value only.
    Value,
    /// Its sensitivities too.
    Sensitivities,
}

/// A difference as a function of the unknown.
pub(super) type Difference<'f> = &'f mut dyn FnMut(Value, Depth) -> Value;

/// The value of input 0 at which the plan gives zero.
pub(super) fn find(
    plan: &Plan,
    ends: (&Value, &Value),
    inputs: &[Value],
    site: u32,
    world: &dyn World,
    ledger: &mut Ledger<'_>,
) -> Value {
    let (Some(from), Some(to)) = (ends.0.number(), ends.1.number()) else {
        return no_number(&[ends.0, ends.1], site);
    };
    // The search itself needs no sensitivities, unless the plan asks for them.
    let searched_bare = !plan.describes();
    let bare = Bare(world);
    let bare_inputs: Vec<Value> = match searched_bare {
        true => inputs.iter().cloned().map(Value::bare).collect(),
        false => Vec::new(),
    };
    let mut evaluate = |x: Value, depth: Depth| -> Value {
        let mut run = |inputs: &[Value], world: &dyn World| {
            let all: Vec<Value> = std::iter::once(x.clone())
                .chain(inputs.iter().cloned())
                .collect();
            Runner::value_of(plan, &all, world, ledger)
        };
        match depth {
            Depth::Value if searched_bare => run(&bare_inputs, &bare),
            _ => run(inputs, world),
        }
    };
    search(&mut evaluate, Where::Between(from, to), "", site)
}

/// The failure among values that should be numbers.
pub(super) fn no_number(values: &[&Value], site: u32) -> Value {
    let failed = values.iter().find(|value| value.failure().is_some());
    failed.map_or_else(
        || Value::failed(Mishap::Kind, site),
        |value| (*value).clone(),
    )
}

/// The number at which `evaluate` gives zero; `unit` is for messages.
pub(super) fn search(evaluate: Difference<'_>, place: Where, unit: &str, site: u32) -> Value {
    let scanned = match place {
        Where::Between(from, to) => {
            scan::scan_between(|x| double(evaluate, x), from.to_f64(), to.to_f64())
        }
        Where::Around(start) => scan::scan_around(|x| double(evaluate, x), start.to_f64()),
    };
    match scanned.course {
        scan::Course::NoValue => return why_no_value(place, evaluate, site),
        scan::Course::Constant(_) => return Value::failed(Mishap::Independent, site),
        scan::Course::Varies => {}
    }
    let mut found = Vec::new();
    let mut jumps = false;
    for (low, high) in scanned.brackets {
        match roots::find_root(|x| double(evaluate, x), low, high) {
            Ok(root) => found.push((root.at, (low, high))),
            Err(roots::NoRoot::Every) => found.push((low.midpoint(high), (low, high))),
            Err(roots::NoRoot::Pole(_) | roots::NoRoot::Jump(_)) => jumps = true,
            Err(roots::NoRoot::SameSign | roots::NoRoot::NoValue(_)) => {}
        }
    }
    match found[..] {
        [] if jumps => Value::failed(Mishap::Jump, site),
        [] => Value::failed(Mishap::NoRoot, site),
        [(x, bracket)] => finish(x, bracket, site, evaluate),
        _ => {
            let texts = found.iter().filter_map(|(x, _)| Number::from_f64(*x).ok());
            let texts = texts.map(|x| format!("{} {unit}", x.shown()).trim_end().to_owned());
            Value::failed(Mishap::Several(texts.collect()), site)
        }
    }
}

fn double(evaluate: Difference<'_>, x: f64) -> f64 {
    let value = Number::from_f64(x)
        .ok()
        .map(|x| evaluate(Value::Number(exactly(x)), Depth::Value));
    value
        .and_then(|value| value.number())
        .map_or(f64::NAN, Number::to_f64)
}

/// Why the difference has no value anywhere: what stands in the way at one place.
fn why_no_value(place: Where, evaluate: Difference<'_>, site: u32) -> Value {
    let (Where::Between(end, _) | Where::Around(end)) = place;
    match evaluate(Value::Number(end), Depth::Value) {
        Value::Failed(failure) if matches!(failure.mishap, Mishap::Waits(_)) => {
            Value::Failed(failure)
        }
        _ => Value::failed(Mishap::NoRoot, site),
    }
}

/// A double taken as the decimal that it prints as.
fn exactly(x: Number) -> Number {
    Number::read(&x.full()).unwrap_or(x)
}

/// Two secant steps in decimals, then the sensitivities: −(∂f/∂s)/(∂f/∂x).
fn finish(near: f64, (low, high): (f64, f64), site: u32, evaluate: Difference<'_>) -> Value {
    let Ok(start) = Number::from_f64(near).map(exactly) else {
        return Value::failed(Mishap::NoRoot, site);
    };
    let mut x = start;
    let mut slope = None;
    for _ in 0..3 {
        let Some((better, rise)) = secant(x, evaluate) else {
            break;
        };
        slope = Some(rise);
        let inside = low == high || (better.to_f64() >= low && better.to_f64() <= high);
        if !inside || better == x {
            break;
        }
        x = better;
    }
    match (evaluate(Value::Number(x), Depth::Sensitivities), slope) {
        (Value::Uncertain(rest), Some(slope)) if slope.to_f64() != 0.0 => {
            let curve = rest
                .curve
                .is_some()
                .then(|| implicit::curve(x, &mut |x| evaluate(x, Depth::Sensitivities)));
            let terms = combined(&rest.terms, -1.0 / slope.to_f64(), &[], 0.0);
            with_terms(x, terms, curve)
        }
        _ => Value::Number(x),
    }
}

/// One step towards the root, with the slope there.
fn secant(x: Number, evaluate: Difference<'_>) -> Option<(Number, Number)> {
    let mut evaluate = |x: Number| evaluate(Value::Number(x), Depth::Value);
    let by = Number::read("1e-8").ok()?;
    let step = x
        .magnitude()
        .times(by)
        .ok()
        .filter(|step| !step.is_zero())
        .unwrap_or(by);
    let here = evaluate(x).number()?;
    let ahead = evaluate(x.plus(step).ok()?).number()?;
    let behind = evaluate(x.minus(step).ok()?).number()?;
    let rise = ahead.minus(behind).ok()?.over(step.plus(step).ok()?).ok()?;
    if here.is_zero() {
        return Some((x, rise));
    }
    let better = x.minus(here.over(rise).ok()?).ok()?;
    Some((better, rise))
}
