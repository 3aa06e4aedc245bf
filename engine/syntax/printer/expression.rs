//! Expressions as text. Parentheses that the tree does not hold are added only where the tree
//! could not be read back without them, which happens with trees that no text gave.

use super::quantity::{push_column, push_literal, push_plus_minus, push_unit};
use crate::syntax::tree::{
    Argument, BinaryOperator, Comparison, Expr, ExprKind, Override, Path, Solve, UnitExpr,
    UnitTermKind,
};

/// An expression in canonical spelling.
pub fn print_expr(expr: &Expr) -> String {
    let mut text = String::new();
    push(&mut text, expr);
    text
}

/// How tightly the printed form holds together; see the levels of the parser.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Strength {
    Value,
    Shown,
    Condition,
    Or,
    And,
    Not,
    Comparison,
    Sum,
    Product,
    Sign,
    Power,
    Operand,
    Bracketed,
}

/// What nothing but parentheses has.
const STRONGEST: Strength = Strength::Bracketed;

/// Whether a unit is `1`, which is no unit.
fn is_one(unit: &UnitExpr) -> bool {
    matches!(unit.terms.as_slice(), [term] if term.kind == UnitTermKind::One)
        && unit.reference.is_none()
}

fn strength(expr: &Expr) -> Strength {
    match &expr.kind {
        ExprKind::With(..) => Strength::Value,
        ExprKind::In(..) => Strength::Shown,
        ExprKind::If(_) => Strength::Condition,
        ExprKind::Binary(sign, ..) => operator(*sign).1,
        ExprKind::Not(_) => Strength::Not,
        ExprKind::Comparison(..) => Strength::Comparison,
        ExprKind::Negative(_) | ExprKind::Solve(_) => Strength::Sign,
        ExprKind::Literal(literal) if literal.negative => Strength::Sign,
        ExprKind::Literal(literal) if literal.unit.is_some() || literal.plus_minus.is_some() => {
            Strength::Sign
        }
        ExprKind::Column(column) if column.unit.is_some() || column.plus_minus.is_some() => {
            Strength::Sign
        }
        ExprKind::Readings(_, Some(_)) => Strength::Sign,
        ExprKind::Refused(Some(reading)) => strength(reading),
        _ => Strength::Operand,
    }
}

/// Whether what follows would be read as part of it: `solve` goes as far as it can.
fn ends_open(expr: &Expr) -> bool {
    match &expr.kind {
        ExprKind::Solve(_) => true,
        ExprKind::Binary(_, _, right) => ends_open(right),
        ExprKind::Negative(inner) | ExprKind::Not(inner) => ends_open(inner),
        ExprKind::Comparison(operands, _) => operands.last().is_some_and(ends_open),
        ExprKind::Refused(Some(reading)) => ends_open(reading),
        _ => false,
    }
}

/// Whether it is a number without a unit, behind which a bracket is refused.
fn is_bare(expr: &Expr) -> bool {
    match &expr.kind {
        ExprKind::Literal(literal) => literal.unit.is_none(),
        ExprKind::Negative(inner) => is_bare(inner),
        ExprKind::Column(column) => column.unit.is_none() && column.items.iter().all(is_bare),
        _ => false,
    }
}

/// How an operator is written, how tightly it binds, and what its right side must be.
fn operator(sign: BinaryOperator) -> (&'static str, Strength, Strength) {
    match sign {
        BinaryOperator::Plus => (" + ", Strength::Sum, Strength::Product),
        BinaryOperator::Minus => (" - ", Strength::Sum, Strength::Product),
        BinaryOperator::Times => (" * ", Strength::Product, Strength::Sign),
        BinaryOperator::Over => (" / ", Strength::Product, Strength::Sign),
        BinaryOperator::Power => ("^", Strength::Power, Strength::Sign),
        BinaryOperator::And => (" and ", Strength::And, Strength::Not),
        BinaryOperator::Or => (" or ", Strength::Or, Strength::And),
    }
}

/// How a comparison is written.
pub(in crate::syntax) fn comparison(sign: Comparison) -> &'static str {
    match sign {
        Comparison::Less => "<",
        Comparison::LessOrEqual => "<=",
        Comparison::Greater => ">",
        Comparison::GreaterOrEqual => ">=",
        Comparison::Equal => "==",
        Comparison::Unequal => "!=",
    }
}

fn push_at_least(text: &mut String, expr: &Expr, least: Strength) {
    if strength(expr) < least {
        text.push('(');
        push(text, expr);
        text.push(')');
    } else {
        push(text, expr);
    }
}

/// As [`push_at_least`], for what something follows.
fn push_left(text: &mut String, expr: &Expr, least: Strength) {
    let least = if ends_open(expr) {
        Strength::Operand
    } else {
        least
    };
    push_at_least(text, expr, least);
}

fn push(text: &mut String, expr: &Expr) {
    match &expr.kind {
        ExprKind::Literal(literal) => push_literal(text, literal, false),
        ExprKind::Text(value) => push_text(text, value),
        ExprKind::Switch(on) => text.push_str(if *on { "true" } else { "false" }),
        ExprKind::Name(name) => text.push_str(name),
        ExprKind::Member(inner, name) => {
            push_base(text, inner);
            text.push('.');
            text.push_str(&name.text);
        }
        ExprKind::Keyed(inner, keys, name) => {
            push_base(text, inner);
            text.push('[');
            push_list(text, keys);
            text.push_str("].");
            text.push_str(&name.text);
        }
        ExprKind::Call(name, arguments) => {
            text.push_str(&name.text);
            push_arguments(text, arguments);
        }
        ExprKind::Column(column) => push_column(text, column),
        ExprKind::Readings(column, plus_minus) => {
            text.push_str("readings(");
            push(text, column);
            text.push(')');
            if let Some(plus_minus) = plus_minus {
                text.push(' ');
                push_plus_minus(text, plus_minus);
            }
        }
        ExprKind::Bracketed(inner) => {
            text.push('(');
            push(text, inner);
            text.push(')');
        }
        ExprKind::Negative(inner) => {
            text.push('-');
            push_at_least(text, inner, Strength::Sign);
        }
        ExprKind::Not(inner) => {
            text.push_str("not ");
            push_at_least(text, inner, Strength::Not);
        }
        ExprKind::Binary(sign, left, right) => push_binary(text, *sign, left, right),
        ExprKind::Comparison(operands, signs) => push_comparison(text, operands, signs),
        ExprKind::If(parts) => push_conditional(text, parts),
        ExprKind::In(inner, unit) => {
            let is_shown_so = !is_bare(inner) || is_one(unit);
            let least = match is_shown_so {
                true => Strength::Condition,
                false => STRONGEST,
            };
            push_at_least(text, inner, least);
            text.push_str(" [");
            push_unit(text, unit);
            text.push(']');
        }
        ExprKind::With(inner, overrides) => push_overrides(text, inner, overrides),
        ExprKind::Solve(solve) => push_solve(text, solve),
        ExprKind::Refused(Some(reading)) => push(text, reading),
        ExprKind::Refused(None) => text.push('?'),
    }
}

/// What a member or key stands behind, which is never a number.
fn push_base(text: &mut String, base: &Expr) {
    let least = match base.kind {
        ExprKind::Literal(_) => STRONGEST,
        _ => Strength::Operand,
    };
    push_at_least(text, base, least);
}

/// A text between double quotes.
pub(in crate::syntax) fn push_text(text: &mut String, value: &str) {
    text.push('"');
    text.push_str(value);
    text.push('"');
}

pub(super) fn push_list(text: &mut String, all: &[Expr]) {
    for (index, one) in all.iter().enumerate() {
        if index > 0 {
            text.push_str(", ");
        }
        push_shown(text, one);
    }
}

/// An expression in a list, where a scenario needs parentheses.
pub(super) fn push_shown(text: &mut String, expr: &Expr) {
    push_at_least(text, expr, Strength::Shown);
}

fn push_arguments(text: &mut String, arguments: &[Argument]) {
    text.push('(');
    for (index, argument) in arguments.iter().enumerate() {
        if index > 0 {
            text.push_str(", ");
        }
        if let Some(name) = &argument.name {
            text.push_str(&name.text);
            text.push_str(": ");
        }
        push_shown(text, &argument.value);
    }
    text.push(')');
}

fn push_binary(text: &mut String, sign: BinaryOperator, left: &Expr, right: &Expr) {
    let (word, own, right_least) = operator(sign);
    let left_least = match sign {
        BinaryOperator::Power => Strength::Operand,
        _ => own,
    };
    push_left(text, left, left_least);
    text.push_str(word);
    push_at_least(text, right, right_least);
}

fn push_comparison(text: &mut String, operands: &[Expr], signs: &[Comparison]) {
    for (index, operand) in operands.iter().enumerate() {
        if let Some(sign) = index.checked_sub(1).and_then(|before| signs.get(before)) {
            text.push(' ');
            text.push_str(comparison(*sign));
            text.push(' ');
        }
        if index + 1 < operands.len() {
            push_left(text, operand, Strength::Sum);
        } else {
            push_at_least(text, operand, Strength::Sum);
        }
    }
}

fn push_conditional(text: &mut String, parts: &[Expr; 3]) {
    let [condition, first, second] = parts;
    text.push_str("if ");
    push_at_least(text, condition, Strength::Condition);
    text.push_str(" then ");
    push_at_least(text, first, Strength::Condition);
    text.push_str(" else ");
    push_at_least(text, second, Strength::Condition);
}

fn push_overrides(text: &mut String, inner: &Expr, overrides: &[Override]) {
    push_at_least(text, inner, Strength::Shown);
    text.push_str(" with ");
    for (index, one) in overrides.iter().enumerate() {
        if index > 0 {
            text.push_str(", ");
        }
        push_path(text, &one.cell);
        text.push_str(" = ");
        push_sum(text, &one.value);
    }
}

fn push_solve(text: &mut String, solve: &Solve) {
    text.push_str("solve ");
    push_path(text, &solve.unknown);
    if let Some(unit) = &solve.unit {
        text.push_str(" [");
        push_unit(text, unit);
        text.push(']');
    }
    text.push_str(" for ");
    push_left(text, &solve.left, Strength::Sum);
    text.push_str(" = ");
    push_left(text, &solve.right, Strength::Sum);
    if let Some((low, high)) = &solve.range {
        text.push_str(" from ");
        push_left(text, low, Strength::Sum);
        text.push_str(" to ");
        push_left(text, high, Strength::Sum);
    }
}

/// An expression where neither comparisons nor `if` may stand without parentheses.
pub(super) fn push_sum(text: &mut String, expr: &Expr) {
    push_at_least(text, expr, Strength::Sum);
}

/// A condition, where `if` needs parentheses.
pub(super) fn push_condition(text: &mut String, expr: &Expr) {
    push_at_least(text, expr, Strength::Or);
}

/// A name with the names behind its dots.
pub(super) fn push_path(text: &mut String, path: &Path) {
    for (index, name) in path.names.iter().enumerate() {
        if index > 0 {
            text.push('.');
        }
        text.push_str(&name.text);
    }
}

/// A value, which may be a scenario.
pub(super) fn push_value(text: &mut String, expr: &Expr) {
    push(text, expr);
}
