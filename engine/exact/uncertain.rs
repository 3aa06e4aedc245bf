//! Numbers with their sensitivities to the sources, and what they amount to.

use super::curve::{Course, Curve};
use super::source::{Group, SourceId, Sources};
use crate::number::Number;
use crate::numerics::distribution;
use rustc_hash::FxHashMap;
use smallvec::SmallVec;
use std::rc::Rc;

/// Sensitivities: sorted by source. A zero stays in, since it shows that a source cancels.
pub type Terms = SmallVec<[(SourceId, f64); 4]>;

/// A number with an uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct Uncertain {
    /// The estimate.
    pub value: Number,
    /// The change of the value per change of each source.
    pub terms: Terms,
    /// How these change in turn, while the second order is followed.
    pub curve: Option<Rc<Curve>>,
}

/// What sensitivities amount to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Summary {
    /// Combined standard uncertainty.
    pub standard: f64,
    /// Effective degrees of freedom by Welch–Satterthwaite, not truncated.
    pub dof: f64,
    /// Coverage factor of the 95 % interval; nothing where the sum of limits is shown instead.
    pub coverage: Option<f64>,
    /// Half the interval that is shown.
    pub expanded: f64,
}

impl Uncertain {
    /// A number with these sensitivities, whose curve is not followed.
    pub fn new(value: Number, terms: Terms) -> Uncertain {
        Uncertain {
            value,
            terms,
            curve: None,
        }
    }

    pub(super) fn course(&self) -> Course<'_> {
        Course {
            terms: &self.terms,
            curve: self.curve.as_deref(),
        }
    }

    /// What the sensitivities amount to: the 95 % interval, or the sum of limits where that is
    /// smaller and every source has hard ends.
    pub fn summary(&self, sources: &Sources) -> Summary {
        let standard = libm::sqrt(self.variance(sources));
        let dof = self.degrees_of_freedom(sources, standard);
        let coverage = distribution::coverage_factor(0.95, dof);
        let expanded = coverage * standard;
        match self.sum_of_limits(sources) {
            Some(limits) if limits < expanded => Summary {
                standard,
                dof,
                coverage: None,
                expanded: limits,
            },
            _ => Summary {
                standard,
                dof,
                coverage: Some(coverage),
                expanded,
            },
        }
    }

    /// The square of the combined standard uncertainty.
    pub fn variance(&self, sources: &Sources) -> f64 {
        self.parts(sources).map(|(_, part)| part * part).sum()
    }

    /// Sensitivity times standard uncertainty, source by source.
    fn parts<'s>(&'s self, sources: &'s Sources) -> impl Iterator<Item = (SourceId, f64)> + 's {
        self.terms.iter().map(|(id, slope)| {
            let standard = sources.get(*id).map_or(0.0, |source| source.standard);
            (*id, slope * standard)
        })
    }

    /// The variance that each component brings, in the order of the sources.
    pub fn components(&self, sources: &Sources) -> Vec<(Group, f64, f64)> {
        let mut components: Vec<(Group, f64, f64)> = Vec::new();
        let mut places: FxHashMap<Group, usize> = FxHashMap::default();
        for (id, part) in self.parts(sources) {
            let Some(source) = sources.get(id) else {
                continue;
            };
            let place = *places.entry(source.group).or_insert_with(|| {
                components.push((source.group, 0.0, source.dof));
                components.len() - 1
            });
            components[place].1 += part * part;
        }
        components
    }

    fn degrees_of_freedom(&self, sources: &Sources, standard: f64) -> f64 {
        if standard == 0.0 {
            return f64::INFINITY;
        }
        let sum: f64 = self
            .components(sources)
            .iter()
            .filter(|(.., dof)| dof.is_finite())
            .map(|(_, variance, dof)| variance * variance / dof)
            .sum();
        if sum == 0.0 {
            f64::INFINITY
        } else {
            libm::pow(standard, 4.0) / sum
        }
    }

    /// The half-width that no combination of sources can leave, if all have hard ends.
    fn sum_of_limits(&self, sources: &Sources) -> Option<f64> {
        let mut sum = 0.0;
        for (id, slope) in &self.terms {
            sum += slope.abs() * sources.get(*id)?.half_width()?;
        }
        Some(sum)
    }
}

/// `a` times the first and `b` times the second.
pub fn combined(first: &[(SourceId, f64)], a: f64, second: &[(SourceId, f64)], b: f64) -> Terms {
    let mut terms = Terms::with_capacity(first.len() + second.len());
    let (mut left, mut right) = (first.iter().peekable(), second.iter().peekable());
    loop {
        let order = match (left.peek(), right.peek()) {
            (Some(x), Some(y)) => x.0.cmp(&y.0),
            (Some(_), None) => std::cmp::Ordering::Less,
            (None, Some(_)) => std::cmp::Ordering::Greater,
            (None, None) => return terms,
        };
        let term = match order {
            std::cmp::Ordering::Less => left.next().map(|x| (x.0, a * x.1)),
            std::cmp::Ordering::Greater => right.next().map(|y| (y.0, b * y.1)),
            std::cmp::Ordering::Equal => left
                .next()
                .zip(right.next())
                .map(|(x, y)| (x.0, a * x.1 + b * y.1)),
        };
        terms.extend(term);
    }
}

/// The sum of many, each times its factor: one sort instead of a merge for each.
pub fn gathered(parts: &[(&[(SourceId, f64)], f64)]) -> Terms {
    let mut all: Vec<(SourceId, f64)> = parts
        .iter()
        .flat_map(|(terms, by)| terms.iter().map(move |(id, slope)| (*id, slope * by)))
        .collect();
    all.sort_by_key(|(id, _)| *id);
    let mut terms = Terms::with_capacity(all.len());
    for (id, slope) in all {
        match terms.last_mut() {
            Some((last, sum)) if *last == id => *sum += slope,
            _ => terms.push((id, slope)),
        }
    }
    terms
}
