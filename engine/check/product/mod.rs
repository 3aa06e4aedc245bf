//! Products and powers. All factors that `*` and `/` join, through brackets, are judged together:
//! whether a flow keeps its reference must not depend on how a line is grouped.

mod power;
mod state;

pub(super) use state::rooted_state;

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
    pub(in crate::check) fn is_product(&self, expr: &Expr) -> bool {
        match &expr.kind {
            ExprKind::Binary(BinaryOperator::Times | BinaryOperator::Over, ..) => true,
            ExprKind::Bracketed(inner) | ExprKind::Negative(inner) => self.is_product(inner),
            _ => false,
        }
    }

    pub(in crate::check) fn product(&mut self, expr: &Expr) -> Outcome<Typed> {
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
    pub(in crate::check) fn refuse_point_scaled(
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
