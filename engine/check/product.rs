//! Products and powers. All factors that `*` and `/` join, through brackets, are judged together:
//! whether a flow keeps its reference must not depend on how a line is grouped.

use super::message::{self, Doing};
use super::typed_tree::{Binary, Node, NodeKind, Unary};
use super::types::{Kind, Marks, Quantity, State, Type};
use super::{Checker, Outcome, Typed};
use crate::number::{Factor, Number};
use crate::source::Span;
use crate::syntax::{BinaryOperator, Expr, ExprKind};
use crate::units::{Class, Dimension, Family, Reference, Unit};

/// One factor of a product.
struct Part {
    typed: Typed,
    quantity: Quantity,
    dimension: Dimension,
    /// Whether it stands below the line.
    below: bool,
    span: Span,
}

/// How the factors are joined.
enum Joined {
    Part(usize),
    Pair(Binary, Span, Box<Joined>, Box<Joined>),
    Minus(Span, Box<Joined>),
}

impl Part {
    fn family(&self) -> Option<Family> {
        self.dimension.family()
    }

    /// A pressure, a temperature or a density, or a plain number made from them.
    fn is_state(&self) -> bool {
        matches!(self.family(), Some(Family::Pressure | Family::Temperature))
            || self.dimension == Dimension::DENSITY
            || (self.dimension.is_plain() && self.quantity.marks.from_states)
    }

    /// A flow or a volume, or either per something.
    fn is_air(&self) -> bool {
        match self.family() {
            Some(Family::Flow | Family::Volume) => true,
            Some(_) => false,
            None => !self.dimension.is_plain() && !matches!(self.quantity.state, State::Plain),
        }
    }

    fn is_carrier(&self) -> bool {
        self.is_air() && !matches!(self.family(), Some(Family::Flow | Family::Volume))
    }

    /// Time, a count, money or a plain number: it leaves a flow the flow it is.
    fn leaves_reference(&self) -> bool {
        self.dimension.is_of_times_counts_and_money() && !self.quantity.marks.from_states
    }
}

impl Checker<'_> {
    /// Whether an expression is a product, through brackets and signs.
    pub(super) fn is_product(&self, expr: &Expr) -> bool {
        match &expr.kind {
            ExprKind::Binary(BinaryOperator::Times | BinaryOperator::Over, ..) => true,
            ExprKind::Bracketed(inner) | ExprKind::Negative(inner) => self.is_product(inner),
            _ => false,
        }
    }

    pub(super) fn product(&mut self, expr: &Expr) -> Outcome<Typed> {
        let mut parts = Vec::new();
        let joined = self.factors(expr, false, &mut parts)?;
        self.note_second_solidus(expr);
        self.refuse_scaled_points(&parts)?;
        self.refuse_unlike_quotients(&joined, &parts)?;
        self.note_bare_pressures(&joined, &parts);
        let parts = self.with_ones(parts);
        let (state, marks) = self.product_state(expr.span, &parts)?;
        self.multiplied(expr.span, &joined, parts, state, marks)
    }

    fn factors(&mut self, expr: &Expr, below: bool, parts: &mut Vec<Part>) -> Outcome<Joined> {
        match &expr.kind {
            ExprKind::Binary(
                operator @ (BinaryOperator::Times | BinaryOperator::Over),
                left,
                right,
            ) => {
                let over = *operator == BinaryOperator::Over;
                let first = self.factors(left, below, parts)?;
                let second = self.factors(right, below != over, parts)?;
                let operation = if over {
                    Binary::Divide
                } else {
                    Binary::Multiply
                };
                Ok(Joined::Pair(
                    operation,
                    expr.span,
                    Box::new(first),
                    Box::new(second),
                ))
            }
            ExprKind::Bracketed(inner) if self.is_product(inner) => {
                self.factors(inner, below, parts)
            }
            ExprKind::Negative(inner) if self.is_product(expr) => {
                let inner = self.factors(inner, below, parts)?;
                Ok(Joined::Minus(expr.span, Box::new(inner)))
            }
            _ => {
                let typed = self.expr(expr)?;
                Ok(self.part(typed, expr.span, below, parts)?)
            }
        }
    }

    fn part(
        &mut self,
        typed: Typed,
        span: Span,
        below: bool,
        parts: &mut Vec<Part>,
    ) -> Outcome<Joined> {
        let quantity = self.require_quantity(&typed, span, "in a product")?;
        let dimension = self.registry.dimension(&quantity.unit);
        parts.push(Part {
            typed,
            quantity,
            dimension,
            below,
            span,
        });
        Ok(Joined::Part(parts.len() - 1))
    }

    /// `a / b / c` reads from left to right, which is rarely looked at twice.
    fn note_second_solidus(&mut self, expr: &Expr) {
        let ExprKind::Binary(BinaryOperator::Over, left, right) = &expr.kind else {
            return;
        };
        let ExprKind::Binary(BinaryOperator::Over, first, second) = &left.kind else {
            return;
        };
        let texts = [first.span, second.span, right.span].map(|span| self.snippet(span));
        self.say(message::second_solidus(expr.span, &texts));
    }

    fn refuse_scaled_points(&mut self, parts: &[Part]) -> Outcome<()> {
        let points: Vec<&Part> = parts
            .iter()
            .filter(|part| is_point_or_level(&part.quantity))
            .collect();
        if let [a, b] = points[..]
            && parts.len() == 2
            && a.below != b.below
            && a.dimension == b.dimension
        {
            let (above, below) = if a.below { (b, a) } else { (a, b) };
            let pair = self.pair((&above.quantity, above.span), (&below.quantity, below.span));
            return self.fail(message::points_divided(&pair));
        }
        match points.first() {
            Some(part) => {
                self.refuse_point_scaled(&part.quantity.clone(), part.span, "a product with")
            }
            None => Ok(()),
        }
    }

    /// A reading on a scale used like an amount.
    pub(super) fn refuse_point_scaled(
        &mut self,
        quantity: &Quantity,
        span: Span,
        how: &str,
    ) -> Outcome<()> {
        if !is_point_or_level(quantity) {
            return Ok(());
        }
        let operand = self.operand(quantity, span);
        self.fail(message::point_scaled(&operand, how))
    }

    /// A quotient of equal dimension is a place where two values meet. Flows and volumes are
    /// judged over the whole product instead.
    fn refuse_unlike_quotients(&mut self, joined: &Joined, parts: &[Part]) -> Outcome<()> {
        match joined {
            Joined::Part(_) => Ok(()),
            Joined::Minus(_, inner) => self.refuse_unlike_quotients(inner, parts),
            Joined::Pair(operation, _, first, second) => {
                self.refuse_unlike_quotients(first, parts)?;
                self.refuse_unlike_quotients(second, parts)?;
                if let (Binary::Divide, Joined::Part(a), Joined::Part(b)) =
                    (operation, &**first, &**second)
                {
                    self.refuse_unlike_quotient(&parts[*a], &parts[*b])?;
                }
                Ok(())
            }
        }
    }

    fn refuse_unlike_quotient(&mut self, a: &Part, b: &Part) -> Outcome<()> {
        let (Some(family), true) = (a.family(), a.dimension == b.dimension) else {
            return Ok(());
        };
        if matches!(family, Family::Flow | Family::Volume | Family::Ratio) {
            return Ok(());
        }
        let (State::Is(x), State::Is(y)) = (&a.quantity.state, &b.quantity.state) else {
            return Ok(());
        };
        if x == y || family.quotients().contains(&(*x, *y)) {
            return Ok(());
        }
        let pair = self.pair((&a.quantity, a.span), (&b.quantity, b.span));
        self.fail(message::unlike_references(Doing::Over, &pair))
    }

    fn note_bare_pressures(&mut self, joined: &Joined, parts: &[Part]) {
        if let Joined::Pair(Binary::Divide, _, first, second) = joined
            && let (Joined::Part(a), Joined::Part(b)) = (&**first, &**second)
            && parts[*a].quantity.marks.bare_pressure
            && parts[*b].quantity.marks.bare_pressure
        {
            let (a, b) = (&parts[*a], &parts[*b]);
            let pair = self.pair((&a.quantity, a.span), (&b.quantity, b.span));
            self.say(message::bare_ratio(&pair));
            return;
        }
        let air = parts
            .iter()
            .any(|part| matches!(part.family(), Some(Family::Flow | Family::Volume)));
        if !air {
            return;
        }
        for part in parts
            .iter()
            .filter(|part| part.quantity.marks.bare_pressure)
        {
            let operand = self.operand(&part.quantity, part.span);
            self.say(message::bare_pressure(&operand));
        }
    }

    /// Percentages become ones, unless one percentage stands among plain numbers only.
    fn with_ones(&self, parts: Vec<Part>) -> Vec<Part> {
        let all_plain = parts.iter().all(|part| part.dimension.is_plain());
        let scaled = parts
            .iter()
            .filter(|part| part.quantity.unit != Unit::one())
            .count();
        let keep = all_plain
            && scaled == 1
            && parts
                .iter()
                .any(|part| !part.below && part.quantity.unit != Unit::one());
        parts
            .into_iter()
            .map(|part| {
                if keep || !part.dimension.is_plain() || part.quantity.unit == Unit::one() {
                    return part;
                }
                let typed = self.as_ones(part.typed);
                let quantity = Quantity {
                    unit: Unit::one(),
                    state: State::Plain,
                    marks: part.quantity.marks,
                    as_written: false,
                };
                Part {
                    typed,
                    quantity,
                    ..part
                }
            })
            .collect()
    }

    /// What the product counts from, and what went into it.
    fn product_state(&mut self, span: Span, parts: &[Part]) -> Outcome<(State, Marks)> {
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

    fn plain_state(&self, parts: &[Part], dimension: &Dimension) -> State {
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

    fn air_state(
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
    fn remaining(&self, state: State, part: &Part, dimension: &Dimension, parts: &[Part]) -> State {
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
    fn meet_air(&mut self, above: &[&Part], below: &[&Part]) -> Outcome<State> {
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

    fn refuse_room_against_air(&mut self, over: &Part, under: &Part) -> Outcome<()> {
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

    fn warn_states_over_standard(&mut self, span: Span, air: &[&Part], marks: Marks) {
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

    fn multiplied(
        &mut self,
        span: Span,
        joined: &Joined,
        parts: Vec<Part>,
        state: State,
        marks: Marks,
    ) -> Outcome<Typed> {
        let mut unit = Unit::one();
        let column = parts.iter().any(|part| part.typed.ty.column);
        let mut nodes = Vec::with_capacity(parts.len());
        // One value with a unit among plain numbers is shown as that value is.
        let mut with_unit = parts.iter().filter(|part| !part.quantity.unit.is_one());
        let as_written = match (with_unit.next(), with_unit.next()) {
            (Some(one), None) => !one.below && one.quantity.as_written,
            _ => false,
        };
        for part in parts {
            // A word that states a reference stays only where the product counts from it too.
            let stays = self.registry.states(&part.quantity.unit).map(State::Is);
            let own = match stays {
                Some(stays) if stays != state => self.registry.bare(&part.quantity.unit),
                _ => part.quantity.unit.clone(),
            };
            let product = if part.below {
                unit.over(&own)
            } else {
                unit.times(&own)
            };
            unit = match product {
                Some(unit) => unit,
                None => return self.fail(message::unit_too_large(span)),
            };
            nodes.push(Some(self.scaled(
                part.typed.node,
                &part.quantity.unit,
                &own,
            )));
        }
        let mut node = build(joined, &mut nodes);
        let plain = self.registry.dimension(&unit).is_plain();
        if plain && unit != Unit::one() && !self.registry.is_ratio_word(&unit) {
            let factor = self
                .registry
                .factor(&unit, &Unit::one())
                .unwrap_or_else(Factor::one);
            node = super::convert::scale(node, factor);
            unit = Unit::one();
        }
        let told = matches!(
            state,
            State::Is(Reference::Active | Reference::Apparent | Reference::Reactive)
        );
        if told && self.registry.has_current(&unit) {
            // Volts times amperes that are one kind of power have the unit of a power.
            let watt = self.registry.listed("W");
            node = self.scaled(node, &unit, &watt);
            unit = watt;
        }
        let quantity = Quantity {
            unit,
            state,
            marks,
            as_written,
        };
        Ok(Typed {
            node,
            ty: Type {
                kind: Kind::Quantity(quantity),
                column,
            },
        })
    }

    pub(super) fn power(&mut self, span: Span, base: &Expr, exponent: &Expr) -> Outcome<Typed> {
        let typed = self.expr(base)?;
        let quantity = self.require_quantity(&typed, base.span, "raised to a power")?;
        self.refuse_point_scaled(&quantity, base.span, "a power of")?;
        let power = self.expr(exponent)?;
        let power_quantity = self.require_quantity(&power, exponent.span, "as an exponent")?;
        if !self.registry.dimension(&power_quantity.unit).is_plain() {
            let operand = self.operand(&power_quantity, exponent.span);
            return self.fail(message::exponent_with_unit(&operand));
        }
        let power = self.as_ones(power);
        if self.registry.dimension(&quantity.unit).is_plain() {
            return Ok(self.plain_power(span, typed, power, quantity.marks));
        }
        let Some(exponent_value) = constant(&power.node) else {
            let operand = self.operand(&quantity, base.span);
            return self.fail(message::power_must_be_written(exponent.span, &operand));
        };
        self.power_with_unit(span, (typed, quantity), exponent_value, exponent.span)
    }

    fn plain_power(&mut self, span: Span, base: Typed, power: Typed, marks: Marks) -> Typed {
        let base = self.as_ones(base);
        let column = base.ty.column || power.ty.column;
        let kind = match constant(&power.node).and_then(whole_exponent) {
            Some(whole) => NodeKind::WholePower(Box::new(base.node), whole),
            None => NodeKind::Binary(Binary::Power, Box::new(base.node), Box::new(power.node)),
        };
        let mut quantity = Quantity::new(Unit::one(), State::Plain);
        quantity.marks = Marks {
            from_states: marks.from_states,
            ..Marks::default().with(marks)
        };
        Typed {
            node: Node { kind, span },
            ty: Type {
                kind: Kind::Quantity(quantity),
                column,
            },
        }
    }

    fn power_with_unit(
        &mut self,
        span: Span,
        (base, quantity): (Typed, Quantity),
        exponent: Number,
        exponent_span: Span,
    ) -> Outcome<Typed> {
        let Some((up, down)) = twelfths(exponent) else {
            let operand = self.operand(&quantity, base.node.span);
            return self.fail(message::power_must_be_written(exponent_span, &operand));
        };
        let Some(unit) = quantity.unit.power(up, down) else {
            return self.fail(message::unit_too_large(exponent_span));
        };
        let column = base.ty.column;
        let kind = match whole_exponent(exponent) {
            Some(whole) => NodeKind::WholePower(Box::new(base.node), whole),
            None => {
                let node = Node {
                    kind: NodeKind::Number(exponent),
                    span: exponent_span,
                };
                NodeKind::Binary(Binary::Power, Box::new(base.node), Box::new(node))
            }
        };
        let dimension = self.registry.dimension(&unit);
        let state = if exponent.equals(Number::ONE) {
            quantity.state.clone()
        } else {
            rooted_state(&dimension)
        };
        let mut result = Quantity::new(unit, state);
        result.marks = Marks::default().with(quantity.marks);
        Ok(Typed {
            node: Node { kind, span },
            ty: Type {
                kind: Kind::Quantity(result),
                column,
            },
        })
    }
}

/// What a value of this dimension counts from when it comes out of a power or a root.
pub(super) fn made_state(dimension: &Dimension) -> State {
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
pub(super) fn rooted_state(dimension: &Dimension) -> State {
    match dimension.family() {
        Some(Family::Power) => State::Open(Default::default()),
        _ => made_state(dimension),
    }
}

fn build(joined: &Joined, nodes: &mut [Option<Node>]) -> Node {
    match joined {
        Joined::Part(index) => nodes[*index].take().unwrap_or(Node {
            kind: NodeKind::Number(Number::ONE),
            span: Span::default(),
        }),
        Joined::Pair(operation, span, first, second) => {
            let first = build(first, nodes);
            let second = build(second, nodes);
            Node {
                kind: NodeKind::Binary(*operation, Box::new(first), Box::new(second)),
                span: *span,
            }
        }
        Joined::Minus(span, inner) => {
            let inner = build(inner, nodes);
            Node {
                kind: NodeKind::Unary(Unary::Negate, Box::new(inner)),
                span: *span,
            }
        }
    }
}

fn is_point_or_level(quantity: &Quantity) -> bool {
    quantity
        .reference()
        .is_some_and(|reference| matches!(reference.row().class, Class::Point | Class::Level))
}

/// A flow per something, multiplied with that something, is the flow again.
fn returned_carrier(parts: &[Part], air: &[&Part], dimension: &Dimension) -> Option<State> {
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
fn per_something(parts: &[Part], part: &Part) -> bool {
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
fn family_state(kind: Family, parts: &[Part], dimension: &Dimension) -> State {
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
fn power_by_factor(power: &Part, parts: &[Part]) -> Option<State> {
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

fn is_power_factor(parts: &[Part]) -> bool {
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

/// A number that is known while checking.
pub(super) fn constant(node: &Node) -> Option<Number> {
    match &node.kind {
        NodeKind::Number(number) => Some(*number),
        NodeKind::Unary(Unary::Negate, inner) => constant(inner).map(Number::negated),
        NodeKind::Binary(operation, left, right) => {
            let (left, right) = (constant(left)?, constant(right)?);
            match operation {
                Binary::Add => left.plus(right).ok(),
                Binary::Subtract => left.minus(right).ok(),
                Binary::Multiply => left.times(right).ok(),
                Binary::Divide => left.over(right).ok(),
                _ => None,
            }
        }
        _ => None,
    }
}

/// An exponent as a fraction with a denominator that units can have.
fn twelfths(exponent: Number) -> Option<(i32, i32)> {
    let twelve = exponent.times(Number::from(12)).ok()?;
    let nearest = twelve.round_to(Number::ONE).ok()?;
    let close = twelve.equals(nearest);
    let whole = nearest
        .to_i64()
        .and_then(|whole| i32::try_from(whole).ok())?;
    close.then_some((whole, 12))
}

fn whole_exponent(number: Number) -> Option<i32> {
    number.to_i64().and_then(|whole| i32::try_from(whole).ok())
}
