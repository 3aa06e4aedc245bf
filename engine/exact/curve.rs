//! How the sensitivities of a number change with the sources: second derivatives, and those third
//! ones that the second order of JCGM 100:2008, 5.1.2 needs. Carried beside a number only while
//! somebody asks for the second order; exact numbers and ordinary runs know nothing of it.

use super::source::SourceId;
use crate::plan::operation::Bend;

/// A number with more sources than this is not followed through a product.
const MOST_SOURCES: usize = 48;

/// A number is not followed any more once it has more pairs than this.
const MOST_PAIRS: usize = 4096;

/// Derivatives by two sources, or by one of them twice.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// The source with the smaller number.
    pub first: SourceId,
    /// The other, or the same.
    pub second: SourceId,
    /// By both.
    pub both: f64,
    /// Twice by the first, once by the second.
    pub first_twice: f64,
    /// Once by the first, twice by the second.
    pub second_twice: f64,
}

/// All pairs of sources in whose plane a number is not flat.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Curve {
    pairs: Vec<Pair>,
    lost: bool,
}

/// Sensitivities and their curve: what a function bends further.
#[derive(Clone, Copy)]
pub(super) struct Course<'v> {
    pub(super) terms: &'v [(SourceId, f64)],
    pub(super) curve: Option<&'v Curve>,
}

impl Curve {
    /// These pairs, by their sources.
    pub(super) fn of(mut pairs: Vec<Pair>) -> Curve {
        pairs
            .retain(|pair| pair.both != 0.0 || pair.first_twice != 0.0 || pair.second_twice != 0.0);
        let finite = |pair: &Pair| (pair.both + pair.first_twice + pair.second_twice).is_finite();
        if pairs.len() > MOST_PAIRS || !pairs.iter().all(finite) {
            return Curve::lost();
        }
        pairs.sort_by_key(|pair| (pair.first, pair.second));
        Curve { pairs, lost: false }
    }

    /// A number with too many sources to follow, or at a place without derivatives.
    pub(super) fn lost() -> Curve {
        Curve {
            pairs: Vec::new(),
            lost: true,
        }
    }

    /// Whether it could not be followed.
    pub fn is_lost(&self) -> bool {
        self.lost
    }

    /// The pairs, by their sources.
    pub fn pairs(&self) -> &[Pair] {
        &self.pairs
    }

    /// The derivatives by two sources: by both, twice by `one`, twice by `other`.
    pub(super) fn at(&self, one: SourceId, other: SourceId) -> (f64, f64, f64) {
        let key = (one.min(other), one.max(other));
        let found = self
            .pairs
            .binary_search_by_key(&key, |pair| (pair.first, pair.second));
        match found {
            Ok(index) => {
                let pair = &self.pairs[index];
                if one <= other {
                    (pair.both, pair.first_twice, pair.second_twice)
                } else {
                    (pair.both, pair.second_twice, pair.first_twice)
                }
            }
            Err(_) => (0.0, 0.0, 0.0),
        }
    }

    /// The sum of many, each times its factor.
    pub(super) fn sum<'v>(parts: impl Iterator<Item = (&'v Curve, f64)>) -> Curve {
        let mut all: Vec<Pair> = Vec::new();
        for (curve, by) in parts {
            if curve.lost {
                return Curve::lost();
            }
            all.extend(curve.pairs.iter().map(|pair| Pair {
                both: pair.both * by,
                first_twice: pair.first_twice * by,
                second_twice: pair.second_twice * by,
                ..*pair
            }));
        }
        all.sort_by_key(|pair| (pair.first, pair.second));
        let mut pairs: Vec<Pair> = Vec::with_capacity(all.len());
        for pair in all {
            match pairs.last_mut() {
                Some(last) if (last.first, last.second) == (pair.first, pair.second) => {
                    last.both += pair.both;
                    last.first_twice += pair.first_twice;
                    last.second_twice += pair.second_twice;
                }
                _ => pairs.push(pair),
            }
        }
        Curve::of(pairs)
    }
}

/// The curve of a function of two numbers, from its slopes and its bend there. Nothing where
/// neither number is followed.
pub(super) fn bent(
    x: Course<'_>,
    y: Course<'_>,
    slopes: (f64, f64),
    bend: Option<&Bend>,
) -> Option<Curve> {
    if x.curve.is_none() && y.curve.is_none() {
        return None;
    }
    let curves = x.curve.map(|curve| (curve, slopes.0));
    let others = y.curve.map(|curve| (curve, slopes.1));
    let straight = || Curve::sum(curves.into_iter().chain(others));
    Some(match bend {
        None => straight(),
        Some(bend) if *bend == Bend::default() => straight(),
        Some(bend) => bent_further(x, y, slopes, bend),
    })
}

fn bent_further(x: Course<'_>, y: Course<'_>, slopes: (f64, f64), bend: &Bend) -> Curve {
    let mut ids: Vec<SourceId> = x.terms.iter().chain(y.terms).map(|(id, _)| *id).collect();
    ids.sort();
    ids.dedup();
    let lost = |course: Course<'_>| course.curve.is_some_and(Curve::is_lost);
    if ids.len() > MOST_SOURCES || lost(x) || lost(y) {
        return Curve::lost();
    }
    let (x, y) = (Grid::new(x, &ids), Grid::new(y, &ids));
    let mut pairs = Vec::with_capacity(ids.len() * (ids.len() + 1) / 2);
    for i in 0..ids.len() {
        for j in i..ids.len() {
            pairs.push(Pair {
                first: ids[i],
                second: ids[j],
                both: second(&x, &y, slopes, bend, (i, j)),
                first_twice: third(&x, &y, slopes, bend, (i, j)),
                second_twice: third(&x, &y, slopes, bend, (j, i)),
            });
        }
    }
    Curve::of(pairs)
}

/// The derivatives of one number by all sources in play.
struct Grid {
    count: usize,
    slopes: Vec<f64>,
    /// By both.
    both: Vec<f64>,
    /// Row twice, column once.
    twice: Vec<f64>,
}

impl Grid {
    fn new(course: Course<'_>, ids: &[SourceId]) -> Grid {
        let count = ids.len();
        let mut grid = Grid {
            count,
            slopes: vec![0.0; count],
            both: vec![0.0; count * count],
            twice: vec![0.0; count * count],
        };
        for (id, slope) in course.terms {
            if let Ok(index) = ids.binary_search(id) {
                grid.slopes[index] = *slope;
            }
        }
        for pair in course.curve.map_or(&[][..], Curve::pairs) {
            let places = (
                ids.binary_search(&pair.first),
                ids.binary_search(&pair.second),
            );
            if let (Ok(i), Ok(j)) = places {
                grid.both[i * count + j] = pair.both;
                grid.both[j * count + i] = pair.both;
                grid.twice[i * count + j] = pair.first_twice;
                grid.twice[j * count + i] = pair.second_twice;
            }
        }
        grid
    }

    fn both(&self, i: usize, j: usize) -> f64 {
        self.both[i * self.count + j]
    }

    fn twice(&self, i: usize, j: usize) -> f64 {
        self.twice[i * self.count + j]
    }
}

/// The chain rule, by `i` and by `j`.
fn second(x: &Grid, y: &Grid, slopes: (f64, f64), bend: &Bend, (i, j): (usize, usize)) -> f64 {
    let (xi, xj, yi, yj) = (x.slopes[i], x.slopes[j], y.slopes[i], y.slopes[j]);
    slopes.0 * x.both(i, j)
        + slopes.1 * y.both(i, j)
        + bend.xx * xi * xj
        + bend.xy * (xi * yj + xj * yi)
        + bend.yy * yi * yj
}

/// The chain rule, twice by `i` and once by `j`.
fn third(x: &Grid, y: &Grid, slopes: (f64, f64), bend: &Bend, (i, j): (usize, usize)) -> f64 {
    let (xi, xj, yi, yj) = (x.slopes[i], x.slopes[j], y.slopes[i], y.slopes[j]);
    let (xij, xii, yij, yii) = (x.both(i, j), x.both(i, i), y.both(i, j), y.both(i, i));
    slopes.0 * x.twice(i, j)
        + slopes.1 * y.twice(i, j)
        + bend.xx * (2.0 * xij * xi + xii * xj)
        + bend.xy * (2.0 * xij * yi + xii * yj + 2.0 * yij * xi + yii * xj)
        + bend.yy * (2.0 * yij * yi + yii * yj)
        + bend.xxx * xi * xi * xj
        + bend.xxy * (xi * xi * yj + 2.0 * xi * xj * yi)
        + bend.xyy * (yi * yi * xj + 2.0 * yi * yj * xi)
        + bend.yyy * yi * yi * yj
}
