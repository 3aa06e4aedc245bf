//! Literals as typed: their digits, and what they borrow from around them.

use crate::number::Number;
use crate::syntax::{
    Column, ExprKind, Literal, Numeral, PlusMinus, Tag as Meaning, TagKind, UnitExpr,
};

/// A literal with what it borrows from around it.
pub(super) struct Typed<'t> {
    pub(super) literal: &'t Literal,
    pub(super) unit: Option<&'t UnitExpr>,
    pub(super) plus_minus: Option<&'t PlusMinus>,
}

impl<'t> Typed<'t> {
    pub(super) fn alone(literal: &'t Literal) -> Typed<'t> {
        Typed {
            literal,
            unit: literal.unit.as_ref(),
            plus_minus: literal.plus_minus.as_deref(),
        }
    }

    /// An item of a column, which may borrow the unit and the ± behind it.
    pub(super) fn item(column: &'t Column, row: usize) -> Option<Typed<'t>> {
        let ExprKind::Literal(literal) = &column.items.get(row)?.kind else {
            return None;
        };
        let own = literal.plus_minus.as_deref();
        Some(Typed {
            literal,
            unit: literal.unit.as_ref().or(column.unit.as_ref()),
            plus_minus: own.or(column.plus_minus.as_ref()),
        })
    }
}

/// What stands in brackets of either kind.
pub(super) fn inner(kind: &ExprKind) -> &ExprKind {
    match kind {
        ExprKind::Bracketed(within) | ExprKind::In(within, _) => inner(&within.kind),
        other => other,
    }
}

/// In `140 ± 1 psig` the unit stands with the amount alone.
pub(super) fn unit_of_amount(plus_minus: &PlusMinus) -> Option<&UnitExpr> {
    match &plus_minus.amount.kind {
        ExprKind::Literal(amount) if plus_minus.of.is_none() => amount.unit.as_ref(),
        _ => None,
    }
}

pub(super) fn number_of(numeral: &Numeral, negative: bool) -> Option<Number> {
    let whole = match numeral.digits.is_empty() {
        true => Number::ZERO,
        false => Number::read(&numeral.digits).ok()?,
    };
    let number = match numeral.fraction {
        None => whole,
        Some((up, down)) => {
            let up = Number::from(i64::from(up));
            let part = up.over(Number::from(i64::from(down))).ok()?;
            whole.plus(part).ok()?
        }
    };
    Some(if negative { number.negated() } else { number })
}

/// The digits as typed, in plain signs.
pub(super) fn numeral_text(numeral: &Numeral) -> String {
    match numeral.fraction {
        None => numeral.digits.to_string(),
        Some((up, down)) if numeral.digits.is_empty() => format!("{up}/{down}"),
        Some((up, down)) => format!("{} {up}/{down}", numeral.digits),
    }
}

/// The bracket behind `±` without its brackets: `95 %, dof = 18`.
pub(super) fn meaning_text(tag: &Meaning) -> String {
    let kind = tag.kind.as_ref().map(|kind| match kind {
        TagKind::Coverage(number) => format!("k = {}", numeral_text(number)),
        TagKind::Probability(number) => format!("{} %", numeral_text(number)),
        TagKind::Step => "step".to_owned(),
        TagKind::Triangular => "triangular".to_owned(),
        TagKind::UShaped => "u_shaped".to_owned(),
    });
    let dof = tag
        .dof
        .as_ref()
        .map(|dof| format!("dof = {}", numeral_text(dof)));
    let parts: Vec<String> = kind.into_iter().chain(dof).collect();
    parts.join(", ")
}
