//! Signs before a value, and powers behind one.

use super::expression::join;
use super::input::{Parsed, Tokens};
use super::{fault, operand, refusal};
use crate::syntax::token::{Kind, Token};
use crate::syntax::tree::{BinaryOperator, Expr, ExprKind};

/// A sign and what it stands before; directly before a literal it belongs to the number.
pub(super) fn signed(input: Tokens<'_>) -> Parsed<'_, Expr> {
    if input.kind() != Kind::Minus {
        return power(input, None);
    }
    let minus = input.token();
    if operand::begins_literal(input.kind_at(1)) {
        return power(input.after(), Some(minus));
    }
    input.nested(|input| {
        let (input, operand) = signed(input.after())?;
        Ok((input, negative(minus, operand)))
    })
}

fn negative(minus: Token, operand: Expr) -> Expr {
    Expr {
        span: minus.span.to(operand.span),
        kind: ExprKind::Negative(Box::new(operand)),
    }
}

fn power(input: Tokens<'_>, minus: Option<Token>) -> Parsed<'_, Expr> {
    let (input, base) = operand::postfix(input, minus)?;
    match input.kind() {
        Kind::Power | Kind::Raised => raise(input, base, minus),
        Kind::Foreign if refusal::foreign_operator(input.text(input.token())).0 == "^" => {
            refusal::foreign(input);
            raise(input, base, minus)
        }
        _ => Ok((input, base)),
    }
}

fn raise(input: Tokens<'_>, mut base: Expr, minus: Option<Token>) -> Parsed<'_, Expr> {
    let (rest, exponent) = exponent(input)?;
    if matches!(rest.kind(), Kind::Power | Kind::Raised) {
        return Err(fault::power_of_power(rest, &base, &exponent));
    }
    if refusal::is_quantity(&base) {
        return refusal::power_of_literal(rest, base, exponent);
    }
    rest.grow()?;
    // In `-2^2` the sign stands before the power, not before the 2.
    let outer = match (&mut base.kind, minus) {
        (ExprKind::Literal(literal), Some(minus)) if literal.negative => {
            literal.negative = false;
            base.span.start = literal.number.span.start;
            Some(minus)
        }
        _ => None,
    };
    let raised = join(base, BinaryOperator::Power, exponent);
    Ok((
        rest,
        match outer {
            Some(minus) => negative(minus, raised),
            None => raised,
        },
    ))
}

fn exponent(input: Tokens<'_>) -> Parsed<'_, Expr> {
    if input.kind() == Kind::Raised {
        return operand::raised(input);
    }
    input.nested(|input| signed(input.after()))
}
