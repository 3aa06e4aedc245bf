//! The rows of a table, their fields one below the other.

use std::ops::Range;

use super::layout::comment_text;
use super::roles::as_grouped;
use super::{BODY, indented};
use crate::syntax::block::Reader;
use crate::syntax::outline::Content;
use crate::syntax::printer::{align, print_expr, print_literal, print_plus_minus, print_unit};
use crate::syntax::rows::{cut, is_rule};
use crate::syntax::tree::{Expr, ExprKind, Field, FieldKind, Table, TableColumn};

/// A row of the table as it will be written.
struct NewRow {
    /// Which line of the statement it is.
    line: usize,
    fields: Vec<String>,
    is_rule: bool,
    comment: String,
}

/// The lines of a table that has no errors.
pub(super) fn lay_out(reader: &mut Reader<'_>, table: &Table, lines: Range<usize>) -> Vec<String> {
    let text = reader.text;
    let mut rows: Vec<NewRow> = Vec::new();
    let mut written = table.rows.iter().peekable();
    let first = lines.start + 1;
    for at in first..lines.end {
        if reader.lines.get(at).map(|line| line.content) != Some(Content::Text) {
            continue;
        }
        let raw = cut(text, reader.span(at));
        let is_rule = !rows.is_empty() && is_rule(text, &raw.fields);
        let fields = if rows.is_empty() {
            table.head.iter().map(head).collect()
        } else if is_rule {
            vec!["---".to_string(); table.head.len()]
        } else {
            let row = written.next_if(|row| row.span == reader.span(at));
            row.map_or(Vec::new(), |row| {
                row.fields.iter().map(|one| field(one, text)).collect()
            })
        };
        rows.push(NewRow {
            line: at,
            fields,
            is_rule,
            comment: raw.comment.map_or(String::new(), |comment| {
                comment_text(text, comment).to_string()
            }),
        });
    }
    let mut out: Vec<String> = lines
        .clone()
        .map(|at| indented(BODY, reader.content(at)))
        .collect();
    if let Some(head) = out.first_mut() {
        *head = head_line(reader, table, lines.start);
    }
    let fields: Vec<Vec<String>> = rows.iter().map(|row| row.fields.clone()).collect();
    for (row, line) in rows.iter().zip(align(&fields)) {
        let line = if row.is_rule {
            rule(&line, &fields)
        } else {
            line
        };
        if let Some(slot) = out.get_mut(row.line - lines.start) {
            let remark = match &*row.comment {
                "" => String::new(),
                comment => format!("  {comment}"),
            };
            *slot = indented(BODY, &format!("{line}{remark}"));
        }
    }
    out
}

/// `table name`, and the comment behind it.
fn head_line(reader: &Reader<'_>, table: &Table, at: usize) -> String {
    let lexer = super::tokens_of(reader.text, reader.span(at));
    let mut line = format!("table {}", table.name.text);
    for comment in &lexer.comments {
        line.push_str("  ");
        line.push_str(comment_text(reader.text, *comment));
    }
    line
}

fn head(column: &TableColumn) -> String {
    match &column.unit {
        Some(unit) => format!("{} [{}]", column.name.text, print_unit(unit)),
        None => column.name.text.to_string(),
    }
}

fn field(field: &Field, text: &str) -> String {
    match &field.kind {
        FieldKind::Gap => "-".to_string(),
        FieldKind::Text(written) => written.to_string(),
        FieldKind::Quantity(value) => quantity(value, text),
    }
}

/// A literal as it was grouped, with its ±.
fn quantity(value: &Expr, text: &str) -> String {
    let ExprKind::Literal(literal) = &value.kind else {
        return print_expr(value);
    };
    let sign = if literal.negative { "-" } else { "" };
    let number = print_literal(&as_grouped(literal, text), true);
    match &literal.plus_minus {
        Some(plus_minus) => format!("{sign}{number} {}", print_plus_minus(plus_minus)),
        None => format!("{sign}{number}"),
    }
}

/// A row of dashes as wide as the columns.
fn rule(line: &str, rows: &[Vec<String>]) -> String {
    let columns = line.split(" | ").count();
    let widths = (0..columns).map(|column| {
        rows.iter()
            .filter_map(|row| row.get(column))
            .map(|field| unicode_width::UnicodeWidthStr::width(field.as_str()))
            .max()
            .unwrap_or(3)
    });
    let dashes: Vec<String> = widths.map(|width| "-".repeat(width.max(3))).collect();
    dashes.join(" | ")
}
