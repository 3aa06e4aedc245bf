//! `±` and repeated readings.

use super::literal::Context;
use super::message::{self, Doing};
use super::typed_tree::{Meaning, MeaningKind, Node, NodeKind, Readings, Uncertain};
use super::types::{Quantity, State};
use super::{Checker, Outcome, Typed};
use crate::number::Number;
use crate::source::Span;
use crate::syntax::{Expr, ExprKind, PlusMinus, Tag, TagKind};
use crate::units::{Class, Unit};

impl Checker<'_> {
    /// A value with the uncertainty typed behind it.
    pub(super) fn plus_minus(
        &mut self,
        value: Typed,
        span: Span,
        plus_minus: &PlusMinus,
        context: Context<'_>,
    ) -> Outcome<Typed> {
        self.refuse_in_body(plus_minus.span)?;
        let quantity = self.require_quantity(&value, span, "before `±`")?;
        let (amount, relative) = self.amount((&value, &quantity), span, plus_minus, context)?;
        let meaning = self.meaning(plus_minus.tag.as_ref())?;
        let place = self.place(plus_minus.span);
        let ty = value.ty.clone();
        let uncertain = Uncertain {
            value: value.node,
            amount,
            relative,
            meaning,
            place,
        };
        let span = span.to(plus_minus.span);
        Ok(Typed {
            node: Node {
                kind: NodeKind::Uncertain(Box::new(uncertain)),
                span,
            },
            ty,
        })
    }

    /// `±` in a body would be a new source at every call.
    fn refuse_in_body(&mut self, span: Span) -> Outcome<()> {
        let in_body = self.frames.iter().any(|frame| frame.definition.is_some());
        if in_body && !self.in_default {
            return self.fail(message::plus_minus_in_body(span));
        }
        Ok(())
    }

    /// The amount behind `±`, in steps of the value's unit; or as a share of the value.
    fn amount(
        &mut self,
        (value, quantity): (&Typed, &Quantity),
        span: Span,
        plus_minus: &PlusMinus,
        context: Context<'_>,
    ) -> Outcome<(Node, bool)> {
        let expr = &plus_minus.amount;
        let typed = match &expr.kind {
            ExprKind::Literal(literal) if literal.unit.is_none() && plus_minus.of.is_none() => {
                // `140 psig ± 1` and `5 ± 1`: the unit stands once.
                let number = self.numeral(&literal.number, literal.negative)?;
                return Ok((
                    Node {
                        kind: NodeKind::Number(number),
                        span: expr.span,
                    },
                    false,
                ));
            }
            _ => self.expr(expr)?,
        };
        let amount = self.require_quantity(&typed, expr.span, "behind `±`")?;
        let percent = self.registry.is_percent(&amount.unit);
        if let Some(of) = &plus_minus.of {
            return self
                .share_of((typed, amount), expr, of, (quantity, span))
                .map(|node| (node, false));
        }
        if percent {
            self.refuse_relative((value, quantity), span, expr, context)?;
            return Ok((self.as_ones(typed).node, true));
        }
        let node = self.step_of(typed, &amount, expr.span, (quantity, span))?;
        Ok((node, false))
    }

    /// `± 2 % of 200 psi`
    fn share_of(
        &mut self,
        (share, quantity): (Typed, Quantity),
        share_expr: &Expr,
        of: &Expr,
        value: (&Quantity, Span),
    ) -> Outcome<Node> {
        if !self.registry.dimension(&quantity.unit).is_plain() {
            let operand = self.operand(&quantity, share_expr.span);
            return self.fail(message::not_plain(&operand, "a percentage before `of`"));
        }
        let whole = self.expr(of)?;
        let whole_quantity = self.require_quantity(&whole, of.span, "behind `of`")?;
        let whole = self.step_of(whole, &whole_quantity, of.span, value)?;
        let share = self.as_ones(share);
        let span = share_expr.span.to(of.span);
        let kind = NodeKind::Binary(
            super::Binary::Multiply,
            Box::new(share.node),
            Box::new(whole),
        );
        Ok(Node { kind, span })
    }

    /// An amount as a difference in the value's unit: by factor, never by offset.
    fn step_of(
        &mut self,
        typed: Typed,
        amount: &Quantity,
        span: Span,
        (value, value_span): (&Quantity, Span),
    ) -> Outcome<Node> {
        self.require_same_dimension((value, value_span), (amount, span), Doing::PlusMinus)?;
        let unit = self.registry.counting_up(&value.unit);
        let from = self.registry.counting_up(&amount.unit);
        Ok(self.scaled(typed.node, &from, &unit))
    }

    /// A relative ± has two readings on a scale and behind a percentage.
    fn refuse_relative(
        &mut self,
        (value, quantity): (&Typed, &Quantity),
        span: Span,
        amount: &Expr,
        context: Context<'_>,
    ) -> Outcome<()> {
        let texts = (self.snippet(span), self.snippet(amount.span));
        let whole = span.to(amount.span);
        if let State::Is(reference) = quantity.state
            && matches!(reference.row().class, Class::Point | Class::Level)
        {
            let operand = self.operand(quantity, span);
            return self.fail(message::relative_point(whole, &operand, &texts.1));
        }
        if self.registry.is_percent(&quantity.unit) {
            return self.fail(message::relative_percent(whole, &texts.0, &texts.1));
        }
        let bare = quantity.unit == Unit::one() && matches!(value.node.kind, NodeKind::Number(_));
        if bare && context.head().is_none() {
            return self.fail(message::relative_bare(whole, &texts.0, &texts.1));
        }
        Ok(())
    }

    fn meaning(&mut self, tag: Option<&Tag>) -> Outcome<Meaning> {
        let Some(tag) = tag else {
            return Ok(Meaning {
                kind: MeaningKind::Limit,
                dof: None,
            });
        };
        let dof = match &tag.dof {
            Some(numeral) => Some(self.numeral(numeral, false)?),
            None => None,
        };
        if dof.is_some_and(|dof| dof.is_zero() || dof.is_negative()) {
            return self.fail(message::tag_value(tag.span, "dof", "more than zero"));
        }
        let kind = match &tag.kind {
            None => MeaningKind::Limit,
            Some(TagKind::Step) => MeaningKind::Step,
            Some(TagKind::Triangular) => MeaningKind::Triangular,
            Some(TagKind::UShaped) => MeaningKind::UShaped,
            Some(TagKind::Coverage(numeral)) => {
                let k = self.numeral(numeral, false)?;
                if k.is_zero() {
                    return self.fail(message::tag_value(tag.span, "k", "more than zero"));
                }
                MeaningKind::Coverage(k)
            }
            Some(TagKind::Probability(numeral)) => {
                let percent = self.numeral(numeral, false)?;
                let hundred = Number::from(100);
                match percent.over(hundred) {
                    Ok(level) if !level.is_zero() && level.compare(Number::ONE).is_lt() => {
                        MeaningKind::Probability(level)
                    }
                    _ => {
                        return self.fail(message::tag_value(
                            tag.span,
                            "the percentage",
                            "between 0 % and 100 %",
                        ));
                    }
                }
            }
        };
        Ok(Meaning { kind, dof })
    }

    /// `readings({48.1, 48.6} s) ± 0.3 s`
    pub(super) fn readings(
        &mut self,
        span: Span,
        column: &Expr,
        plus_minus: Option<&PlusMinus>,
    ) -> Outcome<Typed> {
        self.refuse_in_body(span)?;
        let typed = self.expr(column)?;
        let noun = self.noun(&typed.ty);
        if !typed.ty.column {
            let text = self.snippet(column.span);
            return self.fail(message::needs_column(column.span, &text, &noun));
        }
        self.require_quantity(&typed, column.span, "as readings")?;
        let ty = typed.ty.clone().columned(false);
        let readings = Readings {
            column: typed.node,
            place: self.place(span),
        };
        let node = Node {
            kind: NodeKind::Readings(Box::new(readings)),
            span,
        };
        let mean = Typed { node, ty };
        match plus_minus {
            Some(plus_minus) => self.plus_minus(mean, span, plus_minus, Context::Cell(None)),
            None => Ok(mean),
        }
    }
}
