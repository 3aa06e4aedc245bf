//! Statements: where each stands, and its text now.

use super::table_file::FileTable;
use super::{Notebook, Part};
use crate::source::{Diagnostic, Span};
use crate::syntax::{self, Statement, StatementKind};
use std::rc::Rc;

/// The number of a statement.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StatementId(pub u32);

/// What kind of statement it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Tag {
    /// A cell.
    Cell,
    /// A table.
    Table,
    /// A check.
    Check,
    /// A formula.
    Formula,
    /// An example.
    Example,
    /// A unit.
    Unit,
    /// `use`
    Use,
    /// A default: of the handbook, or the currency.
    Default,
    /// A sweep, plot, fit, trace, budget or spread.
    Study,
    /// An expression on a line of its own, which a notebook refuses.
    Expression,
    /// Something that could not be read.
    Broken,
}

/// Where a statement comes from.
#[derive(Clone, Debug)]
pub(super) enum Origin {
    /// A run of lines of a block of a part.
    Document {
        block: u32,
        first_line: u32,
        lines: u32,
    },
    /// An entry of the handbook, by its number.
    Handbook(u32),
    /// Typed in the shell, for the end of the last block.
    Added,
}

/// One statement.
#[derive(Clone, Debug)]
pub struct StatementRecord {
    /// The part it stands in.
    pub part: u16,
    /// What it is.
    pub tag: Tag,
    /// The heading it stands under, by its number in the document.
    pub heading: Option<u32>,
    /// Its place in the document as opened; empty for an added one.
    pub span: Span,
    /// Its text, where it is not that of the document any more.
    pub edited: Option<Rc<str>>,
    /// Whether it was removed.
    pub removed: bool,
    /// Messages about its writing.
    pub diagnostics: Vec<Diagnostic>,
    pub(super) origin: Origin,
}

impl StatementRecord {
    /// Whether it is part of the handbook.
    pub fn is_handbook(&self) -> bool {
        matches!(self.origin, Origin::Handbook(_))
    }

    /// Whether it was typed in the shell.
    pub fn is_added(&self) -> bool {
        matches!(self.origin, Origin::Added)
    }
}

impl Notebook {
    /// A statement's record.
    pub fn statement(&self, id: StatementId) -> &StatementRecord {
        &self.statements[id.0 as usize]
    }

    /// The text that a statement's spans point into.
    pub fn text_of(&self, id: StatementId) -> &str {
        let record = self.statement(id);
        match (&record.edited, &record.origin) {
            (Some(text), _) => text,
            (None, Origin::Handbook(number)) => {
                let entry = &self.library.entries()[*number as usize];
                crate::library::CHAPTERS[entry.chapter].text
            }
            (None, _) => self.parts[usize::from(record.part)].document.text(),
        }
    }

    /// A statement's own text, as written.
    pub fn source_of(&self, id: StatementId) -> &str {
        let record = self.statement(id);
        match &record.edited {
            Some(text) => text,
            None => record.span.of(self.text_of(id)),
        }
    }

    /// The tree of a statement, read afresh: the text is the truth.
    pub fn tree(&self, id: StatementId) -> Statement {
        let record = self.statement(id);
        if let Origin::Handbook(number) = record.origin {
            return self
                .library
                .statement(&self.library.entries()[number as usize])
                .0;
        }
        let mut statement = match &record.edited {
            Some(text) => syntax::parse_entry(text),
            None => {
                let part = &self.parts[usize::from(record.part)];
                let lines = lines_of(part, &record.origin);
                syntax::parse(part.document.text(), lines, false)
                    .into_iter()
                    .next()
                    .unwrap_or_else(|| syntax::parse_entry(""))
            }
        };
        if let Some(table) = self.file_tables.get(&id) {
            fill_from_file(&mut statement, table.as_deref());
        }
        statement
    }

    /// The line of the document a statement begins in, from 1; nothing for an added one.
    pub fn line_of(&self, id: StatementId) -> Option<usize> {
        let record = self.statement(id);
        match record.origin {
            Origin::Added => None,
            Origin::Handbook(number) => Some(self.library.entries()[number as usize].line),
            Origin::Document { .. } => {
                let document = &self.parts[usize::from(record.part)].document;
                Some(document.line_column(record.span.start as usize).0)
            }
        }
    }
}

pub(super) fn lines_of<'p>(part: &'p Part, origin: &Origin) -> &'p [Span] {
    let Origin::Document {
        block,
        first_line,
        lines,
    } = origin
    else {
        return &[];
    };
    let Some(block) = part.document.blocks().get(*block as usize) else {
        return &[];
    };
    let end = (*first_line + *lines) as usize;
    block.lines.get(*first_line as usize..end).unwrap_or(&[])
}

/// Puts what was read from its file into a table; one that could not be read is broken.
fn fill_from_file(statement: &mut Statement, read: Option<&FileTable>) {
    let StatementKind::Table(table) = &mut statement.kind else {
        return;
    };
    if table.file.is_none() {
        return;
    }
    match read {
        Some(read) => {
            table.head.clone_from(&read.head);
            table.rows.clone_from(&read.rows);
        }
        None => statement.kind = StatementKind::Broken(Some(table.name.clone())),
    }
}
