//! Inputs as they were typed: their digits, their ±, their unit in canonical spelling.

use super::Notebook;
use super::cell::{Cell, Role};
use super::shown::{Shown, ShownKind, tidied};
use super::statement::StatementId;
use crate::check::Place;
use crate::exact::{Group, Shape, Source};
use crate::number::Number;
use crate::numerics::distribution;
use crate::syntax::{
    ExprKind, FieldKind, Joint, Literal, Numeral, PlusMinus, StatementKind, Tag, TagKind, UnitExpr,
    UnitTermKind,
};
use crate::units::{Lookup, Unit};

impl Notebook {
    /// An input as typed, or nothing where it is shown in another unit than it was typed in.
    pub(super) fn as_typed(&self, cell: &Cell, row: Option<usize>) -> Option<Shown> {
        let quantity = cell.ty.as_deref()?.as_quantity()?;
        let tree = self.tree(cell.statement);
        let literal = match (&tree.kind, row, cell.role) {
            (StatementKind::Cell(one) | StatementKind::Default(one), None, _) => {
                literal_of(&one.value.kind)?
            }
            (StatementKind::Table(table), Some(row), Role::Column(column)) => {
                let field = table.rows.get(row)?.fields.get(usize::from(column))?;
                match &field.kind {
                    FieldKind::Quantity(expr) => literal_of(&expr.kind)?,
                    _ => return None,
                }
            }
            _ => return None,
        };
        let (unit, _) = self.display_unit(quantity);
        let stands_in = match unit_of(literal) {
            Some(written) => self.is_written_in(written, &unit),
            None => row.is_some() || unit.is_one(),
        };
        if !stands_in {
            return None;
        }
        let plus_minus = match &literal.plus_minus {
            None => None,
            Some(plus_minus) => {
                let base = match self.statement(cell.statement).edited {
                    Some(_) => 0,
                    None => tree.span.start,
                };
                Some(self.amount_as_typed(plus_minus, &unit, (cell.statement, base))?)
            }
        };
        let tag = literal
            .plus_minus
            .as_ref()
            .and_then(|plus_minus| plus_minus.tag.as_ref());
        Some(Shown {
            kind: ShownKind::Number,
            value: signed_digits(literal),
            plus_minus,
            unit: self.unit_text(&unit, &quantity.state),
            tag: tag.map(tag_text),
        })
    }

    /// The amount behind ±: its digits, where it is a number of the same unit; else worked out.
    fn amount_as_typed(
        &self,
        plus_minus: &PlusMinus,
        unit: &Unit,
        (statement, base): (StatementId, u32),
    ) -> Option<String> {
        if let (ExprKind::Literal(amount), None) = (&plus_minus.amount.kind, &plus_minus.of) {
            let same = match &amount.unit {
                None => true,
                Some(written) => self
                    .unit_as_written(written)
                    .is_some_and(|made| self.is_as_large(&made, unit)),
            };
            if same && amount.plus_minus.is_none() {
                return Some(signed_digits(amount));
            }
        }
        let group = Group {
            place: Place {
                statement: statement.0,
                offset: plus_minus.span.start.saturating_sub(base),
            },
            element: 0,
        };
        let source = self.sources.of_group(group)?;
        Some(tidied(amount_of(source, plus_minus.tag.as_ref())?).shown())
    }

    /// Whether a unit as written is the one that a value is shown in.
    fn is_written_in(&self, written: &UnitExpr, unit: &Unit) -> bool {
        let Some(made) = self.unit_as_written(written) else {
            return false;
        };
        let registry = self.registry.borrow();
        registry.offset(&made) == registry.offset(unit) && self.is_as_large(&made, unit)
    }

    fn is_as_large(&self, one: &Unit, other: &Unit) -> bool {
        let registry = self.registry.borrow();
        registry
            .factor(one, other)
            .is_some_and(|factor| factor.is_one())
    }

    /// A unit as written, if it is made of plain words.
    fn unit_as_written(&self, written: &UnitExpr) -> Option<Unit> {
        let mut registry = self.registry.borrow_mut();
        let mut made = Unit::one();
        for term in &written.terms {
            let UnitTermKind::Word(word) = &term.kind else {
                return None;
            };
            let (up, down) = term.exponent;
            let Lookup::Found(one) = registry.word_to_power(word, up, down) else {
                return None;
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
}

fn literal_of(kind: &ExprKind) -> Option<&Literal> {
    match kind {
        ExprKind::Literal(literal) => Some(literal),
        ExprKind::Bracketed(inner) | ExprKind::In(inner, _) => literal_of(&inner.kind),
        _ => None,
    }
}

/// The unit of a literal: its own, or the one it shares with its ±.
fn unit_of(literal: &Literal) -> Option<&UnitExpr> {
    let shared = || {
        let plus_minus = literal.plus_minus.as_ref()?;
        match &plus_minus.amount.kind {
            ExprKind::Literal(amount) if plus_minus.of.is_none() => amount.unit.as_ref(),
            _ => None,
        }
    };
    literal.unit.as_ref().or_else(shared)
}

/// The amount that was typed behind ±, from the source it made.
fn amount_of(source: &Source, tag: Option<&Tag>) -> Option<f64> {
    let kind = tag.and_then(|tag| tag.kind.as_ref());
    let number = |numeral: &Numeral| Number::read(&numeral.digits).ok().map(Number::to_f64);
    Some(match (kind, source.shape) {
        (Some(TagKind::Coverage(k)), _) => source.standard * number(k)?,
        (Some(TagKind::Probability(percent)), _) => {
            let level = number(percent)? / 100.0;
            source.standard * distribution::coverage_factor(level, source.dof)
        }
        (Some(TagKind::Step), Shape::Limits(half)) => 2.0 * half,
        (_, Shape::Limits(half) | Shape::Triangular(half) | Shape::UShaped(half)) => half,
        (_, Shape::Scatter) => return None,
    })
}

/// The digits of a literal as typed, in plain signs.
fn signed_digits(literal: &Literal) -> String {
    let sign = if literal.negative { "-" } else { "" };
    format!("{sign}{}", digits(&literal.number))
}

fn digits(numeral: &Numeral) -> String {
    match numeral.fraction {
        None => numeral.digits.to_string(),
        Some((up, down)) if numeral.digits.is_empty() => format!("{up}/{down}"),
        Some((up, down)) => format!("{} {up}/{down}", numeral.digits),
    }
}

fn tag_text(tag: &Tag) -> String {
    let kind = tag.kind.as_ref().map(|kind| match kind {
        TagKind::Coverage(k) => format!("k = {}", digits(k)),
        TagKind::Probability(percent) => format!("{} %", digits(percent)),
        TagKind::Step => "step".to_owned(),
        TagKind::Triangular => "triangular".to_owned(),
        TagKind::UShaped => "u_shaped".to_owned(),
    });
    let dof = tag.dof.as_ref().map(|dof| format!("dof = {}", digits(dof)));
    let parts: Vec<String> = kind.into_iter().chain(dof).collect();
    parts.join(", ")
}
