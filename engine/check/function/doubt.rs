//! What is asked about the ± of a value.

use super::super::message::Doing;
use super::super::typed_tree::Description;
use super::super::types::{State, Type};
use super::super::{Checker, Outcome, Typed};
use super::{Given, described};
use crate::source::Span;

impl Checker<'_> {
    pub(super) fn describe(
        &mut self,
        span: Span,
        given: &[Given],
        what: Description,
    ) -> Outcome<Typed> {
        let first = &given[0];
        if what == Description::Probability {
            self.require_switch(&first.typed, first.span)?;
            let ty = Type::plain().columned(first.typed.ty.column);
            return Ok(described(span, what, vec![first.typed.node.clone()], ty));
        }
        let quantity = self.require_quantity(&first.typed, first.span, "whose ± is asked")?;
        let column = first.typed.ty.column;
        match what {
            Description::Value => Ok(described(
                span,
                what,
                vec![first.typed.node.clone()],
                first.typed.ty.clone(),
            )),
            Description::Standard | Description::Expanded => {
                let step = quantity
                    .reference()
                    .map_or(quantity.state.clone(), |reference| {
                        State::Is(reference.step())
                    });
                let bare = self.bare(first.typed.clone(), step);
                Ok(described(span, what, vec![bare.node], bare.ty))
            }
            Description::Coverage | Description::DegreesOfFreedom => Ok(described(
                span,
                what,
                vec![first.typed.node.clone()],
                Type::plain().columned(column),
            )),
            Description::Compatible => {
                let (a, b) = self.meet(
                    (first.typed.clone(), first.span),
                    (given[1].typed.clone(), given[1].span),
                    Doing::Compare,
                )?;
                let column = a.ty.column || b.ty.column;
                Ok(described(
                    span,
                    what,
                    vec![a.node, b.node],
                    Type::switch().columned(column),
                ))
            }
            Description::Share | Description::Correlation => {
                self.require_quantity(&given[1].typed, given[1].span, "whose ± is asked")?;
                let nodes = vec![first.typed.node.clone(), given[1].typed.node.clone()];
                let column = column || given[1].typed.ty.column;
                Ok(described(span, what, nodes, Type::plain().columned(column)))
            }
            Description::Probability => self.not_enough(span, "probability"),
        }
    }
}
