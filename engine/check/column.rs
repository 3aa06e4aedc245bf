//! Columns: written out, and of tables.

use super::literal::Context;
use super::message::{self, Doing};
use super::typed_tree::{Node, NodeKind};
use super::types::{Kind, Type};
use super::uncertain::Behind;
use super::unit::ResolvedUnit;
use super::{Checker, Outcome, Typed};
use crate::source::Span;
use crate::syntax::{Column, Expr, ExprKind, Field, FieldKind, UnitExpr};

impl Checker<'_> {
    pub(super) fn column(&mut self, span: Span, column: &Column) -> Outcome<Typed> {
        let head = column
            .unit
            .as_ref()
            .map(|unit| self.head(unit))
            .transpose()?;
        let mut items = Vec::with_capacity(column.items.len());
        for item in &column.items {
            let typed = match (&head, &item.kind) {
                (Some(head), ExprKind::Literal(literal)) if literal.unit.is_none() => {
                    self.literal(item.span, literal, Context::Field(head))?
                }
                (Some(_), _) => {
                    let text = self.snippet(item.span);
                    return self.fail(message::unit_twice(item.span, &text));
                }
                (None, _) => self.expr(item)?,
            };
            items.push((typed, item.span));
        }
        let typed = self.gathered(span, items)?;
        match &column.plus_minus {
            Some(plus_minus) => {
                let context = Context::Cell(head.as_ref());
                let before = self.before_plus_minus(span, plus_minus);
                let numerals = column.items.iter().filter_map(|item| match &item.kind {
                    ExprKind::Literal(literal) => Some(&literal.number),
                    _ => None,
                });
                let behind = Behind::Column(numerals.collect());
                self.plus_minus(typed, before, plus_minus, context, &behind)
            }
            None => Ok(typed),
        }
    }

    /// One column of values that meet.
    fn gathered(&mut self, span: Span, items: Vec<(Typed, Span)>) -> Outcome<Typed> {
        let mut items = items.into_iter();
        let Some((first, first_span)) = items.next() else {
            // The grammar asks for one item at least.
            return Err(super::Stop::Failed);
        };
        let mut ty = first.ty.clone();
        let mut nodes = vec![first.node.clone()];
        for (item, item_span) in items {
            let head = Typed {
                node: first.node.clone(),
                ty: ty.clone(),
            };
            let (met, item) = self.meet((head, first_span), (item, item_span), Doing::Among)?;
            ty = met.ty;
            nodes.push(item.node);
        }
        if ty.column {
            return self.fail(message::column_in_column(span));
        }
        Ok(Typed {
            node: Node {
                kind: NodeKind::Column(nodes),
                span,
            },
            ty: ty.columned(true),
        })
    }

    /// A table's column: quantities under a head with a unit, else text.
    pub fn table_column(
        &mut self,
        span: Span,
        unit: Option<&UnitExpr>,
        fields: &[&Field],
    ) -> Outcome<Typed> {
        let Some(unit) = unit else {
            return Ok(text_column(span, fields));
        };
        let head = self.head(unit)?;
        let mut nodes = Vec::with_capacity(fields.len());
        for field in fields {
            let node = match &field.kind {
                FieldKind::Quantity(expr) => self.field(expr, &head)?.node,
                FieldKind::Gap | FieldKind::Text(_) => Node {
                    kind: NodeKind::Gap,
                    span: field.span,
                },
            };
            nodes.push(node);
        }
        let ty = self.head_type(&head, span);
        Ok(Typed {
            node: Node {
                kind: NodeKind::Column(nodes),
                span,
            },
            ty: ty.columned(true),
        })
    }

    fn head_type(&mut self, head: &ResolvedUnit, span: Span) -> Type {
        let mut ty = self.typed_quantity(head, span, false);
        if let Kind::Quantity(quantity) = &mut ty.kind {
            quantity.marks.bare_pressure = false;
        }
        ty
    }

    fn field(&mut self, expr: &Expr, head: &ResolvedUnit) -> Outcome<Typed> {
        let typed = match &expr.kind {
            ExprKind::Literal(literal) => self.literal(expr.span, literal, Context::Field(head))?,
            _ => self.expr(expr)?,
        };
        self.tell(typed, head, &super::Target::Field, expr.span)
    }
}

fn text_column(span: Span, fields: &[&Field]) -> Typed {
    let node = |field: &&Field| {
        let kind = match &field.kind {
            FieldKind::Text(text) => NodeKind::Text(text.as_ref().into()),
            FieldKind::Gap | FieldKind::Quantity(_) => NodeKind::Gap,
        };
        Node {
            kind,
            span: field.span,
        }
    };
    let nodes = fields.iter().map(node).collect();
    Typed {
        node: Node {
            kind: NodeKind::Column(nodes),
            span,
        },
        ty: Type::text().columned(true),
    }
}
