//! Brackets, heads and parameters: a value is given their unit and reference, or told why not.

use super::super::message::{self, Target};
use super::super::types::{Kind, Marks, Quantity, State, Type};
use super::super::unit::ResolvedUnit;
use super::super::{Checker, Claim, Outcome, Typed};
use crate::source::Span;
use crate::units::{Family, Reference};

impl Checker<'_> {
    /// Gives a value the unit and reference of a bracket or a parameter, or says why not.
    pub(in crate::check) fn tell(
        &mut self,
        value: Typed,
        head: &ResolvedUnit,
        target: &Target,
        span: Span,
    ) -> Outcome<Typed> {
        let Some(quantity) = value.ty.as_quantity().cloned() else {
            let noun = self.noun(&value.ty);
            let unit = self.registry.show(&head.unit, head.stated);
            return self.fail(message::not_a_quantity(span, &noun, target, &unit));
        };
        self.require_dimension(&quantity, span, head, target)?;
        let state = self.told_state(&quantity, span, head, target)?;
        let told = head.stated.is_some() || state != quantity.state;
        let marks = self.marks_under(head, &quantity, told);
        let value = self.held_in(value, &head.unit);
        let column = value.ty.column;
        let quantity = Quantity {
            unit: head.unit.clone(),
            state,
            marks,
            as_written: true,
        };
        Ok(Typed {
            node: value.node,
            ty: Type {
                kind: Kind::Quantity(quantity),
                column,
            },
        })
    }

    /// A flow or volume that is told forgets what went into it; a pressure does not.
    pub(super) fn marks_under(
        &self,
        head: &ResolvedUnit,
        quantity: &Quantity,
        told: bool,
    ) -> Marks {
        let air = matches!(
            self.carried_family(&head.unit),
            Some(Family::Flow | Family::Volume)
        );
        let marks = match (told, air) {
            (true, true) => Marks::default(),
            (true, false) => Marks {
                bare_pressure: false,
                ..quantity.marks
            },
            (false, _) => Marks {
                // A head in psi says that a difference is meant.
                bare_pressure: false,
                ..quantity.marks
            },
        };
        Marks {
            power_factor: marks.power_factor || self.is_power_factor(&head.unit),
            ..marks
        }
    }

    pub(super) fn require_dimension(
        &mut self,
        quantity: &Quantity,
        span: Span,
        head: &ResolvedUnit,
        target: &Target,
    ) -> Outcome<()> {
        let (is, wanted) = (
            self.registry.dimension(&quantity.unit),
            self.registry.dimension(&head.unit),
        );
        if is == wanted {
            return Ok(());
        }
        let mut operand = self.operand(quantity, span);
        operand.force = self.force_instead(&quantity.unit, &wanted);
        let expected = self.kind_of(&head.unit);
        let unit = self.registry.show(&head.unit, head.stated);
        let hint = self
            .unit_hint(&quantity.unit, &wanted)
            .or_else(|| self.unit_hint(&head.unit, &is));
        let beside = message::Beside {
            currencies: is.is_money() && wanted.is_money(),
            hint,
            ..Default::default()
        };
        self.fail(message::wrong_dimension(
            &operand, &expected, &unit, target, beside,
        ))
    }

    pub(super) fn told_state(
        &mut self,
        quantity: &Quantity,
        span: Span,
        head: &ResolvedUnit,
        target: &Target,
    ) -> Outcome<State> {
        let Some(family) = self.carried_family(&head.unit) else {
            return self.told_ratio(quantity, span, head);
        };
        let own = self.registry.dimension(&head.unit).family() == Some(family);
        let wanted = head.stated.or_else(|| {
            family
                .bare()
                .filter(|_| own && !self.registry.has_current(&head.unit))
        });
        let Some(wanted) = wanted else {
            // A reading shown in K would silently count from absolute zero.
            return match quantity.reference() {
                Some(Reference::Thermometer) => {
                    let wanted = Reference::Thermodynamic;
                    self.wrong_reference(quantity, span, (head, wanted), target)
                }
                _ => Ok(quantity.state.clone()),
            };
        };
        match &quantity.state {
            State::Is(reference) if *reference == wanted => Ok(State::Is(wanted)),
            State::Open(origins) => {
                if family.open_may_be().contains(&wanted) {
                    for place in origins {
                        self.found.claims.push(Claim {
                            place: *place,
                            reference: wanted,
                            at: span,
                        });
                    }
                    return Ok(State::Is(wanted));
                }
                self.wrong_reference(quantity, span, (head, wanted), target)
            }
            State::ToTell { room_rate } => {
                if *room_rate && wanted != Reference::Actual {
                    let text = self.snippet(span);
                    let unit = self.registry.show(&head.unit, head.stated);
                    return self.fail(message::room_rate(span, &text, &unit, wanted));
                }
                self.warn_mixed_states(quantity, wanted, span);
                Ok(State::Is(wanted))
            }
            State::Plain => Ok(State::Is(wanted)),
            State::Is(_) => self.wrong_reference(quantity, span, (head, wanted), target),
        }
    }

    pub(super) fn wrong_reference<T>(
        &mut self,
        quantity: &Quantity,
        span: Span,
        (head, wanted): (&ResolvedUnit, Reference),
        target: &Target,
    ) -> Outcome<T> {
        let operand = self.operand(quantity, span);
        let unit = self.registry.show(&head.unit, Some(wanted));
        self.fail(message::wrong_reference(&operand, wanted, &unit, target))
    }

    pub(super) fn told_ratio(
        &mut self,
        quantity: &Quantity,
        span: Span,
        head: &ResolvedUnit,
    ) -> Outcome<State> {
        let points = head.stated == Some(Reference::Points);
        let is_points = quantity.state == State::Is(Reference::Points);
        if !self.registry.dimension(&head.unit).is_plain() {
            return Ok(State::Plain);
        }
        if points == is_points || (points && quantity.marks.ratio_difference) {
            return Ok(head.stated.map_or(State::Plain, State::Is));
        }
        let operand = self.operand(quantity, span);
        self.fail(message::share_and_points(&operand, points))
    }

    /// A product with a state in it that is told to be another. One with both in it is the way
    /// from the one to the other.
    pub(super) fn warn_mixed_states(&mut self, quantity: &Quantity, told: Reference, span: Span) {
        let marks = quantity.marks;
        let counted = matches!(
            told,
            Reference::Standard | Reference::Normal | Reference::Anr
        );
        let (made_with, made) = match (marks.atmosphere, marks.standard) {
            (true, None) if counted => ("the shop's `atmosphere`".to_owned(), Reference::Free),
            (false, Some(made)) if made != told => {
                (format!("the pressure of {}", made.row().noun), made)
            }
            _ => return,
        };
        let unit = self.registry.bare(&quantity.unit);
        let unit = self.registry.merged(&unit);
        let unit = self.registry.show(&unit, Some(made));
        self.say(message::mixed_states(
            span,
            &made_with,
            made,
            told,
            Some(&unit),
        ));
    }
}
