//! Values in words, for messages: what each is, what it counts from, how it would be retyped.

use super::super::message::{self, Doing};
use super::super::types::{Kind, Quantity, State, Type};
use super::super::{Checker, Outcome, Typed};
use crate::source::Span;
use crate::units::{Dimension, Family, Reference, Unit};

impl Checker<'_> {
    /// What a message says of an operand.
    pub(in crate::check) fn operand(
        &mut self,
        quantity: &Quantity,
        span: Span,
    ) -> message::Operand {
        message::Operand {
            span,
            text: self.snippet(span),
            noun: self.noun_of(quantity),
            kind: self.kind_of(&quantity.unit),
            counts: quantity.reference().map(|reference| reference.row().counts),
            reference: quantity.reference(),
            open: match quantity.state {
                State::Open(_) => self.registry.dimension(&quantity.unit).family(),
                _ => None,
            },
            unit: self.shown_unit(quantity),
            respelled: self.respellings(quantity),
            force: None,
        }
    }

    /// The unit a value would be shown in: a product's words joined to as few as possible.
    pub(super) fn shown_unit(&self, quantity: &Quantity) -> String {
        let unit = match quantity.unit.single() {
            Some(_) => quantity.unit.clone(),
            None => self.registry.merged(&quantity.unit),
        };
        self.registry.show(&unit, quantity.reference())
    }

    /// What a message says of two values that met.
    pub(in crate::check) fn pair(
        &mut self,
        (a, a_span): (&Quantity, Span),
        (b, b_span): (&Quantity, Span),
    ) -> message::Pair {
        let between = Span {
            start: a_span.end,
            end: b_span.start,
        };
        let between = (between.start <= between.end && a_span != b_span)
            .then(|| on_one_line(self.written(between)));
        message::Pair {
            left: self.operand(a, a_span),
            right: self.operand(b, b_span),
            between,
        }
    }

    /// The unit of a quantity with each reference it could have been typed with.
    pub(super) fn respellings(&self, quantity: &Quantity) -> Vec<(Reference, String)> {
        let Some(family) = self.carried_family(&quantity.unit) else {
            return Vec::new();
        };
        let bare = self.registry.bare(&quantity.unit);
        let gauge = (family == Family::Pressure).then_some(Reference::Gauge);
        family
            .open_may_be()
            .iter()
            .copied()
            .chain(gauge)
            .map(|reference| (reference, self.registry.show(&bare, Some(reference))))
            .collect()
    }

    /// The unit that a bare number would have beside the other value.
    pub(super) fn unit_to_add(
        &mut self,
        a: &Quantity,
        b: &Quantity,
        doing: Doing,
    ) -> Option<String> {
        let other = if a.unit.is_one() { b } else { a };
        if matches!(doing, Doing::Over | Doing::PlusMinus | Doing::Target) {
            return None;
        }
        let sum = matches!(doing, Doing::Plus | Doing::Minus);
        let reference = other.reference();
        Some(match reference {
            Some(reference) if sum && reference.step() != reference => {
                let bare = self.registry.bare(&other.unit);
                self.registry.show(&bare, None)
            }
            _ => self.show_unit(other),
        })
    }

    /// The unit with a force in the place of its mass, where that makes the dimension wanted.
    pub(super) fn force_instead(&mut self, unit: &Unit, wanted: &Dimension) -> Option<String> {
        let force = self.registry.force_instead(unit)?;
        let fits = self.registry.dimension(&force) == *wanted;
        fits.then(|| self.registry.show(&force, None))
    }

    /// What to say about a unit that is easily taken for another one, of the dimension wanted.
    pub(in crate::check) fn unit_hint(
        &mut self,
        unit: &Unit,
        wanted: &Dimension,
    ) -> Option<String> {
        let hints: Vec<&'static str> = unit
            .words()
            .iter()
            .filter_map(|(atom, _)| self.registry.hint(*atom))
            .collect();
        let names_one = |hint: &&&str| {
            hint.split([' ', ',', ':']).any(|word| {
                let unit = self.registry.compose(word).filter(|unit| !unit.is_one());
                unit.is_some_and(|unit| self.registry.dimension(&unit) == *wanted)
            })
        };
        hints.iter().find(names_one).map(|hint| (*hint).to_owned())
    }

    /// A switch, or a message.
    pub(in crate::check) fn require_switch(&mut self, typed: &Typed, span: Span) -> Outcome<()> {
        if typed.ty.kind == Kind::Switch {
            return Ok(());
        }
        let noun = self.noun(&typed.ty);
        let text = self.snippet(span);
        self.fail(message::no_condition(span, &text, &noun))
    }

    /// A quantity, or a message.
    pub(in crate::check) fn require_quantity(
        &mut self,
        typed: &Typed,
        span: Span,
        what: &str,
    ) -> Outcome<Quantity> {
        match typed.ty.as_quantity() {
            Some(quantity) => Ok(quantity.clone()),
            None => {
                let noun = self.noun(&typed.ty);
                let text = self.snippet(span);
                self.fail(message::no_number(span, &text, &noun, what))
            }
        }
    }

    /// The thing, as in “a gauge reading”, “a column of lengths”, “text”.
    pub(in crate::check) fn noun(&self, ty: &Type) -> String {
        let one = match &ty.kind {
            Kind::Switch => "a switch".to_owned(),
            Kind::Text => "text".to_owned(),
            Kind::Quantity(quantity) => self.noun_of(quantity),
        };
        match (ty.column, &ty.kind) {
            (false, _) => one,
            (true, Kind::Text) => "a column of texts".to_owned(),
            (true, Kind::Switch) => "a column of switches".to_owned(),
            (true, Kind::Quantity(_)) => format!("a column with {one} in each row"),
        }
    }

    /// The thing by its dimension alone, as in “a pressure”, “a flow”.
    pub(in crate::check) fn kind_of(&self, unit: &Unit) -> String {
        let dimension = self.registry.dimension(unit);
        match dimension.family() {
            Some(Family::Flow) => "a flow".to_owned(),
            Some(Family::Ratio) if self.registry.is_ratio_word(unit) => "a ratio".to_owned(),
            _ => {
                let name = self.registry.dimension_name(&dimension);
                match is_spoken(&name) {
                    true => name,
                    false => format!("a value in {}", self.registry.show(unit, None)),
                }
            }
        }
    }

    /// The thing, as in “a gauge reading”.
    pub(in crate::check) fn noun_of(&self, quantity: &Quantity) -> String {
        let dimension = self.registry.dimension(&quantity.unit);
        let family = dimension.family();
        match (&quantity.state, family) {
            (State::Is(reference), Some(_)) => reference.row().noun.to_owned(),
            (State::Is(reference), None) => {
                format!(
                    "{} ({})",
                    self.registry.dimension_name(&dimension),
                    reference.row().noun
                )
            }
            (State::ToTell { .. }, Some(Family::Volume)) => {
                "a volume of air whose state is not told".to_owned()
            }
            (State::ToTell { .. }, _) => "a flow whose state is not told".to_owned(),
            (State::Open(_), Some(Family::Flow)) => "a flow without a state".to_owned(),
            (State::Open(_), Some(Family::Pressure)) => "a pressure".to_owned(),
            _ => self.kind_of(&quantity.unit),
        }
    }
}

/// Whether a dimension's name is one that people say, rather than a product of its bases.
pub(super) fn is_spoken(name: &str) -> bool {
    let article = name.starts_with("a ") || name.starts_with("an ") || name == "money";
    article && name.matches(" per ").count() <= 1 && !name.contains(" to the power ")
}

/// A text with its line breaks, and the indentation behind them, as blanks.
pub(super) fn on_one_line(text: &str) -> String {
    match text.contains('\n') {
        true => text.lines().map(str::trim).collect::<Vec<_>>().join(" "),
        false => text.to_owned(),
    }
}
