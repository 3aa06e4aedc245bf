//! Values in full, for programs and for whoever wants every digit: decimals as text, in the unit
//! that is shown.

use crate::check::{Quantity, Type};
use crate::exact::{Uncertain, Value};
use crate::notebook::{Notebook, Shown};
use crate::number::{Factor, Number};

/// A value in full.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Figure {
    /// No value: an empty field, or a mistake.
    #[default]
    Nothing,
    /// A text.
    Text(String),
    /// A switch.
    Switch(bool),
    /// A number, all its digits.
    Number {
        /// The digits.
        value: String,
        /// Its uncertainty, if it has one.
        uncertainty: Option<Uncertainty>,
    },
    /// A column.
    Column(Vec<Figure>),
}

/// An uncertainty in full, in the unit of its value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Uncertainty {
    /// Combined standard uncertainty.
    pub standard: String,
    /// Half the interval that is shown.
    pub expanded: String,
    /// Coverage factor; nothing for hard limits.
    pub coverage: Option<String>,
    /// Effective degrees of freedom; nothing where they are infinite.
    pub dof: Option<String>,
}

/// A cell's value in full; `typed` is how an input is shown, whose ± is the one typed.
pub(super) fn figure(
    notebook: &Notebook,
    value: &Value,
    ty: Option<&Type>,
    typed: Option<&Shown>,
) -> Figure {
    match value {
        Value::Text(text) => Figure::Text(text.to_string()),
        Value::Switch(_) | Value::Doubtful(_) => Figure::Switch(value.holds() == Some(true)),
        Value::Column(rows) => {
            let rows = rows.iter().map(|row| figure(notebook, row, ty, None));
            Figure::Column(rows.collect())
        }
        Value::Streamed(_) | Value::Gap | Value::Failed(_) => Figure::Nothing,
        Value::Number(_) | Value::Uncertain(_) => match ty.and_then(Type::as_quantity) {
            Some(quantity) => number(notebook, value, quantity, typed),
            None => Figure::Nothing,
        },
    }
}

fn number(
    notebook: &Notebook,
    value: &Value,
    quantity: &Quantity,
    typed: Option<&Shown>,
) -> Figure {
    let (_, factor) = notebook.display_unit(quantity);
    let number = value.number().unwrap_or(Number::ZERO);
    let number = number.scaled(&factor).unwrap_or(number);
    let uncertainty = match value {
        Value::Uncertain(uncertain) => Some(in_full(notebook, uncertain, &factor, typed)),
        _ => None,
    };
    Figure::Number {
        value: number.full(),
        uncertainty,
    }
}

fn in_full(
    notebook: &Notebook,
    uncertain: &Uncertain,
    factor: &Factor,
    typed: Option<&Shown>,
) -> Uncertainty {
    let summary = uncertain.summary(notebook.sources());
    let by = Number::ONE.scaled(factor).map_or(1.0, Number::to_f64).abs();
    let shown = typed.and_then(as_meant);
    let (expanded, coverage) = match shown {
        Some(meant) => meant,
        None => (digits(summary.expanded * by), summary.coverage.map(digits)),
    };
    Uncertainty {
        standard: digits(summary.standard * by),
        expanded,
        coverage,
        dof: Some(summary.dof).filter(|dof| dof.is_finite()).map(digits),
    }
}

/// The expanded uncertainty and coverage factor of an input whose ± is shown as typed, where they
/// are not those of the 95 % interval.
fn as_meant(shown: &Shown) -> Option<(String, Option<String>)> {
    let amount = shown.plus_minus.clone()?;
    let tag = shown.tag.as_deref()?;
    let kind = tag.split(',').next().unwrap_or(tag).trim();
    match kind {
        "triangular" | "u_shaped" => Some((amount, None)),
        "step" => {
            let half = Number::read(&amount).ok()?.over(Number::from(2)).ok()?;
            Some((half.full(), None))
        }
        _ => {
            let factor = kind.strip_prefix("k = ")?;
            Some((amount, Some(factor.to_owned())))
        }
    }
}

/// A double as a decimal of 15 digits.
pub(super) fn digits(value: f64) -> String {
    Number::from_f64(value).map_or_else(|_| "0".to_owned(), Number::full)
}
