//! Sweeps over very many points: one program on lanes, run in blocks on all cores, of which only
//! what is asked for is kept.

use super::Notebook;
use super::world::Around;
use crate::check::{CellId, Reduction};
use crate::exact::{Axis, Stream, Value, World};
use crate::lanes::{self, BLOCK, Program, Scratch, Uniform};
use crate::number::Number;
use crate::numerics::watch;
use crate::plan::{self, Plan, SubPlan};
use std::rc::Rc;
use std::sync::atomic::{AtomicUsize, Ordering};

/// Blocks that are worked out between two looks at whether to go on.
const BLOCKS_A_ROUND: usize = 4096;

/// The columns of a sweep.
struct Swept {
    axes: Vec<Points>,
    program: Program,
    rows: usize,
}

/// The points of an axis in doubles.
enum Points {
    Steps(f64, f64, usize),
    These(Vec<f64>),
}

impl Points {
    fn count(&self) -> usize {
        match self {
            Points::Steps(_, _, count) => *count,
            Points::These(points) => points.len(),
        }
    }

    fn at(&self, index: usize) -> f64 {
        match self {
            Points::Steps(from, by, _) => from + by * index as f64,
            Points::These(points) => points[index],
        }
    }
}

/// What is kept of a block.
#[derive(Clone, Copy)]
struct Part {
    least: f64,
    most: f64,
    sum: f64,
    missing: usize,
}

impl Around<'_> {
    /// The columns of a sweep in blocks; nothing where lanes cannot run it.
    pub(super) fn swept(
        &self,
        axes: &[(CellId, Axis)],
        show: &[&SubPlan],
    ) -> Option<Rc<dyn Stream>> {
        if show.iter().any(|one| !one.inputs.is_empty()) {
            return None;
        }
        let changed: Vec<CellId> = axes.iter().map(|(cell, _)| *cell).collect();
        let plans: Vec<&Plan> = show.iter().map(|one| &one.plan).collect();
        let program = self.program(&changed, &plans, false)?;
        let points: Vec<Points> = axes.iter().map(|(_, axis)| points_of(axis)).collect();
        let rows = points.iter().map(Points::count).product();
        Some(Rc::new(Swept {
            axes: points,
            program,
            rows,
        }))
    }

    /// The program on lanes for values that rest on `changed`; with `drawn`, on their sources too.
    pub(super) fn program(
        &self,
        changed: &[CellId],
        wanted: &[&Plan],
        drawn: bool,
    ) -> Option<Program> {
        let cells: Vec<CellId> = wanted.iter().flat_map(|plan| plan.cells()).collect();
        let cone = if drawn {
            self.uncertain_cone(&cells)
        } else {
            self.cone(changed, &cells).to_vec()
        };
        let plans: Vec<(CellId, Rc<Plan>)> = cone
            .iter()
            .filter_map(|cell| Some((*cell, self.plan(*cell)?)))
            .collect();
        let joined = plan::join(changed, &plans, wanted);
        lanes::build(&joined, &|cell| uniform(&self.value(cell)), drawn).ok()
    }

    /// The cells above these whose value is uncertain, in the order of need.
    fn uncertain_cone(&self, wanted: &[CellId]) -> Vec<CellId> {
        let above = super::world::reach(wanted, |cell| {
            self.cells[cell.0 as usize].uses.iter().copied()
        });
        let mut cone: Vec<CellId> = above
            .into_iter()
            .filter(|cell| is_uncertain(&self.values[cell.0 as usize]))
            .collect();
        cone.sort_by_key(|cell| (self.cells[cell.0 as usize].level, *cell));
        cone
    }
}

fn is_uncertain(value: &Value) -> bool {
    match value {
        Value::Uncertain(_) | Value::Doubtful(_) => true,
        Value::Column(items) => items.iter().any(is_uncertain),
        _ => false,
    }
}

fn points_of(axis: &Axis) -> Points {
    match axis {
        Axis::Steps(from, by, count) => Points::Steps(from.to_f64(), by.to_f64(), *count),
        Axis::Points(points) => {
            let double = |point: &Value| point.number().map_or(f64::NAN, Number::to_f64);
            Points::These(points.iter().map(double).collect())
        }
    }
}

/// A cell's value in doubles.
pub(super) fn uniform(value: &Value) -> Uniform {
    match value {
        Value::Text(text) => Uniform::Text(text.clone()),
        Value::Column(items) if items.iter().any(|item| matches!(item, Value::Text(_))) => {
            Uniform::Texts(
                items
                    .iter()
                    .map(|item| match item {
                        Value::Text(text) => text.clone(),
                        _ => "".into(),
                    })
                    .collect(),
            )
        }
        Value::Column(items) => {
            let double = |item: &Value| item.number().map_or(f64::NAN, Number::to_f64);
            Uniform::Numbers(items.iter().map(double).collect())
        }
        other => match (other.number(), other.holds()) {
            (Some(number), _) => Uniform::Number(number.to_f64()),
            (None, Some(holds)) => Uniform::Number(f64::from(u8::from(holds))),
            (None, None) => Uniform::None,
        },
    }
}

impl Notebook {
    /// The program for trials of a cell: every source it rests on is an input. Nothing where lanes
    /// cannot run it.
    pub fn trial_program(&self, cell: CellId) -> Option<Program> {
        self.world().program(&[], &[&Plan::of_cell(cell)], true)
    }
}

impl Stream for Swept {
    fn rows(&self) -> usize {
        self.rows
    }

    fn reduce(&self, column: usize, reduction: Reduction) -> Value {
        let blocks = self.rows.div_ceil(BLOCK);
        let mut whole = Part {
            least: f64::INFINITY,
            most: f64::NEG_INFINITY,
            sum: 0.0,
            missing: 0,
        };
        let mut done = 0;
        while done < blocks {
            if !watch::goes_on("working the points out", done as f64 / blocks as f64) {
                return Value::failed(crate::exact::Mishap::Stopped, 0);
            }
            let end = (done + BLOCKS_A_ROUND).min(blocks);
            for part in self.round(done..end, column) {
                whole.least = whole.least.min(part.least);
                whole.most = whole.most.max(part.most);
                whole.sum += part.sum;
                whole.missing += part.missing;
            }
            done = end;
        }
        if whole.missing > 0 {
            return Value::failed(crate::exact::Mishap::PointsWithout(whole.missing), 0);
        }
        let value = match reduction {
            Reduction::Minimum => whole.least,
            Reduction::Maximum => whole.most,
            Reduction::Sum => whole.sum,
            Reduction::Mean => whole.sum / self.rows as f64,
            Reduction::Count => self.rows as f64,
        };
        Number::from_f64(value).map_or_else(
            |trouble| Value::failed(crate::exact::Mishap::Number(trouble), 0),
            Value::Number,
        )
    }
}

impl Swept {
    /// The parts of some blocks, in their order whatever the number of cores.
    fn round(&self, blocks: std::ops::Range<usize>, column: usize) -> Vec<Part> {
        let count = blocks.len();
        let next = AtomicUsize::new(0);
        let threads = std::thread::available_parallelism()
            .map_or(1, usize::from)
            .min(count.max(1));
        let worker = || {
            let mut scratch = Scratch::default();
            let mut lanes = Lanes::new(self.axes.len(), self.program.results());
            let mut parts = Vec::new();
            loop {
                let index = next.fetch_add(1, Ordering::Relaxed);
                if index >= count {
                    return parts;
                }
                parts.push((
                    index,
                    self.block(blocks.start + index, column, &mut lanes, &mut scratch),
                ));
            }
        };
        let mut all: Vec<(usize, Part)> = std::thread::scope(|scope| {
            let handles: Vec<_> = (1..threads).map(|_| scope.spawn(worker)).collect();
            let mut all = worker();
            for handle in handles {
                all.extend(handle.join().unwrap_or_default());
            }
            all
        });
        all.sort_by_key(|(index, _)| *index);
        all.into_iter().map(|(_, part)| part).collect()
    }

    fn block(&self, block: usize, column: usize, lanes: &mut Lanes, scratch: &mut Scratch) -> Part {
        let first = block * BLOCK;
        let count = BLOCK.min(self.rows - first);
        let mut apart = 1;
        for (axis, lane) in self.axes.iter().zip(&mut lanes.inputs).rev() {
            lane.clear();
            lane.extend((first..first + count).map(|row| axis.at(row / apart % axis.count())));
            apart *= axis.count();
        }
        let values: &[f64] = if column < self.axes.len() {
            &lanes.inputs[column]
        } else {
            let inputs: Vec<&[f64]> = lanes.inputs.iter().map(Vec::as_slice).collect();
            self.program
                .run(&inputs, count, scratch, &mut lanes.results);
            &lanes.results[column - self.axes.len()]
        };
        let mut part = Part {
            least: f64::INFINITY,
            most: f64::NEG_INFINITY,
            sum: 0.0,
            missing: 0,
        };
        for value in values {
            part.missing += usize::from(value.is_nan());
            part.least = part.least.min(*value);
            part.most = part.most.max(*value);
            part.sum += value;
        }
        part
    }
}

/// Columns that go in and out of a block.
struct Lanes {
    inputs: Vec<Vec<f64>>,
    results: Vec<Vec<f64>>,
}

impl Lanes {
    fn new(inputs: usize, results: usize) -> Lanes {
        Lanes {
            inputs: vec![Vec::new(); inputs],
            results: vec![Vec::new(); results],
        }
    }
}
