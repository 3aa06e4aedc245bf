//! The loop over the steps of a plan.

use super::amount::{Seeming, readings, with_source};
use super::arithmetic::{
    affine, binary, combine_conditions, compare, finish, negation, scale, unary, whole_power,
};
use super::column;
use super::corner;
use super::describe::describe;
use super::failure::Mishap;
use super::root;
use super::rows;
use super::scenario;
use super::source::{Group, Ledger, Sources};
use super::value::Value;
use super::world::World;
use crate::check::{Binary, Description, Place, Unary};
use crate::plan::operation::{BinaryId, UnaryId};
use crate::plan::{self, Operation, Plan, Register};
use crate::syntax::Comparison;

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
    /// Whether a branch or a comparison was decided within three standard uncertainties.
    pub doubtful: bool,
    /// Where a ± may say less than it seems to, by the site in the plan.
    pub seeming: Vec<(Seeming, u32)>,
}

/// What a run gave that followed the second order.
#[derive(Clone, Debug, PartialEq)]
pub struct Followed {
    /// The result, with its curve.
    pub value: Value,
    /// Where a value turned a corner within three standard uncertainties: the sites of `min`,
    /// `max`, `abs`.
    pub corners: Vec<u32>,
    /// Where something was divided by a value that is less than ten times its own standard
    /// uncertainty.
    pub divisors: Vec<u32>,
    /// Whether a branch was decided within three standard uncertainties.
    pub doubtful: bool,
}

/// Runs a plan among the cells of `world`.
pub fn run(plan: &Plan, world: &dyn World, sources: &mut Sources) -> Outcome {
    let mut ledger = Ledger::Open(sources);
    let mut runner = Runner::new(world, &mut ledger, &[]);
    runner.steps(plan);
    let value = runner.result(plan);
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
        doubtful: runner.doubtful,
        seeming: runner.seeming,
    }
}

/// Runs a plan beside the notebook and follows the second order. The cells of `world` must carry
/// their curves, and must have been run before with these sources.
pub fn follow(plan: &Plan, world: &dyn World, sources: &Sources) -> Followed {
    let mut ledger = Ledger::Closed(sources);
    let mut runner = Runner::new(world, &mut ledger, &[]);
    runner.steps(plan);
    Followed {
        value: runner.result(plan),
        corners: runner.corners,
        divisors: runner.divisors,
        doubtful: runner.doubtful,
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

fn any_holds(value: &Value) -> bool {
    match value {
        Value::Column(items) => items.iter().any(any_holds),
        other => other.holds() == Some(true),
    }
}

/// The registers of one run.
pub(super) struct Runner<'r, 's> {
    world: &'r dyn World,
    ledger: &'r mut Ledger<'s>,
    inputs: &'r [Value],
    registers: Vec<Value>,
    doubtful: bool,
    seeming: Vec<(Seeming, u32)>,
    corners: Vec<u32>,
    divisors: Vec<u32>,
}

impl<'r, 's> Runner<'r, 's> {
    fn new(
        world: &'r dyn World,
        ledger: &'r mut Ledger<'s>,
        inputs: &'r [Value],
    ) -> Runner<'r, 's> {
        Runner {
            world,
            ledger,
            inputs,
            registers: Vec::new(),
            doubtful: false,
            seeming: Vec::new(),
            corners: Vec::new(),
            divisors: Vec::new(),
        }
    }

    fn steps(&mut self, plan: &Plan) {
        self.registers.reserve(plan.steps.len());
        for step in &plan.steps {
            let value = self.step(&step.operation, step.site);
            self.registers.push(value);
        }
    }

    fn result(&self, plan: &Plan) -> Value {
        self.at(plan.result).clone()
    }

    /// The result of a sub-plan with these inputs.
    pub(super) fn value_of(
        plan: &Plan,
        inputs: &[Value],
        world: &dyn World,
        ledger: &mut Ledger<'_>,
    ) -> Value {
        let mut runner = Runner::new(world, ledger, inputs);
        runner.steps(plan);
        runner.result(plan)
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
                let made = column::reduce(*reduction, &value, *skip, site);
                if self.ledger.follows_curves()
                    && corner::has_rival(*reduction, &value, &made, self.ledger.read())
                {
                    self.corners.push(site);
                }
                made
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
                self.doubtful |=
                    corner::is_close_to_size(self.at(*wanted), &sizes, self.ledger.read());
                self.each(*wanted, site, |wanted| {
                    column::size(*above, &sizes, wanted, site)
                })
            }
            Operation::Root(found) => self.root(found, site),
            Operation::With(found) => {
                scenario::with(found, &self.registers, self.world, self.ledger).arrived(site)
            }
            Operation::Sought(sought) => {
                scenario::sought(sought, &self.registers, site, self.world, self.ledger)
            }
            Operation::Sweep(sweep) => {
                scenario::sweep(sweep, &self.registers, site, self.world, self.ledger)
            }
            Operation::Pick(whole, index) => match self.at(*whole) {
                Value::Column(columns) => {
                    columns.get(*index as usize).cloned().unwrap_or(Value::Gap)
                }
                other => other.clone(),
            },
            Operation::Uncertain(uncertain) => self.uncertain(uncertain, site),
            Operation::Readings(column, place, rows) => self.readings(*column, *place, *rows, site),
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
        function: impl Fn(&Value, &Value, &Sources) -> Value,
    ) -> Value {
        let (left, right) = (self.at(x).clone(), self.at(y).clone());
        match lengths(&[&left, &right]) {
            Err((first, second)) => Value::failed(Mishap::Lengths(first, second), site),
            Ok(None) => function(&left, &right, self.ledger.read()),
            Ok(Some(rows)) => {
                let mut items = Vec::with_capacity(rows);
                for row in 0..rows {
                    let (a, b) = (left.row(row), right.row(row));
                    items.push(match (&a, &b) {
                        (Value::Gap, _) | (_, Value::Gap) => {
                            Value::failed(Mishap::Gap(Some(row + 1)), site)
                        }
                        _ => function(&a, &b, self.ledger.read()),
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
        if self.ledger.follows_curves()
            && function.row().function == Unary::Magnitude
            && corner::is_near_zero(self.at(x), self.ledger.read())
        {
            self.corners.push(site);
        }
        self.each(x, site, |value| unary(function, value, site))
    }

    fn binary(&mut self, function: BinaryId, x: Register, y: Register, site: u32) -> Value {
        if let (Value::Number(a), Value::Number(b)) = (self.at(x), self.at(y)) {
            return finish((function.row().exact)(*a, *b), site);
        }
        match function.row().function {
            Binary::Floor | Binary::Ceil if self.at(x).is_uncertain() => {
                self.seeming.push((Seeming::Dropped, site));
            }
            Binary::Minimum | Binary::Maximum
                if self.ledger.follows_curves()
                    && corner::are_rivals(self.at(x), self.at(y), self.ledger.read()) =>
            {
                self.corners.push(site);
            }
            Binary::Divide
                if self.ledger.follows_curves()
                    && corner::is_small(self.at(y), self.ledger.read()) =>
            {
                self.divisors.push(site);
            }
            _ => {}
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
        if let Value::Column(conditions) = &parts[0] {
            let rows = conditions.len();
            self.doubtful |= conditions.iter().any(is_close_call);
            if let Err((first, second)) = lengths(&[&parts[0], &parts[1], &parts[2]]) {
                return Value::failed(Mishap::Lengths(first, second), site);
            }
            let pick = |row: usize| {
                self.pick(&conditions[row], parts[1].row(row), parts[2].row(row), site)
            };
            return Value::column((0..rows).map(pick).collect());
        }
        self.doubtful |= is_close_call(&parts[0]);
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
                self.ledger,
            ),
            Ok(Some(rows)) => Value::column(
                (0..rows)
                    .map(|row| {
                        let ends = (&from.row(row), &to.row(row));
                        let (plan, inputs) = rows::one_row(&found.plan, &inputs, row, self.world);
                        root::find(&plan, ends, &inputs, site, self.world, self.ledger)
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
        Runner::value_of(&found.plan, &all, self.world, self.ledger)
    }

    fn uncertain(&mut self, step: &plan::Uncertain, site: u32) -> Value {
        let (value, amount) = (self.at(step.value).clone(), self.at(step.amount).clone());
        let group = |row: usize| Group {
            place: step.place,
            element: row as u32,
        };
        match &value {
            Value::Column(items) => {
                let made = items.iter().enumerate().map(|(row, item)| match item {
                    Value::Gap => Value::Gap,
                    item => self.source(item, &amount.row(row), step, group(row), site),
                });
                Value::column(made.collect())
            }
            one => self.source(one, &amount, step, group(0), site),
        }
    }

    fn source(
        &mut self,
        value: &Value,
        amount: &Value,
        step: &plan::Uncertain,
        group: Group,
        site: u32,
    ) -> Value {
        let (made, seems) = with_source(value, amount, step, group, site, self.ledger);
        self.note_seeming(seems, site);
        made
    }

    fn readings(&mut self, column: Register, place: Place, rows: Place, site: u32) -> Value {
        let column = self.at(column).clone();
        let (made, seems) = readings(&column, place, rows, site, self.ledger);
        self.note_seeming(seems, site);
        made
    }

    /// A column says once what is odd about its ±.
    fn note_seeming(&mut self, seems: Option<Seeming>, site: u32) {
        if let Some(seems) = seems
            && !self.seeming.contains(&(seems, site))
        {
            self.seeming.push((seems, site));
        }
    }

    fn describe(&mut self, what: Description, parts: &[Register], site: u32) -> Value {
        let values: Vec<Value> = parts.iter().map(|part| self.at(*part).clone()).collect();
        let references: Vec<&Value> = values.iter().collect();
        match lengths(&references) {
            Err((first, second)) => Value::failed(Mishap::Lengths(first, second), site),
            Ok(None) => describe(what, &values, site, self.ledger.read()),
            Ok(Some(rows)) => Value::column(
                (0..rows)
                    .map(|row| {
                        let row: Vec<Value> = values.iter().map(|value| value.row(row)).collect();
                        describe(what, &row, site, self.ledger.read())
                    })
                    .collect(),
            ),
        }
    }
}

fn is_close_call(condition: &Value) -> bool {
    matches!(condition, Value::Doubtful(doubt) if doubt.near)
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
