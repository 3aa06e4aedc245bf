//! Functions of one plain number, of a value that keeps its unit, of an angle.

use super::super::message::{self, Doing};
use super::super::typed_tree::{Binary, Unary};
use super::super::types::{Kind, Marks, Quantity, State, Type};
use super::super::{Checker, Outcome, Typed};
use super::{Given, binary, plain_like, unary};
use crate::source::Span;
use crate::units::{Class, Dimension};

impl Checker<'_> {
    /// A function that keeps unit and reference.
    pub(super) fn same(&mut self, span: Span, given: &[Given], function: Unary) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "abs")?;
        if let State::Is(reference) = quantity.state
            && reference.row().class == Class::Point
        {
            let operand = self.operand(&quantity, given[0].span);
            return self.fail(message::abs_of_point(&operand, span));
        }
        Ok(unary(span, function, typed.node, typed.ty))
    }

    pub(super) fn root(
        &mut self,
        span: Span,
        given: &[Given],
        function: Unary,
        degree: i32,
    ) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "a root")?;
        self.refuse_point_scaled(&quantity, given[0].span, "a root of")?;
        let dimension = self.registry.dimension(&quantity.unit);
        if dimension.is_plain() {
            let typed = self.as_ones(typed);
            return Ok(unary(span, function, typed.node, plain_like(&typed.ty)));
        }
        let Some(unit) = quantity.unit.power(1, degree) else {
            return self.fail(message::unit_too_large(given[0].span));
        };
        let state = super::super::product::rooted_state(&self.registry.dimension(&unit));
        let mut result = Quantity::new(unit, state);
        result.marks = Marks::default().with(quantity.marks);
        let ty = Type {
            kind: Kind::Quantity(result),
            column: typed.ty.column,
        };
        Ok(unary(span, function, typed.node, ty))
    }

    /// A function of a plain number.
    pub(super) fn plain(&mut self, span: Span, given: &[Given], function: Unary) -> Outcome<Typed> {
        let typed = self.plain_number(
            &given[0],
            "a plain number, such as a ratio of two like values",
        )?;
        let ty = plain_like(&typed.ty);
        Ok(unary(span, function, typed.node, ty))
    }

    pub(super) fn plain_number(&mut self, given: &Given, expected: &str) -> Outcome<Typed> {
        let (typed, quantity) = self.number(given, "a function")?;
        if !self.registry.dimension(&quantity.unit).is_plain() {
            let operand = self.operand(&quantity, given.span);
            return self.fail(message::not_plain(&operand, expected));
        }
        Ok(self.as_ones(typed))
    }

    pub(super) fn of_angle(
        &mut self,
        span: Span,
        given: &[Given],
        function: Unary,
    ) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "an angle function")?;
        if self.registry.dimension(&quantity.unit) != Dimension::ANGLE {
            let operand = self.operand(&quantity, given[0].span);
            return self.fail(message::not_an_angle(&operand));
        }
        let turn = self.registry.listed("rev");
        let node = self.scaled(typed.node, &quantity.unit, &turn);
        Ok(unary(
            span,
            function,
            node,
            Type::plain().columned(typed.ty.column),
        ))
    }

    pub(super) fn angle_of(
        &mut self,
        span: Span,
        given: &[Given],
        function: Unary,
    ) -> Outcome<Typed> {
        let typed = self.plain_number(&given[0], "a plain number between −1 and 1")?;
        let radian = self.registry.radian();
        let ty = Type::quantity(Quantity::new(radian, State::Plain)).columned(typed.ty.column);
        Ok(unary(span, function, typed.node, ty))
    }

    pub(super) fn atan2(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        let pair = (given[0].typed.clone(), given[1].typed.clone());
        let (rise, run) = self.meet(
            (pair.0, given[0].span),
            (pair.1, given[1].span),
            Doing::Argument,
        )?;
        let column = rise.ty.column || run.ty.column;
        let ty =
            Type::quantity(Quantity::new(self.registry.radian(), State::Plain)).columned(column);
        Ok(binary(span, Binary::Atan2, rise.node, run.node, ty))
    }
}
