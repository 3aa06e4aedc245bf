//! Trials: each source is drawn, the cone run, and the interval read off the results (JCGM 101).
//! Blocks of draws have streams of their own, so that the same seed gives the same digits on any
//! number of cores; trials end when the interval has settled (JCGM 101 7.9).

use crate::check::{CellId, Type};
use crate::exact::Value;
use crate::lanes::{BLOCK, Program, Scratch, Trials};
use crate::notebook::{Notebook, Shown};
use crate::number::Number;
use crate::numerics::watch;
use std::sync::atomic::{AtomicU64, Ordering};

/// The seed of trials that nobody chose one for.
pub const SEED: u64 = 7;

/// What trials gave, in the unit that is shown.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// The cell.
    pub cell: CellId,
    /// The cell as it is shown, to first order.
    pub shown: Shown,
    /// The unit, of the value and of its ends.
    pub unit: String,
    /// The lower end of the 95 % interval.
    pub low: f64,
    /// The upper end.
    pub high: f64,
    /// Half the trials lie below.
    pub median: f64,
    /// The mean; nothing where trials without a bound leave none.
    pub mean: Option<f64>,
    /// The standard deviation; likewise.
    pub deviation: Option<f64>,
    /// How many trials were made.
    pub trials: u64,
    /// How many of them have no value.
    pub missing: u64,
    /// How many lie beyond all bounds, upwards and downwards.
    pub unbounded: (u64, u64),
    /// The seed.
    pub seed: u64,
    /// Equal steps over the middle of the results, with the shares in them; what lies outside
    /// stands in the first and last.
    pub bins: Vec<Bin>,
    /// The interval that first order gives.
    pub first_order: (f64, f64),
    /// How far apart its ends may lie for it to agree: half a unit of the last of two digits of
    /// the standard uncertainty (JCGM 101 8.1.3).
    pub allowed: f64,
    /// Whether the interval had settled when the trials ended.
    pub settled: bool,
}

/// A run of results.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bin {
    /// Its lower end; nothing for the first.
    pub from: Option<f64>,
    /// Its upper end; nothing for the last.
    pub to: Option<f64>,
    /// The share of the trials in it.
    pub share: f64,
}

/// Why there are no trials.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpreadTrouble {
    /// The cell has no value.
    NoValue,
    /// It has no ±.
    Exact,
    /// It is no single number.
    NoNumber,
    /// It rests on something that cannot be drawn: a scenario, or a question about ±.
    Unsupported,
    /// No trial had a value.
    NoTrial,
    /// It was stopped.
    Stopped,
}

/// Trials between two looks at whether the interval has settled.
const ROUND: u64 = 10 * BLOCK as u64;

/// The most trials.
pub const MOST_TRIALS: u64 = 1_000_000;

/// How many steps the middle of the results is shown in.
const STEPS: usize = 6;

/// Makes trials of a cell.
///
/// # Errors
/// See [`SpreadTrouble`].
pub fn spread(notebook: &Notebook, cell: CellId, seed: u64) -> Result<Spread, SpreadTrouble> {
    let uncertain = match notebook.value(cell) {
        Value::Uncertain(uncertain) => uncertain.clone(),
        Value::Number(_) => return Err(SpreadTrouble::Exact),
        Value::Failed(_) | Value::Gap => return Err(SpreadTrouble::NoValue),
        _ => return Err(SpreadTrouble::NoNumber),
    };
    let program = notebook
        .trial_program(cell)
        .ok_or(SpreadTrouble::Unsupported)?;
    let trials = Trials::new(seed, program.draws());
    let summary = uncertain.summary(notebook.sources());
    let ty = notebook.cell(cell).ty.clone();
    let quantity = ty.as_deref().and_then(Type::as_quantity);
    let quantity = quantity.ok_or(SpreadTrouble::NoNumber)?;
    let (_, factor) = notebook.display_unit(quantity);
    let by = Number::ONE.scaled(&factor).map_or(1.0, Number::to_f64);
    let shown = notebook.shown(cell, None);
    let center = uncertain.value.to_f64() * by;
    let expanded = summary.expanded * by.abs();
    // Where the value turns round, first order sees no doubt that digits could be counted by.
    let second = notebook.second_order(cell, None);
    let standard = second.map_or(summary.standard, |order| order.standard);
    let tolerance = tolerance(standard * by.abs());
    let mut results: Vec<f64> = Vec::new();
    let mut rounds: Vec<[f64; 4]> = Vec::new();
    let mut made = 0;
    let mut settled = false;
    while made < MOST_TRIALS && !settled {
        if !watch::goes_on("trying", made as f64 / MOST_TRIALS as f64) {
            if results.is_empty() {
                return Err(SpreadTrouble::Stopped);
            }
            // What there is stands; it has not settled.
            break;
        }
        let first = made / BLOCK as u64;
        let mut round = run_blocks(&program, &trials, first, ROUND / BLOCK as u64);
        round.iter_mut().for_each(|value| *value *= by);
        made += ROUND;
        rounds.push(estimates(&mut round));
        results.extend(round);
        settled = rounds.len() >= 10 && has_settled(&rounds, tolerance);
    }
    let missing = results.iter().filter(|value| value.is_nan()).count() as u64;
    results.retain(|value| !value.is_nan());
    if results.is_empty() {
        return Err(SpreadTrouble::NoTrial);
    }
    let above = results
        .iter()
        .filter(|value| **value == f64::INFINITY)
        .count() as u64;
    let below = results
        .iter()
        .filter(|value| **value == f64::NEG_INFINITY)
        .count() as u64;
    let [low, median, high] = [0.025, 0.5, 0.975].map(|share| quantile(&mut results, share));
    let bounded = above + below == 0;
    let (mean, deviation) = moments(&results);
    Ok(Spread {
        cell,
        unit: shown.unit.clone(),
        shown,
        low,
        high,
        median,
        mean: bounded.then_some(mean),
        deviation: bounded.then_some(deviation),
        trials: made,
        missing,
        unbounded: (above, below),
        seed,
        bins: bins(&results, low, high),
        first_order: (center - expanded, center + expanded),
        allowed: tolerance,
        settled,
    })
}

/// Runs blocks of trials on all cores; the results come in the order of the blocks.
fn run_blocks(program: &Program, trials: &Trials, first: u64, count: u64) -> Vec<f64> {
    let next = AtomicU64::new(0);
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let worker = || {
        let mut scratch = Scratch::default();
        let (mut inputs, mut outputs) = (Vec::new(), vec![Vec::new(); program.results()]);
        let mut blocks = Vec::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            if index >= count {
                return blocks;
            }
            trials.block(first + index, BLOCK, &mut inputs);
            let lanes: Vec<&[f64]> = inputs.iter().map(Vec::as_slice).collect();
            program.run(&lanes, BLOCK, &mut scratch, &mut outputs);
            blocks.push((index, outputs[0].clone()));
        }
    };
    let mut blocks: Vec<(u64, Vec<f64>)> = std::thread::scope(|scope| {
        let handles: Vec<_> = (1..threads).map(|_| scope.spawn(worker)).collect();
        let mut blocks = worker();
        for handle in handles {
            blocks.extend(handle.join().unwrap_or_default());
        }
        blocks
    });
    blocks.sort_by_key(|(index, _)| *index);
    blocks.into_iter().flat_map(|(_, block)| block).collect()
}

/// Mean, standard deviation and both ends of one round.
fn estimates(round: &mut [f64]) -> [f64; 4] {
    let mut valued: Vec<f64> = round
        .iter()
        .copied()
        .filter(|value| !value.is_nan())
        .collect();
    if valued.is_empty() {
        return [f64::NAN; 4];
    }
    let (mean, deviation) = moments(&valued);
    [
        mean,
        deviation,
        quantile(&mut valued, 0.025),
        quantile(&mut valued, 0.975),
    ]
}

/// Whether twice the standard deviation of the mean of each estimate lies within the tolerance.
/// Mean and deviation are left out where trials have no bound.
fn has_settled(rounds: &[[f64; 4]], tolerance: f64) -> bool {
    let count = rounds.len() as f64;
    (0..4).all(|estimate| {
        let values: Vec<f64> = rounds.iter().map(|round| round[estimate]).collect();
        if values.iter().any(|value| !value.is_finite()) {
            return estimate < 2;
        }
        let (_, deviation) = moments(&values);
        2.0 * deviation / libm::sqrt(count) <= tolerance
    })
}

/// Half a unit of the last of two significant digits (JCGM 101 7.9.2); none where nothing is in
/// doubt.
fn tolerance(standard: f64) -> f64 {
    if !(standard > 0.0 && standard.is_finite()) {
        return 0.0;
    }
    let exponent = libm::floor(libm::log10(standard)) as i32;
    0.5 * libm::exp10(f64::from(exponent - 1))
}

fn moments(values: &[f64]) -> (f64, f64) {
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let squares: f64 = values
        .iter()
        .map(|value| (value - mean) * (value - mean))
        .sum();
    (mean, libm::sqrt(squares / (count - 1.0).max(1.0)))
}

/// The value below which a share of the results lies (JCGM 101 7.7).
fn quantile(values: &mut [f64], share: f64) -> f64 {
    let place = ((values.len() as f64 * share) as usize).min(values.len() - 1);
    *values.select_nth_unstable_by(place, f64::total_cmp).1
}

/// Steps of a round size over the interval, with what lies outside at both ends.
fn bins(values: &[f64], low: f64, high: f64) -> Vec<Bin> {
    let width = round_step((high - low) / STEPS as f64);
    if !(width.is_finite() && width > 0.0) {
        return vec![Bin {
            from: None,
            to: None,
            share: 1.0,
        }];
    }
    let first = libm::floor(low / width) as i64;
    let last = (libm::ceil(high / width) as i64).max(first + 1);
    let mut counts = vec![0u64; (last - first) as usize + 2];
    for value in values {
        let step = libm::floor(value / width) as i64;
        let index = step
            .saturating_sub(first - 1)
            .clamp(0, counts.len() as i64 - 1);
        counts[index as usize] += 1;
    }
    let end = counts.len() - 1;
    let edge = |index: usize| (first + index as i64 - 1) as f64 * width;
    counts
        .iter()
        .enumerate()
        .map(|(index, count)| Bin {
            from: (index > 0).then(|| edge(index)),
            to: (index < end).then(|| edge(index + 1)),
            share: *count as f64 / values.len() as f64,
        })
        .collect()
}

/// The next of 1, 2, 5 times a power of ten.
fn round_step(width: f64) -> f64 {
    let power = libm::exp10(libm::floor(libm::log10(width)));
    let part = width / power;
    let step = if part <= 1.0 {
        1.0
    } else if part <= 2.0 {
        2.0
    } else if part <= 5.0 {
        5.0
    } else {
        10.0
    };
    step * power
}
