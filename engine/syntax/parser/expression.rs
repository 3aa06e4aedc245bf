//! Expressions, by climbing precedence: loosest `if`, then `or`, `and`, `not`, comparisons,
//! `+ -`, `* /`, the sign, and `^`. What is refused with a message but has a reading goes on.

use nom::Parser;
use nom::multi::separated_list1;

use super::input::{Parsed, Tokens, sign};
use super::{fault, operand, power, refusal, scenario, unit};
use crate::syntax::token::{Kind, Reserved};
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

/// An operand and as many operators as bind at least so tightly, from left to right.
fn climb(input: Tokens<'_>, least: Level) -> Parsed<'_, Expr> {
    let outer = input.begin_height();
    let (mut input, mut left) = first_operand(input, least)?;
    loop {
        (input, left) = match step(input, least) {
            Step::Done => {
                input.end_height(outer);
                return Ok((input, left));
            }
            Step::Binary(level, sign) => {
                refusal::foreign(input);
                let (rest, right) = climb(input.after(), level + 1)?;
                (rest, join(left, sign, right))
            }
            Step::Compare => comparisons(input, left)?,
            Step::Dash => {
                let (rest, right) = climb(input.after(), PRODUCT)?;
                (rest, refusal::dash(rest, left, right))
            }
            Step::PlusMinus => refusal::plus_minus_behind(input, left)?,
            Step::Operand => refusal::juxtaposed(input, left)?,
        };
        input.grow()?;
    }
}

/// What follows an operand.
enum Step {
    /// Nothing that belongs to it.
    Done,
    Binary(Level, BinaryOperator),
    Compare,
    /// The rest are refused.
    Dash,
    PlusMinus,
    Operand,
}

fn step(input: Tokens<'_>, least: Level) -> Step {
    match operator(input) {
        Some((level, Operator::Binary(sign))) if level >= least => Step::Binary(level, sign),
        Some((level, Operator::Compare(_))) if level >= least => Step::Compare,
        Some(_) => Step::Done,
        None => match input.kind() {
            Kind::Dash if least <= SUM => Step::Dash,
            Kind::PlusMinus => Step::PlusMinus,
            kind if refusal::begins_operand(kind) => Step::Operand,
            _ => Step::Done,
        },
    }
}

fn comparisons(mut input: Tokens<'_>, first: Expr) -> Parsed<'_, Expr> {
    let mut operands = vec![first];
    let mut signs = Vec::new();
    while let Some((_, Operator::Compare(sign))) = operator(input) {
        let token = input.token();
        fault::check_line_border(input)?;
        refusal::foreign(input);
        let right;
        (input, right) = climb(input.after(), SUM)?;
        if let (Kind::Equal, Some(left)) = (token.kind, operands.last()) {
            refusal::equals(input.page, token, left, &right);
        }
        operands.push(right);
        signs.push(sign);
    }
    let span = match (operands.first(), operands.last()) {
        (Some(first), Some(last)) => first.span.to(last.span),
        _ => input.token().span,
    };
    let kind = ExprKind::Comparison(operands, signs);
    Ok((input, Expr { span, kind }))
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

pub(super) fn join(left: Expr, sign: BinaryOperator, right: Expr) -> Expr {
    Expr {
        span: left.span.to(right.span),
        kind: ExprKind::Binary(sign, Box::new(left), Box::new(right)),
    }
}

fn first_operand(input: Tokens<'_>, least: Level) -> Parsed<'_, Expr> {
    // Most operands are bare names; they need none of the steps below.
    if let Some(name) = operand::bare_name(input) {
        return Ok((input.after(), name));
    }
    let is_not = match input.kind() {
        Kind::Reserved(Reserved::Not) => true,
        Kind::Foreign => refusal::foreign_operator(input.text(input.token())).0 == "not",
        _ => false,
    };
    if is_not && least <= NOT {
        refusal::foreign(input);
        return input.nested(negation);
    }
    power::signed(input)
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

/// Several of something, separated by commas.
pub(super) fn list<'t, T>(
    input: Tokens<'t>,
    one: impl Fn(Tokens<'t>) -> Parsed<'t, T>,
) -> Parsed<'t, Vec<T>> {
    separated_list1(sign(Kind::Comma), one).parse(input)
}
