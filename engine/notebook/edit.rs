//! Changing a notebook: a cell set, added or removed, and taken back. Each edit touches the text
//! of one statement, and costs the cone it moves.

use super::Notebook;
use super::cell::Role;
use super::names::Entity;
use super::open::tag_of;
use super::recheck::{Before, Wave};
use super::shown::Shown;
use super::statement::{Origin, StatementId, StatementRecord};
use crate::check::CellId;
use crate::exact::Value;
use crate::source::{Code, Diagnostic, Severity, Span};
use crate::syntax::{self, Statement, StatementKind};
use rustc_hash::FxHashMap;
use std::rc::Rc;

/// What an edit did.
#[derive(Clone, Debug)]
pub struct Edit {
    /// The statement that was set, added or removed.
    pub statement: StatementId,
    /// Whether it is new.
    pub added: bool,
    /// What moved.
    pub ripple: Ripple,
}

/// What moved because of an edit.
#[derive(Clone, Debug, Default)]
pub struct Ripple {
    /// Cells that changed, those set first, then in the order of the document.
    pub moved: Vec<Moved>,
    /// Checks whose outcome changed.
    pub flipped: Vec<Flip>,
    /// Cells that newly carry an error or wait, or do so no more.
    pub broken: Vec<CellId>,
}

/// A cell that changed.
#[derive(Clone, Debug)]
pub struct Moved {
    /// Which.
    pub cell: CellId,
    /// As shown before; nothing for a new cell.
    pub was: Option<Shown>,
    /// The value before.
    pub was_value: Option<Value>,
}

/// A check whose outcome changed.
#[derive(Clone, Debug)]
pub struct Flip {
    /// Which.
    pub cell: CellId,
    /// Its value before.
    pub was: Value,
}

/// One step back.
#[derive(Debug)]
pub(super) struct Undo {
    statement: StatementId,
    edited: Option<Rc<str>>,
    removed: bool,
    /// Whether the statement did not exist before.
    added: bool,
}

impl Notebook {
    /// Takes a statement as typed: sets the cell, formula or table of that name, or adds it at the
    /// end. A replaced cell keeps its head and its remark unless new ones are given. What cannot be
    /// read changes nothing.
    pub fn enter_statement(&mut self, text: &str) -> Result<Edit, Vec<Diagnostic>> {
        let statement = syntax::parse_entry(text);
        if statement
            .diagnostics
            .iter()
            .any(|one| one.severity == Severity::Error)
        {
            return Err(statement.diagnostics);
        }
        if let StatementKind::Cell(cell) = &statement.kind
            && let Some(message) = self.not_to_be_set(cell)
        {
            return Err(vec![message]);
        }
        match self.statement_named(&statement) {
            Some(id) => {
                let text = self.merged_text(id, text, &statement);
                Ok(self.change(id, Some(text.as_str().into()), false))
            }
            None => Ok(self.add(text)),
        }
    }

    /// Brings in what an expression needs of the handbook, so that it can be worked out: tables
    /// become cells when a line first names them.
    pub fn bring_in(&mut self, part: u16, expression: &str) {
        let statement = syntax::parse_entry(expression);
        let before = self.cells.len() as u32;
        self.require(part, &statement);
        let new: Vec<CellId> = (before..self.cells.len() as u32).map(CellId).collect();
        if new.is_empty() {
            return;
        }
        self.check_cells(new.clone(), &mut FxHashMap::default());
        self.raise_levels(&new);
        self.stale.extend(new);
        self.recompute_noting(&mut Before::default());
    }

    /// Cells of used documents are read only, and table columns are edited in their table.
    fn not_to_be_set(&self, cell: &syntax::Cell) -> Option<Diagnostic> {
        let Some(column) = &cell.column else {
            return None;
        };
        let prefix = &cell.name;
        let names = &self.names.parts[0];
        if names.prefixes.contains_key(&prefix.text) {
            let message = format!(
                "{}.{} belongs to a notebook that is used here",
                prefix.text, column.text
            );
            return Some(
                Diagnostic::error(Code::File, prefix.span.to(column.span), message)
                    .label("used cells are read only")
                    .expected("a change in that notebook"),
            );
        }
        if !matches!(names.entities.get(&prefix.text), Some(Entity::Table(_))) {
            return Some(
                Diagnostic::error(
                    Code::UnknownName,
                    prefix.span,
                    format!("no table is called {}", prefix.text),
                )
                .label("a name with a dot is a table's column"),
            );
        }
        None
    }

    /// The statement of the notebook itself that defines what this one defines.
    fn statement_named(&self, statement: &Statement) -> Option<StatementId> {
        let names = self.names.parts.first()?;
        match &statement.kind {
            StatementKind::Cell(cell) => {
                let name = match &cell.column {
                    None => cell.name.text.to_string(),
                    Some(column) => format!("{}.{}", cell.name.text, column.text),
                };
                match names.entities.get(name.as_str())? {
                    Entity::Cell(cell) => {
                        let record = self.cell(*cell);
                        (!matches!(record.role, Role::Column(_))).then_some(record.statement)
                    }
                    Entity::Table(_) => None,
                }
            }
            StatementKind::Table(table) => match names.entities.get(&table.name.text)? {
                Entity::Table(columns) => Some(self.cell(columns.first()?.1).statement),
                Entity::Cell(_) => None,
            },
            StatementKind::Formula(formula) => self.formula_statement(&formula.name.text),
            _ => None,
        }
    }

    fn formula_statement(&self, name: &str) -> Option<StatementId> {
        (0..self.statements.len() as u32).map(StatementId).find(|id| {
            let record = self.statement(*id);
            record.part == 0
                && !record.removed
                && record.tag == super::Tag::Formula
                && matches!(self.tree(*id).kind, StatementKind::Formula(formula) if &*formula.name.text == name)
        })
    }

    /// The new text of a statement: the head bracket and the remark stay unless new ones are given.
    fn merged_text(&self, id: StatementId, text: &str, new: &Statement) -> String {
        let old = self.tree(id);
        let (StatementKind::Cell(before), StatementKind::Cell(after)) = (&old.kind, &new.kind)
        else {
            return text.trim_end().to_owned();
        };
        let source = self.text_of(id);
        let base = old.span.start;
        let whole = old.span.of(source);
        let cut = |span: Span| span.shifted(-i64::from(base)).range();
        let mut merged = whole.to_owned();
        if let (Some(old_remark), Some(new_remark)) = (old.remark, new.remark) {
            merged.replace_range(cut(old_remark), new_remark.of(text));
        }
        let value = after.value.span.of(text);
        merged.replace_range(cut(before.value.span), value);
        match (&before.unit, &after.unit) {
            (Some(old_unit), Some(new_unit)) => {
                merged.replace_range(cut(old_unit.span), new_unit.span.of(text));
            }
            (None, Some(new_unit)) => {
                let name_end =
                    (before.column.as_ref().unwrap_or(&before.name).span.end - base) as usize;
                merged.insert_str(name_end, &format!(" [{}]", new_unit.span.of(text)));
            }
            _ => {}
        }
        if let (None, Some(new_remark)) = (old.remark, new.remark) {
            merged.push_str(&format!("  # {}", new_remark.of(text)));
        }
        merged
    }

    /// Adds a statement behind the last one.
    fn add(&mut self, text: &str) -> Edit {
        let id = StatementId(self.statements.len() as u32);
        let heading = self
            .document()
            .blocks()
            .last()
            .and_then(|block| block.heading);
        self.statements.push(StatementRecord {
            part: 0,
            tag: super::Tag::Broken,
            heading: heading.map(|heading| heading as u32),
            span: Span::default(),
            edited: Some(text.trim_end().into()),
            removed: true,
            diagnostics: Vec::new(),
            origin: Origin::Added,
        });
        let text = text.trim_end();
        let mut edit = self.change(id, Some(text.into()), false);
        if let Some(undo) = self.history.last_mut() {
            undo.added = true;
        }
        edit.added = true;
        edit
    }

    /// Removes what a name stands for; the cells that still use it are left waiting.
    pub fn remove(&mut self, name: &str) -> Option<Edit> {
        let id = self.statement_of_name(name)?;
        Some(self.change(id, self.statement(id).edited.clone(), true))
    }

    /// The statement of the notebook itself that defines a name.
    pub fn statement_of_name(&self, name: &str) -> Option<StatementId> {
        match self.names.parts[0].entities.get(name) {
            Some(Entity::Cell(cell)) => Some(self.cell(*cell).statement),
            Some(Entity::Table(columns)) => Some(self.cell(columns.first()?.1).statement),
            None => self.formula_statement(name),
        }
    }

    /// The cells that read what a name stands for.
    pub fn readers(&self, name: &str) -> Vec<CellId> {
        let cells: Vec<CellId> = match self.names.parts[0].entities.get(name) {
            Some(Entity::Cell(cell)) => vec![*cell],
            Some(Entity::Table(columns)) => columns.iter().map(|(_, cell)| *cell).collect(),
            None => return self.callers(name),
        };
        let mut readers: Vec<CellId> = cells
            .iter()
            .flat_map(|cell| self.cell(*cell).used_by.iter().copied())
            .collect();
        readers.sort();
        readers.dedup();
        readers
    }

    fn callers(&self, formula: &str) -> Vec<CellId> {
        let calls = |cell: &super::Cell| {
            cell.formulas
                .iter()
                .any(|one| one.definition.name() == formula && one.definition.document.is_some())
        };
        self.cells()
            .filter(|(_, cell)| calls(cell))
            .map(|(id, _)| id)
            .collect()
    }

    /// Takes the last edit back.
    pub fn undo(&mut self) -> Option<Edit> {
        let undo = self.history.pop()?;
        let removed = undo.removed || undo.added;
        let edit = self.change(undo.statement, undo.edited, removed);
        self.history.pop();
        Some(edit)
    }

    /// Whether there is something to take back.
    pub fn can_undo(&self) -> bool {
        !self.history.is_empty()
    }

    /// Gives a statement another text, or takes it away, and works out what moves.
    fn change(&mut self, id: StatementId, edited: Option<Rc<str>>, removed: bool) -> Edit {
        let before = self.statement(id);
        let was_removed = before.removed;
        let undo = Undo {
            statement: id,
            edited: before.edited.clone(),
            removed: was_removed,
            added: false,
        };
        self.history.push(undo);
        let mut wave = Wave::default();
        if !was_removed {
            self.withdraw(id, &mut wave);
        }
        let record = &mut self.statements[id.0 as usize];
        record.edited = edited;
        record.removed = removed;
        record.diagnostics.clear();
        let mut trees = FxHashMap::default();
        if !removed {
            let tree = self.tree(id);
            let record = &mut self.statements[id.0 as usize];
            record.tag = tag_of(&tree.kind);
            record.diagnostics = tree.diagnostics.clone();
            self.establish(id, &tree, &mut wave);
            trees.insert(id, Rc::new(tree));
        }
        let ripple = self.run_wave(wave, trees);
        Edit {
            statement: id,
            added: false,
            ripple,
        }
    }

    /// The whole text as it would be saved.
    pub fn text(&self) -> String {
        let document = self.document();
        let original = document.text();
        let mut text = String::with_capacity(original.len() + 256);
        let mut at = 0;
        let mut added: Vec<&str> = Vec::new();
        for record in self.statements.iter().filter(|record| record.part == 0) {
            match record.origin {
                Origin::Handbook(_) => {}
                Origin::Added => {
                    if let (false, Some(own)) = (record.removed, &record.edited) {
                        added.push(own);
                    }
                }
                Origin::Document { .. } => {
                    let span = record.span;
                    match (&record.edited, record.removed) {
                        (None, false) => {}
                        (Some(own), false) => {
                            text.push_str(&original[at..span.start as usize]);
                            text.push_str(own);
                            at = span.end as usize;
                        }
                        (_, true) => {
                            let (start, end) = whole_lines(original, span);
                            text.push_str(&original[at..start.max(at)]);
                            at = end;
                        }
                    }
                }
            }
        }
        let rest = &original[at..];
        if added.is_empty() {
            text.push_str(rest);
            return text;
        }
        let (offset, _) = document.insertion("");
        let insertion = added.join("\n");
        let (_, inserted) = document.insertion(&insertion);
        let offset = offset.max(at);
        text.push_str(&original[at..offset]);
        text.push_str(&inserted);
        text.push_str(&original[offset..]);
        text
    }

    /// Whether its text differs from the document as opened.
    pub fn is_edited(&self) -> bool {
        self.statements
            .iter()
            .filter(|record| record.part == 0)
            .any(|record| match record.origin {
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
