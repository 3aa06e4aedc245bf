//! Air taken from one state to another. The arithmetic is the handbook's formula `state_change`;
//! here it is only decided which states stand on its two sides.

use super::convert::scale;
use super::function::Given;
use super::message::{self, Target};
use super::typed_tree::{Node, NodeKind};
use super::types::{Quantity, State, Type};
use super::{Checker, Outcome, Typed};
use crate::source::Span;
use crate::units::{Dimension, Family, Reference};

/// The default cells that describe a state: its pressure and its temperature.
fn state_cells(reference: Reference) -> Option<(&'static str, &'static str)> {
    match reference {
        Reference::Free => Some(("atmosphere", "air_temperature")),
        Reference::Standard => Some(("standard_pressure", "standard_temperature")),
        Reference::Normal => Some(("normal_pressure", "normal_temperature")),
        Reference::Anr => Some(("anr_pressure", "anr_temperature")),
        _ => None,
    }
}

fn function_for(reference: Reference) -> &'static str {
    match reference {
        Reference::Standard => "standard_air",
        Reference::Normal => "normal_air",
        Reference::Anr => "anr_air",
        Reference::Actual => "actual_air",
        _ => "free_air",
    }
}

/// The pressure and temperature of line air, as given by name.
type LineState<'g> = (Option<&'g Given>, Option<&'g Given>);

impl Checker<'_> {
    pub(super) fn state_change(
        &mut self,
        span: Span,
        amount: &Given,
        line: LineState<'_>,
        target: Reference,
    ) -> Outcome<Typed> {
        let quantity =
            self.require_quantity(amount.typed(), amount.span(), "as a flow or volume of air")?;
        let kind = self.registry.dimension(&quantity.unit).family();
        let source = match (&quantity.state, kind) {
            (State::Is(reference), Some(Family::Flow | Family::Volume))
                if *reference != Reference::Room =>
            {
                *reference
            }
            _ => {
                let operand = self.operand(&quantity, amount.span());
                return self.fail(message::state_of_open(&operand, function_for(target)));
            }
        };
        if source == target && target != Reference::Actual {
            return Ok(amount.typed().clone());
        }
        let text = self.snippet(amount.span());
        let Some(definition) = self.scope.formula("state_change", self.from) else {
            return self.unknown_formula_named(span, "state_change");
        };
        let from = self.pressure_and_temperature(span, source, line, (target, &text))?;
        let to = self.pressure_and_temperature(span, target, line, (target, &text))?;
        let arguments = [amount.typed().clone(), from.0, from.1, to.0, to.1];
        let types = arguments
            .iter()
            .map(|typed| Some(typed.ty.clone()))
            .collect();
        let column = arguments.iter().any(|typed| typed.ty.column);
        let nodes = arguments
            .into_iter()
            .map(|typed| Some(typed.node))
            .collect();
        let formula = self.formula_for(span, &definition, types)?;
        let made = formula
            .result_type
            .as_quantity()
            .map(|quantity| quantity.unit.clone());
        let node = Node {
            kind: NodeKind::Call(formula, nodes),
            span,
        };
        let bare = self.registry.bare(&quantity.unit);
        let factor = made.and_then(|made| self.registry.factor(&made, &bare));
        let node = factor.map_or(node.clone(), |factor| scale(node, factor));
        let unit = self.registry.named(&bare, target);
        Ok(Typed {
            node,
            ty: Type::quantity(Quantity::new(unit, State::Is(target))).columned(column),
        })
    }

    /// Pressure in psi, counted from empty space, and temperature in K of a state.
    fn pressure_and_temperature(
        &mut self,
        span: Span,
        state: Reference,
        line: LineState<'_>,
        (target, text): (Reference, &str),
    ) -> Outcome<(Typed, Typed)> {
        let (pressure, temperature) = match state_cells(state) {
            Some((pressure, temperature)) => (
                self.default_cell(pressure, span)?,
                self.default_cell(temperature, span)?,
            ),
            None => match line {
                (Some(pressure), Some(temperature)) => {
                    let function = function_for(target);
                    let spans = (pressure.span(), temperature.span());
                    let given = (pressure.typed().clone(), temperature.typed().clone());
                    return Ok((
                        self.absolute_pressure(given.0, spans.0, function)?,
                        self.kelvins(given.1, spans.1, function)?,
                    ));
                }
                _ => return self.fail(message::state_not_given(span, function_for(target), text)),
            },
        };
        let function = function_for(target);
        Ok((
            self.absolute_pressure(pressure, span, function)?,
            self.kelvins(temperature, span, function)?,
        ))
    }

    fn absolute_pressure(&mut self, pressure: Typed, span: Span, function: &str) -> Outcome<Typed> {
        let quantity = self.require_quantity(&pressure, span, "as a pressure")?;
        let pressure = match quantity.reference() {
            Some(Reference::Gauge) => self.absolute_of(span, pressure)?,
            _ => pressure,
        };
        let is_pressure = self.registry.dimension(&quantity.unit) == Dimension::PRESSURE;
        // What is no pressure at all is told how one is mostly typed.
        let (unit, stated) = match is_pressure {
            true => ("psia", Reference::Absolute),
            false => ("psig", Reference::Gauge),
        };
        let psia = super::unit::ResolvedUnit {
            unit: self.registry.listed(unit),
            stated: Some(stated),
        };
        self.tell(pressure, &psia, &parameter(function, "pressure"), span)
    }

    fn kelvins(&mut self, temperature: Typed, span: Span, function: &str) -> Outcome<Typed> {
        let quantity = self.require_quantity(&temperature, span, "as a temperature")?;
        if quantity.reference() == Some(Reference::Thermometer) {
            return self.absolute_of(span, temperature);
        }
        let is_temperature = self.registry.dimension(&quantity.unit) == Dimension::TEMPERATURE;
        let (unit, stated) = match is_temperature {
            true => ("K", Reference::Thermodynamic),
            false => ("°F", Reference::Thermometer),
        };
        let kelvin = super::unit::ResolvedUnit {
            unit: self.registry.listed(unit),
            stated: Some(stated),
        };
        self.tell(
            temperature,
            &kelvin,
            &parameter(function, "temperature"),
            span,
        )
    }
}

fn parameter(function: &str, parameter: &str) -> Target {
    Target::Parameter {
        formula: function.to_owned(),
        parameter: parameter.to_owned(),
    }
}
