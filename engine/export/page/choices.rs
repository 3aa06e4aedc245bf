//! Units that a reader may choose for a field, the author's first: those that people of the trade
//! use for such a quantity.

use super::field::Field;
use super::model::Model;
use crate::units::{Dimension, Reference, Registry};

/// Usual units by dimension, bare.
const USUAL: &[(Dimension, &[&str])] = &[
    (Dimension::LENGTH, &["in", "mm", "cm", "m", "ft"]),
    (Dimension::AREA, &["in2", "mm2", "cm2", "ft2", "m2"]),
    (Dimension::VOLUME, &["gal", "L", "ft3", "m3"]),
    (Dimension::MASS, &["lb", "kg", "oz", "g"]),
    (Dimension::TIME, &["s", "min", "h"]),
    (Dimension::SPEED, &["ft/s", "ft/min", "m/s"]),
    (Dimension::PRESSURE, &["psi", "bar", "kPa", "inHg"]),
    (Dimension::FLOW, &["cfm", "L/min", "L/s", "m3/h"]),
    (Dimension::MASS_FLOW, &["lb/min", "lb/h", "kg/h"]),
    (Dimension::POWER, &["hp", "kW", "W"]),
    (Dimension::ENERGY, &["kWh", "MJ", "BTU"]),
    (Dimension::FORCE, &["lbf", "N"]),
    (Dimension::DENSITY, &["lb/ft3", "kg/m3"]),
];

impl Model<'_> {
    /// The units that may be chosen; the author's alone where no others are usual.
    pub(super) fn unit_choices(&self, field: &Field) -> Vec<String> {
        let Some(quantity) = &field.quantity else {
            return Vec::new();
        };
        let own = self.notebook.unit_text(&quantity.unit, &quantity.state);
        let mut registry = self.notebook.registry().clone();
        let dimension = registry.dimension(&quantity.unit);
        let reference = quantity.reference();
        let usual: &[&str] = match reference {
            Some(Reference::Thermometer) => &["°F", "°C"],
            _ => USUAL
                .iter()
                .find(|(known, _)| *known == dimension)
                .map_or(&[], |(_, units)| units),
        };
        let mut choices = vec![own];
        for unit in usual {
            let text = said_with(&mut registry, unit, reference);
            if let Some(text) = text.filter(|text| !choices.contains(text)) {
                choices.push(text);
            }
        }
        choices
    }
}

/// A unit with the word or suffix for a reference.
fn said_with(registry: &mut Registry, unit: &str, reference: Option<Reference>) -> Option<String> {
    let unit = registry.compose(unit)?;
    let reference = reference.filter(|reference| {
        !matches!(
            reference,
            Reference::Room | Reference::Difference | Reference::Interval | Reference::Active
        )
    });
    Some(registry.show(&unit, reference))
}
