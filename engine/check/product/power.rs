//! Powers: of plain numbers any, of a value with a unit those that are written out.

use super::super::message::{self};
use super::super::typed_tree::{Binary, Node, NodeKind, Unary};
use super::super::types::{Kind, Marks, Quantity, State, Type};
use super::super::{Checker, Outcome, Typed};
use super::rooted_state;
use crate::number::Number;
use crate::source::Span;
use crate::syntax::Expr;
use crate::units::Unit;

impl Checker<'_> {
    pub(in crate::check) fn power(
        &mut self,
        span: Span,
        base: &Expr,
        exponent: &Expr,
    ) -> Outcome<Typed> {
        let typed = self.expr(base)?;
        let quantity = self.require_quantity(&typed, base.span, "raised to a power")?;
        self.refuse_point_scaled(&quantity, base.span, "a power of")?;
        let power = self.expr(exponent)?;
        let power_quantity = self.require_quantity(&power, exponent.span, "as an exponent")?;
        if !self.registry.dimension(&power_quantity.unit).is_plain() {
            let operand = self.operand(&power_quantity, exponent.span);
            return self.fail(message::exponent_with_unit(&operand));
        }
        let power = self.as_ones(power);
        if self.registry.dimension(&quantity.unit).is_plain() {
            return Ok(self.plain_power(span, typed, power, quantity.marks));
        }
        let Some(exponent_value) = constant(&power.node) else {
            let operand = self.operand(&quantity, base.span);
            return self.fail(message::power_must_be_written(exponent.span, &operand));
        };
        self.power_with_unit(span, (typed, quantity), exponent_value, exponent.span)
    }

    pub(super) fn plain_power(
        &mut self,
        span: Span,
        base: Typed,
        power: Typed,
        marks: Marks,
    ) -> Typed {
        let base = self.as_ones(base);
        let column = base.ty.column || power.ty.column;
        let kind = match constant(&power.node).and_then(whole_exponent) {
            Some(whole) => NodeKind::WholePower(Box::new(base.node), whole),
            None => NodeKind::Binary(Binary::Power, Box::new(base.node), Box::new(power.node)),
        };
        let mut quantity = Quantity::new(Unit::one(), State::Plain);
        quantity.marks = Marks {
            from_states: marks.from_states,
            ..Marks::default().with(marks)
        };
        Typed {
            node: Node { kind, span },
            ty: Type {
                kind: Kind::Quantity(quantity),
                column,
            },
        }
    }

    pub(super) fn power_with_unit(
        &mut self,
        span: Span,
        (base, quantity): (Typed, Quantity),
        exponent: Number,
        exponent_span: Span,
    ) -> Outcome<Typed> {
        let Some((up, down)) = twelfths(exponent) else {
            let operand = self.operand(&quantity, base.node.span);
            return self.fail(message::power_must_be_written(exponent_span, &operand));
        };
        let Some(unit) = quantity.unit.power(up, down) else {
            return self.fail(message::unit_too_large(exponent_span));
        };
        let column = base.ty.column;
        let kind = match whole_exponent(exponent) {
            Some(whole) => NodeKind::WholePower(Box::new(base.node), whole),
            None => {
                let node = Node {
                    kind: NodeKind::Number(exponent),
                    span: exponent_span,
                };
                NodeKind::Binary(Binary::Power, Box::new(base.node), Box::new(node))
            }
        };
        let dimension = self.registry.dimension(&unit);
        let state = if exponent.equals(Number::ONE) {
            quantity.state.clone()
        } else {
            rooted_state(&dimension)
        };
        let mut result = Quantity::new(unit, state);
        result.marks = Marks::default().with(quantity.marks);
        Ok(Typed {
            node: Node { kind, span },
            ty: Type {
                kind: Kind::Quantity(result),
                column,
            },
        })
    }
}

/// A number that is known while checking.
pub(in crate::check) fn constant(node: &Node) -> Option<Number> {
    match &node.kind {
        NodeKind::Number(number) => Some(*number),
        NodeKind::Unary(Unary::Negate, inner) => constant(inner).map(Number::negated),
        NodeKind::Binary(operation, left, right) => {
            let (left, right) = (constant(left)?, constant(right)?);
            match operation {
                Binary::Add => left.plus(right).ok(),
                Binary::Subtract => left.minus(right).ok(),
                Binary::Multiply => left.times(right).ok(),
                Binary::Divide => left.over(right).ok(),
                _ => None,
            }
        }
        _ => None,
    }
}

/// An exponent as a fraction with a denominator that units can have.
pub(super) fn twelfths(exponent: Number) -> Option<(i32, i32)> {
    let twelve = exponent.times(Number::from(12)).ok()?;
    let nearest = twelve.round_to(Number::ONE).ok()?;
    let close = twelve.equals(nearest);
    let whole = nearest
        .to_i64()
        .and_then(|whole| i32::try_from(whole).ok())?;
    close.then_some((whole, 12))
}

pub(super) fn whole_exponent(number: Number) -> Option<i32> {
    number.to_i64().and_then(|whole| i32::try_from(whole).ok())
}
