//! Sums and differences: what may be added to what, and what comes out.

use super::message::{self, Doing};
use super::typed_tree::{Binary, Node, NodeKind, Unary};
use super::types::{Kind, Quantity, State, Type};
use super::{Checker, Outcome, Typed};
use crate::number::{Number, Rational};
use crate::source::Span;
use crate::syntax::{BinaryOperator, Expr, ExprKind, Literal};
use crate::units::{Class, Family, Reference, Unit};

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
        self.refuse_bare_zero((&qa, left), (&qb, right), minus)?;
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
        } else if self.registry.dimension(&qa.unit).is_plain() {
            self.plain_sum_unit(&qa, &qb)
        } else {
            self.unit_after(&qa, &qb, &state)
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
    fn brought_to(&self, node: Node, one: &Quantity, other: &Quantity, unit: &Unit) -> Node {
        let thermometer = Some(Reference::Thermometer);
        if one.reference() == thermometer && other.reference() == thermometer {
            // Both are counted from absolute zero, then their difference needs no zero of a scale.
            return self.off_thermometer(node, &one.unit, unit);
        }
        self.scaled(node, &one.unit, unit)
    }

    /// The first operand's unit, without the reference that the result does not have.
    fn unit_after(&self, first: &Quantity, second: &Quantity, state: &State) -> Unit {
        let stays = match first.reference() {
            Some(reference) => State::Is(reference) == *state,
            None => true,
        };
        if stays {
            self.settled_unit(first, second, state)
        } else {
            self.registry.bare(&first.unit)
        }
    }

    /// Percentages stay what they are among themselves; beside plain numbers they become ones.
    fn plain_sum_unit(&self, a: &Quantity, b: &Quantity) -> Unit {
        let pointed = |one: &Quantity| one.state == State::Is(Reference::Points);
        match (pointed(a), pointed(b)) {
            _ if a.unit == b.unit => a.unit.clone(),
            // `55 % + 3 pp` and `3 pp + 55 %` are percentages.
            (true, false) => b.unit.clone(),
            (_, true) => a.unit.clone(),
            (false, false) => Unit::one(),
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
                let pair = self.pair((a, left.span), (b, right.span));
                self.fail(message::points_added(&pair))
            }
            (Kindred::Level(x), Kindred::Level(y)) if minus && x == y => {
                Ok(State::Is(Reference::Gain))
            }
            (Kindred::Level(x), Kindred::Level(y)) if x == y => {
                let pair = self.pair((a, left.span), (b, right.span));
                self.fail(message::levels_added(&pair))
            }
            (Kindred::Point(x), Kindred::Step | Kindred::Open) => {
                if !minus {
                    self.refuse_zero_of_scale((a, left), (b, right), true)?;
                }
                Ok(State::Is(x))
            }
            (Kindred::Step | Kindred::Open, Kindred::Point(y)) if !minus => {
                self.refuse_zero_of_scale((a, left), (b, right), false)?;
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
                let pair = self.pair((a, left.span), (b, right.span));
                self.fail(message::point_and_total(doing, &pair))
            }
            _ => {
                let pair = self.pair((a, left.span), (b, right.span));
                self.fail(message::unlike_references(doing, &pair))
            }
        }
    }

    /// `+ 460` on a reading in °F means the same as `+ 460 °R`.
    fn refuse_bare_zero(
        &mut self,
        (a, left): (&Quantity, &Expr),
        (b, right): (&Quantity, &Expr),
        minus: bool,
    ) -> Outcome<()> {
        let reading = |one: &Quantity| one.reference() == Some(Reference::Thermometer);
        let (point, step, first) = match (reading(a), reading(b)) {
            (true, false) if b.unit.is_one() => (a, right, true),
            (false, true) if a.unit.is_one() => (b, left, false),
            _ => return Ok(()),
        };
        let ExprKind::Literal(literal) = &step.kind else {
            return Ok(());
        };
        let scale = self.registry.bare(&point.unit);
        let zero = self.registry.offset_of(&point.unit);
        if minus || !self.is_about(literal, &scale, &scale, &zero) {
            return Ok(());
        }
        let pair = self.pair((a, left.span), (b, right.span));
        let (point, step) = match first {
            true => (&pair.left, &pair.right),
            false => (&pair.right, &pair.left),
        };
        self.fail(message::zero_of_scale(&pair, point, step))
    }

    /// `+ 273.15 K` on a reading means the way to absolute zero, not a step; `+ 14.7 psi` may.
    fn refuse_zero_of_scale(
        &mut self,
        (a, left): (&Quantity, &Expr),
        (b, right): (&Quantity, &Expr),
        point_first: bool,
    ) -> Outcome<()> {
        let (point, (step, step_expr)) = match point_first {
            true => (a, (b, right)),
            false => (b, (a, left)),
        };
        let ExprKind::Literal(literal) = &step_expr.kind else {
            return Ok(());
        };
        let temperature = point.reference() == Some(Reference::Thermometer);
        let zero = match temperature {
            true => self.registry.offset_of(&point.unit),
            false => Rational::whole(101_325),
        };
        let scale = match temperature {
            true => self.registry.bare(&point.unit),
            false => self.registry.listed("Pa"),
        };
        if !self.is_about(literal, &step.unit, &scale, &zero) {
            return Ok(());
        }
        let pair = self.pair((a, left.span), (b, right.span));
        let (point, step) = match point_first {
            true => (&pair.left, &pair.right),
            false => (&pair.right, &pair.left),
        };
        match temperature {
            true => self.fail(message::zero_of_scale(&pair, point, step)),
            false => {
                self.say(message::atmosphere_by_hand(&pair, point, step));
                Ok(())
            }
        }
    }

    /// Whether a literal lies within a half of one percent of a size, as people round it.
    fn is_about(&self, literal: &Literal, unit: &Unit, scale: &Unit, size: &Rational) -> bool {
        let Ok(number) = Number::read(&literal.number.digits) else {
            return false;
        };
        let Some(factor) = self.registry.factor(unit, scale) else {
            return false;
        };
        let off = number.rational().times(&factor.ratio).minus(size);
        let reach = off.times(&Rational::whole(200));
        !size.minus(&reach).is_negative() && !size.plus(&reach).is_negative()
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
        let pair = self.pair(a, b);
        self.fail(message::percent_of_something(doing, &pair))
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
