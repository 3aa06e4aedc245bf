//! What first order leaves out: the next term of the variance and of the value itself.

use super::source::{Source, SourceId, Sources};
use super::uncertain::Uncertain;

/// A source counts as turning a value round only if it bends it by this part of its standard
/// uncertainty.
const WORTH_NAMING: f64 = 0.1;

/// The second order of a number's uncertainty.
#[derive(Clone, Debug, PartialEq)]
pub struct SecondOrder {
    /// Combined standard uncertainty to first order.
    pub first: f64,
    /// Combined standard uncertainty with the second order.
    pub standard: f64,
    /// How far the mean of all that is possible lies from the value.
    pub shift: f64,
    /// Sources within three standard uncertainties of a place where the value turns round.
    pub turning: Vec<SourceId>,
    /// The sources in whose plane the value bends most.
    pub most: Option<(SourceId, SourceId)>,
}

impl SecondOrder {
    /// The part by which the second order moves the standard uncertainty; infinite where first
    /// order sees none at all.
    pub fn change(&self) -> f64 {
        if self.standard == self.first {
            return 0.0;
        }
        self.standard / self.first - 1.0
    }
}

impl Uncertain {
    /// The second order, if the number's curve was followed.
    ///
    /// JCGM 100:2008, 5.1.2 note and H.1.7, with each source's own fourth moment: the note itself
    /// holds for normal sources only.
    pub fn second_order(&self, sources: &Sources) -> Option<SecondOrder> {
        let curve = self.curve.as_deref().filter(|curve| !curve.is_lost())?;
        let first_variance = self.variance(sources);
        let (mut variance, mut shift) = (first_variance, 0.0);
        let mut most: (f64, Option<(SourceId, SourceId)>) = (0.0, None);
        let mut turns: Vec<(SourceId, f64)> = Vec::new();
        for pair in curve.pairs() {
            let (Some(one), Some(other)) = (sources.get(pair.first), sources.get(pair.second))
            else {
                continue;
            };
            let (slope, other_slope) = (self.slope(pair.first), self.slope(pair.second));
            let part = if pair.first == pair.second {
                let bend = pair.both * one.standard * one.standard;
                shift += 0.5 * bend;
                if (slope * one.standard).abs() < 3.0 * bend.abs() {
                    turns.push((pair.first, bend.abs()));
                }
                alone(one, pair.both, slope * pair.first_twice)
            } else {
                let square = |source: &Source| source.standard * source.standard;
                (pair.both * pair.both + slope * pair.second_twice + other_slope * pair.first_twice)
                    * square(one)
                    * square(other)
            };
            variance += part;
            if part.abs() > most.0 {
                most = (part.abs(), Some((pair.first, pair.second)));
            }
        }
        let (first, standard) = (libm::sqrt(first_variance), libm::sqrt(variance.max(0.0)));
        let worth = WORTH_NAMING * first.max(standard);
        turns.retain(|(_, bend)| *bend > worth);
        Some(SecondOrder {
            first,
            standard,
            shift,
            turning: turns.into_iter().map(|(id, _)| id).collect(),
            most: most.1,
        })
    }

    fn slope(&self, source: SourceId) -> f64 {
        self.terms
            .binary_search_by_key(&source, |(id, _)| *id)
            .map_or(0.0, |index| self.terms[index].1)
    }
}

/// What one source adds by itself: `f″² (K − 1) u⁴ / 4 + f′ f‴ K u⁴ / 3`.
fn alone(source: &Source, second: f64, slope_by_third: f64) -> f64 {
    let kurtosis = source.kurtosis();
    let square = source.standard * source.standard;
    (second * second * (kurtosis - 1.0) / 4.0 + slope_by_third * kurtosis / 3.0) * square * square
}
