//! Why there is no value, as data; the words are chosen where the source text is at hand.

use crate::check::{CellId, Description};
use crate::number::Trouble;

/// A failure and the site of the step it arose in.
#[derive(Clone, Debug, PartialEq)]
pub struct Failure {
    /// What went wrong.
    pub mishap: Mishap,
    /// The site in the plan that failed.
    pub site: u32,
}

/// What went wrong.
#[derive(Clone, Debug, PartialEq)]
pub enum Mishap {
    /// A cell that it reads has no value.
    Waits(CellId),
    /// A number that does not exist or cannot be held.
    Number(Trouble),
    /// An empty field was used: row number from 1, if it is one of a column.
    Gap(Option<usize>),
    /// Two columns of different lengths.
    Lengths(usize, usize),
    /// No row has this key; the keys there are.
    NoKey(String, Vec<String>),
    /// Several rows have this key.
    KeyTwice(String),
    /// The points of an interpolation do not rise: row number from 1.
    NotRising(usize),
    /// A value outside the points of an interpolation.
    Outside,
    /// No listed size serves: wanted above (`true`) or below.
    NoSize(bool),
    /// Nothing between the ends meets the target.
    NoRoot,
    /// These values meet the target.
    Several(Vec<String>),
    /// The target does not depend on the unknown.
    Independent,
    /// The difference jumps over zero: a pole or a step.
    Jump,
    /// The amount behind `±` is uncertain itself.
    AmountUncertain,
    /// The amount behind `±` is below zero.
    AmountNegative,
    /// The step of an axis is zero or leads away from its end.
    StepAway,
    /// An axis or two with more points than are worked out for people to read.
    TooManyPoints(usize),
    /// So many points of a long column have no value.
    PointsWithout(usize),
    /// The work was stopped.
    Stopped,
    /// A single reading has no scatter.
    OneReading,
    /// A function is infinitely steep where a ± would have to go through it.
    TooSteep,
    /// A description that this uncertainty does not have.
    Undescribed(Description),
    /// A column without rows was reduced.
    NoRows,
    /// Equality between uncertain values.
    Equality,
    /// A value in a place that takes none of its kind; `check` keeps this from happening.
    Kind,
}
