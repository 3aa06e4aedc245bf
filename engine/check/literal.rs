//! Numbers as typed, with their units.

use super::message;
use super::typed_tree::{Node, NodeKind};
use super::uncertain::Behind;
use super::unit::ResolvedUnit;
use super::{Checker, Outcome, Typed};
use crate::number::Number;
use crate::source::Span;
use crate::syntax::{
    BinaryOperator, Expr, ExprKind, Joint, Literal, Numeral, PlusMinus, UnitExpr, UnitTerm,
    UnitTermKind,
};
use crate::units::Unit;

/// Where a literal stands.
#[derive(Clone, Copy)]
pub(super) enum Context<'h> {
    /// To the right of `=`, perhaps under a head, or in the middle of an expression.
    Cell(Option<&'h ResolvedUnit>),
    /// In a table field or a column: a number without a unit has the head's.
    Field(&'h ResolvedUnit),
}

impl<'h> Context<'h> {
    pub(super) fn head(self) -> Option<&'h ResolvedUnit> {
        match self {
            Context::Cell(head) => head,
            Context::Field(head) => Some(head),
        }
    }
}

impl Checker<'_> {
    pub(super) fn literal(
        &mut self,
        span: Span,
        literal: &Literal,
        context: Context<'_>,
    ) -> Outcome<Typed> {
        if let Some(product) = self.as_product(span, literal)? {
            return self.product(&product);
        }
        let number = self.numeral(&literal.number, literal.negative)?;
        let resolved = self.literal_unit(literal, context)?;
        let ty = self.typed_quantity(&resolved, span, number.is_zero());
        let node = Node {
            kind: NodeKind::Number(number),
            span,
        };
        let typed = Typed { node, ty };
        match &literal.plus_minus {
            Some(plus_minus) => {
                let value = self.before_plus_minus(span, plus_minus);
                let behind = Behind::Literal(&literal.number);
                self.plus_minus(typed, value, plus_minus, context, &behind)
            }
            None => Ok(typed),
        }
    }

    /// The place of what stands before a `±`.
    pub(super) fn before_plus_minus(&self, span: Span, plus_minus: &PlusMinus) -> Span {
        let end = plus_minus.span.start.max(span.start);
        let length = self.written(Span { end, ..span }).trim_end().len() as u32;
        Span {
            end: span.start + length,
            ..span
        }
    }

    /// The unit of a literal: its own, the one it shares with its ±, or the head's.
    fn literal_unit(&mut self, literal: &Literal, context: Context<'_>) -> Outcome<ResolvedUnit> {
        if let Some(unit) = &literal.unit {
            return self.unit_of(&unit.terms, unit);
        }
        if let Context::Field(head) = context {
            return Ok(head.clone());
        }
        let shared =
            literal
                .plus_minus
                .as_ref()
                .and_then(|plus_minus| match &plus_minus.amount.kind {
                    ExprKind::Literal(amount) if plus_minus.of.is_none() => amount.unit.as_ref(),
                    _ => None,
                });
        match shared {
            Some(unit) => {
                let resolved = self.unit_of(&unit.terms, unit)?;
                let percent = self.registry.is_percent(&resolved.unit);
                Ok(if percent { ones() } else { resolved })
            }
            None => Ok(ones()),
        }
    }

    /// The number that digits and a workshop fraction make.
    pub(super) fn numeral(&mut self, numeral: &Numeral, negative: bool) -> Outcome<Number> {
        let whole = match numeral.digits.is_empty() {
            true => Ok(Number::ZERO),
            false => Number::read(&numeral.digits),
        };
        let number = match (whole, numeral.fraction) {
            (Ok(whole), None) => Some(whole),
            (Ok(whole), Some((up, down))) => Number::from(i64::from(up))
                .over(Number::from(i64::from(down)))
                .and_then(|part| whole.plus(part))
                .ok(),
            (Err(_), _) => None,
        };
        match number {
            Some(number) => Ok(if negative { number.negated() } else { number }),
            None => {
                let text = self.snippet(numeral.span);
                self.fail(message::number_out_of_range(numeral.span, &text))
            }
        }
    }

    /// A literal in which a tight `/` or `*` stands before a word that is no unit is a product.
    pub(super) fn as_product(&mut self, span: Span, literal: &Literal) -> Outcome<Option<Expr>> {
        let Some(unit) = &literal.unit else {
            return Ok(None);
        };
        let Some(index) = self.first_operator(span.start, unit)? else {
            return Ok(None);
        };
        let head = Literal {
            unit: (index > 0).then(|| UnitExpr {
                terms: unit.terms[..index].to_vec(),
                reference: None,
                span: unit.span,
            }),
            ..literal.clone()
        };
        let mut expr = Expr {
            span: Span {
                start: span.start,
                end: unit.terms[index.max(1) - 1].span.end.min(span.end),
            },
            kind: ExprKind::Literal(Box::new(head)),
        };
        for term in &unit.terms[index..] {
            expr = joined(expr, term);
        }
        Ok(Some(expr))
    }

    /// `60 gal/t` where `t` is a cell too, with both spellings of what it may mean.
    fn unit_or_cell<T>(&mut self, start: u32, term: &UnitTerm) -> Outcome<T> {
        let whole = Span {
            start,
            end: term.span.end,
        };
        let before = Span {
            start,
            end: term.span.start,
        };
        let before = self.snippet(before);
        let before = before.trim_end_matches(['/', '*', '·']);
        let (sign, joint) = match term.joint {
            Joint::Over | Joint::Per => ("/", " per "),
            Joint::First | Joint::Blank | Joint::Times => ("*", " "),
        };
        let word = self.snippet(term.span);
        let cell = format!("{before} {sign} {word}");
        let unit = format!("{before}{joint}{word}");
        self.fail(message::unit_or_cell(term.span, &word, whole, (cell, unit)))
    }

    /// The first term that is not a unit but a name; both at once is refused.
    fn first_operator(&mut self, literal_start: u32, unit: &UnitExpr) -> Outcome<Option<usize>> {
        for (index, term) in unit.terms.iter().enumerate().skip(1) {
            let tight = matches!(term.joint, Joint::Over | Joint::Times);
            let UnitTermKind::Word(word) = &term.kind else {
                continue;
            };
            if !tight {
                continue;
            }
            match (self.is_unit(word), self.is_named(word)) {
                (true, true) => {
                    return self.unit_or_cell(literal_start, term);
                }
                (false, true) => return Ok(Some(index)),
                (false, false) if unit.reference.is_none() => {
                    let known = self.is_near_cell(word);
                    if known {
                        return Ok(Some(index));
                    }
                }
                _ => {}
            }
        }
        Ok(None)
    }

    /// Whether a cell's name is nearer to the word than any unit's is.
    fn is_near_cell(&mut self, word: &str) -> bool {
        let names = self.scope.cell_names(self.from);
        word.chars().count() > 2
            && crate::source::nearest(word, names.iter().map(String::as_str)).is_some()
    }
}

fn joined(left: Expr, term: &UnitTerm) -> Expr {
    let span = left.span.to(term.span);
    let name = match &term.kind {
        UnitTermKind::Word(word) => ExprKind::Name(word.clone()),
        UnitTermKind::One | UnitTermKind::Group(..) => ExprKind::Refused(None),
    };
    let mut right = Expr {
        span: term.span,
        kind: name,
    };
    if term.exponent != (1, 1) {
        let (up, down) = term.exponent;
        let exponent = number_expr(up, down, term.span);
        right = Expr {
            span: term.span,
            kind: ExprKind::Binary(BinaryOperator::Power, Box::new(right), Box::new(exponent)),
        };
    }
    let operator = match term.joint {
        Joint::Over | Joint::Per => BinaryOperator::Over,
        Joint::First | Joint::Blank | Joint::Times => BinaryOperator::Times,
    };
    Expr {
        span,
        kind: ExprKind::Binary(operator, Box::new(left), Box::new(right)),
    }
}

fn number_expr(up: i32, down: i32, span: Span) -> Expr {
    let whole = |n: i32| {
        let digits = n.unsigned_abs().to_string().into();
        let numeral = Numeral {
            digits,
            fraction: None,
            span,
        };
        let literal = Literal {
            negative: n < 0,
            number: numeral,
            unit: None,
            plus_minus: None,
        };
        Expr {
            span,
            kind: ExprKind::Literal(Box::new(literal)),
        }
    };
    if down == 1 {
        return whole(up);
    }
    let kind = ExprKind::Binary(
        BinaryOperator::Over,
        Box::new(whole(up)),
        Box::new(whole(down)),
    );
    Expr { span, kind }
}

/// No unit.
pub(super) fn ones() -> ResolvedUnit {
    ResolvedUnit {
        unit: Unit::one(),
        stated: None,
    }
}
