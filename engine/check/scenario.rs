//! Trying other values: `with`, `solve` for a cell, and the axes of sweeps. What is overridden
//! must take a value of its own kind; nothing else changes its type.

use super::message::{self, Doing, Target};
use super::scope::{CellId, Seen};
use super::typed_tree::{Axis, AxisNodes, Binary, Node, NodeKind, Scenario, Sought, Sweep};
use super::types::{Kind, Type};
use super::unit::ResolvedUnit;
use super::{Checker, Outcome, Stop, Typed};
use crate::source::Span;
use crate::syntax::{self, AxisValues, Expr, Override, Path};
use std::rc::Rc;

impl Checker<'_> {
    /// `duty with bore = 3.2 mm`
    pub(super) fn with(
        &mut self,
        span: Span,
        value: &Expr,
        overrides: &[Override],
    ) -> Outcome<Typed> {
        let mut changed = Vec::with_capacity(overrides.len());
        for one in overrides {
            let (cell, ty) = self.overridden(&one.cell)?;
            let other = self.fitting(&one.value, &ty, &one.cell)?;
            if other.ty.column != ty.column {
                let noun = self.noun(&other.ty);
                let wanted = self.noun(&ty);
                return self.fail(message::override_of_other_shape(
                    one.value.span,
                    &noun,
                    &wanted,
                ));
            }
            changed.push((cell, other.node));
        }
        let typed = self.expr(value)?;
        let scenario = Scenario {
            value: typed.node,
            overrides: changed,
        };
        Ok(Typed {
            node: Node {
                kind: NodeKind::With(Box::new(scenario)),
                span,
            },
            ty: typed.ty,
        })
    }

    /// `solve tank for hold_time = 10 min from 20 gal to 500 gal`
    pub(super) fn sought(&mut self, span: Span, solve: &syntax::Solve) -> Outcome<Typed> {
        let (cell, ty) = self.overridden(&solve.unknown)?;
        if let (Kind::Quantity(_), false) = (&ty.kind, ty.column) {
        } else {
            let noun = self.noun(&ty);
            return self.fail(message::not_sought(solve.unknown.span, &noun));
        }
        let range = match &solve.range {
            Some((from, to)) => {
                let from = self.fitting(from, &ty, &solve.unknown)?;
                let to = self.fitting(to, &ty, &solve.unknown)?;
                Some((from.node, to.node))
            }
            None => None,
        };
        let left = self.expr(&solve.left)?;
        let right = self.expr(&solve.right)?;
        self.require_quantity(&left, solve.left.span, "as the target of `solve`")?;
        let (left, right) = self.meet(
            (left, solve.left.span),
            (right, solve.right.span),
            Doing::Target,
        )?;
        let kind = NodeKind::Binary(Binary::Subtract, Box::new(left.node), Box::new(right.node));
        let difference = Node {
            kind,
            span: solve.left.span.to(solve.right.span),
        };
        let unit = ty
            .as_quantity()
            .map(|quantity| self.show_unit(quantity))
            .unwrap_or_default();
        let sought = Sought {
            cell,
            difference,
            range,
            unit: unit.into(),
        };
        let node = Node {
            kind: NodeKind::Sought(Box::new(sought)),
            span,
        };
        Ok(Typed {
            node,
            ty: (*ty).clone(),
        })
    }

    /// A sweep or the curves of a plot: the column of columns, and the type of each, axes first.
    pub fn sweep(
        &mut self,
        span: Span,
        axes: &[&syntax::Axis],
        show: &[Expr],
    ) -> Outcome<(Node, Vec<Type>)> {
        let mut made = Vec::with_capacity(axes.len());
        let mut types = Vec::with_capacity(axes.len() + show.len());
        for axis in axes {
            let (cell, ty) = self.overridden(&axis.cell)?;
            let values = self.axis_values(axis, &ty)?;
            types.push((*ty).clone().columned(true));
            made.push(Axis { cell, values });
        }
        let mut nodes = Vec::with_capacity(show.len());
        for one in show {
            let typed = self.expr(one)?;
            if typed.ty.column {
                let text = self.snippet(one.span);
                return self.fail(message::column_swept(one.span, &text));
            }
            types.push(typed.ty.columned(true));
            nodes.push(typed.node);
        }
        let sweep = Sweep {
            axes: made,
            show: nodes,
        };
        Ok((
            Node {
                kind: NodeKind::Sweep(Box::new(sweep)),
                span,
            },
            types,
        ))
    }

    fn axis_values(&mut self, axis: &syntax::Axis, ty: &Rc<Type>) -> Outcome<AxisNodes> {
        match &axis.values {
            AxisValues::Steps { from, to, by } => {
                let low = self.fitting(from, ty, &axis.cell)?;
                let high = self.fitting(to, ty, &axis.cell)?;
                let step = self.axis_step(by, ty)?;
                Ok(AxisNodes::Steps(Box::new([low.node, high.node, step])))
            }
            AxisValues::Over(column) => {
                let values = self.fitting(column, ty, &axis.cell)?;
                if !values.ty.column {
                    let noun = self.noun(&values.ty);
                    let text = self.snippet(column.span);
                    return self.fail(message::needs_column(column.span, &text, &noun));
                }
                Ok(AxisNodes::Over(Box::new(values.node)))
            }
        }
    }

    /// The step of an axis: a difference, in the unit of the axis.
    fn axis_step(&mut self, by: &Expr, ty: &Rc<Type>) -> Outcome<Node> {
        let step = self.expr(by)?;
        let quantity = self.require_quantity(&step, by.span, "as a step")?;
        let Some(axis) = ty.as_quantity().cloned() else {
            let noun = self.noun(ty);
            return self.fail(message::not_sought(by.span, &noun));
        };
        self.require_same_dimension((&axis, by.span), (&quantity, by.span), Doing::Argument)?;
        self.refuse_point_as_step(&quantity, by.span)?;
        Ok(self.scaled(step.node, &quantity.unit, &axis.unit))
    }

    /// The cell that a path names, to be given another value.
    fn overridden(&mut self, path: &Path) -> Outcome<(CellId, Rc<Type>)> {
        let names: Vec<&str> = path.names.iter().map(|name| &*name.text).collect();
        match self.scope.look_up(&names, self.from) {
            Seen::Known(cell, ty) => {
                self.note_use(cell);
                Ok((cell, ty))
            }
            Seen::Unchecked(cell) => Err(Stop::Needs(cell)),
            Seen::Failed(cell) => {
                self.note_use(cell);
                Err(Stop::Waits(cell))
            }
            Seen::Table(_) | Seen::Missing => self.unknown_name(&names, path.span),
        }
    }

    /// A value for an overridden cell, in the unit it is held in.
    fn fitting(&mut self, value: &Expr, ty: &Rc<Type>, path: &Path) -> Outcome<Typed> {
        let Some(quantity) = ty.as_quantity().cloned() else {
            let other = self.expr(value)?;
            if other.ty.kind == ty.kind {
                return Ok(other);
            }
            let (is, wanted) = (self.noun(&other.ty), self.noun(ty));
            return self.fail(message::override_of_other_shape(value.span, &is, &wanted));
        };
        let head = ResolvedUnit {
            unit: quantity.unit.clone(),
            stated: quantity.reference(),
        };
        let other = self.headed(value, Some(&head))?;
        let target = Target::Override(self.snippet(path.span));
        self.tell(other, &head, &target, value.span)
    }

    fn note_use(&mut self, cell: CellId) {
        if !self.found.uses.contains(&cell) {
            self.found.uses.push(cell);
        }
    }
}
