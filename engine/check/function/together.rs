//! `min`, `max`, `sum`, `mean`, `count`: one column together, or several values row by row.

use super::super::message::{self, Doing};
use super::super::typed_tree::{Binary, Node, NodeKind, Reduction};
use super::super::types::{Quantity, Type};
use super::super::{Checker, Outcome, Typed};
use super::{Given, binary};
use crate::number::Number;
use crate::source::Span;
use crate::units::Class;

impl Checker<'_> {
    /// `min` and `max`: one column is reduced, several values go element by element.
    pub(super) fn extreme(
        &mut self,
        span: Span,
        given: &[Given],
        reduction: Reduction,
        pairwise: Binary,
    ) -> Outcome<Typed> {
        let (values, skip) = self.split_gaps(given)?;
        if let [one] = values[..] {
            return self.reduce(span, one, reduction, skip);
        }
        let mut all = self.all_meet(&values)?;
        let own = all
            .first()
            .and_then(|typed| typed.ty.as_quantity().cloned());
        for typed in &mut all {
            *typed = self.rising(typed.clone());
        }
        let column = all.iter().any(|typed| typed.ty.column);
        let mut rest = all.into_iter();
        let Some(first) = rest.next() else {
            return self.not_enough(span, "min");
        };
        let ty = first.ty.clone().columned(column);
        let node = rest.fold(first.node, |left, right| Node {
            kind: NodeKind::Binary(pairwise, Box::new(left), Box::new(right.node)),
            span,
        });
        Ok(self.back_in(Typed { node, ty }, own))
    }

    /// A value chosen in a unit that counts upwards, in the unit it was typed in.
    pub(super) fn back_in(&self, typed: Typed, own: Option<Quantity>) -> Typed {
        match own {
            Some(own) => self.held_in(typed, &own.unit),
            None => typed,
        }
    }

    /// `sum` and `mean`: points have a mean but no sum.
    pub(super) fn total(
        &mut self,
        span: Span,
        given: &[Given],
        reduction: Reduction,
    ) -> Outcome<Typed> {
        let (values, skip) = self.split_gaps(given)?;
        for one in &values {
            let quantity = self.require_quantity(&one.typed, one.span, "in a sum")?;
            self.refuse_total((&quantity, one.span), &values, reduction)?;
        }
        if let [one] = values[..] {
            return self.reduce(span, one, reduction, skip);
        }
        let all = self.all_meet(&values)?;
        let column = all.iter().any(|typed| typed.ty.column);
        let count = i64::try_from(all.len()).unwrap_or(i64::MAX);
        let mut rest = all.into_iter();
        let Some(first) = rest.next() else {
            return self.not_enough(span, "sum");
        };
        let ty = first.ty.clone().columned(column);
        let sum = rest.fold(first.node, |left, right| Node {
            kind: NodeKind::Binary(Binary::Add, Box::new(left), Box::new(right.node)),
            span,
        });
        if reduction == Reduction::Sum {
            return Ok(Typed { node: sum, ty });
        }
        let divisor = Node {
            kind: NodeKind::Number(Number::from(count)),
            span,
        };
        Ok(binary(span, Binary::Divide, sum, divisor, ty))
    }

    pub(super) fn refuse_total(
        &mut self,
        (quantity, span): (&Quantity, Span),
        all: &[&Given],
        reduction: Reduction,
    ) -> Outcome<()> {
        let class = quantity.reference().map(|reference| reference.row().class);
        match class {
            Some(Class::Level) => {
                let texts: Vec<String> = all.iter().map(|one| self.snippet(one.span)).collect();
                let mean = reduction == Reduction::Mean;
                self.fail(message::levels_totalled(span, &texts, mean))
            }
            Some(Class::Point) if reduction == Reduction::Sum => {
                let operand = self.operand(quantity, span);
                self.fail(message::point_scaled(&operand, "a sum with"))
            }
            _ => Ok(()),
        }
    }

    pub(super) fn split_gaps<'g>(&mut self, given: &'g [Given]) -> Outcome<(Vec<&'g Given>, bool)> {
        let mut skip = false;
        let mut values = Vec::with_capacity(given.len());
        for one in given {
            match (&one.name, &one.typed.node.kind) {
                (None, _) => values.push(one),
                (Some(_), NodeKind::Switch(on)) => skip = *on,
                (Some(name), _) => {
                    let name = name.clone();
                    return self.fail(message::not_written_switch(one.span, &name));
                }
            }
        }
        Ok((values, skip))
    }

    pub(super) fn all_meet(&mut self, given: &[&Given]) -> Outcome<Vec<Typed>> {
        let mut all: Vec<Typed> = Vec::with_capacity(given.len());
        let Some((first, rest)) = given.split_first() else {
            return Ok(all);
        };
        self.require_quantity(&first.typed, first.span, "among others")?;
        let mut head = first.typed.clone();
        for one in rest {
            let (left, right) = self.meet(
                (head.clone(), first.span),
                (one.typed.clone(), one.span),
                Doing::Among,
            )?;
            head.ty = left.ty.columned(head.ty.column);
            all.push(right);
        }
        all.insert(0, head);
        Ok(all)
    }

    pub(super) fn reduce(
        &mut self,
        span: Span,
        one: &Given,
        reduction: Reduction,
        skip: bool,
    ) -> Outcome<Typed> {
        if !one.typed.ty.column {
            let noun = self.noun(&one.typed.ty);
            let text = self.snippet(one.span);
            return self.fail(message::needs_column(one.span, &text, &noun));
        }
        let ty = match reduction {
            Reduction::Count => Type::plain(),
            _ => {
                self.require_quantity(&one.typed, one.span, "in a column that is summed up")?;
                one.typed.ty.clone().columned(false)
            }
        };
        let own = ty.as_quantity().cloned();
        let typed = match reduction {
            Reduction::Minimum | Reduction::Maximum => self.rising(one.typed.clone()),
            _ => one.typed.clone(),
        };
        let ty = match (&reduction, typed.ty.as_quantity()) {
            (Reduction::Count, _) | (_, None) => ty,
            (_, Some(quantity)) => Type::quantity(quantity.clone()),
        };
        let kind = NodeKind::Reduce(reduction, Box::new(typed.node), skip);
        let node = Node { kind, span };
        Ok(self.back_in(Typed { node, ty }, own))
    }

    pub(super) fn count(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        let (values, skip) = self.split_gaps(given)?;
        match values.first() {
            Some(one) => self.reduce(span, one, Reduction::Count, skip),
            None => self.not_enough(span, "count"),
        }
    }
}
