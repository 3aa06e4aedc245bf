//! Sources of uncertainty in words: the cell they were typed in and, where that has several,
//! which of them.

use super::Notebook;
use super::statement::StatementId;
use crate::check::{Place, State, TypedSource, TypedSourceKind};
use crate::exact::SourceId;
use crate::source::Span;
use crate::syntax::{Expr, ExprKind, StatementKind, Table};
use crate::units::Class;

/// What a source is called.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceName {
    /// The cell, table column or formula it was typed in.
    pub cell: String,
    /// Which of that cell's, where the name alone does not tell: `reading`, `4 readings`,
    /// `± 0.4 s`, a row's key, a parameter.
    pub which: Option<String>,
}

impl std::fmt::Display for SourceName {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.cell)?;
        match &self.which {
            Some(which) => write!(f, ", {which}"),
            None => Ok(()),
        }
    }
}

impl Notebook {
    /// How a source was typed, by its place.
    pub fn typed_source(&self, place: Place) -> Option<&TypedSource> {
        self.typed_sources.get(&place)
    }

    /// The statement that a place is in, if it is one of the notebook's.
    pub fn statement_of_place(&self, place: Place) -> Option<StatementId> {
        let id = StatementId(place.statement);
        self.statements.get(id.0 as usize).map(|_| id)
    }

    /// The words for a source.
    pub fn source_words(&self, id: SourceId) -> Option<SourceName> {
        let group = self.sources.get(id)?.group;
        if self.typed_sources.contains_key(&group.place) {
            return self.source_name(group.place, group.element);
        }
        let readings = self.sources.repeats(group);
        let place = readings
            .iter()
            .map(|(place, _)| *place)
            .find(|place| self.typed_sources.contains_key(place))?;
        self.source_name(place, 0)
    }

    /// The words for the source at a place; `element` counts the items of a column from 0.
    pub fn source_name(&self, place: Place, element: u32) -> Option<SourceName> {
        let typed = self.typed_sources.get(&place)?;
        if let Some(formula) = &typed.formula {
            let parameter = formula.tree.parameters.iter().find(|parameter| {
                parameter
                    .default
                    .as_ref()
                    .is_some_and(|default| holds(default.span, typed.value))
            });
            return Some(SourceName {
                cell: formula.name().to_owned(),
                which: parameter.map(|parameter| parameter.name.text.to_string()),
            });
        }
        let id = StatementId(place.statement);
        self.statements.get(id.0 as usize)?;
        let tree = self.tree(id);
        let text = self.text_of(id);
        match &tree.kind {
            StatementKind::Cell(cell) | StatementKind::Default(cell) => Some(SourceName {
                cell: match &cell.column {
                    None => cell.name.text.to_string(),
                    Some(column) => format!("{}.{}", cell.name.text, column.text),
                },
                which: self.which(typed, element, &cell.value, text),
            }),
            StatementKind::Table(table) => field_name(table, typed.value, text),
            _ => Some(SourceName {
                cell: written(typed.value, text),
                which: None,
            }),
        }
    }

    /// Whether a source is the only reading on a scale that its statement holds.
    fn is_the_reading(&self, typed: &TypedSource) -> bool {
        let is_reading = |one: &TypedSource| {
            matches!(
                one.quantity.state,
                State::Is(reference) if reference.row().class == Class::Point
            )
        };
        let beside = |one: &&TypedSource| one.place.statement == typed.place.statement;
        is_reading(typed)
            && self
                .typed_sources
                .values()
                .filter(beside)
                .filter(|one| is_reading(one))
                .count()
                == 1
    }

    fn which(&self, typed: &TypedSource, element: u32, value: &Expr, text: &str) -> Option<String> {
        match typed.kind {
            TypedSourceKind::Literal if is_whole(value) => None,
            TypedSourceKind::Literal if self.is_the_reading(typed) => Some("reading".to_owned()),
            TypedSourceKind::Literal => Some(before_plus_minus(typed, text)),
            TypedSourceKind::Column => Some(format!("item {}", element + 1)),
            TypedSourceKind::Readings => {
                let count = self
                    .sources
                    .repeats_at(typed.place)
                    .map_or(0, |repeats| repeats.deviations.len());
                Some(format!("{count} readings"))
            }
            TypedSourceKind::BehindReadings => Some(written(typed.amount, text)),
        }
    }
}

/// The column and the key of the row that a field's source stands in.
fn field_name(table: &Table, value: Span, text: &str) -> Option<SourceName> {
    let row = table.rows.iter().find(|row| holds(row.span, value))?;
    let column = row
        .fields
        .iter()
        .position(|field| holds(field.span, value))?;
    let head = table.head.get(column)?;
    let key = row.fields.first().map(|field| written(field.span, text));
    Some(SourceName {
        cell: format!("{}.{}", table.name.text, head.name.text),
        which: key,
    })
}

/// Whether a cell's value is one literal, perhaps in brackets.
fn is_whole(value: &Expr) -> bool {
    match &value.kind {
        ExprKind::Literal(_) => true,
        ExprKind::Bracketed(inner) | ExprKind::In(inner, _) => is_whole(inner),
        _ => false,
    }
}

fn before_plus_minus(typed: &TypedSource, text: &str) -> String {
    let end = typed.value.end.min(typed.amount.start);
    let whole = Span { end, ..typed.value };
    written(whole, text)
}

fn written(span: Span, text: &str) -> String {
    span.of(text)
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
}

fn holds(outer: Span, inner: Span) -> bool {
    outer.start <= inner.start && inner.end <= outer.end
}
