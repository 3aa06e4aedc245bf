//! The loop over the steps of a plan.

use super::column;
use super::doubt::Doubt;
use super::failure::Mishap;
use super::root;
use super::rows;
use super::scenario;
use super::source::{Group, Shape, Source, Sources};
use super::uncertain::{Terms, Uncertain, combined};
use super::value::Value;
use super::world::World;
use crate::check::{Binary, Description, Meaning, MeaningKind, Place};
use crate::number::{Factor, Number, Rational, Trouble};
use crate::numerics::distribution;
use crate::plan::operation::{BinaryId, UnaryId};
use crate::plan::{self, Operation, Plan, Register};
use crate::syntax::Comparison;
use std::rc::Rc;

/// What a run gave.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// The result.
    pub value: Value,
    /// The limits that are not kept, by their number in the plan, with the doubt about them.
    pub broken: Vec<usize>,
    /// The limits that are kept but closer than three standard uncertainties.
    pub near: Vec<usize>,
    /// The cautions to be said, by their number in the plan.
    pub cautions: Vec<usize>,
    /// The site of a choice that was decided within three standard uncertainties.
    pub branch: Option<u32>,
    /// The site where an uncertain value was rounded up or down, which loses its ±.
    pub dropped: Option<u32>,
}

/// Runs a plan among the cells of `world`.
pub fn run(plan: &Plan, world: &dyn World, sources: &mut Sources) -> Outcome {
    let mut runner = Runner {
        world,
        sources,
        inputs: &[],
        registers: Vec::new(),
        branch: None,
        dropped: None,
    };
    runner.steps(plan);
    let value = runner
        .registers
        .get(plan.result as usize)
        .cloned()
        .unwrap_or(Value::Gap);
    let (mut broken, mut near) = (Vec::new(), Vec::new());
    for (index, limit) in plan.limits.iter().enumerate() {
        match all_hold(&runner.registers[limit.kept as usize]) {
            Some((false, _)) => broken.push(index),
            Some((true, true)) => near.push(index),
            Some((true, false)) | None => {}
        }
    }
    let said = |caution: &plan::Caution| match caution.when {
        None => true,
        Some(when) => any_holds(&runner.registers[when as usize]),
    };
    let cautions = plan
        .cautions
        .iter()
        .enumerate()
        .filter(|(_, caution)| said(caution));
    let cautions = cautions.map(|(index, _)| index).collect();
    Outcome {
        value,
        broken,
        near,
        cautions,
        branch: runner.branch,
        dropped: runner.dropped,
    }
}

/// Whether a condition holds in every row, and whether any row is near its threshold.
fn all_hold(value: &Value) -> Option<(bool, bool)> {
    match value {
        Value::Switch(on) => Some((*on, false)),
        Value::Doubtful(doubt) => Some((doubt.holds, doubt.near)),
        Value::Column(items) => Some(
            items
                .iter()
                .filter_map(all_hold)
                .fold((true, false), |(holds, near), (one, close)| {
                    (holds && one, near || close)
                }),
        ),
        _ => None,
    }
}

/// Whether a condition is near its threshold in any row.
fn is_near(value: &Value) -> bool {
    match value {
        Value::Doubtful(doubt) => doubt.near,
        Value::Column(items) => items.iter().any(is_near),
        _ => false,
    }
}

fn is_uncertain(value: &Value) -> bool {
    match value {
        Value::Uncertain(_) => true,
        Value::Column(items) => items.iter().any(is_uncertain),
        _ => false,
    }
}

fn any_holds(value: &Value) -> bool {
    match value {
        Value::Column(items) => items.iter().any(any_holds),
        other => other.holds() == Some(true),
    }
}

/// The registers of one run.
pub(super) struct Runner<'r> {
    pub(super) world: &'r dyn World,
    pub(super) sources: &'r mut Sources,
    pub(super) inputs: &'r [Value],
    pub(super) registers: Vec<Value>,
    branch: Option<u32>,
    dropped: Option<u32>,
}

impl Runner<'_> {
    pub(super) fn steps(&mut self, plan: &Plan) {
        self.registers.clear();
        self.registers.reserve(plan.steps.len());
        for step in &plan.steps {
            let value = self.step(&step.operation, step.site);
            self.registers.push(value);
        }
    }

    /// The result of a sub-plan with these inputs.
    pub(super) fn value_of(
        plan: &Plan,
        inputs: &[Value],
        world: &dyn World,
        sources: &mut Sources,
    ) -> Value {
        let mut runner = Runner {
            world,
            sources,
            inputs,
            registers: Vec::new(),
            branch: None,
            dropped: None,
        };
        runner.steps(plan);
        runner
            .registers
            .get(plan.result as usize)
            .cloned()
            .unwrap_or(Value::Gap)
    }

    fn at(&self, register: Register) -> &Value {
        self.registers.get(register as usize).unwrap_or(&Value::Gap)
    }

    fn step(&mut self, operation: &Operation, site: u32) -> Value {
        match operation {
            Operation::Constant(constant) => constant.into(),
            Operation::Cell(cell) => self.world.value(*cell).arrived(site),
            Operation::Input(index) => self
                .inputs
                .get(*index as usize)
                .cloned()
                .unwrap_or(Value::Gap),
            Operation::Unary(function, x) => self.unary(*function, *x, site),
            Operation::Binary(function, x, y) => self.binary(*function, *x, *y, site),
            Operation::WholePower(x, exponent) => {
                let exponent = *exponent;
                self.each(*x, site, |value| whole_power(value, exponent, site))
            }
            Operation::Scale(x, factor) => self.each(*x, site, |value| scale(value, factor, site)),
            Operation::Affine(x, line) => {
                self.each(*x, site, |value| affine(value, &line.0, &line.1, site))
            }
            Operation::Compare(sign, x, y) => self.compare(*sign, *x, *y, site),
            Operation::Not(x) => self.each(*x, site, |value| negation(value, site)),
            Operation::And(parts) => self.logic(parts, true, site),
            Operation::Or(parts) => self.logic(parts, false, site),
            Operation::Select(when, then, otherwise) => self.select(*when, *then, *otherwise, site),
            Operation::Column(items) => {
                Value::column(items.iter().map(|item| self.at(*item).clone()).collect())
            }
            Operation::Reduce(reduction, x, skip) => {
                let value = self.at(*x).clone();
                column::reduce(*reduction, &value, *skip, site)
            }
            Operation::Row(column, keys) => self.row(*column, keys, site),
            Operation::Interpolate(at, points, values) => {
                let (points, values) = (self.at(*points).clone(), self.at(*values).clone());
                self.each(*at, site, |at| {
                    column::interpolate(at, &points, &values, site)
                })
            }
            Operation::Size(above, sizes, wanted) => {
                let sizes = self.at(*sizes).clone();
                self.each(*wanted, site, |wanted| {
                    column::size(*above, &sizes, wanted, site)
                })
            }
            Operation::Root(found) => self.root(found, site),
            Operation::With(found) => {
                scenario::with(found, &self.registers, self.world, self.sources).arrived(site)
            }
            Operation::Sought(sought) => {
                scenario::sought(sought, &self.registers, site, self.world, self.sources)
            }
            Operation::Sweep(sweep) => {
                scenario::sweep(sweep, &self.registers, site, self.world, self.sources)
            }
            Operation::Pick(whole, index) => match self.at(*whole) {
                Value::Column(columns) => {
                    columns.get(*index as usize).cloned().unwrap_or(Value::Gap)
                }
                other => other.clone(),
            },
            Operation::Uncertain(uncertain) => self.uncertain(uncertain, site),
            Operation::Readings(column, place) => {
                let column = self.at(*column).clone();
                readings(&column, *place, site, self.sources)
            }
            Operation::Describe(what, parts) => self.describe(*what, parts, site),
        }
    }

    /// A function of one value, element by element.
    fn each(&mut self, x: Register, site: u32, function: impl Fn(&Value) -> Value) -> Value {
        match self.at(x) {
            Value::Column(items) => Value::column(
                items
                    .iter()
                    .enumerate()
                    .map(|(row, item)| match item {
                        Value::Gap => Value::failed(Mishap::Gap(Some(row + 1)), site),
                        item => function(item),
                    })
                    .collect(),
            ),
            other => function(other),
        }
    }

    /// A function of two values, element by element; a single value fits any column.
    fn pairwise(
        &mut self,
        x: Register,
        y: Register,
        site: u32,
        function: impl Fn(&Value, &Value, &mut Sources) -> Value,
    ) -> Value {
        let (left, right) = (self.at(x).clone(), self.at(y).clone());
        match lengths(&[&left, &right]) {
            Err((first, second)) => Value::failed(Mishap::Lengths(first, second), site),
            Ok(None) => function(&left, &right, self.sources),
            Ok(Some(rows)) => {
                let mut items = Vec::with_capacity(rows);
                for row in 0..rows {
                    let (a, b) = (left.row(row), right.row(row));
                    items.push(match (&a, &b) {
                        (Value::Gap, _) | (_, Value::Gap) => {
                            Value::failed(Mishap::Gap(Some(row + 1)), site)
                        }
                        _ => function(&a, &b, self.sources),
                    });
                }
                Value::column(items)
            }
        }
    }

    fn unary(&mut self, function: UnaryId, x: Register, site: u32) -> Value {
        if let Value::Number(number) = self.at(x) {
            return finish((function.row().exact)(*number), site);
        }
        self.each(x, site, |value| unary(function, value, site))
    }

    fn binary(&mut self, function: BinaryId, x: Register, y: Register, site: u32) -> Value {
        if let (Value::Number(a), Value::Number(b)) = (self.at(x), self.at(y)) {
            return finish((function.row().exact)(*a, *b), site);
        }
        let whole_steps = matches!(function.row().function, Binary::Floor | Binary::Ceil);
        if whole_steps && is_uncertain(self.at(x)) {
            self.dropped.get_or_insert(site);
        }
        self.pairwise(x, y, site, |a, b, _| binary(function, a, b, site))
    }

    fn compare(&mut self, sign: Comparison, x: Register, y: Register, site: u32) -> Value {
        self.pairwise(x, y, site, |a, b, sources| {
            compare(sign, a, b, site, sources)
        })
    }

    fn logic(&mut self, parts: &[Register], all: bool, site: u32) -> Value {
        let values: Vec<Value> = parts.iter().map(|part| self.at(*part).clone()).collect();
        let references: Vec<&Value> = values.iter().collect();
        match lengths(&references) {
            Err((first, second)) => Value::failed(Mishap::Lengths(first, second), site),
            Ok(None) => combine_conditions(&values, all, site),
            Ok(Some(rows)) => Value::column(
                (0..rows)
                    .map(|row| {
                        let row: Vec<Value> = values.iter().map(|value| value.row(row)).collect();
                        combine_conditions(&row, all, site)
                    })
                    .collect(),
            ),
        }
    }

    fn select(&mut self, when: Register, then: Register, otherwise: Register, site: u32) -> Value {
        let parts = [
            self.at(when).clone(),
            self.at(then).clone(),
            self.at(otherwise).clone(),
        ];
        if is_near(&parts[0]) {
            self.branch.get_or_insert(site);
        }
        if let Value::Column(conditions) = &parts[0] {
            let rows = conditions.len();
            if let Err((first, second)) = lengths(&[&parts[0], &parts[1], &parts[2]]) {
                return Value::failed(Mishap::Lengths(first, second), site);
            }
            let pick = |row: usize| {
                self.pick(&conditions[row], parts[1].row(row), parts[2].row(row), site)
            };
            return Value::column((0..rows).map(pick).collect());
        }
        let [condition, then, otherwise] = parts;
        self.pick(&condition, then, otherwise, site)
    }

    fn pick(&self, condition: &Value, then: Value, otherwise: Value, site: u32) -> Value {
        match condition {
            Value::Failed(_) => condition.clone(),
            Value::Gap => Value::failed(Mishap::Gap(None), site),
            other => match other.holds() {
                Some(true) => then,
                Some(false) => otherwise,
                None => Value::failed(Mishap::Kind, site),
            },
        }
    }

    fn row(&mut self, column: Register, keys: &[(Register, Register)], site: u32) -> Value {
        let column = self.at(column).clone();
        let keys: Vec<(Value, Value)> = keys
            .iter()
            .map(|(head, key)| (self.at(*head).clone(), self.at(*key).clone()))
            .collect();
        let wanted: Vec<&Value> = keys.iter().map(|(_, key)| key).collect();
        match lengths(&wanted) {
            Err((first, second)) => Value::failed(Mishap::Lengths(first, second), site),
            Ok(None) => column::row(&column, &keys, site),
            Ok(Some(rows)) => Value::column(
                (0..rows)
                    .map(|index| {
                        let keys: Vec<(Value, Value)> = keys
                            .iter()
                            .map(|(head, key)| (head.clone(), key.row(index)))
                            .collect();
                        column::row(&column, &keys, site)
                    })
                    .collect(),
            ),
        }
    }

    fn root(&mut self, found: &plan::Root, site: u32) -> Value {
        let from = self.at(found.from).clone();
        let to = self.at(found.to).clone();
        let inputs: Vec<Value> = found
            .inputs
            .iter()
            .map(|input| self.at(*input).clone())
            .collect();
        let difference = self.difference_of_columns(found, &from, &inputs);
        match lengths(&[&from, &to, &difference]) {
            Err((first, second)) => Value::failed(Mishap::Lengths(first, second), site),
            Ok(None) => root::find(
                &found.plan,
                (&from, &to),
                &inputs,
                site,
                self.world,
                self.sources,
            ),
            Ok(Some(rows)) => Value::column(
                (0..rows)
                    .map(|row| {
                        let ends = (&from.row(row), &to.row(row));
                        let (plan, inputs) = rows::one_row(&found.plan, &inputs, row, self.world);
                        root::find(&plan, ends, &inputs, site, self.world, self.sources)
                    })
                    .collect(),
            ),
        }
    }

    /// What must become zero, at the first end of the range, if columns go into it: it may be a
    /// column itself.
    fn difference_of_columns(
        &mut self,
        found: &plan::Root,
        from: &Value,
        inputs: &[Value],
    ) -> Value {
        if !inputs.iter().any(|one| matches!(one, Value::Column(_))) {
            return Value::Gap;
        }
        let mut all = vec![from.row(0)];
        all.extend_from_slice(inputs);
        Runner::value_of(&found.plan, &all, self.world, self.sources)
    }

    fn uncertain(&mut self, step: &plan::Uncertain, site: u32) -> Value {
        let (value, amount) = (self.at(step.value).clone(), self.at(step.amount).clone());
        match &value {
            Value::Column(items) => {
                let made = items.iter().enumerate().map(|(row, item)| {
                    if matches!(item, Value::Gap) {
                        return Value::Gap;
                    }
                    let group = Group {
                        place: step.place,
                        element: row as u32,
                    };
                    with_source(item, &amount.row(row), step, group, site, self.sources)
                });
                Value::column(made.collect())
            }
            one => {
                let group = Group {
                    place: step.place,
                    element: 0,
                };
                with_source(one, &amount, step, group, site, self.sources)
            }
        }
    }

    fn describe(&mut self, what: Description, parts: &[Register], site: u32) -> Value {
        let values: Vec<Value> = parts.iter().map(|part| self.at(*part).clone()).collect();
        let references: Vec<&Value> = values.iter().collect();
        match lengths(&references) {
            Err((first, second)) => Value::failed(Mishap::Lengths(first, second), site),
            Ok(None) => describe(what, &values, site, self.sources),
            Ok(Some(rows)) => Value::column(
                (0..rows)
                    .map(|row| {
                        let row: Vec<Value> = values.iter().map(|value| value.row(row)).collect();
                        describe(what, &row, site, self.sources)
                    })
                    .collect(),
            ),
        }
    }
}

/// The one length of the columns among these; an error names two that differ.
fn lengths(values: &[&Value]) -> Result<Option<usize>, (usize, usize)> {
    let mut rows = None;
    for value in values {
        if let Value::Column(items) = value {
            match rows {
                None => rows = Some(items.len()),
                Some(first) if first != items.len() => return Err((first, items.len())),
                Some(_) => {}
            }
        }
    }
    Ok(rows)
}

fn finish(result: Result<Number, Trouble>, site: u32) -> Value {
    match result {
        Ok(number) => Value::Number(number),
        Err(trouble) => Value::failed(Mishap::Number(trouble), site),
    }
}

/// What stands in the way of working with a value that is no number.
fn not_a_number(value: &Value, site: u32) -> Value {
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
pub(super) fn with_terms(value: Number, terms: Terms) -> Value {
    if terms.is_empty() {
        Value::Number(value)
    } else {
        Value::Uncertain(Rc::new(Uncertain { value, terms }))
    }
}

/// One value through a function with this slope.
fn through(
    value: &Value,
    made: Result<Number, Trouble>,
    slope: impl Fn(f64, f64) -> f64,
    site: u32,
) -> Value {
    match (made, value) {
        (Err(trouble), _) => Value::failed(Mishap::Number(trouble), site),
        (Ok(made), Value::Uncertain(x)) => {
            let by = slope(x.value.to_f64(), made.to_f64());
            with_terms(made, combined(&x.terms, by, &[], 0.0))
        }
        (Ok(made), _) => Value::Number(made),
    }
}

pub(super) fn unary(function: UnaryId, value: &Value, site: u32) -> Value {
    let Some(number) = value.number() else {
        return not_a_number(value, site);
    };
    let row = function.row();
    through(
        value,
        (row.exact)(number),
        |x, y| (row.derivatives)(x, y).0,
        site,
    )
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
    if matches!(row.function, Binary::Floor | Binary::Ceil) {
        return Value::Number(made);
    }
    let none: &[_] = &[];
    let terms = match (left, right) {
        (Value::Number(_), Value::Number(_)) => return Value::Number(made),
        (Value::Uncertain(x), Value::Uncertain(y)) => (&x.terms[..], &y.terms[..]),
        (Value::Uncertain(x), _) => (&x.terms[..], none),
        (_, Value::Uncertain(y)) => (none, &y.terms[..]),
        _ => (none, none),
    };
    let (by_left, by_right) = (row.first)(a.to_f64(), b.to_f64(), made.to_f64());
    with_terms(made, combined(terms.0, by_left, terms.1, by_right))
}

fn whole_power(value: &Value, exponent: i32, site: u32) -> Value {
    let Some(number) = value.number() else {
        return not_a_number(value, site);
    };
    let slope = |x: f64, _| match exponent {
        0 => 0.0,
        n => f64::from(n) * libm::pow(x, f64::from(n - 1)),
    };
    through(value, number.power_whole(exponent), slope, site)
}

fn scale(value: &Value, factor: &Factor, site: u32) -> Value {
    let Some(number) = value.number() else {
        return not_a_number(value, site);
    };
    let made = number.scaled(factor);
    match value {
        Value::Uncertain(_) => {
            let by = Number::ONE.scaled(factor).map_or(1.0, Number::to_f64);
            through(value, made, |_, _| by, site)
        }
        _ => finish(made, site),
    }
}

fn affine(value: &Value, factor: &Rational, offset: &Rational, site: u32) -> Value {
    let Some(number) = value.number() else {
        return not_a_number(value, site);
    };
    let by = Number::from_rational(factor).map_or(1.0, Number::to_f64);
    through(value, number.affine(factor, offset), |_, _| by, site)
}

fn compare(sign: Comparison, left: &Value, right: &Value, site: u32, sources: &Sources) -> Value {
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
    match binary(crate::check::Binary::Subtract.into(), left, right, site) {
        Value::Uncertain(margin) => {
            Value::Doubtful(Rc::new(Doubt::of_margin(&margin, holds, greater, sources)))
        }
        _ => Value::Switch(holds),
    }
}

fn negation(value: &Value, site: u32) -> Value {
    match value {
        Value::Switch(on) => Value::Switch(!on),
        Value::Doubtful(doubt) => Value::Doubtful(Rc::new(doubt.reversed())),
        other => not_a_number(other, site),
    }
}

fn combine_conditions(values: &[Value], all: bool, site: u32) -> Value {
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

/// A value with the source typed behind it.
fn with_source(
    value: &Value,
    amount: &Value,
    step: &plan::Uncertain,
    group: Group,
    site: u32,
    sources: &mut Sources,
) -> Value {
    let Some(number) = value.number() else {
        return not_a_number(value, site);
    };
    let amount = match amount {
        Value::Number(amount) => *amount,
        Value::Uncertain(_) => return Value::failed(Mishap::AmountUncertain, site),
        other => return not_a_number(other, site),
    };
    if amount.is_negative() {
        return Value::failed(Mishap::AmountNegative, site);
    }
    let size = if step.relative {
        amount.to_f64() * number.to_f64().abs()
    } else {
        amount.to_f64()
    };
    let id = sources.enter(0, source_of(size, &step.meaning, group));
    let own: Terms = std::iter::once((id, 1.0)).collect();
    let terms = match value {
        Value::Uncertain(x) => combined(&x.terms, 1.0, &own, 1.0),
        _ => own,
    };
    with_terms(number, terms)
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
        standard,
        dof,
        shape,
    }
}

/// The mean of readings. Each row is a source of unit size, so that two columns read together
/// keep their covariance: Σ dx·dy / (n (n − 1)), JCGM 100:2008 5.2.3.
fn readings(column: &Value, place: Place, site: u32, sources: &mut Sources) -> Value {
    let Value::Column(items) = column else {
        return not_a_number(column, site);
    };
    if items.len() < 2 {
        return Value::failed(Mishap::OneReading, site);
    }
    let mean = column::reduce(crate::check::Reduction::Mean, column, false, site);
    let Some(center) = mean.number() else {
        return mean;
    };
    let count = items.len() as f64;
    let by = 1.0 / libm::sqrt(count * (count - 1.0));
    let group = Group { place, element: 0 };
    let mut terms = Terms::with_capacity(items.len());
    for (row, item) in items.iter().enumerate() {
        let Some(number) = item.number() else {
            return not_a_number(item, site);
        };
        let deviation = number.minus(center).map_or(0.0, Number::to_f64);
        let source = Source {
            group,
            standard: 1.0,
            dof: count - 1.0,
            shape: Shape::Scatter,
        };
        terms.push((sources.enter(row as u32, source), deviation * by));
    }
    terms.sort_by_key(|(id, _)| *id);
    let own = match &mean {
        Value::Uncertain(x) => combined(&x.terms, 1.0, &terms, 1.0),
        _ => terms,
    };
    with_terms(center, own)
}

fn describe(what: Description, values: &[Value], site: u32, sources: &Sources) -> Value {
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
    let exact = Uncertain {
        value: number,
        terms: Terms::new(),
    };
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
    let exact = Uncertain {
        value: number,
        terms: Terms::new(),
    };
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
            let summary = Uncertain { value, terms }.summary(sources);
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
            let part = Uncertain {
                value: one.value,
                terms: own,
            }
            .variance(sources);
            double(if whole == 0.0 { 0.0 } else { part / whole }, site)
        }
        _ => double(correlation(one, other, sources), site),
    }
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
