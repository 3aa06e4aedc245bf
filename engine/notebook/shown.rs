//! Values as a reader sees them: the number, its ±, its unit, in the unit a cell is shown in.

use super::Notebook;
use crate::check::{CellId, Kind, Quantity, State, Type};
use crate::exact::{Uncertain, Value};
use crate::number::{Factor, Number, round_pair};
use crate::units::{Family, Reference, Unit};

/// The tag of an amount that no combination of its sources can leave.
const LIMITS: &str = "limits";

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
    /// A plain number without digits yet.
    pub fn number() -> Shown {
        Shown {
            kind: ShownKind::Number,
            ..Shown::word("")
        }
    }

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

    /// In one line, as it could be typed. Percentages have their ± in points, since a percentage
    /// behind the ± would be a share of the value.
    pub fn line(&self) -> String {
        let mut line = self.value.clone();
        let mut unit = self.unit.as_str();
        if let Some(amount) = &self.plus_minus {
            if unit == "%" {
                line.push_str(" %");
                unit = "pp";
            }
            line.push_str(" ± ");
            line.push_str(amount);
        }
        if !unit.is_empty() {
            line.push(' ');
            line.push_str(unit);
        }
        // A limit is what an amount without a tag means.
        if let Some(tag) = self.tag.as_deref().filter(|tag| *tag != LIMITS) {
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
        let expanded = tidied(summary.expanded * by.abs());
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

    /// The unit in which differences of a quantity are shown, and the factor to it from the unit
    /// the quantity is held in: `psi` for a reading in `psig`, `cfm free` for free air.
    pub fn difference_unit(&self, quantity: &Quantity) -> (String, f64) {
        let (_, factor) = self.display_unit(quantity);
        let step = match quantity.state {
            State::Is(reference) => State::Is(reference.step()),
            ref other => other.clone(),
        };
        let by = Number::ONE.scaled(&factor).map_or(1.0, Number::to_f64);
        let unit = self.unit_of_differences(quantity);
        (self.unit_text(&unit, &step), by)
    }

    /// The same without any reference, for quotients of units.
    pub fn bare_unit(&self, quantity: &Quantity) -> String {
        self.unit_text(&self.unit_of_differences(quantity), &State::Plain)
    }

    fn unit_of_differences(&self, quantity: &Quantity) -> Unit {
        let (unit, _) = self.display_unit(quantity);
        let registry = self.registry.borrow();
        match quantity.state {
            State::Is(reference) if reference.step() != reference => {
                registry.bare(&registry.counting_up(&unit))
            }
            _ => unit,
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
        self.unit_of_type(self.cell(id).ty.as_deref()?)
    }

    /// The same for any value of a type; nothing for texts and switches.
    pub fn unit_of_type(&self, ty: &Type) -> Option<String> {
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

/// A double as the decimal that twelve digits of it are, so that an amount which went through a
/// coverage factor and back rounds as it was typed.
pub(super) fn tidied(value: f64) -> Number {
    Number::read(&format!("{value:.11e}")).unwrap_or(Number::ZERO)
}
