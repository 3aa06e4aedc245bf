//! Sources of uncertainty: places in the text, known by what they are, not by their values.

use crate::check::Place;
use crate::number::Number;
use rustc_hash::{FxHashMap, FxHashSet};
use std::rc::Rc;

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
    /// The value it stands behind, in the unit it was typed in.
    pub estimate: Number,
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

    /// Whether it is wider, narrower or of another shape than `other`; where it stands is no
    /// matter, since values carry that.
    fn spreads_otherwise(&self, other: &Source) -> bool {
        let spread = |source: &Source| (source.group, source.standard, source.dof, source.shape);
        spread(self) != spread(other)
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

/// Repeated readings: what their mean is and how each row stands to it.
#[derive(Clone, Debug, PartialEq)]
pub struct Repeats {
    /// The component that their rows are.
    pub group: Group,
    /// The mean.
    pub mean: Number,
    /// Deviation of each row from the mean, divided so that the sum of squares is the variance of
    /// the mean.
    pub deviations: Rc<[f64]>,
}

/// All sources of a notebook. A source keeps its number however often it is evaluated.
#[derive(Clone, Debug, Default)]
pub struct Sources {
    list: Vec<Source>,
    numbers: FxHashMap<(Group, u32), SourceId>,
    changed: FxHashSet<SourceId>,
    repeats: FxHashMap<Place, Repeats>,
}

impl Sources {
    /// The number of row `row` of a group, with what is known of it now.
    pub fn enter(&mut self, row: u32, source: Source) -> SourceId {
        match self.numbers.get(&(source.group, row)) {
            Some(id) => {
                let known = &mut self.list[id.0 as usize];
                if known.spreads_otherwise(&source) {
                    self.changed.insert(*id);
                }
                *known = source;
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

    /// Keeps what readings at a place amount to.
    pub(super) fn keep_repeats(&mut self, place: Place, repeats: Repeats) {
        self.repeats.insert(place, repeats);
    }

    /// The readings whose rows are this component, by the place they stand at.
    pub fn repeats(&self, group: Group) -> Vec<(Place, &Repeats)> {
        let mut found: Vec<(Place, &Repeats)> = self
            .repeats
            .iter()
            .filter(|(_, repeats)| repeats.group == group)
            .map(|(place, repeats)| (*place, repeats))
            .collect();
        found.sort_by_key(|(place, _)| *place);
        found
    }

    /// The one source of a group that is no readings.
    pub fn of_group(&self, group: Group) -> Option<&Source> {
        self.get(self.number(group, 0)?)
    }

    /// What readings at a place amount to.
    pub fn repeats_at(&self, place: Place) -> Option<&Repeats> {
        self.repeats.get(&place)
    }

    /// The number of row `row` of a group, if it was entered.
    fn number(&self, group: Group, row: u32) -> Option<SourceId> {
        self.numbers.get(&(group, row)).copied()
    }

    /// What is known of a source.
    pub fn get(&self, id: SourceId) -> Option<&Source> {
        self.list.get(id.0 as usize)
    }
}

/// The sources during a run: open, so that new ones are entered; or closed, for a run beside the
/// notebook that follows the second order of what has been run before.
pub(super) enum Ledger<'s> {
    Open(&'s mut Sources),
    Closed(&'s Sources),
}

impl Ledger<'_> {
    pub(super) fn read(&self) -> &Sources {
        match self {
            Ledger::Open(sources) => sources,
            Ledger::Closed(sources) => sources,
        }
    }

    /// Whether numbers carry their curve.
    pub(super) fn follows_curves(&self) -> bool {
        matches!(self, Ledger::Closed(_))
    }

    pub(super) fn enter(&mut self, row: u32, source: Source) -> SourceId {
        match self {
            Ledger::Open(sources) => sources.enter(row, source),
            // Everything that is run beside the notebook was run in it first.
            Ledger::Closed(sources) => sources
                .number(source.group, row)
                .unwrap_or(SourceId(u32::MAX - 1)),
        }
    }

    pub(super) fn keep_repeats(&mut self, place: Place, repeats: Repeats) {
        if let Ledger::Open(sources) = self {
            sources.keep_repeats(place, repeats);
        }
    }
}
