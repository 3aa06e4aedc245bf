//! Numbers, units and ± as text.

use super::expression::{print_expr, push_shown};
use crate::syntax::fold;
use crate::syntax::tree::{
    Column, ExprKind, Joint, Literal, Numeral, PlusMinus, Tag, TagKind, UnitExpr, UnitTerm,
    UnitTermKind,
};

/// A unit in canonical spelling, without brackets around it: `gal/min`, `kJ/(kg K)`, `in²`.
pub fn print_unit(unit: &UnitExpr) -> String {
    let mut text = String::new();
    push_unit(&mut text, unit);
    text
}

pub(super) fn push_unit(text: &mut String, unit: &UnitExpr) {
    push_terms(text, &unit.terms, true);
    push_reference(text, unit);
}

fn push_reference(text: &mut String, unit: &UnitExpr) {
    if let Some(reference) = &unit.reference {
        text.push(' ');
        text.push_str(&reference.text);
    }
}

fn push_terms(text: &mut String, terms: &[UnitTerm], from_first: bool) {
    for (index, term) in terms.iter().enumerate() {
        let is_first = from_first && index == 0;
        text.push_str(match (term.joint, is_first) {
            (Joint::Per, true) => "per ",
            (_, true) | (Joint::First, _) => "",
            (Joint::Blank, _) => " ",
            (Joint::Times, _) => "*",
            (Joint::Over, _) => "/",
            (Joint::Per, _) => " per ",
        });
        push_term(text, term);
    }
}

fn push_term(text: &mut String, term: &UnitTerm) {
    match &term.kind {
        UnitTermKind::Word(word) => text.push_str(word),
        UnitTermKind::One => text.push('1'),
        UnitTermKind::Group(times, unit) => {
            text.push('(');
            if *times != 1 {
                text.push_str(&format!("{times} "));
            }
            push_unit(text, unit);
            text.push(')');
        }
    }
    match term.exponent {
        (1, 1) => {}
        (above, 1) => text.push_str(&fold::raised(above)),
        (above, below) => text.push_str(&format!("^({above}/{below})")),
    }
}

/// A number in canonical spelling. A fraction alone is written as one character where there is
/// one, unless `beside_unit`: there it is read as one number anyway.
pub(in crate::syntax) fn print_number(number: &Numeral, beside_unit: bool) -> String {
    let Some((above, below)) = number.fraction else {
        return number.digits.to_string();
    };
    match fold::fraction_glyph((above, below)).filter(|_| !beside_unit) {
        Some(glyph) => format!("{}{glyph}", number.digits),
        None if number.digits.is_empty() => format!("{above}/{below}"),
        None => format!("{} {above}/{below}", number.digits),
    }
}

/// A literal as text; `as_item` where a fraction needs no unit to be one.
pub(in crate::syntax) fn print_literal(literal: &Literal, as_item: bool) -> String {
    let mut text = String::new();
    push_literal(&mut text, literal, as_item);
    text
}

/// A literal; `as_item` where a fraction needs no unit to be one.
pub(super) fn push_literal(text: &mut String, literal: &Literal, as_item: bool) {
    if literal.negative {
        text.push('-');
    }
    let number = &literal.number;
    match &literal.unit {
        None => {
            let is_told = as_item || literal.plus_minus.is_some();
            text.push_str(&print_number(number, is_told));
        }
        Some(unit) if number.fraction.is_none() && is_money(unit) => {
            text.push_str("$ ");
            text.push_str(&print_number(number, false));
            push_terms(text, unit.terms.get(1..).unwrap_or(&[]), false);
            push_reference(text, unit);
        }
        Some(unit) => {
            text.push_str(&print_number(number, true));
            text.push(' ');
            push_unit(text, unit);
        }
    }
    if let Some(plus_minus) = &literal.plus_minus {
        text.push(' ');
        push_plus_minus(text, plus_minus);
    }
}

/// Whether the unit is written as a currency sign before the number.
fn is_money(unit: &UnitExpr) -> bool {
    let Some(first) = unit.terms.first() else {
        return false;
    };
    first.kind == UnitTermKind::Word("$".into())
        && first.joint == Joint::First
        && first.exponent == (1, 1)
        && (unit.terms.len() > 1 || unit.reference.is_none())
        && unit
            .terms
            .get(1)
            .is_none_or(|term| matches!(term.joint, Joint::Over | Joint::Per))
}

pub(super) fn push_column(text: &mut String, column: &Column) {
    text.push('{');
    for (index, item) in column.items.iter().enumerate() {
        if index > 0 {
            text.push_str(", ");
        }
        match &item.kind {
            ExprKind::Literal(literal) => push_literal(text, literal, true),
            _ => push_shown(text, item),
        }
    }
    text.push('}');
    if let Some(unit) = &column.unit {
        text.push(' ');
        push_unit(text, unit);
    }
    if let Some(plus_minus) = &column.plus_minus {
        text.push(' ');
        push_plus_minus(text, plus_minus);
    }
}

/// `± 2 % of 200 psi (k = 2)`
pub(in crate::syntax) fn print_plus_minus(plus_minus: &PlusMinus) -> String {
    let mut text = String::new();
    push_plus_minus(&mut text, plus_minus);
    text
}

pub(super) fn push_plus_minus(text: &mut String, plus_minus: &PlusMinus) {
    text.push_str("± ");
    match &plus_minus.amount.kind {
        ExprKind::Literal(amount) => push_literal(text, amount, true),
        _ => text.push_str(&print_expr(&plus_minus.amount)),
    }
    if let Some(of) = &plus_minus.of {
        text.push_str(" of ");
        text.push_str(&print_expr(of));
    }
    if let Some(tag) = &plus_minus.tag {
        text.push(' ');
        push_tag(text, tag);
    }
}

fn push_tag(text: &mut String, tag: &Tag) {
    text.push('(');
    if let Some(kind) = &tag.kind {
        match kind {
            TagKind::Coverage(number) => {
                text.push_str("k = ");
                text.push_str(&print_number(number, false));
            }
            TagKind::Probability(number) => {
                text.push_str(&print_number(number, false));
                text.push_str(" %");
            }
            TagKind::Step => text.push_str("step"),
            TagKind::Triangular => text.push_str("triangular"),
            TagKind::UShaped => text.push_str("u_shaped"),
        }
    }
    if let Some(dof) = &tag.dof {
        if tag.kind.is_some() {
            text.push_str(", ");
        }
        text.push_str("dof = ");
        text.push_str(&print_number(dof, false));
    }
    text.push(')');
}
