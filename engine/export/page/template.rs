//! The statements of a notebook with a hole for each field, so that a page can write them out with
//! a reader's numbers.

use super::literal;
use super::model::Model;
use crate::notebook::{StatementId, Tag};
use crate::source::Span;

/// The list of statements: of each the pieces of its text, a number where a field stands.
pub(super) fn statements(model: &Model<'_>) -> String {
    let notebook = model.notebook;
    let mut written = Vec::new();
    for (number, record) in notebook.statements().iter().enumerate() {
        let id = StatementId(number as u32);
        let own = record.part == 0 && !record.removed && !record.is_handbook();
        if own && !matches!(record.tag, Tag::Broken | Tag::Expression) {
            written.push(pieces(model, id));
        }
    }
    format!("const statements={};\n", literal::list(written))
}

fn pieces(model: &Model<'_>, id: StatementId) -> String {
    let notebook = model.notebook;
    let record = notebook.statement(id);
    let text = notebook.text_of(id);
    let whole = match &record.edited {
        Some(edited) => Span::new(0, edited.len()),
        None => record.span,
    };
    let mut fields: Vec<(Span, usize)> = model
        .fields
        .iter()
        .enumerate()
        .filter(|(_, field)| field.statement == id)
        .map(|(number, field)| (field.span, number))
        .collect();
    fields.sort_by_key(|(span, _)| span.start);
    let mut pieces = Vec::new();
    let mut at = whole.start;
    for (span, number) in fields {
        if span.start < at || span.end > whole.end {
            continue;
        }
        pieces.push(literal::text(
            Span {
                start: at,
                end: span.start,
            }
            .of(text),
        ));
        pieces.push(number.to_string());
        at = span.end;
    }
    pieces.push(literal::text(
        Span {
            start: at,
            end: whole.end,
        }
        .of(text),
    ));
    literal::list(pieces)
}
