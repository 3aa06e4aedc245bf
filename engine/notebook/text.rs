//! The document with its edits in it: what is saved. Outside the statements that were edited,
//! every byte is as it was opened.

use super::Notebook;
use super::statement::{Origin, StatementId, StatementRecord, lines_of};
use crate::source::{Document, Span};
use crate::syntax::{self, Statement, StatementKind};

impl Notebook {
    /// The whole text as it would be saved.
    pub fn text(&self) -> String {
        let document = self.document();
        let original = document.text();
        let mut text = String::with_capacity(original.len() + 256);
        let mut at = 0;
        let mut added: Vec<&str> = Vec::new();
        for record in self.statements.iter().filter(|record| record.part == 0) {
            match (&record.origin, &record.edited, record.removed) {
                (Origin::Added, Some(own), false) => added.push(own),
                (Origin::Document { .. }, Some(own), false) => {
                    text.push_str(&original[at..record.span.start as usize]);
                    text.push_str(&as_placed(own, record, document));
                    at = record.span.end as usize;
                }
                (Origin::Document { .. }, _, true) => {
                    let (start, end) = whole_lines(original, record.span);
                    text.push_str(&original[at..start.max(at)]);
                    at = end;
                }
                _ => {}
            }
        }
        if !added.is_empty() {
            let (offset, inserted) = document.insertion(&added.join("\n"));
            let offset = offset.max(at);
            text.push_str(&original[at..offset]);
            text.push_str(&inserted);
            at = offset;
        }
        text.push_str(&original[at..]);
        text
    }

    /// Whether its text differs from the document as opened.
    pub fn is_edited(&self) -> bool {
        let own = self.statements.iter().filter(|record| record.part == 0);
        own.into_iter().any(|record| match record.origin {
            Origin::Added => !record.removed,
            Origin::Handbook(_) => false,
            Origin::Document { .. } => {
                record.removed
                    || record
                        .edited
                        .as_deref()
                        .is_some_and(|own| own != record.span.of(self.document().text()))
            }
        })
    }

    /// A statement without what quotes, lists and the indentation of its block put before its
    /// lines, each line ended by `\n`.
    pub fn plain_source(&self, id: StatementId) -> String {
        let record = self.statement(id);
        if let (None, Origin::Document { .. }) = (&record.edited, &record.origin) {
            let part = &self.parts[usize::from(record.part)];
            return without_margin(
                lines_of(part, &record.origin),
                record.span,
                part.document.text(),
            );
        }
        self.source_of(id).to_owned()
    }

    /// The new text of a statement: the head bracket and the remark stay unless new ones are given.
    pub(super) fn merged_text(&self, id: StatementId, text: &str, new: &Statement) -> String {
        let source = self.plain_source(id);
        let old = syntax::parse_entry(&source);
        let (StatementKind::Cell(before), StatementKind::Cell(after)) = (&old.kind, &new.kind)
        else {
            return text.trim_end().to_owned();
        };
        let mut merged = source.clone();
        if let (Some(old_remark), Some(new_remark)) = (old.remark, new.remark) {
            merged.replace_range(old_remark.range(), new_remark.of(text));
        }
        merged.replace_range(before.value.span.range(), after.value.span.of(text));
        match (&before.unit, &after.unit) {
            (Some(old_unit), Some(new_unit)) => {
                merged.replace_range(old_unit.span.range(), new_unit.span.of(text));
            }
            (None, Some(new_unit)) => {
                let name = before.column.as_ref().unwrap_or(&before.name);
                let unit = format!(" [{}]", new_unit.span.of(text));
                merged.insert_str(name.span.end as usize, &unit);
            }
            _ => {}
        }
        if let (None, Some(new_remark)) = (old.remark, new.remark) {
            merged.push_str(&format!("  # {}", new_remark.of(text)));
        }
        merged
    }
}

/// The lines of a statement without the indentation of its first one.
fn without_margin(lines: &[Span], span: Span, text: &str) -> String {
    let margin = lines
        .first()
        .map_or("", |line| margin_of(*line, span, text));
    let mut plain = String::new();
    for (number, line) in lines.iter().enumerate() {
        let own = match number {
            0 => Span {
                start: span.start,
                ..*line
            }
            .of(text),
            _ => {
                plain.push('\n');
                let whole = line.of(text);
                whole
                    .strip_prefix(margin)
                    .unwrap_or_else(|| whole.trim_start())
            }
        };
        plain.push_str(own);
    }
    plain.truncate(plain.trim_end().len());
    plain
}

/// What stands before a statement on its first line, behind the marks of quotes and lists.
fn margin_of(line: Span, span: Span, text: &str) -> &str {
    Span {
        start: line.start,
        end: span.start.max(line.start),
    }
    .of(text)
}

/// A statement's text with the line ends of the document, and its further lines behind what stands
/// before the first.
fn as_placed(own: &str, record: &StatementRecord, document: &Document) -> String {
    if !own.contains('\n') {
        return own.to_owned();
    }
    let text = document.text();
    let before = text.get(..record.span.start as usize).unwrap_or_default();
    let before = before.rsplit('\n').next().unwrap_or_default();
    // A tag that a forum put before the first line stands there only.
    let prefix: String = before
        .chars()
        .filter(|sign| sign.is_whitespace() || *sign == '>')
        .collect();
    let mut placed = String::new();
    for (number, line) in own.lines().enumerate() {
        if number > 0 {
            placed.push_str(document.line_ending());
            placed.push_str(if line.is_empty() {
                prefix.trim_end()
            } else {
                &prefix
            });
        }
        placed.push_str(line);
    }
    placed
}

/// A span widened to whole lines, with the last line's end.
fn whole_lines(text: &str, span: Span) -> (usize, usize) {
    let start = text[..span.start as usize]
        .rfind('\n')
        .map_or(0, |at| at + 1);
    let end = text[span.end as usize..]
        .find('\n')
        .map_or(text.len(), |at| span.end as usize + at + 1);
    (start, end)
}
