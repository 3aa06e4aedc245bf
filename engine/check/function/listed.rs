//! Values between the points of two columns, and the next size of a list.

use super::super::message::{self, Doing};
use super::super::typed_tree::{Node, NodeKind};
use super::super::{Checker, Outcome, Typed};
use super::Given;
use crate::source::Span;

impl Checker<'_> {
    pub(super) fn interpolate(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        for one in &given[1..] {
            if !one.typed.ty.column {
                let noun = self.noun(&one.typed.ty);
                let text = self.snippet(one.span);
                return self.fail(message::needs_column(one.span, &text, &noun));
            }
        }
        self.require_quantity(&given[2].typed, given[2].span, "to be interpolated")?;
        let (points, at) = self.meet(
            (given[1].typed.clone(), given[1].span),
            (given[0].typed.clone(), given[0].span),
            Doing::Argument,
        )?;
        let ty = given[2].typed.ty.clone().columned(at.ty.column);
        let parts = Box::new([at.node, points.node, given[2].typed.node.clone()]);
        Ok(Typed {
            node: Node {
                kind: NodeKind::Interpolate(parts),
                span,
            },
            ty,
        })
    }

    pub(super) fn size(&mut self, span: Span, given: &[Given], above: bool) -> Outcome<Typed> {
        if !given[0].typed.ty.column {
            let noun = self.noun(&given[0].typed.ty);
            let text = self.snippet(given[0].span);
            return self.fail(message::needs_column(given[0].span, &text, &noun));
        }
        let (sizes, wanted) = self.meet(
            (given[0].typed.clone(), given[0].span),
            (given[1].typed.clone(), given[1].span),
            Doing::Argument,
        )?;
        let own = sizes.ty.as_quantity().cloned();
        let (sizes, wanted) = (self.rising(sizes), self.rising(wanted));
        let ty = sizes.ty.clone().columned(wanted.ty.column);
        let kind = NodeKind::Size(above, Box::new([sizes.node, wanted.node]));
        let node = Node { kind, span };
        Ok(self.back_in(Typed { node, ty }, own))
    }
}
