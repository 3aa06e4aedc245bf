//! Expressions, by climbing precedence: loosest `if`, then `or`, `and`, `not`, comparisons,
//! `+ -`, `* /`, the sign, and `^`. What is refused with a message but has a reading goes on.

use nom::Parser;
use nom::multi::separated_list1;

use super::input::{Parsed, Tokens, sign};
use super::{fault, juxtaposed, operand, refusal, scenario, unit};
use crate::syntax::token::{Kind, Reserved, Token};
use crate::syntax::tree::{BinaryOperator, Comparison, Expr, ExprKind};

/// How tightly an operator binds; an operand is read with the level it must at least have.
pub(super) type Level = u8;

/// Everything but `if`.
pub(super) const OR: Level = 1;
const AND: Level = 2;
const NOT: Level = 3;
const COMPARISON: Level = 4;
/// Neither comparisons nor logic.
pub(super) const SUM: Level = 5;
const PRODUCT: Level = 6;

enum Operator {
    Binary(BinaryOperator),
    Compare(Comparison),
}

/// `shown`, perhaps `with` other values.
pub(super) fn value(input: Tokens<'_>) -> Parsed<'_, Expr> {
    let (input, shown) = shown(input)?;
    if input.kind() == Kind::Reserved(Reserved::With) {
        return scenario::overrides(input, shown);
    }
    Ok((input, shown))
}

/// An expression and the bracket that closes it.
pub(super) fn shown(input: Tokens<'_>) -> Parsed<'_, Expr> {
    let (input, inner) = expression(input)?;
    if input.kind() != Kind::OpenSquare {
        return Ok((input, inner));
    }
    let opening = input.token();
    let (rest, unit) = unit::bracket(input)?;
    if !closes_expression(rest) {
        return Err(fault::bracket_inside(rest, &inner, opening));
    }
    if let Some(refused) = refusal::bracket_on_literal(rest, &inner, &unit) {
        return Ok((rest, refused));
    }
    rest.grow()?;
    let span = rest.span_from(inner.span);
    Ok((
        rest,
        Expr {
            span,
            kind: ExprKind::In(Box::new(inner), unit),
        },
    ))
}

/// Whether a whole expression may end before the next token.
fn closes_expression(input: Tokens<'_>) -> bool {
    use Reserved::{Against, By, For, From, Gives, Over, Show, To, With, Within};
    match input.kind() {
        Kind::End | Kind::Comma | Kind::Bar | Kind::Text | Kind::Equal => true,
        Kind::CloseRound | Kind::CloseCurly | Kind::CloseSquare => true,
        Kind::Reserved(word) => matches!(
            word,
            Against | By | For | From | Gives | Over | Show | To | With | Within
        ),
        _ => false,
    }
}

/// `if`, or an expression of operators.
pub(super) fn expression(input: Tokens<'_>) -> Parsed<'_, Expr> {
    if input.kind() == Kind::Reserved(Reserved::If) {
        return input.nested(conditional);
    }
    climb(input, OR)
}

/// An expression without `if`: what must hold.
pub(super) fn condition(input: Tokens<'_>) -> Parsed<'_, Expr> {
    climb(input, OR)
}

/// An expression without `if`, logic and comparisons.
pub(super) fn sum(input: Tokens<'_>) -> Parsed<'_, Expr> {
    climb(input, SUM)
}

fn conditional(input: Tokens<'_>) -> Parsed<'_, Expr> {
    let start = input.token().span;
    let (input, when) = expression(input.after())?;
    let (input, _) = fault::demand_word(input, Reserved::Then, "`then` and the value if it holds")?;
    let (input, first) = expression(input)?;
    let (input, _) = fault::demand_word(
        input,
        Reserved::Else,
        "`else` and the value if it does not hold",
    )?;
    let (input, second) = expression(input)?;
    let kind = ExprKind::If(Box::new([when, first, second]));
    let span = input.span_from(start);
    Ok((input, Expr { span, kind }))
}

fn climb(input: Tokens<'_>, least: Level) -> Parsed<'_, Expr> {
    input.scoped(|input| {
        let (mut input, mut left) = first_operand(input, least)?;
        loop {
            let next;
            (input, next) = go_on(input, left, least)?;
            match next {
                Step::On(grown) => left = grown,
                Step::Done(whole) => return Ok((input, whole)),
            }
            input.grow()?;
        }
    })
}

enum Step {
    On(Expr),
    Done(Expr),
}

/// One operator and its right side, if one follows that binds tightly enough.
fn go_on(input: Tokens<'_>, left: Expr, least: Level) -> Parsed<'_, Step> {
    match operator(input) {
        Some((level, Operator::Binary(sign))) if level >= least => {
            refusal::foreign(input);
            let (input, right) = climb(input.after(), level + 1)?;
            Ok((input, Step::On(join(left, sign, right))))
        }
        Some((level, Operator::Compare(_))) if level >= least => comparisons(input, left),
        Some(_) => Ok((input, Step::Done(left))),
        None => other_sign(input, left, least),
    }
}

/// No operator follows: the end, or a writing that is refused.
fn other_sign(input: Tokens<'_>, left: Expr, least: Level) -> Parsed<'_, Step> {
    match input.kind() {
        Kind::Dash if least <= SUM => {
            let (input, right) = climb(input.after(), PRODUCT)?;
            let refused = refusal::dash(input, left, right);
            Ok((input, Step::On(refused)))
        }
        Kind::PlusMinus => {
            let (input, refused) = refusal::plus_minus_behind(input, left)?;
            Ok((input, Step::On(refused)))
        }
        kind if refusal::begins_operand(kind) => {
            let (input, refused) = juxtaposed::juxtaposed(input, left)?;
            Ok((input, Step::On(refused)))
        }
        _ => Ok((input, Step::Done(left))),
    }
}

fn comparisons(mut input: Tokens<'_>, first: Expr) -> Parsed<'_, Step> {
    let mut operands = vec![first];
    let mut signs = Vec::new();
    while let Some((_, Operator::Compare(sign))) = operator(input) {
        if input.kind() == Kind::Equal {
            fault::check_line_border(input)?;
            refusal::equals(input);
        }
        refusal::foreign(input);
        let right;
        (input, right) = climb(input.after(), SUM)?;
        operands.push(right);
        signs.push(sign);
    }
    let span = match (operands.first(), operands.last()) {
        (Some(first), Some(last)) => first.span.to(last.span),
        _ => input.token().span,
    };
    let kind = ExprKind::Comparison(operands, signs);
    Ok((input, Step::On(Expr { span, kind })))
}

fn operator(input: Tokens<'_>) -> Option<(Level, Operator)> {
    use BinaryOperator as B;
    use Comparison as C;
    let (level, operator) = match input.kind() {
        Kind::Plus => (SUM, Operator::Binary(B::Plus)),
        Kind::Minus => (SUM, Operator::Binary(B::Minus)),
        Kind::Times => (PRODUCT, Operator::Binary(B::Times)),
        Kind::Over => (PRODUCT, Operator::Binary(B::Over)),
        Kind::Reserved(Reserved::And) => (AND, Operator::Binary(B::And)),
        Kind::Reserved(Reserved::Or) => (OR, Operator::Binary(B::Or)),
        Kind::Less => (COMPARISON, Operator::Compare(C::Less)),
        Kind::LessOrEqual => (COMPARISON, Operator::Compare(C::LessOrEqual)),
        Kind::Greater => (COMPARISON, Operator::Compare(C::Greater)),
        Kind::GreaterOrEqual => (COMPARISON, Operator::Compare(C::GreaterOrEqual)),
        Kind::EqualEqual | Kind::Equal => (COMPARISON, Operator::Compare(C::Equal)),
        Kind::Unequal => (COMPARISON, Operator::Compare(C::Unequal)),
        Kind::Foreign => match refusal::foreign_operator(input.text(input.token())).0 {
            "<=" => (COMPARISON, Operator::Compare(C::LessOrEqual)),
            ">=" => (COMPARISON, Operator::Compare(C::GreaterOrEqual)),
            "==" => (COMPARISON, Operator::Compare(C::Equal)),
            "!=" => (COMPARISON, Operator::Compare(C::Unequal)),
            "and" => (AND, Operator::Binary(B::And)),
            "or" => (OR, Operator::Binary(B::Or)),
            _ => return None,
        },
        _ => return None,
    };
    Some((level, operator))
}

fn join(left: Expr, sign: BinaryOperator, right: Expr) -> Expr {
    Expr {
        span: left.span.to(right.span),
        kind: ExprKind::Binary(sign, Box::new(left), Box::new(right)),
    }
}

fn first_operand(input: Tokens<'_>, least: Level) -> Parsed<'_, Expr> {
    let is_not = match input.kind() {
        Kind::Reserved(Reserved::Not) => true,
        Kind::Foreign => refusal::foreign_operator(input.text(input.token())).0 == "not",
        _ => false,
    };
    if is_not && least <= NOT {
        refusal::foreign(input);
        return input.nested(negation);
    }
    signed(input)
}

fn negation(input: Tokens<'_>) -> Parsed<'_, Expr> {
    let start = input.token().span;
    let inner = input.after();
    let (input, operand) = match inner.kind() {
        Kind::Reserved(Reserved::Not) | Kind::Foreign => first_operand(inner, NOT)?,
        _ => climb(inner, COMPARISON)?,
    };
    let span = start.to(operand.span);
    let kind = ExprKind::Not(Box::new(operand));
    Ok((input, Expr { span, kind }))
}

/// A sign and what it stands before; directly before a literal it belongs to the number.
fn signed(input: Tokens<'_>) -> Parsed<'_, Expr> {
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

/// Several of something, separated by commas.
pub(super) fn list<'t, T>(
    input: Tokens<'t>,
    one: impl Fn(Tokens<'t>) -> Parsed<'t, T>,
) -> Parsed<'t, Vec<T>> {
    separated_list1(sign(Kind::Comma), one).parse(input)
}
