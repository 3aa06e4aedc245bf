//! Values as a reader sees them: the number, its ±, its unit, in the unit a cell is shown in.

use super::Notebook;
use crate::check::{CellId, Kind, Quantity, State, Type};
use crate::exact::{Uncertain, Value};
use crate::number::{Factor, Number, round_pair};
use crate::units::{Family, Reference, Unit};

/// How many digits are shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Precision {
    /// As tables show it: given as typed, worked out to four digits.
    Table,
    /// So many significant digits, never cutting whole ones.
    Digits(u32),
    /// All there are.
    Full,
}

/// What is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShownKind {
    /// A number.
    Number,
    /// A text, a switch, or a word instead of a value.
    Word,
}

/// A value as text. Minus is `-`; whoever lays it out may set another sign.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// Number or word.
    pub kind: ShownKind,
    /// The number, or the word.
    pub value: String,
    /// What stands behind `±`.
    pub plus_minus: Option<String>,
    /// The unit with its reference; empty for a plain number.
    pub unit: String,
    /// How the amount behind `±` is meant, as the bracket of a literal says it: `95 %`, `k = 2`;
    /// nothing for hard limits.
    pub tag: Option<String>,
}

impl Shown {
    /// A word instead of a number.
    pub fn word(word: impl Into<String>) -> Shown {
        Shown {
            kind: ShownKind::Word,
            value: word.into(),
            plus_minus: None,
            unit: String::new(),
            tag: None,
        }
    }

    /// In one line, as it could be typed.
    pub fn line(&self) -> String {
        let mut line = self.value.clone();
        if let Some(amount) = &self.plus_minus {
            line.push_str(" ± ");
            line.push_str(amount);
        }
        if !self.unit.is_empty() {
            line.push(' ');
            line.push_str(&self.unit);
        }
        if let Some(tag) = &self.tag {
            line.push_str(&format!(" ({tag})"));
        }
        line
    }
}

impl Notebook {
    /// A cell's value as tables show it; `row` for one row of a column.
    pub fn shown(&self, id: CellId, row: Option<usize>) -> Shown {
        self.shown_with(id, row, Precision::Table)
    }

    /// The first rows of a column as tables show them; its statement is read once.
    pub fn shown_rows(&self, id: CellId, rows: usize) -> Vec<Shown> {
        let cell = self.cell(id);
        let tree = cell.role.is_typed().then(|| self.tree(cell.statement));
        let ty = cell.ty.as_deref();
        (0..rows)
            .map(|row| {
                let typed = tree
                    .as_ref()
                    .and_then(|tree| self.as_typed(cell, tree, Some(row)));
                typed.unwrap_or_else(|| {
                    self.shown_value(&self.value(id).row(row), ty, Precision::Table)
                })
            })
            .collect()
    }

    /// A cell's value with a precision.
    pub fn shown_with(&self, id: CellId, row: Option<usize>, precision: Precision) -> Shown {
        let cell = self.cell(id);
        if precision == Precision::Table
            && cell.role.is_typed()
            && let Some(shown) = self.as_typed(cell, &self.tree(cell.statement), row)
        {
            return shown;
        }
        let value = match row {
            Some(row) => self.value(id).row(row),
            None => self.value(id).clone(),
        };
        self.shown_value(&value, cell.ty.as_deref(), precision)
    }

    /// A value of a type, in the unit it is shown in.
    pub fn shown_value(&self, value: &Value, ty: Option<&Type>, precision: Precision) -> Shown {
        match (value, ty) {
            (Value::Text(text), _) => Shown::word(text.as_ref()),
            (Value::Switch(_) | Value::Doubtful(_), _) => {
                Shown::word(if value.holds() == Some(true) {
                    "true"
                } else {
                    "false"
                })
            }
            (Value::Gap, _) => Shown::word("-"),
            (Value::Failed(_), _) => Shown::word("failed"),
            (Value::Streamed(streamed), _) => {
                Shown::word(format!("{} rows", streamed.stream.rows()))
            }
            (Value::Column(items), _) => self.shown_column(items, ty, precision),
            (
                Value::Number(_) | Value::Uncertain(_),
                Some(Type {
                    kind: Kind::Quantity(quantity),
                    ..
                }),
            ) => self.shown_quantity(value, quantity, precision),
            _ => Shown::word("failed"),
        }
    }

    fn shown_column(&self, items: &[Value], ty: Option<&Type>, precision: Precision) -> Shown {
        let rows: Vec<Shown> = items
            .iter()
            .map(|item| self.shown_value(item, ty, precision))
            .collect();
        let unit = rows
            .iter()
            .map(|row| row.unit.clone())
            .find(|unit| !unit.is_empty());
        let text = |row: &Shown| match &row.plus_minus {
            Some(amount) => format!("{} ± {amount}", row.value),
            None => row.value.clone(),
        };
        let values: Vec<String> = rows.iter().map(text).collect();
        Shown {
            kind: ShownKind::Number,
            value: format!("{{{}}}", values.join(", ")),
            plus_minus: None,
            unit: unit.unwrap_or_default(),
            tag: None,
        }
    }

    /// The unit a quantity is shown in, and the factor to it from the unit it is held in.
    pub fn display_unit(&self, quantity: &Quantity) -> (Unit, Factor) {
        if quantity.as_written || quantity.unit.words().len() <= 1 {
            return (quantity.unit.clone(), Factor::one());
        }
        let registry = self.registry.borrow();
        let merged = registry.merged(&quantity.unit);
        let factor = registry
            .factor(&quantity.unit, &merged)
            .unwrap_or_else(Factor::one);
        (merged, factor)
    }

    fn shown_quantity(&self, value: &Value, quantity: &Quantity, precision: Precision) -> Shown {
        let (unit, factor) = self.display_unit(quantity);
        let number = value.number().unwrap_or(Number::ZERO);
        let number = number.scaled(&factor).unwrap_or(number);
        let money = self.registry.borrow().dimension(&unit).is_money();
        let unit_text = self.unit_text(&unit, &quantity.state);
        if let Value::Uncertain(uncertain) = value {
            return self.shown_uncertain(number, uncertain, &factor, unit_text, precision);
        }
        let text = match precision {
            Precision::Full => number.full(),
            Precision::Table if money => number.fixed(2),
            Precision::Table => number.shown(),
            Precision::Digits(digits) => number.shown_with(digits),
        };
        Shown {
            kind: ShownKind::Number,
            value: text,
            plus_minus: None,
            unit: unit_text,
            tag: None,
        }
    }

    fn shown_uncertain(
        &self,
        number: Number,
        uncertain: &Uncertain,
        factor: &Factor,
        unit: String,
        precision: Precision,
    ) -> Shown {
        let summary = uncertain.summary(&self.sources);
        let by = Number::ONE.scaled(factor).map_or(1.0, Number::to_f64);
        let expanded = Number::from_f64(summary.expanded * by.abs()).unwrap_or(Number::ZERO);
        let (value, amount) = match precision {
            Precision::Full => (number.full(), expanded.shown_with(4)),
            _ => round_pair(number, expanded),
        };
        let tag = match (summary.coverage, summary.dof < 100.0) {
            (None, _) => None,
            (Some(_), true) => Some(format!("95 %, dof = {:.1}", summary.dof)),
            (Some(_), false) => Some("95 %".to_owned()),
        };
        Shown {
            kind: ShownKind::Number,
            value,
            plus_minus: Some(amount),
            unit,
            tag,
        }
    }

    /// A unit with the reference of a value; nothing for a plain number.
    pub fn unit_text(&self, unit: &Unit, state: &State) -> String {
        let reference = match state {
            State::Is(
                Reference::Room | Reference::Difference | Reference::Interval | Reference::Active,
            ) => None,
            State::Is(reference) => Some(*reference),
            State::Plain | State::Open(_) | State::ToTell { .. } => None,
        };
        let family = self.registry.borrow().carried_family(unit);
        let reference =
            reference.filter(|_| family.is_some() || self.registry.borrow().states(unit).is_some());
        let reference = reference.filter(|reference| {
            *reference != Reference::Thermodynamic || family == Some(Family::Temperature)
        });
        if unit.is_one() {
            String::new()
        } else {
            self.registry.borrow().show(unit, reference)
        }
    }

    /// The unit of a cell with its reference, as the contract of `--json` writes it: `1` for a
    /// plain number.
    pub fn unit_of(&self, id: CellId) -> Option<String> {
        let ty = self.cell(id).ty.as_deref()?;
        let quantity = ty.as_quantity()?;
        let (unit, _) = self.display_unit(quantity);
        let text = self.unit_text(&unit, &quantity.state);
        Some(if text.is_empty() {
            "1".to_owned()
        } else {
            text
        })
    }
}
