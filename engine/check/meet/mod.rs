//! Where two values meet: one dimension, one reference, one unit.

mod told;
mod words;

use super::message::{self, Doing};
use super::types::{Kind, Quantity, State, Type};
use super::{Checker, Claim, Outcome, Typed};
use crate::source::Span;
use crate::units::{Family, Reference, Unit};

impl Checker<'_> {
    /// Brings two values together: both come back in the unit and reference of the first.
    pub(in crate::check) fn meet(
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
        let unit = self.settled_unit(a, b, &state);
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
        let (left, right) = (self.held_in(left, &unit), self.held_in(right, &unit));
        Ok((settle(left), settle(right)))
    }

    /// The unit of two values that met: the first's, but volts times amperes that turned out to
    /// be one kind of power have the unit of that.
    pub(in crate::check) fn settled_unit(&self, a: &Quantity, b: &Quantity, state: &State) -> Unit {
        let electric = self.registry.has_current(&a.unit) && !self.registry.has_current(&b.unit);
        match state {
            State::Is(_) if a.is_open() && electric => b.unit.clone(),
            _ => a.unit.clone(),
        }
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
        // A key is one of the column's values, not a column.
        let first = match doing {
            Doing::Key => self.noun(&left.ty.clone().columned(false)),
            _ => self.noun(&left.ty),
        };
        let second = self.noun(&right.ty);
        self.fail(message::unlike_kinds(doing, &first, &second, right_span))
    }

    /// One reference for both, or a message.
    pub(in crate::check) fn meet_states(
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
            (State::ToTell { .. }, _) => self.say_which((a, a_span), Some(b)),
            (_, State::ToTell { .. }) => self.say_which((b, b_span), Some(a)),
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

    /// A flow or volume that met `other` before its state was told.
    pub(in crate::check) fn say_which<T>(
        &mut self,
        (quantity, span): (&Quantity, Span),
        other: Option<&Quantity>,
    ) -> Outcome<T> {
        let room_rate = quantity.state == State::ToTell { room_rate: true };
        let stated = other.and_then(Quantity::reference);
        if let (true, Some(wanted), Some(other)) = (room_rate, stated, other)
            && wanted != Reference::Actual
        {
            // The forgotten pressure ratio.
            let text = self.snippet(span);
            let unit = self.show_unit(other);
            return self.fail(message::room_rate(span, &text, &unit, wanted));
        }
        let states = match (room_rate, stated) {
            (true, _) => vec![Reference::Actual],
            (false, Some(reference)) if reference != Reference::Room => vec![reference],
            (false, _) => vec![Reference::Free, Reference::Actual],
        };
        let unit = match other {
            Some(other) => self.registry.bare(&other.unit),
            None => self.registry.merged(&quantity.unit),
        };
        let states: Vec<(String, Reference)> = states
            .into_iter()
            .map(|state| (self.registry.show(&unit, Some(state)), state))
            .collect();
        let operand = self.operand(quantity, span);
        let volume = self.carried_family(&quantity.unit) == Some(Family::Volume);
        let told = states.first().map_or("", |(told, _)| told).to_owned();
        self.fail(message::say_which(
            &operand,
            &told,
            &states,
            (volume, room_rate),
        ))
    }

    fn unlike_references<T>(
        &mut self,
        left: (&Quantity, Span),
        right: (&Quantity, Span),
        doing: Doing,
    ) -> Outcome<T> {
        let pair = self.pair(left, right);
        self.fail(message::unlike_references(doing, &pair))
    }

    pub(in crate::check) fn require_same_dimension(
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
        let hint = self
            .unit_hint(&left.0.unit, &b)
            .or_else(|| self.unit_hint(&right.0.unit, &a));
        let beside = message::Beside {
            currencies: a.is_money() && b.is_money(),
            percent: b.is_plain() && self.registry.is_percent(&right.0.unit),
            hint,
            step: self.unit_to_add(left.0, right.0, doing),
        };
        let mut pair = self.pair(left, right);
        pair.left.force = self.force_instead(&left.0.unit, &b);
        pair.right.force = self.force_instead(&right.0.unit, &a);
        self.fail(message::unlike_dimensions(doing, &pair, beside))
    }
}
