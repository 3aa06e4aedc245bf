//! From a plan to a program on lanes: what does not vary is worked out here.

use super::program::{LaneKind, LaneStep, Operand, Program, Scratch, whole_power};
use super::root::RootStep;
use super::{Draw, DrawShape, Unsupported};
use crate::check::{Binary, CellId, Description, Meaning, MeaningKind, Place, Reduction};
use crate::number::{Factor, Number, Rational};
use crate::numerics::distribution;
use crate::plan::{self, Constant, Joined, Operation, Plan, Register};
use std::sync::Arc;

/// What a cell is worth at every point.
#[derive(Clone, Debug, PartialEq)]
pub enum Uniform {
    /// A number; conditions are 1 and 0.
    Number(f64),
    /// A text.
    Text(Arc<str>),
    /// A column of numbers, NaN for gaps.
    Numbers(Vec<f64>),
    /// A column of texts.
    Texts(Vec<Arc<str>>),
    /// No value.
    None,
}

/// The program of a joined plan. `cells` gives the cells that do not vary. With `drawn`, sources
/// become inputs behind the others; without, only their values count.
///
/// # Errors
/// See [`Unsupported`]: the decimal runner takes the plan then.
pub fn build(
    joined: &Joined,
    cells: &dyn Fn(CellId) -> Uniform,
    drawn: bool,
) -> Result<Program, Unsupported> {
    let mut builder = Builder {
        cells,
        drawn,
        program: Program {
            inputs: input_count(&joined.plan),
            ..Program::default()
        },
        known: Vec::with_capacity(joined.plan.steps.len()),
        given: None,
        together: Vec::new(),
    };
    builder.together = read_together(&joined.plan);
    builder.steps(&joined.plan)?;
    for result in &joined.results {
        let operand = builder.number(*result)?;
        builder.program.results.push(operand);
    }
    Ok(builder.program)
}

fn input_count(plan: &Plan) -> u32 {
    plan.steps
        .iter()
        .filter_map(|step| match step.operation {
            Operation::Input(index) => Some(index + 1),
            _ => None,
        })
        .max()
        .unwrap_or(0)
}

/// What is known of a step's value.
#[derive(Clone, Debug)]
enum Known {
    Number(Operand),
    Numbers(Vec<Operand>),
    Text(Arc<str>),
    Texts(Vec<Arc<str>>),
    None,
}

struct Builder<'b> {
    cells: &'b dyn Fn(CellId) -> Uniform,
    drawn: bool,
    program: Program,
    known: Vec<Known>,
    /// Inputs of a sub-program that do not vary.
    given: Option<Vec<Operand>>,
    /// Rows that several sets of readings were taken in.
    together: Vec<Place>,
}

/// The rows that more than one set of readings was taken in.
fn read_together(plan: &Plan) -> Vec<Place> {
    let mut seen: Vec<(Place, Place)> = Vec::new();
    let mut together = Vec::new();
    for step in &plan.steps {
        let Operation::Readings(_, place, rows) = step.operation else {
            continue;
        };
        let other = seen.iter().any(|(one, own)| *own == rows && *one != place);
        if other && !together.contains(&rows) {
            together.push(rows);
        }
        seen.push((place, rows));
    }
    together
}

const NAN: Operand = Operand::Uniform(f64::NAN);

impl Builder<'_> {
    fn steps(&mut self, plan: &Plan) -> Result<(), Unsupported> {
        for step in &plan.steps {
            let known = self.step(&step.operation)?;
            self.known.push(known);
        }
        Ok(())
    }

    fn step(&mut self, operation: &Operation) -> Result<Known, Unsupported> {
        Ok(match operation {
            Operation::Constant(constant) => of_constant(constant),
            Operation::Cell(cell) => of_uniform((self.cells)(*cell)),
            Operation::Input(index) => self.input(*index),
            Operation::Unary(function, x) => {
                let double = function.row().double;
                self.each(*x, |x| double(x), |x| LaneKind::Unary(*function, x))?
            }
            Operation::Binary(function, x, y) => {
                let row = function.row();
                let kind = |x, y| match row.function {
                    Binary::Add => LaneKind::Add(x, y),
                    Binary::Subtract => LaneKind::Subtract(x, y),
                    Binary::Multiply => LaneKind::Multiply(x, y),
                    Binary::Divide => LaneKind::Divide(x, y),
                    _ => LaneKind::Binary(*function, x, y),
                };
                self.pairs(*x, *y, row.double, kind)?
            }
            Operation::WholePower(x, exponent) => {
                let exponent = *exponent;
                self.each(
                    *x,
                    |x| whole_power(x, exponent),
                    |x| LaneKind::WholePower(x, exponent),
                )?
            }
            Operation::Scale(x, factor) => self.line(*x, double_factor(factor), 0.0)?,
            Operation::Affine(x, line) => {
                self.line(*x, double_ratio(&line.0), double_ratio(&line.1))?
            }
            Operation::Compare(sign, x, y) => self.compare(*sign, *x, *y)?,
            Operation::Not(x) => self.each(*x, |x| 1.0 - x, LaneKind::Not)?,
            Operation::And(parts) => self.logic(parts, true)?,
            Operation::Or(parts) => self.logic(parts, false)?,
            Operation::Select(when, then, otherwise) => self.select(*when, *then, *otherwise)?,
            Operation::Column(items) => self.column(items)?,
            Operation::Reduce(reduction, x, skip) => self.reduce(*reduction, *x, *skip)?,
            Operation::Row(column, keys) => self.row(*column, keys)?,
            Operation::Interpolate(at, points, values) => {
                self.interpolate(*at, *points, *values)?
            }
            Operation::Size(above, sizes, wanted) => self.size(*above, *sizes, *wanted)?,
            Operation::Root(root) => self.root(root)?,
            Operation::Uncertain(uncertain) => self.uncertain(uncertain)?,
            Operation::Readings(column, place, rows) => self.readings(*column, *place, *rows)?,
            Operation::Describe(Description::Value, parts) if !self.drawn => {
                self.at(parts[0]).clone()
            }
            Operation::Describe(..) => return Err(Unsupported::Description),
            Operation::With(_)
            | Operation::Sought(_)
            | Operation::Sweep(_)
            | Operation::Pick(..) => {
                return Err(Unsupported::Scenario);
            }
        })
    }

    fn at(&self, register: Register) -> &Known {
        self.known.get(register as usize).unwrap_or(&Known::None)
    }

    fn number(&self, register: Register) -> Result<Operand, Unsupported> {
        match self.at(register) {
            Known::Number(operand) => Ok(*operand),
            Known::None => Ok(NAN),
            Known::Numbers(_) => Err(Unsupported::Column),
            Known::Text(_) | Known::Texts(_) => Err(Unsupported::Table),
        }
    }

    fn lane(&mut self, kind: LaneKind) -> Operand {
        let out = self.program.lanes;
        self.program.lanes += 1;
        self.program.steps.push(LaneStep { kind, out });
        Operand::Lane(out)
    }

    fn input(&mut self, index: u32) -> Known {
        let given = self
            .given
            .as_ref()
            .and_then(|given| given.get(index as usize))
            .copied();
        match given {
            Some(Operand::Uniform(value)) => Known::Number(Operand::Uniform(value)),
            _ => Known::Number(self.lane(LaneKind::Input(index))),
        }
    }

    fn one(
        &mut self,
        x: Operand,
        uniform: impl Fn(f64) -> f64,
        kind: impl Fn(Operand) -> LaneKind,
    ) -> Operand {
        match x {
            Operand::Uniform(x) => Operand::Uniform(uniform(x)),
            lane => self.lane(kind(lane)),
        }
    }

    fn two(
        &mut self,
        x: Operand,
        y: Operand,
        uniform: impl Fn(f64, f64) -> f64,
        kind: impl Fn(Operand, Operand) -> LaneKind,
    ) -> Operand {
        match (x, y) {
            (Operand::Uniform(x), Operand::Uniform(y)) => Operand::Uniform(uniform(x, y)),
            (x, y) => self.lane(kind(x, y)),
        }
    }

    fn each(
        &mut self,
        x: Register,
        uniform: impl Fn(f64) -> f64 + Copy,
        kind: impl Fn(Operand) -> LaneKind + Copy,
    ) -> Result<Known, Unsupported> {
        match self.at(x).clone() {
            Known::Numbers(items) => Ok(Known::Numbers(
                items
                    .into_iter()
                    .map(|item| self.one(item, uniform, kind))
                    .collect(),
            )),
            _ => {
                let x = self.number(x)?;
                Ok(Known::Number(self.one(x, uniform, kind)))
            }
        }
    }

    fn pairs(
        &mut self,
        x: Register,
        y: Register,
        uniform: impl Fn(f64, f64) -> f64 + Copy,
        kind: impl Fn(Operand, Operand) -> LaneKind + Copy,
    ) -> Result<Known, Unsupported> {
        let (left, right) = (self.at(x).clone(), self.at(y).clone());
        let rows = match (&left, &right) {
            (Known::Numbers(a), Known::Numbers(b)) if a.len() != b.len() => {
                return Err(Unsupported::Column);
            }
            (Known::Numbers(a), _) | (_, Known::Numbers(a)) => a.len(),
            _ => {
                let (x, y) = (self.number(x)?, self.number(y)?);
                return Ok(Known::Number(self.two(x, y, uniform, kind)));
            }
        };
        let pick = |known: &Known, row: usize| match known {
            Known::Numbers(items) => Ok(items[row]),
            Known::Number(operand) => Ok(*operand),
            Known::None => Ok(NAN),
            Known::Text(_) | Known::Texts(_) => Err(Unsupported::Table),
        };
        let mut items = Vec::with_capacity(rows);
        for row in 0..rows {
            let (a, b) = (pick(&left, row)?, pick(&right, row)?);
            items.push(self.two(a, b, uniform, kind));
        }
        Ok(Known::Numbers(items))
    }

    fn line(&mut self, x: Register, factor: f64, offset: f64) -> Result<Known, Unsupported> {
        self.each(
            x,
            |x| x * factor + offset,
            |x| LaneKind::Line(x, factor, offset),
        )
    }

    fn compare(
        &mut self,
        sign: crate::syntax::Comparison,
        x: Register,
        y: Register,
    ) -> Result<Known, Unsupported> {
        if let (Known::Text(a), Known::Text(b)) = (self.at(x), self.at(y)) {
            let equal = (sign == crate::syntax::Comparison::Equal) == (a == b);
            return Ok(Known::Number(Operand::Uniform(f64::from(u8::from(equal)))));
        }
        let uniform = |x: f64, y: f64| {
            let probe = Program {
                steps: vec![LaneStep {
                    kind: LaneKind::Compare(sign, Operand::Uniform(x), Operand::Uniform(y)),
                    out: 0,
                }],
                lanes: 1,
                results: vec![Operand::Lane(0)],
                ..Program::default()
            };
            probe.at(&[], &mut Scratch::default())
        };
        self.pairs(x, y, uniform, |x, y| LaneKind::Compare(sign, x, y))
    }

    fn logic(&mut self, parts: &[Register], all: bool) -> Result<Known, Unsupported> {
        let mut operands = Vec::with_capacity(parts.len());
        for part in parts {
            operands.push(self.number(*part)?);
        }
        let decided = |operand: &Operand| matches!(operand, Operand::Uniform(x) if (*x != 0.0) != all && !x.is_nan());
        if operands.iter().any(decided) {
            return Ok(Known::Number(Operand::Uniform(f64::from(u8::from(!all)))));
        }
        if operands
            .iter()
            .all(|operand| matches!(operand, Operand::Uniform(_)))
        {
            let none = operands
                .iter()
                .any(|operand| matches!(operand, Operand::Uniform(x) if x.is_nan()));
            let value = if none {
                f64::NAN
            } else {
                f64::from(u8::from(all))
            };
            return Ok(Known::Number(Operand::Uniform(value)));
        }
        let operands = operands.into_boxed_slice();
        let kind = if all {
            LaneKind::All(operands)
        } else {
            LaneKind::Any(operands)
        };
        Ok(Known::Number(self.lane(kind)))
    }

    fn select(
        &mut self,
        when: Register,
        then: Register,
        otherwise: Register,
    ) -> Result<Known, Unsupported> {
        match self.number(when)? {
            Operand::Uniform(x) if x.is_nan() => Ok(Known::Number(NAN)),
            Operand::Uniform(x) => Ok(self.at(if x != 0.0 { then } else { otherwise }).clone()),
            when => {
                let (then, otherwise) = (self.number(then)?, self.number(otherwise)?);
                Ok(Known::Number(
                    self.lane(LaneKind::Select(when, then, otherwise)),
                ))
            }
        }
    }

    fn column(&mut self, items: &[Register]) -> Result<Known, Unsupported> {
        if items
            .iter()
            .any(|item| matches!(self.at(*item), Known::Text(_)))
        {
            let texts = items.iter().map(|item| match self.at(*item) {
                Known::Text(text) => text.clone(),
                _ => "".into(),
            });
            return Ok(Known::Texts(texts.collect()));
        }
        let mut operands = Vec::with_capacity(items.len());
        for item in items {
            operands.push(self.number(*item)?);
        }
        Ok(Known::Numbers(operands))
    }

    fn reduce(
        &mut self,
        reduction: Reduction,
        x: Register,
        skip: bool,
    ) -> Result<Known, Unsupported> {
        let items = match self.at(x).clone() {
            Known::Numbers(items) => items,
            Known::Texts(items) if reduction == Reduction::Count => {
                return Ok(Known::Number(Operand::Uniform(items.len() as f64)));
            }
            _ => return Err(Unsupported::Column),
        };
        let is_gap = |operand: &Operand| matches!(operand, Operand::Uniform(x) if x.is_nan());
        let items: Vec<Operand> = items
            .into_iter()
            .filter(|item| !(skip && is_gap(item)))
            .collect();
        let count = items.len() as f64;
        let mut rest = items.into_iter();
        let Some(first) = rest.next() else {
            return Ok(Known::Number(NAN));
        };
        let made = match reduction {
            Reduction::Count => Operand::Uniform(count),
            Reduction::Sum | Reduction::Mean => {
                let sum = rest.fold(first, |sum, item| {
                    self.two(sum, item, |x, y| x + y, LaneKind::Add)
                });
                match reduction {
                    Reduction::Mean => {
                        self.two(sum, Operand::Uniform(count), |x, y| x / y, LaneKind::Divide)
                    }
                    _ => sum,
                }
            }
            Reduction::Minimum | Reduction::Maximum => {
                let function = if reduction == Reduction::Minimum {
                    Binary::Minimum
                } else {
                    Binary::Maximum
                };
                let id: plan::operation::BinaryId = function.into();
                rest.fold(first, |best, item| {
                    self.two(best, item, id.row().double, |x, y| {
                        LaneKind::Binary(id, x, y)
                    })
                })
            }
        };
        Ok(Known::Number(made))
    }

    /// A row by keys that do not vary.
    fn row(
        &mut self,
        column: Register,
        keys: &[(Register, Register)],
    ) -> Result<Known, Unsupported> {
        let rows = match self.at(column) {
            Known::Numbers(items) => items.len(),
            Known::Texts(items) => items.len(),
            _ => return Err(Unsupported::Table),
        };
        let mut found = None;
        for row in 0..rows {
            let mut fits = true;
            for (head, key) in keys {
                fits &= match (self.at(*head), self.at(*key)) {
                    (Known::Texts(heads), Known::Text(key)) => heads.get(row) == Some(key),
                    (Known::Numbers(heads), Known::Number(Operand::Uniform(key))) => {
                        matches!(heads.get(row), Some(Operand::Uniform(head)) if close(*head, *key))
                    }
                    _ => return Err(Unsupported::Table),
                };
            }
            if fits && found.replace(row).is_some() {
                return Ok(Known::None);
            }
        }
        Ok(match (found, self.at(column)) {
            (Some(row), Known::Numbers(items)) => Known::Number(items[row]),
            (Some(row), Known::Texts(items)) => Known::Text(items[row].clone()),
            _ => Known::None,
        })
    }

    fn uniforms(&self, register: Register) -> Result<Vec<f64>, Unsupported> {
        let Known::Numbers(items) = self.at(register) else {
            return Err(Unsupported::Column);
        };
        items
            .iter()
            .map(|item| match item {
                Operand::Uniform(x) => Ok(*x),
                Operand::Lane(_) => Err(Unsupported::Table),
            })
            .collect()
    }

    fn interpolate(
        &mut self,
        at: Register,
        points: Register,
        values: Register,
    ) -> Result<Known, Unsupported> {
        let (xs, ys) = (self.uniforms(points)?, self.uniforms(values)?);
        let rises = xs.windows(2).all(|pair| pair[0] < pair[1]);
        if xs.len() != ys.len() || !rises {
            return Ok(Known::None);
        }
        let table: Box<[(f64, f64)]> = xs.into_iter().zip(ys).collect();
        let probe = table.clone();
        let uniform = |x: f64| one_point(LaneKind::Interpolate(Operand::Uniform(x), probe.clone()));
        self.each_owned(at, uniform, |x| LaneKind::Interpolate(x, table.clone()))
    }

    fn size(
        &mut self,
        above: bool,
        sizes: Register,
        wanted: Register,
    ) -> Result<Known, Unsupported> {
        let mut sizes = self.uniforms(sizes)?;
        sizes.sort_by(f64::total_cmp);
        let sizes = sizes.into_boxed_slice();
        let probe = sizes.clone();
        let uniform = |x: f64| one_point(LaneKind::Size(above, Operand::Uniform(x), probe.clone()));
        self.each_owned(wanted, uniform, |x| LaneKind::Size(above, x, sizes.clone()))
    }

    fn each_owned(
        &mut self,
        x: Register,
        uniform: impl Fn(f64) -> f64,
        kind: impl Fn(Operand) -> LaneKind,
    ) -> Result<Known, Unsupported> {
        let items = match self.at(x).clone() {
            Known::Numbers(items) => items,
            _ => {
                let x = self.number(x)?;
                return Ok(Known::Number(self.one(x, &uniform, &kind)));
            }
        };
        Ok(Known::Numbers(
            items
                .into_iter()
                .map(|item| self.one(item, &uniform, &kind))
                .collect(),
        ))
    }

    fn root(&mut self, root: &plan::Root) -> Result<Known, Unsupported> {
        let (from, to) = (self.number(root.from)?, self.number(root.to)?);
        let mut inputs = Vec::with_capacity(root.inputs.len());
        for input in &root.inputs {
            inputs.push(self.number(*input)?);
        }
        // Input 0 varies whatever else does; those that do not are written into the sub-program.
        let mut given = vec![Operand::Lane(0)];
        given.extend(inputs.iter().copied());
        let mut inner = Builder {
            cells: self.cells,
            drawn: false,
            program: Program {
                inputs: inputs.len() as u32 + 1,
                ..Program::default()
            },
            known: Vec::new(),
            given: Some(given),
            together: Vec::new(),
        };
        inner.steps(&root.plan)?;
        let result = inner.number(root.plan.result)?;
        inner.program.results.push(result);
        let step = RootStep {
            program: inner.program,
            inputs,
            from,
            to,
        };
        let varies = step
            .inputs
            .iter()
            .chain([&step.from, &step.to])
            .any(|one| matches!(one, Operand::Lane(_)));
        if varies {
            return Ok(Known::Number(self.lane(LaneKind::Root(Box::new(step)))));
        }
        Ok(Known::Number(Operand::Uniform(one_point(LaneKind::Root(
            Box::new(step),
        )))))
    }

    fn uncertain(&mut self, step: &plan::Uncertain) -> Result<Known, Unsupported> {
        if !self.drawn {
            return Ok(self.at(step.value).clone());
        }
        let amount = self.number(step.amount)?;
        match self.at(step.value).clone() {
            Known::Numbers(items) => {
                let mut drawn = Vec::with_capacity(items.len());
                for (element, item) in items.into_iter().enumerate() {
                    drawn.push(self.drawn_value(item, amount, step, element as u32));
                }
                Ok(Known::Numbers(drawn))
            }
            _ => {
                let value = self.number(step.value)?;
                Ok(Known::Number(self.drawn_value(value, amount, step, 0)))
            }
        }
    }

    fn drawn_value(
        &mut self,
        value: Operand,
        amount: Operand,
        step: &plan::Uncertain,
        element: u32,
    ) -> Operand {
        let shape = shape_of(&step.meaning);
        let draw = self.draw(Draw {
            place: step.place,
            element,
            shape,
        });
        let amount = if step.relative {
            let magnitude: plan::operation::UnaryId = crate::check::Unary::Magnitude.into();
            let size = self.one(value, f64::abs, |x| LaneKind::Unary(magnitude, x));
            self.two(amount, size, |x, y| x * y, LaneKind::Multiply)
        } else {
            amount
        };
        let part = self.two(amount, draw, |x, y| x * y, LaneKind::Multiply);
        self.two(value, part, |x, y| x + y, LaneKind::Add)
    }

    /// The mean of readings with its scatter: Student t with n − 1 degrees of freedom, JCGM 101
    /// 6.4.9; readings taken together are drawn together, JCGM 102 5.3.2.
    fn readings(
        &mut self,
        column: Register,
        place: Place,
        rows: Place,
    ) -> Result<Known, Unsupported> {
        let readings = self.uniforms(column)?;
        let count = readings.len() as f64;
        let mean = readings.iter().sum::<f64>() / count;
        if !self.drawn || readings.len() < 2 {
            return Ok(Known::Number(Operand::Uniform(mean)));
        }
        let scatter = if self.together.contains(&rows) {
            self.scatter_together(&readings, mean, rows)
        } else {
            let squares: f64 = readings.iter().map(|x| (x - mean) * (x - mean)).sum();
            let scale = libm::sqrt(squares / (count * (count - 1.0)));
            self.draw(Draw {
                place,
                element: 0,
                shape: DrawShape::Student(count - 1.0, scale),
            })
        };
        let mean = Operand::Uniform(mean);
        Ok(Known::Number(self.two(
            mean,
            scatter,
            |x, y| x + y,
            LaneKind::Add,
        )))
    }

    /// The scatter of one column of readings that others were taken with: each row has a normal
    /// draw, which its reading in every column follows, and all share one chi-square. The columns
    /// are then multivariate t with the covariance of their means and n − 1 degrees of freedom.
    fn scatter_together(&mut self, readings: &[f64], mean: f64, rows: Place) -> Operand {
        let count = readings.len();
        let freedom = (count - 1) as f64;
        let normal = |element: usize| Draw {
            place: rows,
            element: element as u32,
            shape: DrawShape::Normal(1.0),
        };
        let times = |a: Operand, b: Operand, own: &mut Self| {
            own.two(a, b, |x, y| x * y, LaneKind::Multiply)
        };
        let mut sum = Operand::Uniform(0.0);
        for (row, reading) in readings.iter().enumerate() {
            let size = (reading - mean) / libm::sqrt(count as f64 * freedom);
            let draw = self.draw(normal(row));
            let part = times(Operand::Uniform(size), draw, self);
            sum = self.two(sum, part, |x, y| x + y, LaneKind::Add);
        }
        let mut squares = Operand::Uniform(0.0);
        for further in count..2 * count - 1 {
            let draw = self.draw(normal(further));
            let square = times(draw, draw, self);
            squares = self.two(squares, square, |x, y| x + y, LaneKind::Add);
        }
        let ratio = self.two(
            Operand::Uniform(freedom),
            squares,
            |x, y| x / y,
            LaneKind::Divide,
        );
        let root: plan::operation::UnaryId = crate::check::Unary::SquareRoot.into();
        let factor = self.one(ratio, libm::sqrt, |x| LaneKind::Unary(root, x));
        times(sum, factor, self)
    }

    /// The lane of a draw; a source met again has the lane it had.
    fn draw(&mut self, draw: Draw) -> Operand {
        let same = |known: &Draw| known.place == draw.place && known.element == draw.element;
        let index = match self.program.draws.iter().position(same) {
            Some(index) => index,
            None => {
                self.program.draws.push(draw);
                self.program.draws.len() - 1
            }
        };
        let input = self.program.inputs + index as u32;
        self.lane(LaneKind::Input(input))
    }
}

fn shape_of(meaning: &Meaning) -> DrawShape {
    let dof = meaning.dof.map_or(f64::INFINITY, Number::to_f64);
    let scatter = |scale: f64| match dof.is_finite() {
        true => DrawShape::Student(dof, scale),
        false => DrawShape::Normal(scale),
    };
    match &meaning.kind {
        MeaningKind::Limit => DrawShape::Limits,
        MeaningKind::Step => DrawShape::Step,
        MeaningKind::Triangular => DrawShape::Triangular,
        MeaningKind::UShaped => DrawShape::UShaped,
        MeaningKind::Coverage(k) => scatter(1.0 / k.to_f64()),
        MeaningKind::Probability(level) => {
            scatter(1.0 / distribution::coverage_factor(level.to_f64(), dof))
        }
    }
}

/// A step whose operands do not vary.
fn one_point(kind: LaneKind) -> f64 {
    let program = Program {
        steps: vec![LaneStep { kind, out: 0 }],
        lanes: 1,
        results: vec![Operand::Lane(0)],
        ..Program::default()
    };
    program.at(&[], &mut Scratch::default())
}

fn close(a: f64, b: f64) -> bool {
    a == b || (a - b).abs() <= 1e-14 * a.abs().max(b.abs())
}

fn of_constant(constant: &Constant) -> Known {
    match constant {
        Constant::Number(number) => Known::Number(Operand::Uniform(number.to_f64())),
        Constant::Switch(on) => Known::Number(Operand::Uniform(f64::from(u8::from(*on)))),
        Constant::Text(text) => Known::Text(text.clone()),
        Constant::Gap => Known::None,
    }
}

fn of_uniform(uniform: Uniform) -> Known {
    match uniform {
        Uniform::Number(x) => Known::Number(Operand::Uniform(x)),
        Uniform::Text(text) => Known::Text(text),
        Uniform::Numbers(items) => {
            Known::Numbers(items.into_iter().map(Operand::Uniform).collect())
        }
        Uniform::Texts(items) => Known::Texts(items),
        Uniform::None => Known::None,
    }
}

fn double_factor(factor: &Factor) -> f64 {
    Number::ONE.scaled(factor).map_or(f64::NAN, Number::to_f64)
}

fn double_ratio(ratio: &Rational) -> f64 {
    Number::from_rational(ratio).map_or(f64::NAN, Number::to_f64)
}
