//! Where two values meet: one dimension, one reference, one unit.

use super::message::{self, Doing, Target};
use super::types::{Kind, Quantity, State, Type};
use super::unit::ResolvedUnit;
use super::{Checker, Claim, Outcome, Typed};
use crate::source::{Code, Diagnostic, Span};
use crate::units::{Family, Reference};

impl Checker<'_> {
    /// Brings two values together: both come back in the unit and reference of the first.
    pub(super) fn meet(
        &mut self,
        left: (Typed, Span),
        right: (Typed, Span),
        doing: Doing,
    ) -> Outcome<(Typed, Typed)> {
        let ((left, left_span), (right, right_span)) = (left, right);
        let (Kind::Quantity(a), Kind::Quantity(b)) = (&left.ty.kind, &right.ty.kind) else {
            return self.meet_other(left, (right, right_span), doing);
        };
        self.require_same_dimension((a, left_span), (b, right_span), doing)?;
        let state = self.meet_states((a, left_span), (b, right_span), doing)?;
        let marks = a.marks.with(b.marks);
        let unit = a.unit.clone();
        let as_written = a.as_written;
        let settle = |typed: Typed| {
            let column = typed.ty.column;
            let quantity = Quantity {
                unit: unit.clone(),
                state: state.clone(),
                marks,
                as_written,
            };
            Typed {
                node: typed.node,
                ty: Type {
                    kind: Kind::Quantity(quantity),
                    column,
                },
            }
        };
        let right = self.held_in(right, &unit);
        Ok((settle(left), settle(right)))
    }

    fn meet_other(
        &mut self,
        left: Typed,
        right: (Typed, Span),
        doing: Doing,
    ) -> Outcome<(Typed, Typed)> {
        let (right, right_span) = right;
        if left.ty.kind == right.ty.kind {
            return Ok((left, right));
        }
        let (first, second) = (self.noun(&left.ty), self.noun(&right.ty));
        self.fail(message::unlike_kinds(doing, &first, &second, right_span))
    }

    /// One reference for both, or a message.
    pub(super) fn meet_states(
        &mut self,
        left: (&Quantity, Span),
        right: (&Quantity, Span),
        doing: Doing,
    ) -> Outcome<State> {
        let ((a, a_span), (b, b_span)) = (left, right);
        match (&a.state, &b.state) {
            (State::Is(x), State::Is(y)) if x == y => Ok(a.state.clone()),
            (State::Is(_), State::Is(_)) => self.unlike_references(left, right, doing),
            (State::Open(origins), State::Is(reference)) => {
                self.claim((a, a_span), origins.clone(), *reference, (b, b_span), doing)
            }
            (State::Is(reference), State::Open(origins)) => {
                self.claim((b, b_span), origins.clone(), *reference, (a, a_span), doing)
            }
            (State::Open(x), State::Open(y)) => {
                let mut origins = x.clone();
                origins.extend(y.iter().copied().filter(|place| !x.contains(place)));
                Ok(State::Open(origins))
            }
            (State::ToTell { .. }, State::Open(zero)) if zero.is_empty() => Ok(a.state.clone()),
            (State::Open(zero), State::ToTell { .. }) if zero.is_empty() => Ok(b.state.clone()),
            (State::ToTell { room_rate }, _) => self.say_which(a_span, a, *room_rate),
            (_, State::ToTell { room_rate }) => self.say_which(b_span, b, *room_rate),
            (State::Plain, State::Plain) => Ok(State::Plain),
            (State::Plain, other) | (other, State::Plain) => match other {
                State::Is(Reference::Points) => {
                    if a.marks.ratio_difference || b.marks.ratio_difference {
                        Ok(State::Is(Reference::Points))
                    } else {
                        self.unlike_references(left, right, doing)
                    }
                }
                _ => Ok(State::Plain),
            },
        }
    }

    /// An open value takes the reference it met.
    fn claim(
        &mut self,
        open: (&Quantity, Span),
        origins: super::Origins,
        reference: Reference,
        stated: (&Quantity, Span),
        doing: Doing,
    ) -> Outcome<State> {
        let family = self.carried_family(&open.0.unit);
        if !family.is_some_and(|family| family.open_may_be().contains(&reference)) {
            return self.unlike_references(stated, open, doing);
        }
        for place in origins {
            self.found.claims.push(Claim {
                place,
                reference,
                at: open.1,
            });
        }
        Ok(State::Is(reference))
    }

    pub(super) fn say_which<T>(
        &mut self,
        span: Span,
        quantity: &Quantity,
        room_rate: bool,
    ) -> Outcome<T> {
        let unit = self
            .registry
            .show(&self.registry.merged(&quantity.unit), None);
        let text = self.snippet(span);
        let volume = self.carried_family(&quantity.unit) == Some(Family::Volume);
        self.fail(message::say_which(span, &text, &unit, room_rate, volume))
    }

    fn unlike_references<T>(
        &mut self,
        left: (&Quantity, Span),
        right: (&Quantity, Span),
        doing: Doing,
    ) -> Outcome<T> {
        let operands = [self.operand(left.0, left.1), self.operand(right.0, right.1)];
        self.fail(message::unlike_references(doing, &operands))
    }

    /// What a message says of an operand.
    pub(super) fn operand(&self, quantity: &Quantity, span: Span) -> message::Operand {
        message::Operand {
            span,
            text: self.snippet(span),
            noun: self.noun_of(quantity),
            counts: quantity.reference().map(|reference| reference.row().counts),
            reference: quantity.reference(),
            unit: self.show_unit(quantity),
            respelled: self.respellings(quantity),
        }
    }

    /// The unit of a quantity with each reference it could have been typed with.
    fn respellings(&self, quantity: &Quantity) -> Vec<(Reference, String)> {
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

    pub(super) fn require_same_dimension(
        &mut self,
        left: (&Quantity, Span),
        right: (&Quantity, Span),
        doing: Doing,
    ) -> Outcome<()> {
        let (a, b) = (
            self.registry.dimension(&left.0.unit),
            self.registry.dimension(&right.0.unit),
        );
        if a == b {
            return Ok(());
        }
        let operands = [self.operand(left.0, left.1), self.operand(right.0, right.1)];
        let currencies = a.is_money() && b.is_money();
        let percent = b.is_plain() && self.registry.is_percent(&right.0.unit);
        let hint = self
            .unit_hint(&left.0.unit)
            .or_else(|| self.unit_hint(&right.0.unit));
        self.fail(message::unlike_dimensions(
            doing, &operands, currencies, percent, hint,
        ))
    }

    /// What to say about a unit that is easily taken for another.
    pub(super) fn unit_hint(&self, unit: &crate::units::Unit) -> Option<String> {
        unit.words()
            .iter()
            .find_map(|(atom, _)| self.registry.hint(*atom))
            .map(str::to_owned)
    }

    /// Gives a value the unit and reference of a bracket or a parameter, or says why not.
    pub(super) fn tell(
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
        let marks = if told {
            Default::default()
        } else {
            quantity.marks
        };
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

    fn require_dimension(
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
        let operand = self.operand(quantity, span);
        let expected = self.noun_of(&Quantity::new(head.unit.clone(), State::Plain));
        let unit = self.registry.show(&head.unit, head.stated);
        let currencies = is.is_money() && wanted.is_money();
        let hint = self
            .unit_hint(&quantity.unit)
            .or_else(|| self.unit_hint(&head.unit));
        self.fail(message::wrong_dimension(
            &operand, &expected, &unit, target, currencies, hint,
        ))
    }

    fn told_state(
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
            return Ok(quantity.state.clone());
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

    fn wrong_reference<T>(
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

    fn told_ratio(
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
        let text = self.snippet(span);
        self.fail(message::share_and_points(span, &text, points))
    }

    fn warn_mixed_states(&mut self, quantity: &Quantity, told: Reference, span: Span) {
        let marks = quantity.marks;
        let standard = matches!(
            told,
            Reference::Standard | Reference::Normal | Reference::Anr
        );
        if standard && marks.atmosphere {
            self.say(message::mixed_states(span, "the shop's `atmosphere`", told));
        } else if told == Reference::Free && marks.standard {
            self.say(message::mixed_states(
                span,
                "a standard, normal or ANR pressure",
                told,
            ));
        }
    }

    /// A switch, or a message.
    pub(super) fn require_switch(&mut self, typed: &Typed, span: Span) -> Outcome<()> {
        if typed.ty.kind == Kind::Switch {
            return Ok(());
        }
        let noun = self.noun(&typed.ty);
        let text = self.snippet(span);
        self.fail(
            Diagnostic::error(
                Code::Kind,
                span,
                format!("{noun} where a condition was expected"),
            )
            .label(format!("`{text}` is {noun}"))
            .expected("a comparison such as `draw <= pump`, or a switch"),
        )
    }

    /// A quantity, or a message.
    pub(super) fn require_quantity(
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
                self.fail(
                    Diagnostic::error(Code::Kind, span, format!("{noun} {what}"))
                        .label(format!("`{text}` is {noun}"))
                        .expected("a number, with its unit"),
                )
            }
        }
    }

    /// The thing, as in “a gauge reading”, “a column of lengths”, “text”.
    pub(super) fn noun(&self, ty: &Type) -> String {
        let one = match &ty.kind {
            Kind::Switch => "a switch".to_owned(),
            Kind::Text => "text".to_owned(),
            Kind::Quantity(quantity) => self.noun_of(quantity),
        };
        if ty.column {
            format!("a column ({one} in each row)")
        } else {
            one
        }
    }

    /// The thing, as in “a gauge reading”.
    pub(super) fn noun_of(&self, quantity: &Quantity) -> String {
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
            _ => self.registry.dimension_name(&dimension),
        }
    }
}
