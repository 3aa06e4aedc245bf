//! Across the zeros of scales: readings counted from true zero and back, air at other states.

use super::super::message::{self};
use super::super::typed_tree::{Binary, Node, NodeKind};
use super::super::types::{Quantity, State};
use super::super::{Checker, Outcome, Typed};
use super::{Given, stated};
use crate::source::Span;
use crate::units::{Dimension, Family, Reference};

impl Checker<'_> {
    /// A reading of a dial or a thermometer counted from true zero.
    pub(in crate::check) fn absolute_of(&mut self, span: Span, reading: Typed) -> Outcome<Typed> {
        self.absolute(
            span,
            &[Given {
                typed: reading,
                span,
                name: None,
            }],
        )
    }

    pub(super) fn absolute(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "absolute")?;
        match quantity.reference() {
            Some(Reference::Gauge) => {
                self.with_atmosphere(span, typed, &quantity, Binary::Add, Reference::Absolute)
            }
            Some(Reference::Thermometer) => {
                let unit = self.registry.listed("K");
                let node = self.off_thermometer(typed.node, &quantity.unit, &unit);
                Ok(stated(
                    node,
                    unit,
                    Reference::Thermodynamic,
                    typed.ty.column,
                ))
            }
            _ => {
                let operand = self.operand(&quantity, given[0].span);
                self.fail(message::conversion_of(
                    &operand,
                    "absolute",
                    "a gauge reading, or a thermometer reading",
                    span,
                ))
            }
        }
    }

    pub(super) fn gauge(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "gauge")?;
        match &quantity.state {
            State::Is(Reference::Absolute) | State::Open(_)
                if self.registry.dimension(&quantity.unit).family() == Some(Family::Pressure) =>
            {
                self.with_atmosphere(span, typed, &quantity, Binary::Subtract, Reference::Gauge)
            }
            _ => {
                let operand = self.operand(&quantity, given[0].span);
                self.fail(message::conversion_of(
                    &operand,
                    "gauge",
                    "an absolute pressure",
                    span,
                ))
            }
        }
    }

    /// A pressure plus or minus the air outside, in the pressure's own unit.
    pub(super) fn with_atmosphere(
        &mut self,
        span: Span,
        typed: Typed,
        quantity: &Quantity,
        operation: Binary,
        reference: Reference,
    ) -> Outcome<Typed> {
        let column = typed.ty.column;
        let bare = self.registry.bare(&quantity.unit);
        let pressure = self.scaled(typed.node, &quantity.unit, &bare);
        let outside = self.default_cell("atmosphere", span)?;
        let outside_unit = self
            .require_quantity(&outside, span, "as `atmosphere`")?
            .unit;
        let outside = self.scaled(outside.node, &outside_unit, &bare);
        let kind = NodeKind::Binary(operation, Box::new(pressure), Box::new(outside));
        let unit = self.registry.named(&bare, reference);
        Ok(stated(Node { kind, span }, unit, reference, column))
    }

    pub(super) fn thermometer(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "thermometer")?;
        let temperature = self.registry.dimension(&quantity.unit) == Dimension::TEMPERATURE;
        match &quantity.state {
            State::Is(Reference::Thermodynamic) | State::Open(_) if temperature => {
                let unit = self.registry.thermometer_for(&quantity.unit);
                let mut node = self.onto_thermometer(typed.node, &quantity.unit, &unit);
                node.span = span;
                Ok(stated(node, unit, Reference::Thermometer, typed.ty.column))
            }
            _ => {
                let operand = self.operand(&quantity, given[0].span);
                self.fail(message::conversion_of(
                    &operand,
                    "thermometer",
                    "a temperature counted from absolute zero, in K or °R",
                    span,
                ))
            }
        }
    }

    pub(super) fn overpressure(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "overpressure")?;
        if quantity.reference() != Some(Reference::Gauge) {
            let operand = self.operand(&quantity, given[0].span);
            return self.fail(message::conversion_of(
                &operand,
                "overpressure",
                "a gauge reading",
                span,
            ));
        }
        Ok(self.bare(typed, State::Is(Reference::Difference)))
    }

    /// A flow or volume of air at another state. The rule itself is a formula of the handbook.
    pub(super) fn at_state(
        &mut self,
        span: Span,
        given: &[Given],
        target: Reference,
    ) -> Outcome<Typed> {
        let named = |name: &str| given.iter().find(|one| one.name.as_deref() == Some(name));
        let Some(flow) = given.iter().find(|one| one.name.is_none()) else {
            return self.not_enough(span, "free_air");
        };
        self.state_change(
            span,
            flow,
            (named("pressure"), named("temperature")),
            target,
        )
    }
}
