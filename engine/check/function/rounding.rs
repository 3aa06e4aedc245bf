//! `round`, `floor`, `ceil`: to multiples of a step.

use super::super::message::{self, Doing};
use super::super::typed_tree::{Binary, Node, NodeKind};
use super::super::types::Quantity;
use super::super::{Checker, Outcome, Typed};
use super::{Given, binary};
use crate::number::Number;
use crate::source::Span;
use crate::units::Unit;

impl Checker<'_> {
    /// Rounding takes a step, unless the value is a plain number.
    pub(super) fn stepped(
        &mut self,
        span: Span,
        given: &[Given],
        function: Binary,
    ) -> Outcome<Typed> {
        let (value, quantity) = self.number(&given[0], "rounding")?;
        let plain = self.registry.dimension(&quantity.unit).is_plain();
        let step = match given.get(1) {
            Some(step) => self.step_for((&quantity, given[0].span), step)?,
            None if plain && quantity.unit == Unit::one() => Node {
                kind: NodeKind::Number(Number::ONE),
                span,
            },
            None => {
                let operand = self.operand(&quantity, given[0].span);
                let unit = self
                    .registry
                    .show(&self.registry.bare(&quantity.unit), None);
                let name = match function {
                    Binary::Floor => "floor",
                    Binary::Ceil => "ceil",
                    _ => "round",
                };
                return self.fail(message::needs_step(&operand, name, &unit, span));
            }
        };
        let ty = value.ty.clone();
        Ok(binary(span, function, value.node, step, ty))
    }

    /// The step in the unit of the value; of a reading, a difference.
    pub(super) fn step_for(&mut self, value: (&Quantity, Span), step: &Given) -> Outcome<Node> {
        let by = self.require_quantity(&step.typed, step.span, "as a step")?;
        self.require_same_dimension(value, (&by, step.span), Doing::Argument)?;
        self.refuse_point_as_step(&by, step.span)?;
        Ok(self.scaled(step.typed.node.clone(), &by.unit, &value.0.unit))
    }

    /// A step is a difference, never a place on a scale.
    pub(in crate::check) fn refuse_point_as_step(
        &mut self,
        step: &Quantity,
        span: Span,
    ) -> Outcome<()> {
        let reference = step.reference();
        if reference.is_none_or(|reference| reference.step() == reference) {
            return Ok(());
        }
        let operand = self.operand(step, span);
        self.fail(message::step_is_point(&operand))
    }
}
