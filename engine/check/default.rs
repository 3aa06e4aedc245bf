//! A cell that takes the place of a default of the handbook: it has to be of the same kind.

use super::message;
use super::types::{State, Type};
use super::{Checker, Outcome, Typed};
use crate::source::Span;

impl Checker<'_> {
    /// Holds a cell to the default that it replaces.
    pub fn as_default(
        &mut self,
        typed: Typed,
        name: &str,
        default: &Type,
        span: Span,
    ) -> Outcome<Typed> {
        let Some(wanted) = default.as_quantity() else {
            return Ok(typed);
        };
        let Some(own) = typed.ty.as_quantity().filter(|_| !typed.ty.column).cloned() else {
            let noun = self.noun(&typed.ty);
            let model = self.operand(wanted, span);
            return self.fail(message::default_of_no_number(name, span, &noun, &model));
        };
        let operand = self.operand(&own, span);
        let model = self.operand(wanted, span);
        if self.registry.dimension(&own.unit) != self.registry.dimension(&wanted.unit) {
            return self.fail(message::default_of_other_kind(name, &operand, &model));
        }
        match (&own.state, &wanted.state) {
            (State::Is(is), State::Is(wanted)) if is != wanted => {
                self.fail(message::default_of_other_reference(name, &operand, *wanted))
            }
            (State::Open(_), State::Is(wanted)) => {
                let mut typed = typed;
                if let super::Kind::Quantity(quantity) = &mut typed.ty.kind {
                    quantity.state = State::Is(*wanted);
                    quantity.marks = Default::default();
                }
                Ok(typed)
            }
            _ => Ok(typed),
        }
    }

    /// Says that a cell takes the place of a default, which read `was`.
    pub fn note_replaced(&mut self, span: Span, name: &str, was: &str) {
        self.say(message::replaces_default(span, name, was));
    }
}
