//! From trees to typed trees: names become ids, every dimension and reference is known, and a
//! mistake is a message at its place. No number moves here.

mod call;
mod column;
mod condition;
mod convert;
mod default;
mod function;
mod literal;
mod meet;
mod message;
mod name;
mod product;
mod scenario;
mod scope;
mod state;
mod sum;
mod typed_tree;
mod types;
mod uncertain;
mod unit;

pub use call::FormulaCache;
pub use function::{NATIVES, Native, is_native, native_needs};
pub use scope::{CellId, FormulaDefinition, Scope, ScopeId, Seen};
pub use typed_tree::*;
pub use types::{Kind, Marks, Origins, Place, Quantity, State, Type};
pub use uncertain::{TypedSource, TypedSourceKind};
pub use unit::ResolvedUnit;

use message::Target;

use crate::source::{Diagnostic, Span};
use crate::syntax::{self, Expr, ExprKind};
use crate::units::{Reference, Registry, Unit};
use std::rc::Rc;

/// A typed tree with its type.
#[derive(Clone, Debug)]
pub struct Typed {
    /// What is done.
    pub node: Node,
    /// What comes out.
    pub ty: Type,
}

/// Why a tree could not be typed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stop {
    /// A mistake that has been reported.
    Failed,
    /// A cell it uses has no type; that cell carries the message.
    Waits(CellId),
    /// A cell it uses has to be checked first; then this one is tried again.
    Needs(CellId),
}

type Outcome<T> = Result<T, Stop>;

/// An open flow or volume that met a stated reference.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Claim {
    /// Where it was typed.
    pub place: Place,
    /// What it met.
    pub reference: Reference,
    /// Where it met it.
    pub at: Span,
}

/// A flow or volume that was typed without a state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OpenLiteral {
    /// Where it stands.
    pub span: Span,
    /// Its unit.
    pub unit: Unit,
}

/// Everything that was noticed beside the type.
#[derive(Debug, Default)]
pub struct Findings {
    /// Messages, in the order found.
    pub diagnostics: Vec<Diagnostic>,
    /// Open values that met a reference.
    pub claims: Vec<Claim>,
    /// The cells read, each once, in the order met.
    pub uses: Vec<CellId>,
    /// The formulas called, each once, in the order met.
    pub formulas: Vec<Rc<TypedFormula>>,
    /// Literals that may be claimed, by their place.
    pub open_literals: Vec<(Place, OpenLiteral)>,
    /// Sources of uncertainty.
    pub sources: Vec<TypedSource>,
}

/// Checks one statement.
pub struct Checker<'a> {
    scope: &'a dyn Scope,
    registry: &'a mut Registry,
    formulas: &'a mut FormulaCache,
    from: ScopeId,
    statement: u32,
    base: u32,
    text: &'a str,
    frames: Vec<Frame>,
    in_default: bool,
    /// What was noticed so far.
    pub found: Findings,
}

/// The names inside a formula's body, or around a local unknown.
struct Frame {
    definition: Option<Rc<FormulaDefinition>>,
    locals: Vec<(Box<str>, Type)>,
}

impl<'a> Checker<'a> {
    /// A checker for the statement with number `statement` that begins at byte `base` of `text`.
    pub fn new(
        scope: &'a dyn Scope,
        registry: &'a mut Registry,
        formulas: &'a mut FormulaCache,
        from: ScopeId,
        (statement, base): (u32, u32),
        text: &'a str,
    ) -> Checker<'a> {
        Checker {
            scope,
            registry,
            formulas,
            from,
            statement,
            base,
            text,
            frames: Vec::new(),
            in_default: false,
            found: Findings::default(),
        }
    }

    /// The value of a cell, shown and held in its head's unit.
    pub fn cell(&mut self, cell: &syntax::Cell) -> Outcome<Typed> {
        let head = cell.unit.as_ref().map(|unit| self.head(unit)).transpose()?;
        let value = self.headed(&cell.value, head.as_ref())?;
        match head {
            Some(head) => self.tell(value, &head, &Target::Bracket, cell.value.span),
            None => Ok(value),
        }
    }

    /// A value without a head.
    pub fn value(&mut self, expr: &Expr) -> Outcome<Typed> {
        self.expr(expr)
    }

    /// A condition.
    pub fn condition(&mut self, expr: &Expr) -> Outcome<Typed> {
        let typed = self.expr(expr)?;
        self.require_switch(&typed, expr.span)?;
        Ok(typed)
    }

    /// A literal under a head, where a bare `±` and a bare number may borrow the head's unit.
    fn headed(&mut self, expr: &Expr, head: Option<&ResolvedUnit>) -> Outcome<Typed> {
        match (&expr.kind, head) {
            (ExprKind::Literal(literal), Some(head)) => {
                self.literal(expr.span, literal, literal::Context::Cell(Some(head)))
            }
            _ => self.expr(expr),
        }
    }

    fn expr(&mut self, expr: &Expr) -> Outcome<Typed> {
        let span = expr.span;
        match &expr.kind {
            ExprKind::Literal(literal) => self.literal(span, literal, literal::Context::Cell(None)),
            ExprKind::Text(text) => Ok(Typed {
                node: Node {
                    kind: NodeKind::Text(text.as_ref().into()),
                    span,
                },
                ty: Type::text(),
            }),
            ExprKind::Switch(on) => Ok(Typed {
                node: Node {
                    kind: NodeKind::Switch(*on),
                    span,
                },
                ty: Type::switch(),
            }),
            ExprKind::Name(_) | ExprKind::Member(..) => self.named(expr),
            ExprKind::Keyed(table, keys, column) => self.keyed(span, table, keys, column),
            ExprKind::Call(name, arguments) => self.call(span, name, arguments),
            ExprKind::Column(column) => self.column(span, column),
            ExprKind::Readings(column, plus_minus) => {
                self.readings(span, column, plus_minus.as_deref())
            }
            ExprKind::Bracketed(inner) if self.is_product(inner) => self.product(expr),
            ExprKind::Bracketed(inner) => self.expr(inner),
            ExprKind::Negative(_) if self.is_product(expr) => self.product(expr),
            ExprKind::Negative(inner) => self.negative(span, inner),
            ExprKind::Binary(operator, left, right) => match operator {
                syntax::BinaryOperator::Plus | syntax::BinaryOperator::Minus => {
                    self.sum(span, *operator, left, right)
                }
                syntax::BinaryOperator::Times | syntax::BinaryOperator::Over => self.product(expr),
                syntax::BinaryOperator::Power => self.power(span, left, right),
                syntax::BinaryOperator::And | syntax::BinaryOperator::Or => {
                    self.logic(span, *operator, left, right)
                }
            },
            ExprKind::Not(inner) => self.not(span, inner),
            ExprKind::Comparison(operands, signs) => self.comparison(span, operands, signs),
            ExprKind::If(parts) => self.choice(span, parts),
            ExprKind::In(inner, unit) => {
                let head = self.head(unit)?;
                let value = self.headed(inner, Some(&head))?;
                self.tell(value, &head, &Target::Bracket, inner.span)
            }
            ExprKind::With(value, overrides) => self.with(span, value, overrides),
            ExprKind::Solve(solve) => self.solve(span, solve),
            ExprKind::Refused(reading) => match reading {
                // The writing has been refused already; the type still serves what depends on it.
                Some(reading) => self.expr(reading),
                None => Err(Stop::Failed),
            },
        }
    }

    /// Reports a mistake.
    fn fail<T>(&mut self, diagnostic: Diagnostic) -> Outcome<T> {
        self.found.diagnostics.push(diagnostic);
        Err(Stop::Failed)
    }

    /// Reports something that leaves the value standing.
    fn say(&mut self, diagnostic: Diagnostic) {
        if !self.found.diagnostics.contains(&diagnostic) {
            self.found.diagnostics.push(diagnostic);
        }
    }

    /// The text of a place, on one line.
    fn snippet(&self, span: Span) -> String {
        let written = self.written(span);
        written.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// The text of a place, as written.
    fn written(&self, span: Span) -> &str {
        let body = self
            .frames
            .iter()
            .rev()
            .find_map(|frame| frame.definition.as_ref());
        body.map_or(span.of(self.text), |definition| definition.snippet(span))
    }

    fn place(&self, span: Span) -> Place {
        Place {
            statement: self.statement,
            offset: span.start.saturating_sub(self.base),
        }
    }
}
