//! `±` and repeated readings.

use super::literal::Context;
use super::message::{self, Doing};
use super::scope::{CellId, FormulaDefinition, Seen};
use super::typed_tree::{Meaning, MeaningKind, Node, NodeKind, Readings, Uncertain, Written};
use super::types::{Place, Quantity, State};
use super::{Checker, Outcome, Typed};
use crate::number::Number;
use crate::source::Span;
use crate::syntax::{Expr, ExprKind, NameKind, Numeral, PlusMinus, Tag, TagKind, visit_expr_names};
use crate::units::{Class, Unit};
use std::rc::Rc;

/// A source of uncertainty as it was typed, for whoever has to name it.
#[derive(Clone, Debug)]
pub struct TypedSource {
    /// Its place.
    pub place: Place,
    /// What it stands behind.
    pub kind: TypedSourceKind,
    /// The value before `±`, or the readings.
    pub value: Span,
    /// From `±` to the end of its tag; the readings again where they are the source.
    pub amount: Span,
    /// The unit and reference of the value.
    pub quantity: Quantity,
    /// The formula whose text the places are in, if it is the default of a parameter.
    pub formula: Option<Rc<FormulaDefinition>>,
}

/// What a source stands behind.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TypedSourceKind {
    /// A single number.
    Literal,
    /// A column written out.
    Column,
    /// Nothing: it is the scatter of readings.
    Readings,
    /// Readings, beside their scatter.
    BehindReadings,
}

/// What `±` stands behind, as far as its digits say something.
pub(super) enum Behind<'t> {
    /// A number.
    Literal(&'t Numeral),
    /// A column, with those of its items that are numbers.
    Column(Vec<&'t Numeral>),
    /// The mean of readings.
    Readings,
}

impl Checker<'_> {
    /// A value with the uncertainty typed behind it.
    pub(super) fn plus_minus(
        &mut self,
        value: Typed,
        span: Span,
        plus_minus: &PlusMinus,
        context: Context<'_>,
        behind: &Behind<'_>,
    ) -> Outcome<Typed> {
        self.refuse_in_body(plus_minus.span)?;
        let quantity = self.require_quantity(&value, span, "before `±`")?;
        let (amount, relative) = self.amount((&value, &quantity), span, plus_minus, context)?;
        let meaning = self.meaning(plus_minus.tag.as_ref())?;
        let place = self.place(plus_minus.span);
        self.note_source(
            place,
            behind.kind(),
            (span, plus_minus.span),
            quantity.clone(),
        );
        let ty = value.ty.clone();
        let uncertain = Uncertain {
            value: value.node,
            amount,
            relative,
            meaning,
            place,
            written: behind.written(&quantity),
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

    fn note_source(
        &mut self,
        place: Place,
        kind: TypedSourceKind,
        (value, amount): (Span, Span),
        quantity: Quantity,
    ) {
        let formula = self
            .frames
            .iter()
            .rev()
            .find_map(|frame| frame.definition.clone());
        self.found.sources.push(TypedSource {
            place,
            kind,
            value,
            amount,
            quantity,
            formula,
        });
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
        let quantity = self.require_quantity(&typed, column.span, "as readings")?;
        let ty = typed.ty.clone().columned(false);
        let place = self.place(span);
        self.note_source(
            place,
            TypedSourceKind::Readings,
            (column.span, span),
            quantity,
        );
        let readings = Readings {
            rows: self.rows_of(column).unwrap_or(place),
            column: typed.node,
            place,
        };
        let node = Node {
            kind: NodeKind::Readings(Box::new(readings)),
            span,
        };
        let mean = Typed { node, ty };
        match plus_minus {
            Some(plus_minus) => {
                let context = Context::Cell(None);
                self.plus_minus(mean, span, plus_minus, context, &Behind::Readings)
            }
            None => Ok(mean),
        }
    }

    /// What tells the rows of readings made from cells: of a table, the table, since its columns
    /// were read together; else the column itself. Nothing where two such are mixed.
    fn rows_of(&self, column: &Expr) -> Option<Place> {
        let mut first: Option<CellId> = None;
        let mut mixed = false;
        visit_expr_names(column, &mut |name| {
            if name.kind != NameKind::Cell {
                return;
            }
            if let Some(found) = self.first_of(&name.names) {
                mixed |= first.is_some_and(|known| known != found);
                first = Some(found);
            }
        });
        // No sign of a statement stands this far behind its beginning.
        let place = |CellId(statement)| Place {
            statement,
            offset: u32::MAX,
        };
        first.filter(|_| !mixed).map(place)
    }

    /// The first column of the table that a path leads into, or the column cell it names.
    fn first_of(&self, path: &[&str]) -> Option<CellId> {
        let (_, table) = path.split_last()?;
        if !table.is_empty()
            && let Seen::Table(columns) = self.scope.look_up(table, self.from)
        {
            return columns.first().map(|(_, first)| *first);
        }
        match self.scope.look_up(path, self.from) {
            Seen::Known(id, ty) if ty.column => Some(id),
            _ => None,
        }
    }
}

impl Behind<'_> {
    fn kind(&self) -> TypedSourceKind {
        match self {
            Behind::Literal(_) => TypedSourceKind::Literal,
            Behind::Column(_) => TypedSourceKind::Column,
            Behind::Readings => TypedSourceKind::BehindReadings,
        }
    }

    fn written(&self, quantity: &Quantity) -> Option<Written> {
        let last_digit = match self {
            Behind::Literal(numeral) => last_digit(numeral),
            // A trailing zero left out of one item is no statement about the others.
            Behind::Column(numerals) => numerals
                .iter()
                .filter_map(|numeral| last_digit(numeral))
                .min_by(|one, other| one.compare(*other)),
            Behind::Readings => return None,
        };
        let on_scale = matches!(
            quantity.state,
            State::Is(reference) if matches!(reference.row().class, Class::Point | Class::Level)
        );
        Some(Written {
            last_digit,
            on_scale,
        })
    }
}

/// One unit of the last digit written.
fn last_digit(numeral: &Numeral) -> Option<Number> {
    if numeral.fraction.is_some() || numeral.digits.is_empty() {
        return None;
    }
    let (mantissa, exponent) = match numeral.digits.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, exponent.parse::<i32>().ok()?),
        None => (&*numeral.digits, 0),
    };
    if !mantissa.contains(|digit: char| ('1'..='9').contains(&digit)) {
        return None;
    }
    let behind = mantissa.split_once('.').map_or(0, |(_, behind)| {
        behind.chars().filter(char::is_ascii_digit).count()
    });
    Number::ONE
        .shifted(exponent.checked_sub(i32::try_from(behind).ok()?)?)
        .ok()
}
