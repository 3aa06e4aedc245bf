//! The rows of a table: fields between `|`, text as written, quantities read by the parser. Outer
//! `|` and a row of dashes, as a pasted Markdown table has them, are passed over.

use super::block::Reader;
use super::fold;
use super::lexer::Lexer;
use super::outline::{Content, Line};
use super::owner::Body;
use super::parser::{self, Page, Parsed, Tokens};
use super::tree::{Expr, ExprKind, Field, FieldKind, Name, Row, Table, TableColumn};
use crate::source::{Code, Diagnostic, Span};

/// Whether a line holds more than a comment.
pub(super) fn holds_text(line: &Line) -> bool {
    line.content == Content::Text
}

/// One row as it is written.
pub(super) struct RawRow {
    /// The fields between the bars, blanks around them excluded, outer empty ones included.
    pub fields: Vec<Span>,
    /// The comment behind the row.
    pub comment: Option<Span>,
}

/// Cuts a row at its bars.
pub(super) fn cut(text: &str, line: Span) -> RawRow {
    let whole = line.of(text);
    let comment = comment_start(whole);
    let row = whole.get(..comment.unwrap_or(whole.len())).unwrap_or("");
    let mut fields = Vec::new();
    let mut start = line.start as usize;
    for field in row.split('|') {
        let inner = field.trim_start_matches(fold::is_blank);
        let begin = start + field.len() - inner.len();
        let inner = inner.trim_end_matches(fold::is_blank);
        fields.push(Span::new(begin, begin + inner.len()));
        start += field.len() + 1;
    }
    RawRow {
        fields,
        comment: comment.map(|at| Span::new(line.start as usize + at, line.end as usize)),
    }
}

/// `#` with a blank on both sides begins a comment; `#6` is text.
fn comment_start(row: &str) -> Option<usize> {
    let mut blank = true;
    for (at, sign) in row.char_indices() {
        if sign == '#' && blank {
            let behind = row.get(at..)?.trim_start_matches('#').chars().next();
            if behind.is_none_or(fold::is_blank) {
                return Some(at);
            }
        }
        blank = fold::is_blank(sign);
    }
    None
}

/// Drops the empty fields outside the outer bars, as far as there are more than `columns`.
pub(super) fn inner_fields(text: &str, fields: &[Span], columns: usize) -> Vec<Span> {
    let mut inner = fields.to_vec();
    if inner.len() > columns && inner.first().is_some_and(|field| field.of(text).is_empty()) {
        inner.remove(0);
    }
    if inner.len() > columns && inner.last().is_some_and(|field| field.of(text).is_empty()) {
        inner.pop();
    }
    inner
}

/// Whether all fields are rules: two dashes or more, colons at their ends.
pub(super) fn is_rule(text: &str, fields: &[Span]) -> bool {
    let mut dashes = 0;
    for field in fields {
        let inner = field.of(text).trim_matches(':');
        if inner.is_empty() && field.of(text).is_empty() {
            continue;
        }
        let is_dashed = inner.chars().count() >= 2
            && inner
                .chars()
                .all(|sign| matches!(sign, '-' | '=' | '─' | '–' | '—' | '+'));
        if !is_dashed {
            return false;
        }
        dashes += 1;
    }
    dashes > 0
}

/// Whether a field has no value.
pub(super) fn is_gap(field: &str) -> bool {
    matches!(field, "" | "-" | "–" | "—" | "\u{2212}")
}

/// The table whose rows are these lines.
pub(super) fn table(
    reader: &Reader<'_>,
    name: Name,
    body: Body,
    diagnostics: &mut Vec<Diagnostic>,
) -> Table {
    let mut builder = Builder {
        text: reader.text,
        lexer: Lexer::new(reader.text),
        table: Table {
            name,
            file: None,
            head: Vec::new(),
            rows: Vec::new(),
        },
        diagnostics,
    };
    let lines = reader.lines.get(body.start..body.end).unwrap_or(&[]);
    let mut has_head = false;
    for line in lines.iter().filter(|line| holds_text(line)) {
        let raw = cut(reader.text, line.span);
        if !has_head {
            builder.head(&raw);
            has_head = true;
        } else if !is_rule(reader.text, &raw.fields) {
            builder.row(line.span, &raw);
        }
    }
    builder.table
}

struct Builder<'t, 'd> {
    text: &'t str,
    lexer: Lexer<'t>,
    table: Table,
    diagnostics: &'d mut Vec<Diagnostic>,
}

impl Builder<'_, '_> {
    fn head(&mut self, raw: &RawRow) {
        for field in inner_fields(self.text, &raw.fields, 1) {
            let column = self
                .run(field, parser::column_head, "a unit in brackets or `|`")
                .unwrap_or_else(|| self.unreadable_column(field));
            self.table.head.push(column);
        }
    }

    /// A column whose head cannot be read still counts, so that the rows fit.
    fn unreadable_column(&self, field: Span) -> TableColumn {
        TableColumn {
            name: Name {
                text: field.of(self.text).into(),
                span: field,
            },
            unit: None,
        }
    }

    fn row(&mut self, span: Span, raw: &RawRow) {
        let columns = self.table.head.len();
        let fields = inner_fields(self.text, &raw.fields, columns);
        if fields.len() != columns {
            self.wrong_count(span, &fields);
            return;
        }
        let fields = fields
            .into_iter()
            .enumerate()
            .map(|(index, field)| self.field(index, field))
            .collect();
        self.table.rows.push(Row { span, fields });
    }

    fn wrong_count(&mut self, span: Span, fields: &[Span]) {
        let key = fields.first().map_or("", |field| field.of(self.text));
        let heads: Vec<&str> = self
            .table
            .head
            .iter()
            .map(|head| &*head.name.text)
            .collect();
        let message = format!(
            "the row `{}` of {} has {} {}",
            super::parser::clipped(key),
            self.table.name.text,
            fields.len(),
            if fields.len() == 1 { "field" } else { "fields" },
        );
        let expected = format!(
            "{}, one for each head: {}; `-` where there is no value",
            heads.len(),
            super::parser::clipped(&heads.join(", ")),
        );
        self.diagnostics
            .push(Diagnostic::error(Code::Syntax, span, message).expected(expected));
    }

    fn field(&mut self, index: usize, span: Span) -> Field {
        let text = span.of(self.text);
        let has_unit = self
            .table
            .head
            .get(index)
            .is_some_and(|head| head.unit.is_some());
        let kind = if is_gap(text) {
            FieldKind::Gap
        } else if has_unit {
            let quantity = self.run(span, parser::quantity_field, "`|` or the end of the row");
            FieldKind::Quantity(quantity.unwrap_or(Expr {
                span,
                kind: ExprKind::Refused(None),
            }))
        } else {
            FieldKind::Text(text.into())
        };
        Field { span, kind }
    }

    /// Reads one field on its own.
    fn run<T>(
        &mut self,
        field: Span,
        parser: impl for<'t> FnOnce(Tokens<'t>) -> Parsed<'t, T>,
        expected: &str,
    ) -> Option<T> {
        self.lexer.clear();
        self.lexer.line(field);
        let lines = [field];
        let page = Page::new(self.text, &lines, &self.lexer.tokens);
        let tree = parser::run(&page, parser, expected);
        self.diagnostics.extend(page.into_diagnostics());
        tree
    }
}
