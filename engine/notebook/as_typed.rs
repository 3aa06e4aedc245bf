//! Inputs as a reader typed them: their own digits, their own ±, the unit in canonical spelling.
//! What was typed in another unit than it is shown in is converted by its factor. Anything that
//! was worked out is left to `shown`.

use super::Notebook;
use super::cell::{Cell, Role};
use super::literal::{Typed, inner, meaning_text, number_of, numeral_text, unit_of_amount};
use super::shown::{Shown, ShownKind};
use crate::check::Quantity;
use crate::number::{Factor, Number, round_pair};
use crate::syntax::{
    Column, Expr, ExprKind, FieldKind, Joint, PlusMinus, Statement, StatementKind, UnitExpr,
    UnitTerm, UnitTermKind,
};
use crate::units::{Lookup, Registry, Unit};

/// A number as typed, and the digits to show it with; none where it had to be converted.
struct Amount {
    number: Number,
    digits: Option<String>,
}

impl Notebook {
    /// An input as typed; nothing where it is no plain literal. `tree` is its statement.
    pub(super) fn as_typed(
        &self,
        cell: &Cell,
        tree: &Statement,
        row: Option<usize>,
    ) -> Option<Shown> {
        let quantity = cell.ty.as_deref()?.as_quantity()?;
        match (&tree.kind, row, cell.role) {
            (StatementKind::Cell(one) | StatementKind::Default(one), row, _) => {
                let kind = inner(&one.value.kind);
                match (kind, row) {
                    (ExprKind::Literal(literal), None) => {
                        self.literal_as_typed(&Typed::alone(literal), quantity)
                    }
                    (ExprKind::Column(column), Some(row)) => {
                        self.literal_as_typed(&Typed::item(column, row)?, quantity)
                    }
                    (ExprKind::Column(column), None) => self.column_as_typed(column, quantity),
                    _ => None,
                }
            }
            (StatementKind::Table(table), Some(row), Role::Column(column)) => {
                let field = table.rows.get(row)?.fields.get(usize::from(column))?;
                let FieldKind::Quantity(expr) = &field.kind else {
                    return None;
                };
                let ExprKind::Literal(literal) = inner(&expr.kind) else {
                    return None;
                };
                self.literal_as_typed(&Typed::alone(literal), quantity)
            }
            _ => None,
        }
    }

    fn column_as_typed(&self, column: &Column, quantity: &Quantity) -> Option<Shown> {
        let mut values = Vec::with_capacity(column.items.len());
        let mut unit = String::new();
        for row in 0..column.items.len() {
            let shown = self.literal_as_typed(&Typed::item(column, row)?, quantity)?;
            values.push(match &shown.plus_minus {
                Some(amount) => format!("{} ± {amount}", shown.value),
                None => shown.value,
            });
            unit = shown.unit;
        }
        Some(Shown {
            kind: ShownKind::Number,
            value: format!("{{{}}}", values.join(", ")),
            plus_minus: None,
            unit,
            tag: None,
        })
    }

    fn literal_as_typed(&self, typed: &Typed<'_>, quantity: &Quantity) -> Option<Shown> {
        let (unit, _) = self.display_unit(quantity);
        let value = self.value_as_typed(typed, &unit)?;
        let amount = match typed.plus_minus {
            Some(plus_minus) => Some(self.amount_as_typed(plus_minus, &value, &unit)?),
            None => None,
        };
        let (value, plus_minus) = match (value, amount) {
            (
                Amount {
                    digits: Some(value),
                    ..
                },
                None,
            ) => (value, None),
            (Amount { number, .. }, None) if self.registry.borrow().dimension(&unit).is_money() => {
                (number.fixed(2), None)
            }
            (Amount { number, .. }, None) => (number.shown(), None),
            (value, Some(amount)) => match (value.digits, amount.digits) {
                (Some(value), Some(amount)) => (value, Some(amount)),
                (Some(digits), None) => (digits, Some(amount.number.shown())),
                (None, _) => {
                    let (value, amount) = round_pair(value.number, amount.number);
                    (value, Some(amount))
                }
            },
        };
        let tag = typed.plus_minus.and_then(|one| one.tag.as_ref());
        Some(Shown {
            kind: ShownKind::Number,
            value,
            plus_minus,
            unit: self.unit_text(&unit, &quantity.state),
            tag: tag.map(meaning_text),
        })
    }

    /// The number of a literal in the unit it is shown in.
    fn value_as_typed(&self, typed: &Typed<'_>, shown_in: &Unit) -> Option<Amount> {
        let numeral = &typed.literal.number;
        let number = number_of(numeral, typed.literal.negative)?;
        let sign = if typed.literal.negative { "-" } else { "" };
        let digits = Some(format!("{sign}{}", numeral_text(numeral)));
        let shared = typed.plus_minus.and_then(unit_of_amount);
        let Some(written) = typed.unit.or(shared) else {
            return Some(Amount { number, digits });
        };
        let written = self.unit_named(written)?;
        let registry = self.registry.borrow();
        if registry.is_percent(&written) && typed.unit.is_none() {
            return Some(Amount { number, digits });
        }
        let factor = registry.factor(&written, shown_in)?;
        if factor.is_one() && registry.offset(&written) == registry.offset(shown_in) {
            return Some(Amount { number, digits });
        }
        // A reading on another scale is not moved by a factor alone.
        let same_zero = registry.offset(&written).is_none() && registry.offset(shown_in).is_none();
        let number = number.scaled(&factor).ok().filter(|_| same_zero)?;
        Some(Amount {
            number,
            digits: None,
        })
    }

    /// The amount behind `±` in the unit its value is shown in.
    fn amount_as_typed(
        &self,
        plus_minus: &PlusMinus,
        value: &Amount,
        shown_in: &Unit,
    ) -> Option<Amount> {
        let ExprKind::Literal(literal) = inner(&plus_minus.amount.kind) else {
            return None;
        };
        let number = number_of(&literal.number, literal.negative)?;
        let digits = Some(numeral_text(&literal.number));
        let Some(written) = &literal.unit else {
            return Some(Amount { number, digits });
        };
        let unit = self.unit_named(written)?;
        let percent = self.registry.borrow().is_percent(&unit);
        let of = match &plus_minus.of {
            None if percent && !self.registry.borrow().is_percent(shown_in) => Some(value.number),
            None => None,
            Some(span) => Some(self.span_of_percentage(span, shown_in)?),
        };
        match of {
            Some(whole) => {
                let part = whole.magnitude().times(number).ok()?.shifted(-2).ok()?;
                let digits = Some(part.full()).filter(|digits| digits.len() <= 8);
                Some(Amount {
                    number: part,
                    digits,
                })
            }
            None => {
                let factor = self.registry.borrow().factor(&unit, shown_in)?;
                let factor = magnitude(factor);
                let converted = number.scaled(&factor).ok()?;
                Some(Amount {
                    number: converted,
                    digits: digits.filter(|_| factor.is_one()),
                })
            }
        }
    }

    /// The span of `± 2 % of 200 psi`.
    fn span_of_percentage(&self, span: &Expr, shown_in: &Unit) -> Option<Number> {
        let ExprKind::Literal(literal) = inner(&span.kind) else {
            return None;
        };
        let number = number_of(&literal.number, literal.negative)?;
        match &literal.unit {
            None => Some(number),
            Some(written) => {
                let unit = self.unit_named(written)?;
                let factor = self.registry.borrow().factor(&unit, shown_in)?;
                number.scaled(&magnitude(factor)).ok()
            }
        }
    }

    /// The unit that is written.
    fn unit_named(&self, written: &UnitExpr) -> Option<Unit> {
        unit_of(&written.terms, &mut self.registry.borrow_mut())
    }
}

/// The unit that words stand for, those in brackets included.
fn unit_of(terms: &[UnitTerm], registry: &mut Registry) -> Option<Unit> {
    let mut made = Unit::one();
    for term in terms {
        let (up, down) = term.exponent;
        let one = match &term.kind {
            UnitTermKind::One => Unit::one(),
            UnitTermKind::Word(word) => match registry.word_to_power(word, up, down) {
                Lookup::Found(one) => one,
                _ => return None,
            },
            UnitTermKind::Group(count, inner) => {
                let inner = unit_of(&inner.terms, registry)?;
                let whole = match count {
                    1 => inner,
                    _ => Unit::of(registry.whole_number(*count)?).times(&inner)?,
                };
                whole.power(up, down)?
            }
        };
        let over = matches!(term.joint, Joint::Over | Joint::Per);
        made = if over {
            made.over(&one)?
        } else {
            made.times(&one)?
        };
    }
    Some(made)
}

/// An amount has no direction: a gauge that counts downwards has the same ±.
fn magnitude(factor: Factor) -> Factor {
    if factor.ratio.is_negative() {
        let turned = crate::number::Rational::whole(-1).times(&factor.ratio);
        return Factor {
            ratio: turned,
            ..factor
        };
    }
    factor
}
