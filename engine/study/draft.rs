//! From components to the rows of a budget, and what improving the largest would bring.

use super::budget::{Budget, BudgetRow, Improvement};
use super::component::{Component, components};
use crate::check::{CellId, Place, Quantity, TypedSourceKind};
use crate::exact::{Group, SecondOrder, SourceId, Summary, Terms, Uncertain, Value};
use crate::notebook::{Notebook, Precision, Shown, SourceName};
use crate::number::{Factor, Number, round_pair};
use crate::source::Span;
use rustc_hash::FxHashSet;
use std::rc::Rc;

/// Below this part of the whole a contribution is what rounding left of a cancelled source.
const CANCELLED: f64 = 1e-9;

/// Shares closer than this part are named together.
const ALIKE: f64 = 0.95;

/// What a budget is made from.
pub(super) struct Draft<'n> {
    pub(super) notebook: &'n Notebook,
    pub(super) cell: CellId,
    pub(super) row: Option<usize>,
    pub(super) number: Rc<Uncertain>,
    pub(super) quantity: &'n Quantity,
    /// The cells that it rests on, itself included.
    pub(super) above: FxHashSet<CellId>,
}

impl Draft<'_> {
    pub(super) fn budget(&self) -> Budget {
        let (unit, by) = self.notebook.difference_unit(self.quantity);
        let components = components(self.notebook, &self.number, &|place| self.is_above(place));
        let variance = self.number.variance(self.notebook.sources());
        let mut rows: Vec<(BudgetRow, Component)> = components
            .into_iter()
            .filter_map(|one| Some((self.budget_row(&one, variance, by)?, one)))
            .collect();
        rows.sort_by(|(one, _), (other, _)| {
            let weight = |row: &BudgetRow| (row.share, row.contribution);
            let (one, other) = (weight(one), weight(other));
            other.0.total_cmp(&one.0).then(other.1.total_cmp(&one.1))
        });
        let improve = self.improvement(&rows);
        Budget {
            cell: self.cell,
            row: self.row,
            shown: self
                .notebook
                .shown_with(self.cell, self.row, Precision::Table),
            unit,
            rows: rows.into_iter().map(|(row, _)| row).collect(),
            together: scaled(self.number.summary(self.notebook.sources()), by),
            second: self
                .notebook
                .second_order(self.cell, self.row)
                .map(|second| SecondOrder {
                    first: second.first * by,
                    standard: second.standard * by,
                    shift: second.shift * by,
                    ..second
                }),
            improve,
        }
    }

    fn budget_row(&self, component: &Component, variance: f64, by: f64) -> Option<BudgetRow> {
        let notebook = self.notebook;
        let place = *component.places.first()?;
        let typed = notebook.typed_source(place)?;
        let (own_unit, own_by) = notebook.difference_unit(&typed.quantity);
        let own = Uncertain::new(self.number.value, Terms::from_slice(&component.terms));
        let contribution = libm::sqrt(own.variance(notebook.sources())) * by;
        let share = match variance {
            0.0 => 0.0,
            variance => self.with_all(&component.terms) / variance,
        };
        let cancels = contribution <= CANCELLED * libm::sqrt(variance) * by
            && component.standard.is_some_and(|standard| standard > 0.0);
        let sensitivity = component.sensitivity.map(|slope| match cancels {
            true => 0.0,
            false => slope * by / own_by,
        });
        Some(BudgetRow {
            source: self.name(component, place)?,
            value: self.source_value(component, place),
            standard: component.standard.map(|standard| standard * own_by),
            sensitivity,
            sensitivity_unit: quotient(
                &notebook.bare_unit(self.quantity),
                &notebook.bare_unit(&typed.quantity),
            ),
            standard_unit: own_unit,
            contribution: if cancels { 0.0 } else { contribution },
            share: if cancels { 0.0 } else { share },
            cancels,
            shared_by: match cancels {
                true => self.shared_by(place),
                false => Vec::new(),
            },
        })
    }

    /// The covariance of a part with the whole: what it brings, with half of what it shares.
    fn with_all(&self, terms: &[(SourceId, f64)]) -> f64 {
        let sources = self.notebook.sources();
        terms
            .iter()
            .map(|(id, slope)| {
                let standard = sources.get(*id).map_or(0.0, |source| source.standard);
                let whole = self
                    .number
                    .terms
                    .iter()
                    .find(|(one, _)| one == id)
                    .map_or(0.0, |(_, slope)| *slope);
                slope * whole * standard * standard
            })
            .sum()
    }

    fn name(&self, component: &Component, first: Place) -> Option<SourceName> {
        let mut name = self.notebook.source_name(first, component.element)?;
        let others = component.places[1..]
            .iter()
            .filter_map(|place| self.notebook.source_name(*place, 0));
        for other in others {
            name.cell = format!("{} and {}", name.cell, other.cell);
        }
        Some(name)
    }

    /// The value a source stands behind: as typed, a mean as its scatter allows, or zero where it
    /// is a second doubt about readings.
    fn source_value(&self, component: &Component, place: Place) -> Shown {
        let notebook = self.notebook;
        let Some(typed) = notebook.typed_source(place) else {
            return Shown::word("");
        };
        let (unit, factor) = notebook.display_unit(&typed.quantity);
        let plain = notebook.unit_text(&unit, &typed.quantity.state);
        let (difference, _) = notebook.difference_unit(&typed.quantity);
        let (value, unit) = match typed.kind {
            TypedSourceKind::BehindReadings => ("0".to_owned(), difference),
            TypedSourceKind::Readings => match notebook.sources().repeats_at(place) {
                Some(repeats) => {
                    let spread = component.standard.unwrap_or(0.0) * 2.0;
                    let spread = Number::from_f64(spread).unwrap_or(Number::ZERO);
                    let mean = converted(repeats.mean, &factor);
                    (round_pair(mean, converted(spread, &factor)).0, plain)
                }
                None => (String::new(), plain),
            },
            TypedSourceKind::Literal | TypedSourceKind::Column => {
                let group = Group {
                    place,
                    element: component.element,
                };
                let estimate = notebook
                    .sources()
                    .of_group(group)
                    .map_or(Number::ZERO, |source| source.estimate);
                let text = (typed.kind == TypedSourceKind::Literal && factor.is_one())
                    .then(|| self.digits(place))
                    .flatten();
                let shown = text.unwrap_or_else(|| converted(estimate, &factor).shown());
                (shown, plain)
            }
        };
        Shown {
            value,
            unit,
            ..Shown::number()
        }
    }

    /// The digits before ± as typed.
    fn digits(&self, place: Place) -> Option<String> {
        let typed = self.notebook.typed_source(place)?;
        let text = match &typed.formula {
            Some(formula) => formula.snippet(typed.value).to_owned(),
            None => {
                let id = self.notebook.statement_of_place(place)?;
                let end = typed.value.end.min(typed.amount.start);
                let span = Span { end, ..typed.value };
                span.of(self.notebook.text_of(id)).to_owned()
            }
        };
        let end = text
            .find(|sign: char| !(sign.is_ascii_digit() || ".-/ ".contains(sign)))
            .unwrap_or(text.len());
        let digits = text[..end].trim();
        digits
            .contains(|sign: char| sign.is_ascii_digit())
            .then(|| digits.to_owned())
    }

    /// The cells between a source and the cell that read the source itself.
    fn shared_by(&self, place: Place) -> Vec<String> {
        let Some(name) = self.notebook.source_name(place, 0) else {
            return Vec::new();
        };
        let Some(cell) = self.notebook.find(&name.cell) else {
            return Vec::new();
        };
        self.notebook
            .cell(cell)
            .used_by
            .iter()
            .filter(|reader| self.above.contains(reader))
            .map(|reader| self.notebook.cell(*reader).name.to_string())
            .collect()
    }

    /// Whether a source was typed in a cell that this one rests on, or in a formula.
    fn is_above(&self, place: Place) -> bool {
        let Some(typed) = self.notebook.typed_source(place) else {
            return false;
        };
        let Some(statement) = self.notebook.statement_of_place(place) else {
            return typed.formula.is_some();
        };
        self.above
            .iter()
            .any(|cell| self.notebook.cell(*cell).statement == statement)
    }

    /// The largest source, or several that are as large, and what half of them would bring.
    fn improvement(&self, rows: &[(BudgetRow, Component)]) -> Option<Improvement> {
        let largest = rows.first().map(|(row, _)| row.share)?;
        if largest <= 0.0 {
            return None;
        }
        let first: Vec<usize> = (0..rows.len())
            .filter(|index| rows[*index].0.share >= ALIKE * largest)
            .collect();
        let mut terms = self.number.terms.clone();
        for index in &first {
            for (id, slope) in &rows[*index].1.terms {
                if let Some(term) = terms.iter_mut().find(|(one, _)| one == id) {
                    term.1 -= 0.5 * slope;
                }
            }
        }
        let halved = Uncertain::new(self.number.value, terms);
        let ty = self.notebook.cell(self.cell).ty.clone();
        let value = Value::Uncertain(Rc::new(halved.clone()));
        let (_, by) = self.notebook.difference_unit(self.quantity);
        Some(Improvement {
            share: first.iter().map(|index| rows[*index].0.share).sum(),
            rows: first,
            halved: scaled(halved.summary(self.notebook.sources()), by),
            shown: self
                .notebook
                .shown_value(&value, ty.as_deref(), Precision::Table),
        })
    }
}

fn converted(number: Number, factor: &Factor) -> Number {
    number.scaled(factor).unwrap_or(number)
}

fn scaled(summary: Summary, by: f64) -> Summary {
    Summary {
        standard: summary.standard * by,
        expanded: summary.expanded * by,
        ..summary
    }
}

/// A unit over another, as it is read.
fn quotient(above: &str, below: &str) -> String {
    let bracketed = match below.contains([' ', '/']) {
        true => format!("({below})"),
        false => below.to_owned(),
    };
    match (above, below) {
        _ if above == below => String::new(),
        (above, "") => above.to_owned(),
        ("", _) => format!("1/{bracketed}"),
        _ => format!("{above}/{bracketed}"),
    }
}
