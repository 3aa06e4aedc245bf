//! Sums and differences: what may be added to what, and what comes out.

use super::message::{self, Doing};
use super::typed_tree::{Binary, Node, NodeKind, Unary};
use super::types::{Kind, Quantity, State, Type};
use super::{Checker, Outcome, Typed};
use crate::source::Span;
use crate::syntax::{BinaryOperator, Expr, ExprKind};
use crate::units::{Class, Family, Reference};

impl Checker<'_> {
    pub(super) fn sum(
        &mut self,
        span: Span,
        operator: BinaryOperator,
        left: &Expr,
        right: &Expr,
    ) -> Outcome<Typed> {
        let minus = operator == BinaryOperator::Minus;
        let doing = if minus { Doing::Minus } else { Doing::Plus };
        let a = self.expr(left)?;
        let b = self.expr(right)?;
        let qa = self.require_quantity(&a, left.span, doing.where_number())?;
        let qb = self.require_quantity(&b, right.span, doing.where_number())?;
        self.refuse_percent_of_something((&qa, left.span), (&qb, right.span), doing)?;
        self.require_same_dimension((&qa, left.span), (&qb, right.span), doing)?;
        let family = self.carried_family(&qa.unit);
        let outcome = match family {
            Some(Family::Pressure | Family::Temperature | Family::Sound) => {
                self.scale_sum((&qa, left), (&qb, right), minus)?
            }
            _ => self.amount_sum((&qa, left.span), (&qb, right.span), doing)?,
        };
        let mut marks = qa.marks.with(qb.marks);
        let ratio = family.is_none() && self.registry.dimension(&qa.unit).is_plain();
        marks.ratio_difference = minus && ratio;
        Ok(self.added(span, minus, (a, qa), (b, qb), outcome, marks))
    }

    /// Builds the sum. The result is held in the first operand's unit, or in the scale's own
    /// unit where a step was added to the left of a reading.
    fn added(
        &mut self,
        span: Span,
        minus: bool,
        (a, qa): (Typed, Quantity),
        (b, qb): (Typed, Quantity),
        state: State,
        marks: super::Marks,
    ) -> Typed {
        let column = a.ty.column || b.ty.column;
        let point = |state: &State| matches!(state, State::Is(r) if r.row().class == Class::Point);
        let unit = if point(&state) && !point(&qa.state) {
            qb.unit.clone()
        } else if point(&qa.state) && !point(&state) {
            self.registry.bare(&qa.unit)
        } else if self.both_percent(&qa, &qb) {
            qa.unit.clone()
        } else if self.registry.dimension(&qa.unit).is_plain() {
            self.plain_sum_unit(&qa, &qb)
        } else {
            self.unit_after(&qa, &state)
        };
        let left = self.brought_to(a.node, &qa, &qb, &unit);
        let right = self.brought_to(b.node, &qb, &qa, &unit);
        let operation = if minus { Binary::Subtract } else { Binary::Add };
        let node = Node {
            kind: NodeKind::Binary(operation, Box::new(left), Box::new(right)),
            span,
        };
        let as_written = qa.as_written && qa.unit == unit;
        let quantity = Quantity {
            unit,
            state,
            marks,
            as_written,
        };
        Typed {
            node,
            ty: Type {
                kind: Kind::Quantity(quantity),
                column,
            },
        }
    }

    /// One operand in the unit of the result: readings of two thermometers by their zeros too.
    fn brought_to(
        &self,
        node: Node,
        one: &Quantity,
        other: &Quantity,
        unit: &crate::units::Unit,
    ) -> Node {
        let thermometer = Some(Reference::Thermometer);
        if one.reference() == thermometer && other.reference() == thermometer {
            // Both are counted from absolute zero, then their difference needs no zero of a scale.
            return self.from_thermometer(node, &one.unit, unit);
        }
        self.scaled(node, &one.unit, unit)
    }

    fn unit_after(&self, first: &Quantity, state: &State) -> crate::units::Unit {
        if first
            .reference()
            .is_some_and(|reference| State::Is(reference) != *state)
        {
            self.registry.bare(&first.unit)
        } else {
            first.unit.clone()
        }
    }

    fn both_percent(&self, a: &Quantity, b: &Quantity) -> bool {
        a.unit == b.unit
    }

    fn plain_sum_unit(&self, a: &Quantity, b: &Quantity) -> crate::units::Unit {
        let points = [a, b]
            .iter()
            .any(|q| q.state == State::Is(Reference::Points));
        if points {
            a.unit.clone()
        } else {
            crate::units::Unit::one()
        }
    }

    /// Sums of values on scales and of totals: pressures, temperatures, levels.
    fn scale_sum(
        &mut self,
        (a, left): (&Quantity, &Expr),
        (b, right): (&Quantity, &Expr),
        minus: bool,
    ) -> Outcome<State> {
        let doing = if minus { Doing::Minus } else { Doing::Plus };
        let classes = (class(a), class(b));
        match classes {
            (Kindred::Point(x), Kindred::Point(y)) if minus && x == y => Ok(State::Is(x.step())),
            (Kindred::Point(x), Kindred::Point(y)) if x == y => {
                let operands = [self.operand(a, left.span), self.operand(b, right.span)];
                let typed = matches!(right.kind, ExprKind::Literal(_));
                self.fail(message::points_added(&operands, typed))
            }
            (Kindred::Level(x), Kindred::Level(y)) if minus && x == y => {
                Ok(State::Is(Reference::Gain))
            }
            (Kindred::Level(x), Kindred::Level(y)) if x == y => {
                let operands = [self.operand(a, left.span), self.operand(b, right.span)];
                self.fail(message::levels_added(&operands))
            }
            (Kindred::Point(x), Kindred::Step | Kindred::Open) => {
                self.refuse_zero_of_scale((a, left.span), (b, right))?;
                Ok(State::Is(x))
            }
            (Kindred::Step | Kindred::Open, Kindred::Point(y)) if !minus => {
                self.refuse_zero_of_scale((b, right.span), (a, left))?;
                Ok(State::Is(y))
            }
            (Kindred::Level(x), Kindred::Step) => Ok(State::Is(x)),
            (Kindred::Step, Kindred::Level(y)) if !minus => Ok(State::Is(y)),
            (Kindred::Total(x), Kindred::Total(y)) if x == y => {
                Ok(State::Is(if minus { x.step() } else { x }))
            }
            (Kindred::Total(_), Kindred::Open) if minus => Ok(State::Open(Default::default())),
            (Kindred::Total(x), Kindred::Step | Kindred::Open) => Ok(State::Is(x)),
            (Kindred::Step | Kindred::Open, Kindred::Total(y)) if !minus => Ok(State::Is(y)),
            (Kindred::Open, Kindred::Total(_)) => Ok(State::Open(Default::default())),
            (Kindred::Step, Kindred::Step) => Ok(a.state.clone()),
            (Kindred::Step | Kindred::Open, Kindred::Step | Kindred::Open) => {
                Ok(State::Open(Default::default()))
            }
            (Kindred::Point(_), Kindred::Total(_)) | (Kindred::Total(_), Kindred::Point(_)) => {
                let operands = [self.operand(a, left.span), self.operand(b, right.span)];
                self.fail(message::point_and_total(doing, &operands))
            }
            _ => {
                let operands = [self.operand(a, left.span), self.operand(b, right.span)];
                self.fail(message::unlike_references(doing, &operands))
            }
        }
    }

    /// `+ 273.15 K` on a reading means the way to absolute zero, not a step.
    fn refuse_zero_of_scale(
        &mut self,
        point: (&Quantity, Span),
        (step, expr): (&Quantity, &Expr),
    ) -> Outcome<()> {
        let ExprKind::Literal(literal) = &expr.kind else {
            return Ok(());
        };
        let digits = &*literal.number.digits;
        let point_operand = self.operand(point.0, point.1);
        let temperature = point.0.reference() == Some(Reference::Thermometer);
        if temperature
            && step.is_open()
            && matches!(digits, "273.15" | "273" | "459.67" | "460" | "273.2")
        {
            let operand = self.operand(step, expr.span);
            return self.fail(message::zero_of_scale(&point_operand, &operand));
        }
        let unit = self.registry.show(&step.unit, None);
        let outside = matches!(
            (digits, &*unit),
            ("14.7" | "14.696" | "14.5" | "14.69" | "14.70", "psi")
                | ("1" | "1.013" | "1.01325", "bar")
                | ("101.325" | "101.3" | "100", "kPa")
        );
        if !temperature && outside {
            let operand = self.operand(step, expr.span);
            self.say(message::atmosphere_by_hand(&point_operand, &operand));
        }
        Ok(())
    }

    /// Sums of amounts: they meet, and what they count from stays.
    fn amount_sum(
        &mut self,
        a: (&Quantity, Span),
        b: (&Quantity, Span),
        doing: Doing,
    ) -> Outcome<State> {
        let points = State::Is(Reference::Points);
        let plain = self.registry.dimension(&a.0.unit).is_plain();
        if plain && (a.0.state == points) != (b.0.state == points) {
            return Ok(State::Plain);
        }
        self.meet_states(a, b, doing)
    }

    /// `x + 8 %` of something that is no ratio.
    fn refuse_percent_of_something(
        &mut self,
        a: (&Quantity, Span),
        b: (&Quantity, Span),
        doing: Doing,
    ) -> Outcome<()> {
        let plain = self.registry.dimension(&a.0.unit).is_plain();
        if plain || !self.registry.is_percent(&b.0.unit) {
            return Ok(());
        }
        let operands = [self.operand(a.0, a.1), self.operand(b.0, b.1)];
        self.fail(message::percent_of_something(doing, &operands))
    }

    pub(super) fn negative(&mut self, span: Span, inner: &Expr) -> Outcome<Typed> {
        let typed = self.expr(inner)?;
        let quantity = self.require_quantity(&typed, inner.span, "with a minus sign")?;
        self.refuse_point_scaled(&quantity, inner.span, "a minus sign before")?;
        let node = Node {
            kind: NodeKind::Unary(Unary::Negate, Box::new(typed.node)),
            span,
        };
        Ok(Typed { node, ty: typed.ty })
    }
}

/// How an operand of a sum behaves.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Kindred {
    Point(Reference),
    Level(Reference),
    Total(Reference),
    Step,
    Open,
}

fn class(quantity: &Quantity) -> Kindred {
    match &quantity.state {
        State::Is(reference) => match reference.row().class {
            Class::Point => Kindred::Point(*reference),
            Class::Level => Kindred::Level(*reference),
            Class::Total => Kindred::Total(*reference),
            Class::Linear => Kindred::Step,
        },
        State::Plain | State::Open(_) | State::ToTell { .. } => Kindred::Open,
    }
}
