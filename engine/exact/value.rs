//! Values.

use super::doubt::Doubt;
use super::failure::{Failure, Mishap};
use super::stream::Streamed;
use super::uncertain::Uncertain;
use crate::number::Number;
use crate::plan::Constant;
use std::rc::Rc;
use std::sync::Arc;

/// What a cell holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// An exact number.
    Number(Number),
    /// A number with an uncertainty.
    Uncertain(Rc<Uncertain>),
    /// A switch.
    Switch(bool),
    /// A switch decided by uncertain values.
    Doubtful(Rc<Doubt>),
    /// A text.
    Text(Arc<str>),
    /// A column.
    Column(Rc<[Value]>),
    /// A column too long to be kept.
    Streamed(Streamed),
    /// An empty field.
    Gap,
    /// No value, and why.
    Failed(Rc<Failure>),
}

impl Value {
    /// No value, because of this, at this site.
    pub fn failed(mishap: Mishap, site: u32) -> Value {
        Value::Failed(Rc::new(Failure { mishap, site }))
    }

    /// A column of these.
    pub fn column(items: Vec<Value>) -> Value {
        Value::Column(items.into())
    }

    /// The same, come in from another plan: a failure is told at the site where it came in.
    #[must_use]
    pub(super) fn arrived(self, site: u32) -> Value {
        match self {
            Value::Failed(failure) if failure.site != site => {
                Value::failed(failure.mishap.clone(), site)
            }
            Value::Column(items) if items.iter().any(|item| matches!(item, Value::Failed(_))) => {
                Value::column(
                    items
                        .iter()
                        .map(|item| item.clone().arrived(site))
                        .collect(),
                )
            }
            other => other,
        }
    }

    /// The number, with or without an uncertainty.
    pub fn number(&self) -> Option<Number> {
        match self {
            Value::Number(number) => Some(*number),
            Value::Uncertain(uncertain) => Some(uncertain.value),
            _ => None,
        }
    }

    /// The same without any doubt.
    #[must_use]
    pub fn bare(self) -> Value {
        match self {
            Value::Uncertain(uncertain) => Value::Number(uncertain.value),
            Value::Doubtful(doubt) => Value::Switch(doubt.holds),
            Value::Column(items) => Value::column(items.iter().cloned().map(Value::bare).collect()),
            other => other,
        }
    }

    /// Whether there is doubt about it, in any row of a column.
    pub fn is_uncertain(&self) -> bool {
        match self {
            Value::Uncertain(_) | Value::Doubtful(_) => true,
            Value::Column(items) => items.iter().any(Value::is_uncertain),
            _ => false,
        }
    }

    /// Whether a condition holds, decided on the value.
    pub fn holds(&self) -> Option<bool> {
        match self {
            Value::Switch(on) => Some(*on),
            Value::Doubtful(doubt) => Some(doubt.holds),
            _ => None,
        }
    }

    /// The failure, if there is no value.
    pub fn failure(&self) -> Option<&Rc<Failure>> {
        match self {
            Value::Failed(failure) => Some(failure),
            _ => None,
        }
    }

    /// Row `index` of a column; anything else fits every row.
    pub fn row(&self, index: usize) -> Value {
        match self {
            Value::Column(items) => items.get(index).cloned().unwrap_or(Value::Gap),
            other => other.clone(),
        }
    }
}

impl From<&Constant> for Value {
    fn from(constant: &Constant) -> Value {
        match constant {
            Constant::Number(number) => Value::Number(*number),
            Constant::Text(text) => Value::Text(text.clone()),
            Constant::Switch(on) => Value::Switch(*on),
            Constant::Gap => Value::Gap,
        }
    }
}

impl From<Number> for Value {
    fn from(number: Number) -> Value {
        Value::Number(number)
    }
}
