//! Roots of a sub-plan: found in doubles, finished in decimals, with ± by the implicit
//! derivative.

use super::arithmetic::with_terms;
use super::failure::Mishap;
use super::implicit;
use super::run::Runner;
use super::source::Ledger;
use super::uncertain::combined;
use super::value::Value;
use crate::check::CellId;
use crate::number::Number;
use crate::numerics::{roots, scan};
use crate::plan::{Operation, Plan};

/// The value of input 0 at which the plan gives zero.
pub(super) fn find(
    plan: &Plan,
    ends: (&Value, &Value),
    inputs: &[Value],
    site: u32,
    cells: &dyn Fn(CellId) -> Value,
    ledger: &mut Ledger<'_>,
) -> Value {
    let (Some(from), Some(to)) = (ends.0.number(), ends.1.number()) else {
        let failed = [ends.0, ends.1]
            .into_iter()
            .find(|end| end.failure().is_some());
        return failed
            .cloned()
            .unwrap_or_else(|| Value::failed(Mishap::Kind, site));
    };
    // The search itself needs no sensitivities, unless the plan asks for them.
    let searched_bare = !describes(plan);
    let bare = |value: Value| if searched_bare { value.bare() } else { value };
    let bare_inputs: Vec<Value> = inputs.iter().cloned().map(bare).collect();
    let bare_cells = |cell: CellId| bare(cells(cell));
    let mut evaluate = |x: Number| -> Value {
        let all: Vec<Value> = std::iter::once(Value::Number(x))
            .chain(bare_inputs.iter().cloned())
            .collect();
        Runner::value_of(plan, &all, &bare_cells, ledger)
    };
    let double = |evaluate: &mut dyn FnMut(Number) -> Value, x: f64| {
        let value = Number::from_f64(x).map(|x| evaluate(exactly(x)));
        value
            .ok()
            .and_then(|value| value.number())
            .map_or(f64::NAN, Number::to_f64)
    };
    let scanned = scan::scan_between(|x| double(&mut evaluate, x), from.to_f64(), to.to_f64());
    match scanned.course {
        scan::Course::NoValue => return evaluate_at(from, &mut evaluate, site),
        scan::Course::Constant(_) => return Value::failed(Mishap::Independent, site),
        scan::Course::Varies => {}
    }
    let mut found = Vec::new();
    let mut jumps = false;
    for (low, high) in scanned.brackets {
        match roots::find_root(|x| double(&mut evaluate, x), low, high) {
            Ok(root) => found.push(root.at),
            Err(roots::NoRoot::Every) => found.push(low.midpoint(high)),
            Err(roots::NoRoot::Pole(_) | roots::NoRoot::Jump(_)) => jumps = true,
            Err(roots::NoRoot::SameSign | roots::NoRoot::NoValue(_)) => {}
        }
    }
    match found[..] {
        [] if jumps => Value::failed(Mishap::Jump, site),
        [] => Value::failed(Mishap::NoRoot, site),
        [x] => {
            let Some((x, slope)) = finish(x, (from, to), &mut evaluate) else {
                return Value::failed(Mishap::NoRoot, site);
            };
            let mut full = |x: Value| -> Value {
                let all: Vec<Value> = std::iter::once(x).chain(inputs.iter().cloned()).collect();
                Runner::value_of(plan, &all, cells, ledger)
            };
            with_sensitivities(x, slope, &mut full)
        }
        _ => Value::failed(Mishap::Several(found.len()), site),
    }
}

/// Why the difference has no value anywhere: what stands in the way at one end.
fn evaluate_at(end: Number, evaluate: &mut dyn FnMut(Number) -> Value, site: u32) -> Value {
    match evaluate(end) {
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

/// Secant steps in decimals: the root, and the slope there.
fn finish(
    near: f64,
    (from, to): (Number, Number),
    evaluate: &mut dyn FnMut(Number) -> Value,
) -> Option<(Number, Option<Number>)> {
    let mut x = Number::from_f64(near).map(exactly).ok()?;
    let mut slope = None;
    for _ in 0..3 {
        let Some((better, rise)) = secant(x, evaluate) else {
            break;
        };
        slope = Some(rise);
        let inside = (better.compare(from).is_ge() && better.compare(to).is_le())
            || (better.compare(to).is_ge() && better.compare(from).is_le());
        if !inside || better == x {
            break;
        }
        x = better;
    }
    Some((x, slope))
}

/// The root with its sensitivities: −(∂f/∂s)/(∂f/∂x).
fn with_sensitivities(
    x: Number,
    slope: Option<Number>,
    evaluate: &mut dyn FnMut(Value) -> Value,
) -> Value {
    match (evaluate(Value::Number(x)), slope) {
        (Value::Uncertain(rest), Some(slope)) if slope.to_f64() != 0.0 => {
            let curve = rest.curve.is_some().then(|| implicit::curve(x, evaluate));
            let terms = combined(&rest.terms, -1.0 / slope.to_f64(), &[], 0.0);
            with_terms(x, terms, curve)
        }
        _ => Value::Number(x),
    }
}

/// Whether a plan asks about uncertainty, so that it cannot be searched without.
fn describes(plan: &Plan) -> bool {
    plan.steps.iter().any(|step| match &step.operation {
        Operation::Describe(..) => true,
        Operation::Root(inner) => describes(&inner.plan),
        _ => false,
    })
}

/// One step towards the root, with the slope there.
fn secant(x: Number, evaluate: &mut dyn FnMut(Number) -> Value) -> Option<(Number, Number)> {
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
