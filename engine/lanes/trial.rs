//! Draws from the sources of uncertainty, one uniform number each, so that streams stay countable:
//! the same digits on any number of threads.

use crate::check::Place;
use crate::numerics::distribution;
use rand_xoshiro::Xoshiro256PlusPlus;
use rand_xoshiro::rand_core::{Rng, SeedableRng};

/// A source that is drawn: what comes in as an input is the draw in units of the amount typed.
#[derive(Clone, Debug, PartialEq)]
pub struct Draw {
    /// Where it was typed, and which element of a column.
    pub place: Place,
    /// Which element of a column, from 0.
    pub element: u32,
    /// How it spreads.
    pub shape: DrawShape,
}

/// How a draw spreads, for an amount of one.
#[derive(Clone, Debug, PartialEq)]
pub enum DrawShape {
    /// Alike between −1 and 1.
    Limits,
    /// Alike between −1/2 and 1/2.
    Step,
    /// Between −1 and 1, the middle likelier.
    Triangular,
    /// Between −1 and 1, the ends likelier.
    UShaped,
    /// Normal with this standard deviation.
    Normal(f64),
    /// Student t with so many degrees of freedom, times a scale.
    Student(f64, f64),
}

/// The streams of uniform numbers for a run of trials.
#[derive(Clone, Debug)]
pub struct Trials {
    seed: u64,
    draws: Vec<Prepared>,
}

/// A draw made ready: Student's quantile is read from a table over the normal one.
#[derive(Clone, Debug)]
enum Prepared {
    Limits(f64),
    Triangular,
    UShaped,
    Normal(f64),
    Student(f64, Vec<f64>),
}

/// Ends and step of the table of Student's quantile over the normal one.
const REACH: f64 = 8.0;
const STEPS: usize = 2048;

impl Trials {
    /// Streams for these draws.
    pub fn new(seed: u64, draws: &[Draw]) -> Trials {
        let prepare = |draw: &Draw| match draw.shape {
            DrawShape::Limits => Prepared::Limits(1.0),
            DrawShape::Step => Prepared::Limits(0.5),
            DrawShape::Triangular => Prepared::Triangular,
            DrawShape::UShaped => Prepared::UShaped,
            DrawShape::Normal(scale) => Prepared::Normal(scale),
            DrawShape::Student(freedom, scale) => Prepared::Student(scale, student_table(freedom)),
        };
        Trials {
            seed,
            draws: draws.iter().map(prepare).collect(),
        }
    }

    /// The draws of block number `block`: a column of `count` a draw.
    pub fn block(&self, block: u64, count: usize, columns: &mut Vec<Vec<f64>>) {
        // Each block has a stream of its own, so that blocks can be worked out in any order.
        let mut random = Xoshiro256PlusPlus::seed_from_u64(
            self.seed ^ block.wrapping_mul(0x9e37_79b9_7f4a_7c15),
        );
        columns.resize(self.draws.len(), Vec::new());
        for (draw, column) in self.draws.iter().zip(columns) {
            column.clear();
            column.extend((0..count).map(|_| draw.value(uniform(&mut random))));
        }
    }
}

/// A uniform number strictly between 0 and 1.
fn uniform(random: &mut Xoshiro256PlusPlus) -> f64 {
    ((random.next_u64() >> 11) as f64 + 0.5) * (1.0 / (1u64 << 53) as f64)
}

fn student_table(freedom: f64) -> Vec<f64> {
    (0..=STEPS)
        .map(|step| {
            let z = -REACH + 2.0 * REACH * (step as f64) / (STEPS as f64);
            distribution::student_quantile(distribution::normal_cdf(z), freedom)
        })
        .collect()
}

impl Prepared {
    fn value(&self, u: f64) -> f64 {
        match self {
            Prepared::Limits(half) => half * (2.0 * u - 1.0),
            Prepared::Triangular if u < 0.5 => libm::sqrt(2.0 * u) - 1.0,
            Prepared::Triangular => 1.0 - libm::sqrt(2.0 * (1.0 - u)),
            Prepared::UShaped => libm::sin(std::f64::consts::PI * (u - 0.5)),
            Prepared::Normal(scale) => scale * distribution::normal_quantile(u),
            Prepared::Student(scale, table) => {
                let z = distribution::normal_quantile(u).clamp(-REACH, REACH);
                let at = (z + REACH) / (2.0 * REACH) * (STEPS as f64);
                let low = (at as usize).min(STEPS - 1);
                let part = at - low as f64;
                scale * (table[low] + (table[low + 1] - table[low]) * part)
            }
        }
    }
}
