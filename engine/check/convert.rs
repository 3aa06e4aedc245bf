//! Changes of unit and scale, each one exact step in the typed tree.

use super::typed_tree::{Node, NodeKind, Unary};
use super::types::{Quantity, State};
use super::{Checker, Typed};
use crate::number::{Factor, Rational};
use crate::units::{Reference, Unit};

impl Checker<'_> {
    /// The same quantity held in `unit`, which has the same dimension.
    pub(super) fn held_in(&self, typed: Typed, unit: &Unit) -> Typed {
        let Some(quantity) = typed.ty.as_quantity() else {
            return typed;
        };
        if &quantity.unit == unit {
            return typed;
        }
        let node = if quantity.reference() == Some(Reference::Thermometer) {
            self.rescaled(typed.node, &quantity.unit, unit)
        } else {
            self.scaled(typed.node, &quantity.unit, unit)
        };
        let quantity = Quantity {
            unit: unit.clone(),
            as_written: false,
            ..quantity.clone()
        };
        Typed {
            node,
            ty: super::Type {
                kind: super::Kind::Quantity(quantity),
                column: typed.ty.column,
            },
        }
    }

    /// A number of one unit as a number of another of the same dimension, by factor only.
    pub(super) fn scaled(&self, node: Node, from: &Unit, to: &Unit) -> Node {
        let factor = self.registry.factor(from, to).unwrap_or_else(Factor::one);
        scale(node, factor)
    }

    /// A reading on one scale as a reading on another, by factor and zero.
    fn rescaled(&self, node: Node, from: &Unit, to: &Unit) -> Node {
        let factor = self
            .registry
            .factor(from, to)
            .unwrap_or_else(Factor::one)
            .ratio;
        let offset = self
            .registry
            .offset_of(from)
            .times(&factor)
            .minus(&self.registry.offset_of(to));
        affine(node, factor, offset)
    }

    /// A thermometer reading as a temperature counted from absolute zero, in `to`.
    pub(super) fn off_thermometer(&self, node: Node, from: &Unit, to: &Unit) -> Node {
        let factor = self
            .registry
            .factor(from, to)
            .unwrap_or_else(Factor::one)
            .ratio;
        let offset = self.registry.offset_of(from).times(&factor);
        affine(node, factor, offset)
    }

    /// A temperature counted from absolute zero as a reading of the thermometer `to`.
    pub(super) fn onto_thermometer(&self, node: Node, from: &Unit, to: &Unit) -> Node {
        let factor = self
            .registry
            .factor(from, to)
            .unwrap_or_else(Factor::one)
            .ratio;
        let offset = Rational::zero().minus(&self.registry.offset_of(to));
        affine(node, factor, offset)
    }

    /// The same number held in a unit that states no reference of its own: `psig` to `psi`.
    pub(super) fn bare(&self, typed: Typed, state: State) -> Typed {
        let Some(quantity) = typed.ty.as_quantity() else {
            return typed;
        };
        let unit = self.registry.bare(&quantity.unit);
        let node = self.scaled(typed.node, &quantity.unit, &unit);
        let quantity = Quantity {
            unit,
            state,
            marks: quantity.marks,
            as_written: quantity.as_written,
        };
        Typed {
            node,
            ty: super::Type {
                kind: super::Kind::Quantity(quantity),
                column: typed.ty.column,
            },
        }
    }

    /// A plain number in any of its units (`%`, `mm/m`) as a number of ones.
    pub(super) fn as_ones(&self, typed: Typed) -> Typed {
        self.held_in(typed, &Unit::one())
    }
}

/// A node times a factor, unless the factor is one.
pub(super) fn scale(node: Node, factor: Factor) -> Node {
    if factor.is_one() {
        return node;
    }
    let span = node.span;
    if factor.pi == 0 && factor.ratio == Rational::whole(-1) {
        return Node {
            kind: NodeKind::Unary(Unary::Negate, Box::new(node)),
            span,
        };
    }
    Node {
        kind: NodeKind::Scale(Box::new(node), factor),
        span,
    }
}

fn affine(node: Node, factor: Rational, offset: Rational) -> Node {
    if offset.is_zero() {
        return scale(
            node,
            Factor {
                ratio: factor,
                pi: 0,
            },
        );
    }
    let span = node.span;
    Node {
        kind: NodeKind::Affine(Box::new(node), factor, offset),
        span,
    }
}
