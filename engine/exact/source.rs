//! Sources of uncertainty: places in the text, known by what they are, not by their values.

use crate::check::Place;
use rustc_hash::{FxHashMap, FxHashSet};

/// The number of a source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SourceId(pub u32);

/// Sources that are one component of a budget: an element behind one `±`, or the rows of readings
/// that were taken together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Group {
    /// Where it was typed.
    pub place: Place,
    /// The element of a column, from 0; for readings, which row by row are one group, always 0.
    pub element: u32,
}

/// How the values of a source spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shape {
    /// Hard ends, all values between alike; the half-width.
    Limits(f64),
    /// Hard ends, the middle likelier; the half-width.
    Triangular(f64),
    /// Hard ends, the ends likelier; the half-width.
    UShaped(f64),
    /// No hard ends: normal, or Student t with so many degrees of freedom.
    Scatter,
}

/// One source.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Source {
    /// The component it belongs to.
    pub group: Group,
    /// Standard uncertainty, in the unit of the value it was typed behind.
    pub standard: f64,
    /// Degrees of freedom; infinite where none are named.
    pub dof: f64,
    /// How it spreads.
    pub shape: Shape,
}

impl Source {
    /// The half-width of its hard limits, if it has them.
    pub fn half_width(&self) -> Option<f64> {
        match self.shape {
            Shape::Limits(a) | Shape::Triangular(a) | Shape::UShaped(a) => Some(a),
            Shape::Scatter => None,
        }
    }

    /// Fourth moment over the square of the second: 3 for a normal source.
    pub fn kurtosis(&self) -> f64 {
        match self.shape {
            Shape::Limits(_) => 1.8,
            Shape::Triangular(_) => 2.4,
            Shape::UShaped(_) => 1.5,
            Shape::Scatter => 3.0,
        }
    }
}

/// All sources of a notebook. A source keeps its number however often it is evaluated.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    list: Vec<Source>,
    numbers: FxHashMap<(Group, u32), SourceId>,
    changed: FxHashSet<SourceId>,
}

impl Sources {
    /// The number of row `row` of a group, with what is known of it now.
    pub fn enter(&mut self, row: u32, source: Source) -> SourceId {
        match self.numbers.get(&(source.group, row)) {
            Some(id) => {
                let known = &mut self.list[id.0 as usize];
                if *known != source {
                    *known = source;
                    self.changed.insert(*id);
                }
                *id
            }
            None => {
                let id = SourceId(self.list.len() as u32);
                self.list.push(source);
                self.numbers.insert((source.group, row), id);
                id
            }
        }
    }

    /// Forgets which sources changed: a recompute begins.
    pub fn begin(&mut self) {
        self.changed.clear();
    }

    /// Whether a source changed since the recompute began.
    pub fn has_changed(&self, id: SourceId) -> bool {
        !self.changed.is_empty() && self.changed.contains(&id)
    }

    /// Whether any did.
    pub fn any_changed(&self) -> bool {
        !self.changed.is_empty()
    }

    /// What is known of a source.
    pub fn get(&self, id: SourceId) -> Option<&Source> {
        self.list.get(id.0 as usize)
    }
}
