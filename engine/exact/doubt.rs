//! Conditions between uncertain values: how likely they hold.

use super::source::Sources;
use super::uncertain::Uncertain;
use crate::numerics::distribution;

/// A condition decided on the value, with the range its probability lies in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Doubt {
    /// Whether it holds at the estimates.
    pub holds: bool,
    /// The least probability that it holds.
    pub low: f64,
    /// The greatest.
    pub high: f64,
    /// Whether a value lies within three standard uncertainties of its threshold.
    pub near: bool,
}

impl Doubt {
    /// A condition without doubt.
    pub fn certain(holds: bool) -> Doubt {
        let chance = if holds { 1.0 } else { 0.0 };
        Doubt {
            holds,
            low: chance,
            high: chance,
            near: false,
        }
    }

    /// Whether `margin`, which is left minus right, is below zero (or above, for `greater`).
    pub fn of_margin(margin: &Uncertain, holds: bool, greater: bool, sources: &Sources) -> Doubt {
        let summary = margin.summary(sources);
        let value = margin.value.to_f64();
        if summary.standard == 0.0 {
            return Doubt::certain(holds);
        }
        let score = if greater { value } else { -value } / summary.standard;
        let chance = distribution::student_cdf(score, summary.dof);
        Doubt {
            holds,
            low: chance,
            high: chance,
            near: score.abs() <= 3.0,
        }
    }

    /// Whether both hold: the worst part at best, the sum of failures at worst.
    #[must_use]
    pub fn and(self, other: Doubt) -> Doubt {
        Doubt {
            holds: self.holds && other.holds,
            low: (self.low + other.low - 1.0).max(0.0),
            high: self.high.min(other.high),
            near: self.near || other.near,
        }
    }

    /// Whether one holds: the best part at worst, the sum at best.
    #[must_use]
    pub fn or(self, other: Doubt) -> Doubt {
        Doubt {
            holds: self.holds || other.holds,
            low: self.low.max(other.low),
            high: (self.high + other.high).min(1.0),
            near: self.near || other.near,
        }
    }

    /// Whether it does not hold.
    #[must_use]
    pub fn reversed(self) -> Doubt {
        Doubt {
            holds: !self.holds,
            low: 1.0 - self.high,
            high: 1.0 - self.low,
            near: self.near,
        }
    }
}
