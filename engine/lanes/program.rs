//! A program on lanes, and its run over one block of points.

use super::root::RootStep;
use crate::plan::operation::{BinaryId, UnaryId};
use crate::syntax::Comparison;

/// How many points are worked out together: what a core keeps close at hand.
pub const BLOCK: usize = 1024;

/// A value read by a step.
#[derive(Clone, Copy, Debug)]
pub(super) enum Operand {
    /// The same at every point.
    Uniform(f64),
    /// The lane with this number.
    Lane(u32),
}

/// One step: what it does, and the lane it fills.
#[derive(Clone, Debug)]
pub(super) struct LaneStep {
    pub(super) kind: LaneKind,
    pub(super) out: u32,
}

/// What a step does. Conditions are 1 and 0; what has no value is NaN.
#[derive(Clone, Debug)]
pub(super) enum LaneKind {
    Input(u32),
    Unary(UnaryId, Operand),
    Add(Operand, Operand),
    Subtract(Operand, Operand),
    Multiply(Operand, Operand),
    Divide(Operand, Operand),
    Binary(BinaryId, Operand, Operand),
    WholePower(Operand, i32),
    /// Factor and offset.
    Line(Operand, f64, f64),
    Compare(Comparison, Operand, Operand),
    Not(Operand),
    All(Box<[Operand]>),
    Any(Box<[Operand]>),
    Select(Operand, Operand, Operand),
    Interpolate(Operand, Box<[(f64, f64)]>),
    /// Sizes in rising order; the next above (`true`) or below.
    Size(bool, Operand, Box<[f64]>),
    Root(Box<RootStep>),
}

/// A program on lanes.
#[derive(Clone, Debug, Default)]
pub struct Program {
    pub(super) steps: Vec<LaneStep>,
    pub(super) lanes: u32,
    pub(super) results: Vec<Operand>,
    /// How many inputs stand before the draws.
    pub(super) inputs: u32,
    /// The sources whose draws come in behind the inputs.
    pub(super) draws: Vec<super::Draw>,
}

/// The lanes of one thread.
#[derive(Debug, Default)]
pub struct Scratch {
    lanes: Vec<Vec<f64>>,
}

impl Program {
    /// How many inputs it takes, draws included.
    pub fn inputs(&self) -> usize {
        self.inputs as usize + self.draws.len()
    }

    /// The sources that are drawn, in the order of their inputs.
    pub fn draws(&self) -> &[super::Draw] {
        &self.draws
    }

    /// How many results it gives.
    pub fn results(&self) -> usize {
        self.results.len()
    }

    /// Runs `count` points, at most a block: `inputs` has one slice an input, `results` gets one
    /// column a result.
    pub fn run(
        &self,
        inputs: &[&[f64]],
        count: usize,
        scratch: &mut Scratch,
        results: &mut [Vec<f64>],
    ) {
        scratch.lanes.resize(self.lanes as usize, Vec::new());
        for step in &self.steps {
            let mut out = std::mem::take(&mut scratch.lanes[step.out as usize]);
            out.resize(count, 0.0);
            step.kind
                .fill(&mut out[..count], inputs, &scratch.lanes, count);
            scratch.lanes[step.out as usize] = out;
        }
        for (result, column) in self.results.iter().zip(results) {
            column.clear();
            match result {
                Operand::Uniform(value) => column.resize(count, *value),
                Operand::Lane(lane) => {
                    column.extend_from_slice(&scratch.lanes[*lane as usize][..count])
                }
            }
        }
    }

    /// The first result at one point.
    pub fn at(&self, inputs: &[f64], scratch: &mut Scratch) -> f64 {
        scratch.lanes.resize(self.lanes as usize, Vec::new());
        for step in &self.steps {
            let value = step.kind.at(inputs, &scratch.lanes);
            let lane = &mut scratch.lanes[step.out as usize];
            lane.resize(1.max(lane.len()), 0.0);
            lane[0] = value;
        }
        match self.results.first() {
            Some(Operand::Uniform(value)) => *value,
            Some(Operand::Lane(lane)) => scratch.lanes[*lane as usize][0],
            None => f64::NAN,
        }
    }
}

impl Operand {
    fn at(self, lanes: &[Vec<f64>], point: usize) -> f64 {
        match self {
            Operand::Uniform(value) => value,
            Operand::Lane(lane) => lanes[lane as usize][point],
        }
    }
}

fn each(out: &mut [f64], x: Operand, lanes: &[Vec<f64>], function: impl Fn(f64) -> f64) {
    match x {
        Operand::Uniform(value) => out.fill(function(value)),
        Operand::Lane(lane) => {
            for (out, x) in out.iter_mut().zip(&lanes[lane as usize]) {
                *out = function(*x);
            }
        }
    }
}

fn pairs(
    out: &mut [f64],
    x: Operand,
    y: Operand,
    lanes: &[Vec<f64>],
    function: impl Fn(f64, f64) -> f64,
) {
    match (x, y) {
        (Operand::Lane(x), Operand::Lane(y)) => {
            for ((out, x), y) in out
                .iter_mut()
                .zip(&lanes[x as usize])
                .zip(&lanes[y as usize])
            {
                *out = function(*x, *y);
            }
        }
        (Operand::Uniform(x), y) => each(out, y, lanes, |y| function(x, y)),
        (x, Operand::Uniform(y)) => each(out, x, lanes, |x| function(x, y)),
    }
}

fn holds(sign: Comparison, x: f64, y: f64) -> f64 {
    if x.is_nan() || y.is_nan() {
        return f64::NAN;
    }
    let holds = match sign {
        Comparison::Less => x < y,
        Comparison::LessOrEqual => x <= y,
        Comparison::Greater => x > y,
        Comparison::GreaterOrEqual => x >= y,
        Comparison::Equal => x == y,
        Comparison::Unequal => x != y,
    };
    f64::from(u8::from(holds))
}

fn choose(when: f64, then: f64, otherwise: f64) -> f64 {
    if when.is_nan() {
        f64::NAN
    } else if when != 0.0 {
        then
    } else {
        otherwise
    }
}

/// All or any of some conditions; without a value where one that decides has none.
fn combined(parts: impl Iterator<Item = f64>, all: bool) -> f64 {
    let mut made = f64::from(u8::from(all));
    for part in parts {
        if part.is_nan() {
            return f64::NAN;
        }
        made = if all { made.min(part) } else { made.max(part) };
    }
    made
}

/// Straight lines between rising points; nothing outside.
fn interpolated(x: f64, points: &[(f64, f64)]) -> f64 {
    let above = points.partition_point(|(at, _)| *at < x);
    match points.get(above) {
        Some((at, value)) if *at == x => *value,
        Some((right, upper)) if above > 0 => {
            let (left, lower) = points[above - 1];
            lower + (upper - lower) * ((x - left) / (right - left))
        }
        _ => f64::NAN,
    }
}

fn listed(above: bool, wanted: f64, sizes: &[f64]) -> f64 {
    if wanted.is_nan() {
        return f64::NAN;
    }
    let found = if above {
        sizes.iter().find(|size| **size >= wanted)
    } else {
        sizes.iter().rfind(|size| **size <= wanted)
    };
    found.copied().unwrap_or(f64::NAN)
}

/// A whole power by squaring: the same digits on every platform.
pub(super) fn whole_power(x: f64, exponent: i32) -> f64 {
    let mut power = 1.0;
    let mut square = x;
    let mut left = exponent.unsigned_abs();
    while left > 0 {
        if left & 1 == 1 {
            power *= square;
        }
        square *= square;
        left >>= 1;
    }
    if exponent < 0 { 1.0 / power } else { power }
}

impl LaneKind {
    fn fill(&self, out: &mut [f64], inputs: &[&[f64]], lanes: &[Vec<f64>], count: usize) {
        match self {
            LaneKind::Input(index) => out.copy_from_slice(&inputs[*index as usize][..count]),
            LaneKind::Unary(function, x) => each(out, *x, lanes, function.row().double),
            LaneKind::Add(x, y) => pairs(out, *x, *y, lanes, |x, y| x + y),
            LaneKind::Subtract(x, y) => pairs(out, *x, *y, lanes, |x, y| x - y),
            LaneKind::Multiply(x, y) => pairs(out, *x, *y, lanes, |x, y| x * y),
            LaneKind::Divide(x, y) => pairs(out, *x, *y, lanes, |x, y| x / y),
            LaneKind::Binary(function, x, y) => pairs(out, *x, *y, lanes, function.row().double),
            LaneKind::WholePower(x, 2) => each(out, *x, lanes, |x| x * x),
            LaneKind::WholePower(x, exponent) => {
                each(out, *x, lanes, |x| whole_power(x, *exponent))
            }
            LaneKind::Line(x, factor, offset) => each(out, *x, lanes, |x| x * factor + offset),
            LaneKind::Compare(sign, x, y) => pairs(out, *x, *y, lanes, |x, y| holds(*sign, x, y)),
            LaneKind::Not(x) => each(out, *x, lanes, |x| 1.0 - x),
            LaneKind::Select(when, then, otherwise) => {
                for (point, out) in out.iter_mut().enumerate() {
                    let at = |operand: &Operand| operand.at(lanes, point);
                    *out = choose(at(when), at(then), at(otherwise));
                }
            }
            LaneKind::Interpolate(x, points) => each(out, *x, lanes, |x| interpolated(x, points)),
            LaneKind::Size(above, wanted, sizes) => {
                each(out, *wanted, lanes, |x| listed(*above, x, sizes))
            }
            LaneKind::All(_) | LaneKind::Any(_) | LaneKind::Root(_) => {
                for (point, out) in out.iter_mut().enumerate() {
                    *out = self.point(lanes, point);
                }
            }
        }
    }

    /// The steps that are worked out point by point.
    fn point(&self, lanes: &[Vec<f64>], point: usize) -> f64 {
        match self {
            LaneKind::All(parts) => combined(parts.iter().map(|part| part.at(lanes, point)), true),
            LaneKind::Any(parts) => combined(parts.iter().map(|part| part.at(lanes, point)), false),
            LaneKind::Root(root) => root.find(|operand| operand.at(lanes, point)),
            _ => f64::NAN,
        }
    }

    /// The same at one point.
    fn at(&self, inputs: &[f64], lanes: &[Vec<f64>]) -> f64 {
        let at = |operand: &Operand| operand.at(lanes, 0);
        match self {
            LaneKind::Input(index) => inputs.get(*index as usize).copied().unwrap_or(f64::NAN),
            LaneKind::Unary(function, x) => (function.row().double)(at(x)),
            LaneKind::Add(x, y) => at(x) + at(y),
            LaneKind::Subtract(x, y) => at(x) - at(y),
            LaneKind::Multiply(x, y) => at(x) * at(y),
            LaneKind::Divide(x, y) => at(x) / at(y),
            LaneKind::Binary(function, x, y) => (function.row().double)(at(x), at(y)),
            LaneKind::WholePower(x, exponent) => whole_power(at(x), *exponent),
            LaneKind::Line(x, factor, offset) => at(x) * factor + offset,
            LaneKind::Compare(sign, x, y) => holds(*sign, at(x), at(y)),
            LaneKind::Not(x) => 1.0 - at(x),
            LaneKind::Select(when, then, otherwise) => choose(at(when), at(then), at(otherwise)),
            LaneKind::Interpolate(x, points) => interpolated(at(x), points),
            LaneKind::Size(above, wanted, sizes) => listed(*above, at(wanted), sizes),
            LaneKind::All(_) | LaneKind::Any(_) | LaneKind::Root(_) => self.point(lanes, 0),
        }
    }
}
