//! What a product counts from: states in it leave a flow to be told, without them flows above and
//! below the line meet, and what remains keeps its air.

use super::super::message::{self, Doing};
use super::super::types::{Marks, State};
use super::super::{Checker, Outcome};
use super::Part;
use crate::source::Span;
use crate::units::{Class, Dimension, Family, Reference};

impl Checker<'_> {
    /// What the product counts from, and what went into it.
    pub(super) fn product_state(&mut self, span: Span, parts: &[Part]) -> Outcome<(State, Marks)> {
        let mut marks = parts.iter().fold(Marks::default(), |marks, part| {
            marks.with(part.quantity.marks)
        });
        let mut dimension = Dimension::PLAIN;
        for part in parts {
            let joined = if part.below {
                dimension.over(&part.dimension)
            } else {
                dimension.times(&part.dimension)
            };
            dimension = match joined {
                Some(dimension) => dimension,
                None => return self.fail(message::unit_too_large(span)),
            };
        }
        let states = parts.iter().any(Part::is_state);
        marks.from_states = dimension.is_plain() && states;
        marks.power_factor = is_power_factor(parts);
        let mass = dimension.is_mass_or_mass_flow();
        if mass {
            marks.atmosphere = false;
            marks.standard = None;
        }
        let air: Vec<&Part> = parts.iter().filter(|part| part.is_air()).collect();
        let state = match dimension.family() {
            Some(Family::Flow | Family::Volume) | None if !air.is_empty() => {
                self.air_state(span, parts, &air, &dimension, states, marks)?
            }
            Some(Family::Ratio) if !air.is_empty() => {
                self.air_state(span, parts, &air, &dimension, states, marks)?
            }
            Some(Family::Flow) => State::ToTell { room_rate: false },
            Some(Family::Volume) if states => State::ToTell { room_rate: false },
            Some(Family::Volume) => State::Is(Reference::Room),
            Some(Family::Ratio) | None => self.plain_state(parts, &dimension),
            Some(family) => family_state(family, parts, &dimension),
        };
        Ok((state, marks))
    }

    pub(super) fn plain_state(&self, parts: &[Part], dimension: &Dimension) -> State {
        // `5 pp` times a plain number stays in points.
        let points = State::Is(Reference::Points);
        let pointed = parts
            .iter()
            .filter(|part| part.quantity.state == points)
            .count();
        let above = parts
            .iter()
            .any(|part| part.quantity.state == points && !part.below);
        if dimension.is_plain()
            && pointed == 1
            && above
            && parts.iter().all(|part| part.dimension.is_plain())
        {
            return points;
        }
        State::Plain
    }

    pub(super) fn air_state(
        &mut self,
        span: Span,
        parts: &[Part],
        air: &[&Part],
        dimension: &Dimension,
        states: bool,
        marks: Marks,
    ) -> Outcome<State> {
        if let Some(state) = returned_carrier(parts, air, dimension) {
            return Ok(state);
        }
        let is_air = matches!(dimension.family(), Some(Family::Flow | Family::Volume));
        if states {
            self.warn_states_over_standard(span, air, marks);
            return Ok(match (is_air, air) {
                (true, _) => State::ToTell { room_rate: false },
                (false, [one]) if per_something(parts, one) => one.quantity.state.clone(),
                (false, _) => State::Plain,
            });
        }
        let (below, above): (Vec<&Part>, Vec<&Part>) = air.iter().partition(|part| part.below);
        let state = self.meet_air(&above, &below)?;
        let rest_leaves = parts
            .iter()
            .filter(|part| !part.is_air())
            .all(Part::leaves_reference);
        if above.len() == below.len() + 1 && (rest_leaves || per_something(parts, above[0])) {
            return Ok(self.remaining(state, above[0], dimension, parts));
        }
        Ok(match dimension.family() {
            Some(Family::Flow) => State::ToTell { room_rate: false },
            Some(Family::Volume) => State::Is(Reference::Room),
            _ => State::Plain,
        })
    }

    /// A flow times a time is a volume of the same air; the room of a vessel per time is a flow
    /// of what it is in the line.
    pub(super) fn remaining(
        &self,
        state: State,
        part: &Part,
        dimension: &Dimension,
        parts: &[Part],
    ) -> State {
        let room = state == State::Is(Reference::Room);
        match dimension.family() {
            Some(Family::Flow) if room => State::ToTell { room_rate: true },
            Some(Family::Flow | Family::Volume) => state,
            _ if dimension.is_of_length_only() || *dimension == Dimension::SPEED => State::Plain,
            Some(_) => State::Plain,
            None if part.is_carrier() || per_something(parts, part) => state,
            None => State::Plain,
        }
    }

    /// Every flow or volume above the line meets every one below it.
    pub(super) fn meet_air(&mut self, above: &[&Part], below: &[&Part]) -> Outcome<State> {
        let Some(first) = above.first().or(below.first()) else {
            return Ok(State::Plain);
        };
        let mut state = first.quantity.state.clone();
        for over in above {
            for under in below {
                self.refuse_room_against_air(over, under)?;
                state = self.meet_states(
                    (&over.quantity, over.span),
                    (&under.quantity, under.span),
                    Doing::Over,
                )?;
            }
        }
        Ok(state)
    }

    pub(super) fn refuse_room_against_air(&mut self, over: &Part, under: &Part) -> Outcome<()> {
        let room = State::Is(Reference::Room);
        if (over.quantity.state == room) == (under.quantity.state == room)
            || over.quantity.is_open()
            || under.quantity.is_open()
        {
            return Ok(());
        }
        let pair = self.pair((&over.quantity, over.span), (&under.quantity, under.span));
        self.fail(message::room_against_air(Doing::Over, &pair))
    }

    pub(super) fn warn_states_over_standard(&mut self, span: Span, air: &[&Part], marks: Marks) {
        let standard = air.iter().find(|part| {
            part.below
                && matches!(
                    part.quantity.reference(),
                    Some(Reference::Standard | Reference::Normal | Reference::Anr)
                )
        });
        if let (Some(part), true, None) = (standard, marks.atmosphere, marks.standard)
            && let Some(told) = part.quantity.reference()
        {
            let made_with = "the shop's `atmosphere`";
            self.say(message::mixed_states(
                span,
                made_with,
                Reference::Free,
                told,
                None,
            ));
        }
    }
}

/// What a value of this dimension counts from when it comes out of a power or a root.
pub(in crate::check) fn made_state(dimension: &Dimension) -> State {
    match dimension.family() {
        Some(Family::Flow) => State::ToTell { room_rate: false },
        Some(Family::Volume) => State::Is(Reference::Room),
        Some(Family::Pressure | Family::Temperature) => State::Open(Default::default()),
        Some(Family::Power) => State::Is(Reference::Active),
        Some(Family::Sound) => State::Is(Reference::Gain),
        Some(Family::Ratio) | None => State::Plain,
    }
}

/// The same for a power or a root: of a power in watts it is not known which kind it is, since
/// apparent, active and reactive power form a triangle.
pub(in crate::check) fn rooted_state(dimension: &Dimension) -> State {
    match dimension.family() {
        Some(Family::Power) => State::Open(Default::default()),
        _ => made_state(dimension),
    }
}

/// A flow per something, multiplied with that something, is the flow again.
pub(super) fn returned_carrier(
    parts: &[Part],
    air: &[&Part],
    dimension: &Dimension,
) -> Option<State> {
    let [carrier] = air else { return None };
    let whole = matches!(dimension.family(), Some(Family::Flow | Family::Volume));
    if !carrier.is_carrier() || carrier.below || !whole {
        return None;
    }
    let made = parts
        .iter()
        .any(|part| part.dimension.is_plain() && part.quantity.marks.from_states);
    let above = parts
        .iter()
        .filter(|part| !part.is_air() && !part.dimension.is_plain());
    let one_way = above.clone().all(|part| !part.below)
        || above.clone().all(|part| part.below)
        || !parts.iter().any(Part::is_state);
    (!made && one_way).then(|| carrier.quantity.state.clone())
}

/// Whether everything but `part` and plain numbers stands below the line and is no length.
pub(super) fn per_something(parts: &[Part], part: &Part) -> bool {
    let mut rest = Dimension::PLAIN;
    for other in parts.iter().filter(|other| !other.is_air()) {
        if other.dimension.is_plain() {
            if other.quantity.marks.from_states {
                return false;
            }
            continue;
        }
        if !other.below {
            return other.leaves_reference()
                && parts
                    .iter()
                    .all(|part| part.is_air() || part.leaves_reference());
        }
        rest = rest.times(&other.dimension).unwrap_or(rest);
    }
    !part.below && !rest.is_of_length_only()
}

/// Pressures, temperatures, powers and levels: one of them times plain numbers stays what it is.
pub(super) fn family_state(kind: Family, parts: &[Part], dimension: &Dimension) -> State {
    let of_kind: Vec<&Part> = parts
        .iter()
        .filter(|part| part.family() == Some(kind))
        .collect();
    let others_plain = parts
        .iter()
        .filter(|part| part.family() != Some(kind))
        .all(|part| part.dimension.is_plain());
    if let [one] = of_kind[..]
        && others_plain
        && !one.below
    {
        // A difference times a number is a difference; an absolute pressure times a number may be
        // either, and takes what it meets.
        let total = one
            .quantity
            .reference()
            .is_some_and(|reference| reference.row().class == Class::Total);
        return match power_by_factor(one, parts) {
            Some(state) => state,
            None if total => State::Open(Default::default()),
            None => one.quantity.state.clone(),
        };
    }
    let volts = parts.iter().any(|part| part.dimension.has_current());
    let factor = parts.iter().find(|part| part.quantity.marks.power_factor);
    match (kind, factor) {
        (Family::Power, Some(factor)) if volts && !factor.below => State::Is(Reference::Active),
        (Family::Power, _) if volts => State::Open(Default::default()),
        _ => made_state(dimension),
    }
}

/// Apparent power times a power factor is active; active power over one is apparent.
pub(super) fn power_by_factor(power: &Part, parts: &[Part]) -> Option<State> {
    let factor = parts.iter().find(|part| part.quantity.marks.power_factor)?;
    match (&power.quantity.state, factor.below) {
        (State::Is(Reference::Apparent) | State::Open(_), false) => {
            Some(State::Is(Reference::Active))
        }
        (State::Is(Reference::Active) | State::Open(_), true) => {
            Some(State::Is(Reference::Apparent))
        }
        _ => None,
    }
}

pub(super) fn is_power_factor(parts: &[Part]) -> bool {
    let is = |part: &&Part, reference| part.quantity.reference() == Some(reference);
    let [a, b] = parts else {
        return parts
            .iter()
            .filter(|part| part.quantity.marks.power_factor)
            .count()
            == 1
            && parts.iter().all(|part| part.dimension.is_plain());
    };
    (is(&a, Reference::Active) && is(&b, Reference::Apparent) && !a.below && b.below)
        || (a.quantity.marks.power_factor != b.quantity.marks.power_factor
            && a.dimension.is_plain()
            && b.dimension.is_plain())
}
