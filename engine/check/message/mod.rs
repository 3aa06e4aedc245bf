//! The messages of `check`, by subject: one function a mistake, each with what was found, what
//! was expected and the repair. The words are for someone who runs a shop. Here is what the
//! messages share: the values they are about and what was done with them.

mod air;
mod call;
mod default;
mod dimension;
mod name;
mod operand;
mod point;
mod reference;
mod shape;
mod study;
mod uncertain;
mod unit;

pub(super) use air::*;
pub(super) use call::*;
pub(super) use default::*;
pub(super) use dimension::*;
pub(super) use name::*;
pub(super) use operand::{Operand, Pair, Side};
pub(super) use point::*;
pub(super) use reference::*;
pub(super) use shape::*;
pub(super) use study::*;
pub(super) use uncertain::*;
pub(super) use unit::*;

/// What was done with two values where they met.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Doing {
    Plus,
    Minus,
    Over,
    Compare,
    Branches,
    Target,
    Key,
    Argument,
    Among,
    PlusMinus,
}

impl Doing {
    /// “a length added to a time”
    fn clause(self, first: &str, second: &str) -> String {
        match self {
            Doing::Plus => format!("{second} added to {first}"),
            Doing::Minus => format!("{first} minus {second}"),
            Doing::Over => format!("{first} divided by {second}"),
            Doing::Compare => format!("{first} compared with {second}"),
            Doing::Branches => format!("{first} or {second} in one choice"),
            Doing::Target => format!("{first} sought to equal {second}"),
            Doing::Key => format!("{second} looked up among keys that are {first}"),
            Doing::Argument => format!("{first} and {second} given to one function"),
            Doing::Among => format!("{first} and {second} side by side"),
            Doing::PlusMinus => format!("{second} as the ± of {first}"),
        }
    }

    /// For a value that is no number.
    pub(super) fn where_number(self) -> &'static str {
        match self {
            Doing::Plus => "in a sum",
            Doing::Minus => "in a difference",
            _ => "where a number was expected",
        }
    }
}

/// What a value has to fit: a bracket, or a parameter.
#[derive(Clone, Debug)]
pub(super) enum Target {
    /// A bracket.
    Bracket,
    /// The head of a table's column, for one of its fields.
    Field,
    /// A parameter of a formula.
    Parameter { formula: String, parameter: String },
    /// A cell that is given another value.
    Override(String),
}

impl Target {
    /// “`start` of bleed_down needs a gauge reading”, “a length under a head for a time”.
    fn clause(&self, noun: &str, needs: &str, unit: &str) -> String {
        match self {
            Target::Bracket | Target::Field => format!("{noun} under `[{unit}]`"),
            Target::Parameter { formula, parameter } => {
                format!("`{parameter}` of {formula} needs {needs}")
            }
            Target::Override(cell) => format!("{noun} for {cell}, which is {needs}"),
        }
    }
}

/// `f(x)` of a text, without a second pair of brackets.
fn called(function: &str, text: &str) -> String {
    format!("{function}({})", bracketless(text))
}

/// A text without the brackets that stand around all of it.
fn bracketless(text: &str) -> &str {
    let inner = text
        .strip_prefix('(')
        .and_then(|rest| rest.strip_suffix(')'));
    match inner {
        Some(inner) if is_balanced(inner) => inner.trim(),
        _ => text,
    }
}

/// Whether every bracket in a run of text is opened and closed in it.
fn is_balanced(text: &str) -> bool {
    let mut open: i32 = 0;
    for sign in text.chars() {
        match sign {
            '(' | '[' | '{' => open += 1,
            ')' | ']' | '}' => open -= 1,
            _ => {}
        }
        if open < 0 {
            return false;
        }
    }
    open == 0
}
