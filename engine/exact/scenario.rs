//! Values as they would be with other cells: one scenario, a cell sought, points along axes.

use super::failure::Mishap;
use super::root::{self, Depth, Where};
use super::source::Ledger;
use super::stream::Streamed;
use super::uncertain::{Uncertain, combined};
use super::value::Value;
use super::world::{Axis, Bare, Overlay, World, run_sub_plan};
use crate::check::CellId;
use crate::number::Number;
use crate::numerics::watch;
use crate::plan::{self, AxisValues, Register, SubPlan};
use std::rc::Rc;

/// The most points that a sweep is worked out at for people to read.
pub const MOST_POINTS: usize = 10_000;

/// Points between two looks at whether to go on.
const POINTS_A_LOOK: usize = 64;

/// The most points that one value of the whole is worked out from, in blocks.
const MOST_STREAMED: usize = 10_000_000_000;

/// A value with some cells overridden.
pub(super) fn with(
    scenario: &plan::Scenario,
    registers: &[Value],
    world: &dyn World,
    ledger: &mut Ledger<'_>,
) -> Value {
    let overrides: Vec<(CellId, Value)> = scenario
        .overrides
        .iter()
        .map(|(cell, other)| (*cell, at(registers, *other)))
        .collect();
    let changed: Vec<CellId> = overrides.iter().map(|(cell, _)| *cell).collect();
    let cone = world.cone(&changed, &scenario.value.plan.cells());
    let overlay = Overlay::new(world, &overrides, &cone, ledger);
    run_sub_plan(&scenario.value, registers, &overlay, ledger)
}

/// The value of a cell at which a difference is zero. The cell keeps its own sources: the value
/// moves, they stay.
pub(super) fn sought(
    sought: &plan::Sought,
    registers: &[Value],
    site: u32,
    world: &dyn World,
    ledger: &mut Ledger<'_>,
) -> Value {
    let now = world.value(sought.cell);
    let place = match sought.range {
        Some((from, to)) => {
            let (from, to) = (at(registers, from), at(registers, to));
            match (from.number(), to.number()) {
                (Some(from), Some(to)) => Where::Between(from, to),
                _ => return root::no_number(&[&from, &to], site),
            }
        }
        None => match now.number() {
            Some(number) if !number.is_zero() => Where::Around(number),
            Some(_) => return Value::failed(Mishap::NoRoot, site),
            None => return root::no_number(&[&now], site),
        },
    };
    let cone = world.cone(&[sought.cell], &sought.difference.plan.cells());
    // The search itself needs no sensitivities, unless a plan asks for them.
    let asks = |cell: &CellId| world.plan(*cell).is_some_and(|plan| plan.describes());
    let searched_bare = !sought.difference.plan.describes() && !cone.iter().any(asks);
    let bare = Bare(world);
    let bare_registers: Vec<Value> = match searched_bare {
        true => registers.iter().cloned().map(Value::bare).collect(),
        false => Vec::new(),
    };
    let mut evaluate = |x: Value, depth: Depth| -> Value {
        let run = |world: &dyn World, registers: &[Value], value, ledger: &mut Ledger<'_>| {
            let overlay = Overlay::new(world, &[(sought.cell, value)], &cone, ledger);
            run_sub_plan(&sought.difference, registers, &overlay, ledger)
        };
        match depth {
            Depth::Value if searched_bare => run(&bare, &bare_registers, x, ledger),
            _ => run(world, registers, keeping_sources(&now, x), ledger),
        }
    };
    root::search(&mut evaluate, place, &sought.unit, site)
}

/// Another value for a cell that keeps its own sources.
fn keeping_sources(now: &Value, x: Value) -> Value {
    let Value::Uncertain(own) = now else { return x };
    match x {
        Value::Number(value) => Value::Uncertain(Rc::new(Uncertain {
            value,
            ..(**own).clone()
        })),
        // The unknown as a source of its own: nothing but that is added.
        Value::Uncertain(x) => Value::Uncertain(Rc::new(Uncertain {
            value: x.value,
            terms: combined(&own.terms, 1.0, &x.terms, 1.0),
            curve: own.curve.clone().or_else(|| x.curve.clone()),
        })),
        other => other,
    }
}

/// Values at every point of one axis or two: the axes' columns first. A point without a value
/// leaves the others alone.
pub(super) fn sweep(
    sweep: &plan::Sweep,
    registers: &[Value],
    site: u32,
    world: &dyn World,
    ledger: &mut Ledger<'_>,
) -> Value {
    let mut axes: Vec<(CellId, Axis)> = Vec::with_capacity(sweep.axes.len());
    for (cell, values) in &sweep.axes {
        match axis_of(*values, registers, site) {
            Ok(axis) => axes.push((*cell, axis)),
            Err(failed) => return failed,
        }
    }
    let count = axes
        .iter()
        .try_fold(1usize, |count, (_, axis)| count.checked_mul(axis.count()));
    let count = match count {
        Some(count) if count <= MOST_POINTS => count,
        Some(count) if count <= MOST_STREAMED => {
            return streamed(sweep, &axes, registers, count, site, world);
        }
        _ => return Value::failed(Mishap::TooManyPoints(count.unwrap_or(usize::MAX)), site),
    };
    let mut points = Vec::with_capacity(axes.len());
    for (cell, axis) in &axes {
        match points_of(axis, site) {
            Ok(values) => points.push((*cell, values)),
            Err(failed) => return failed,
        }
    }
    let axes = points;
    let changed: Vec<CellId> = axes.iter().map(|(cell, _)| *cell).collect();
    let wanted: Vec<CellId> = sweep.show.iter().flat_map(|one| one.plan.cells()).collect();
    let cone = world.cone(&changed, &wanted);
    let mut columns: Vec<Vec<Value>> =
        vec![Vec::with_capacity(count); axes.len() + sweep.show.len()];
    for point in 0..count {
        if point % POINTS_A_LOOK == 0
            && !watch::goes_on("working the points out", point as f64 / count as f64)
        {
            return Value::failed(Mishap::Stopped, site);
        }
        let overrides = point_of(&axes, point);
        for (column, (_, value)) in columns.iter_mut().zip(&overrides) {
            column.push(value.clone());
        }
        let overlay = Overlay::new(world, &overrides, &cone, ledger);
        for (column, show) in columns[axes.len()..].iter_mut().zip(&sweep.show) {
            column.push(run_sub_plan(show, registers, &overlay, ledger).arrived(site));
        }
    }
    Value::column(columns.into_iter().map(Value::column).collect())
}

/// The overrides at a point, the last axis running fastest.
fn point_of(axes: &[(CellId, Vec<Value>)], mut point: usize) -> Vec<(CellId, Value)> {
    let mut overrides = Vec::with_capacity(axes.len());
    for (cell, points) in axes.iter().rev() {
        overrides.push((*cell, points[point % points.len()].clone()));
        point /= points.len();
    }
    overrides.reverse();
    overrides
}

/// Columns that are worked out in blocks, each time one value of the whole is asked for.
fn streamed(
    sweep: &plan::Sweep,
    axes: &[(CellId, Axis)],
    registers: &[Value],
    count: usize,
    site: u32,
    world: &dyn World,
) -> Value {
    let show: Vec<&SubPlan> = sweep.show.iter().collect();
    match world.stream(axes, &show, registers) {
        None => Value::failed(Mishap::TooManyPoints(count), site),
        Some(stream) => {
            let columns = axes.len() + sweep.show.len();
            let one = |column| {
                Value::Streamed(Streamed {
                    stream: stream.clone(),
                    column,
                })
            };
            Value::column((0..columns).map(one).collect())
        }
    }
}

/// The points of an axis: `from + k·by` while not beyond `to`.
fn axis_of(values: AxisValues, registers: &[Value], site: u32) -> Result<Axis, Value> {
    match values {
        AxisValues::Over(column) => match at(registers, column) {
            Value::Column(items) if items.is_empty() => Err(Value::failed(Mishap::NoRows, site)),
            Value::Column(items) => Ok(Axis::Points(items)),
            other => Err(root::no_number(&[&other], site)),
        },
        AxisValues::Steps(from, to, by) => {
            let (from, to, by) = (at(registers, from), at(registers, to), at(registers, by));
            match (from.number(), to.number(), by.number()) {
                (Some(from), Some(to), Some(by)) => steps(from, to, by, site),
                _ => Err(root::no_number(&[&from, &to, &by], site)),
            }
        }
    }
}

fn steps(from: Number, to: Number, by: Number, site: u32) -> Result<Axis, Value> {
    let failed = |mishap| Err(Value::failed(mishap, site));
    let span = match to.minus(from) {
        Ok(span) => span,
        Err(trouble) => return failed(Mishap::Number(trouble)),
    };
    if by.is_zero() || (!span.is_zero() && span.is_negative() != by.is_negative()) {
        return failed(Mishap::StepAway);
    }
    // The last point counts if it meets the end to 24 digits, as a comparison would say.
    let count = span.over(by).and_then(|ratio| {
        let nearest = ratio.round_to(Number::ONE)?;
        if ratio.equals(nearest) {
            Ok(nearest)
        } else {
            ratio.floor_to(Number::ONE)
        }
    });
    match count.map(Number::to_i64) {
        Ok(Some(count)) => Ok(Axis::Steps(
            from,
            by,
            usize::try_from(count)
                .unwrap_or(usize::MAX)
                .saturating_add(1),
        )),
        Ok(None) => failed(Mishap::TooManyPoints(usize::MAX)),
        Err(trouble) => failed(Mishap::Number(trouble)),
    }
}

/// The points of an axis, one by one.
fn points_of(axis: &Axis, site: u32) -> Result<Vec<Value>, Value> {
    match axis {
        Axis::Points(points) => Ok(points.to_vec()),
        Axis::Steps(from, by, count) => (0..*count)
            .map(|step| {
                let point = by
                    .times(Number::from(step as i64))
                    .and_then(|part| from.plus(part));
                point
                    .map(Value::Number)
                    .map_err(|trouble| Value::failed(Mishap::Number(trouble), site))
            })
            .collect(),
    }
}

fn at(registers: &[Value], register: Register) -> Value {
    registers
        .get(register as usize)
        .cloned()
        .unwrap_or(Value::Gap)
}
