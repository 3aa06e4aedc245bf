//! Where two values meet: one dimension, one reference, one unit.

use super::message::{self, Doing, Target};
use super::types::{Kind, Marks, Quantity, State, Type};
use super::unit::ResolvedUnit;
use super::{Checker, Claim, Outcome, Typed};
use crate::source::Span;
use crate::units::{Dimension, Family, Reference, Unit};

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
    pub(super) fn settled_unit(&self, a: &Quantity, b: &Quantity, state: &State) -> Unit {
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
    pub(super) fn say_which<T>(
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

    /// What a message says of an operand.
    pub(super) fn operand(&mut self, quantity: &Quantity, span: Span) -> message::Operand {
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
    fn shown_unit(&self, quantity: &Quantity) -> String {
        let unit = match quantity.unit.single() {
            Some(_) => quantity.unit.clone(),
            None => self.registry.merged(&quantity.unit),
        };
        self.registry.show(&unit, quantity.reference())
    }

    /// What a message says of two values that met.
    pub(super) fn pair(
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

    /// The unit that a bare number would have beside the other value.
    fn unit_to_add(&mut self, a: &Quantity, b: &Quantity, doing: Doing) -> Option<String> {
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
    fn force_instead(&mut self, unit: &Unit, wanted: &Dimension) -> Option<String> {
        let force = self.registry.force_instead(unit)?;
        let fits = self.registry.dimension(&force) == *wanted;
        fits.then(|| self.registry.show(&force, None))
    }

    /// What to say about a unit that is easily taken for another one, of the dimension wanted.
    pub(super) fn unit_hint(&mut self, unit: &Unit, wanted: &Dimension) -> Option<String> {
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
    fn marks_under(&self, head: &ResolvedUnit, quantity: &Quantity, told: bool) -> Marks {
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
        let operand = self.operand(quantity, span);
        self.fail(message::share_and_points(&operand, points))
    }

    /// A product with a state in it that is told to be another. One with both in it is the way
    /// from the one to the other.
    fn warn_mixed_states(&mut self, quantity: &Quantity, told: Reference, span: Span) {
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

    /// A switch, or a message.
    pub(super) fn require_switch(&mut self, typed: &Typed, span: Span) -> Outcome<()> {
        if typed.ty.kind == Kind::Switch {
            return Ok(());
        }
        let noun = self.noun(&typed.ty);
        let text = self.snippet(span);
        self.fail(message::no_condition(span, &text, &noun))
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
                self.fail(message::no_number(span, &text, &noun, what))
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
        match (ty.column, &ty.kind) {
            (false, _) => one,
            (true, Kind::Text) => "a column of texts".to_owned(),
            (true, Kind::Switch) => "a column of switches".to_owned(),
            (true, Kind::Quantity(_)) => format!("a column with {one} in each row"),
        }
    }

    /// The thing by its dimension alone, as in “a pressure”, “a flow”.
    pub(super) fn kind_of(&self, unit: &Unit) -> String {
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
            _ => self.kind_of(&quantity.unit),
        }
    }
}

/// Whether a dimension's name is one that people say, rather than a product of its bases.
fn is_spoken(name: &str) -> bool {
    let article = name.starts_with("a ") || name.starts_with("an ") || name == "money";
    article && name.matches(" per ").count() <= 1 && !name.contains(" to the power ")
}

/// A text with its line breaks, and the indentation behind them, as blanks.
fn on_one_line(text: &str) -> String {
    match text.contains('\n') {
        true => text.lines().map(str::trim).collect::<Vec<_>>().join(" "),
        false => text.to_owned(),
    }
}
