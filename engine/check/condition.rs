//! Conditions, comparisons and choices.

use super::message::{self, Doing, Target};
use super::typed_tree::{Node, NodeKind};
use super::types::Type;
use super::{Checker, Outcome, Typed};
use crate::source::Span;
use crate::syntax::{BinaryOperator, Comparison, Expr};

impl Checker<'_> {
    pub(super) fn logic(
        &mut self,
        span: Span,
        operator: BinaryOperator,
        left: &Expr,
        right: &Expr,
    ) -> Outcome<Typed> {
        let first = self.condition(left)?;
        let second = self.condition(right)?;
        let column = first.ty.column || second.ty.column;
        let parts = vec![first.node, second.node];
        let kind = if operator == BinaryOperator::And {
            NodeKind::And(parts)
        } else {
            NodeKind::Or(parts)
        };
        Ok(Typed {
            node: Node { kind, span },
            ty: Type::switch().columned(column),
        })
    }

    pub(super) fn not(&mut self, span: Span, inner: &Expr) -> Outcome<Typed> {
        let typed = self.condition(inner)?;
        let node = Node {
            kind: NodeKind::Not(Box::new(typed.node)),
            span,
        };
        Ok(Typed { node, ty: typed.ty })
    }

    /// `a < b <= c` holds when each pair does.
    pub(super) fn comparison(
        &mut self,
        span: Span,
        operands: &[Expr],
        signs: &[Comparison],
    ) -> Outcome<Typed> {
        let mut typed = Vec::with_capacity(operands.len());
        for operand in operands {
            typed.push(self.expr(operand)?);
        }
        let mut nodes = Vec::with_capacity(signs.len());
        let mut column = false;
        for (index, sign) in signs.iter().enumerate() {
            let (left, right) = (&operands[index], &operands[index + 1]);
            let pair = (typed[index].clone(), typed[index + 1].clone());
            let (a, b) = self.compared(pair, (left, right), *sign)?;
            column |= a.ty.column || b.ty.column;
            let kind = NodeKind::Compare(*sign, Box::new(a.node), Box::new(b.node));
            nodes.push(Node {
                kind,
                span: left.span.to(right.span),
            });
        }
        let node = match <[Node; 1]>::try_from(nodes) {
            Ok([one]) => one,
            Err(several) => Node {
                kind: NodeKind::And(several),
                span,
            },
        };
        Ok(Typed {
            node,
            ty: Type::switch().columned(column),
        })
    }

    fn compared(
        &mut self,
        (a, b): (Typed, Typed),
        (left, right): (&Expr, &Expr),
        sign: Comparison,
    ) -> Outcome<(Typed, Typed)> {
        let (a, b) = self.meet((a, left.span), (b, right.span), Doing::Compare)?;
        let ordered = !matches!(sign, Comparison::Equal | Comparison::Unequal);
        if ordered {
            self.require_quantity(&a, left.span, "in a comparison of size")?;
        }
        // A gauge that counts downwards is compared by pressure, not by its number.
        let (a, b) = (self.rising(a), self.rising(b));
        Ok((a, b))
    }

    /// The value in a unit whose number rises with it.
    pub(super) fn rising(&self, typed: Typed) -> Typed {
        match typed.ty.as_quantity() {
            Some(quantity) if self.registry.counts_down(&quantity.unit) => {
                let unit = self.registry.counting_up(&quantity.unit);
                self.held_in(typed, &unit)
            }
            _ => typed,
        }
    }

    pub(super) fn choice(&mut self, span: Span, parts: &[Expr; 3]) -> Outcome<Typed> {
        let [condition, first, second] = parts;
        let when = self.condition(condition)?;
        let then = self.expr(first)?;
        let otherwise = self.expr(second)?;
        let (then, otherwise) = self.meet(
            (then, first.span),
            (otherwise, second.span),
            Doing::Branches,
        )?;
        let column = when.ty.column || then.ty.column || otherwise.ty.column;
        let ty = Type { column, ..then.ty };
        let kind = NodeKind::Select(Box::new([when.node, then.node, otherwise.node]));
        Ok(Typed {
            node: Node { kind, span },
            ty,
        })
    }

    pub(super) fn solve(&mut self, span: Span, solve: &crate::syntax::Solve) -> Outcome<Typed> {
        if self.is_scenario(solve) {
            return self.sought(span, solve);
        }
        let unknown = &solve.unknown.names[0];
        let Some((from, to)) = &solve.range else {
            let head = solve.unit.as_ref().map(|unit| self.head(unit));
            let unit = match head.transpose()? {
                Some(head) => self.registry.show(&head.unit, head.stated),
                None => "1".to_owned(),
            };
            let text = self.snippet(span);
            let name = &unknown.text;
            return self.fail(message::root_needs_range(span, name, &text, &unit));
        };
        let (low, high) = self.ends((from, to), solve.unit.as_ref())?;
        let slot = self.push_local(&unknown.text, low.ty.clone().columned(false));
        let difference = self.difference(&solve.left, &solve.right);
        self.pop_local();
        let difference = difference?;
        let column = low.ty.column || high.ty.column || difference.ty.column;
        let root = super::Root {
            unknown: slot,
            difference: difference.node,
            from: low.node,
            to: high.node,
        };
        let ty = Type { column, ..low.ty };
        Ok(Typed {
            node: Node {
                kind: NodeKind::Root(Box::new(root)),
                span,
            },
            ty,
        })
    }

    /// The ends between which a root is sought, in the unit of the unknown: that of its bracket, or
    /// of the first end.
    fn ends(
        &mut self,
        (from, to): (&Expr, &Expr),
        unit: Option<&crate::syntax::UnitExpr>,
    ) -> Outcome<(Typed, Typed)> {
        let low = self.expr(from)?;
        let high = self.expr(to)?;
        let Some(unit) = unit else {
            self.require_quantity(&low, from.span, "as an end of the range of `solve`")?;
            return self.meet((low, from.span), (high, to.span), Doing::Among);
        };
        let head = self.head(unit)?;
        let target = Target::Bracket;
        let low = self.tell(low, &head, &target, from.span)?;
        let high = self.tell(high, &head, &target, to.span)?;
        Ok((low, high))
    }

    /// `solve` over a cell of the notebook: inside a formula the name is always a local.
    fn is_scenario(&self, solve: &crate::syntax::Solve) -> bool {
        let path: Vec<&str> = solve.unknown.names.iter().map(|name| &*name.text).collect();
        let in_formula = self.frames.iter().any(|frame| frame.definition.is_some());
        path.len() > 1
            || (!in_formula
                && !matches!(self.scope.look_up(&path, self.from), super::Seen::Missing))
    }

    /// Left side minus right side, where both meet; a reading minus a reading is a step.
    fn difference(&mut self, left: &Expr, right: &Expr) -> Outcome<Typed> {
        let a = self.expr(left)?;
        let b = self.expr(right)?;
        self.require_quantity(&a, left.span, "as the target of `solve`")?;
        let (a, b) = self.meet((a, left.span), (b, right.span), Doing::Target)?;
        let column = a.ty.column || b.ty.column;
        let ty = Type {
            column,
            ..a.ty.clone()
        };
        let kind = NodeKind::Binary(super::Binary::Subtract, Box::new(a.node), Box::new(b.node));
        Ok(Typed {
            node: Node {
                kind,
                span: left.span.to(right.span),
            },
            ty,
        })
    }
}
