//! Roots on lanes: a sub-program narrowed down at each point.

use super::program::{Operand, Program, Scratch};
use crate::numerics::{roots, scan};

/// A root to be found at each point.
#[derive(Clone, Debug)]
pub(super) struct RootStep {
    /// What must become zero; input 0 is the unknown.
    pub(super) program: Program,
    /// What its other inputs are.
    pub(super) inputs: Vec<Operand>,
    /// One end of the range.
    pub(super) from: Operand,
    /// The other end.
    pub(super) to: Operand,
}

impl RootStep {
    /// The root at a point whose values `read` gives; NaN where there is none, or not just one.
    pub(super) fn find(&self, read: impl Fn(Operand) -> f64) -> f64 {
        let mut inputs = vec![0.0];
        inputs.extend(self.inputs.iter().map(|input| read(*input)));
        let mut scratch = Scratch::default();
        let mut function = |x: f64| {
            inputs[0] = x;
            self.program.at(&inputs, &mut scratch)
        };
        let (from, to) = (read(self.from), read(self.to));
        // Ends on both sides of zero: nearly always one root, found without a scan.
        let ends = (function(from), function(to));
        if ends.0.is_finite() && ends.1.is_finite() && (ends.0 > 0.0) != (ends.1 > 0.0) {
            return roots::find_root(&mut function, from, to).map_or(f64::NAN, |root| root.at);
        }
        let scanned = scan::scan_between(&mut function, from, to);
        match scanned.brackets[..] {
            [(low, high)] => {
                roots::find_root(&mut function, low, high).map_or(f64::NAN, |root| root.at)
            }
            _ => f64::NAN,
        }
    }
}
