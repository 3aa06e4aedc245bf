//! Changing a notebook: a cell set, added or removed, and taken back. Each edit touches the text
//! of one statement, and costs the cone it moves.

use super::Notebook;
use super::cell::Role;
use super::names::Entity;
use super::open::tag_of;
use super::recheck::Wave;
use super::rivals::table_name;
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
        let full = format!("{}.{}", prefix.text, column.text);
        let known = names.entities.get(full.as_str());
        let swept = known.is_some_and(|known| match known {
            Entity::Cell(known) => matches!(self.cell(*known).role, Role::StudyColumn(_)),
            Entity::Table(_) => false,
        });
        swept.then(|| {
            let message = format!("{full} is a column of a sweep");
            Diagnostic::error(Code::Duplicate, prefix.span.to(column.span), message)
                .label("worked out point by point")
                .expected("another name, or another `show` in the sweep")
        })
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
                        let column = matches!(record.role, Role::Column(_) | Role::StudyColumn(_));
                        (!column).then_some(record.statement)
                    }
                    Entity::Table(_) => None,
                }
            }
            kind @ (StatementKind::Table(_) | StatementKind::Sweep(_)) => {
                match names.entities.get(&table_name(kind)?.text)? {
                    Entity::Table(columns) => Some(self.cell(columns.first()?.1).statement),
                    Entity::Cell(_) => None,
                }
            }
            StatementKind::Formula(formula) => self.formula_statement(&formula.name.text),
            StatementKind::Unit(unit) => {
                let names = unit.names.iter();
                names
                    .into_iter()
                    .find_map(|name| self.unit_statement(&name.text))
            }
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
        edit.added = true;
        edit
    }

    /// Removes what a name stands for; the cells that still use it are left waiting.
    pub fn remove(&mut self, name: &str) -> Option<Edit> {
        let id = self.statement_of_name(name)?;
        Some(self.remove_statement(id))
    }

    /// Removes a statement; the cells that still use what it defines are left waiting.
    pub fn remove_statement(&mut self, id: StatementId) -> Edit {
        self.change(id, self.statement(id).edited.clone(), true)
    }

    /// The statement of the notebook itself that says the same as this text, the last if there are
    /// several: how one without a name is reached.
    pub fn statement_like(&self, text: &str) -> Option<StatementId> {
        let wanted = syntax::print_statement(&syntax::parse_entry(text), text);
        self.own_statements().rev().find(|id| {
            let text = self.text_of(*id);
            syntax::print_statement(&self.tree(*id), text) == wanted
        })
    }

    /// The statements of the notebook itself that stand.
    pub fn own_statements(&self) -> impl DoubleEndedIterator<Item = StatementId> {
        (0..self.statements.len() as u32)
            .map(StatementId)
            .filter(|id| {
                let record = self.statement(*id);
                record.part == 0 && !record.removed && !record.is_handbook()
            })
    }

    /// The statement of the notebook itself that defines a name.
    pub fn statement_of_name(&self, name: &str) -> Option<StatementId> {
        match self.names.parts[0].entities.get(name) {
            Some(Entity::Cell(cell)) => Some(self.cell(*cell).statement),
            Some(Entity::Table(columns)) => Some(self.cell(columns.first()?.1).statement),
            None => self
                .formula_statement(name)
                .or_else(|| self.unit_statement(name)),
        }
    }

    fn unit_statement(&self, name: &str) -> Option<StatementId> {
        self.own_statements().find(|id| {
            self.statement(*id).tag == super::Tag::Unit
                && matches!(self.tree(*id).kind, StatementKind::Unit(unit) if unit.names.iter().any(|one| &*one.text == name))
        })
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

    /// Changes a statement as a step that can be taken back.
    fn change(&mut self, id: StatementId, edited: Option<Rc<str>>, removed: bool) -> Edit {
        let back = self.step_back(id);
        let ripple = self.put(id, edited, removed);
        self.history.push(back);
        self.undone.clear();
        Edit {
            statement: id,
            added: false,
            ripple,
        }
    }

    /// Gives a statement another text, or takes it away, and works out what moves.
    pub(super) fn put(
        &mut self,
        id: StatementId,
        edited: Option<Rc<str>>,
        removed: bool,
    ) -> Ripple {
        let mut wave = Wave::default();
        if !self.statement(id).removed {
            let rivals = self.rivals_of(id);
            self.withdraw(id, &mut wave);
            self.settle_rivals(&rivals, &mut wave);
        }
        let record = &mut self.statements[id.0 as usize];
        record.edited = edited;
        record.removed = removed;
        record.diagnostics.clear();
        let mut trees = FxHashMap::default();
        if removed {
            for cell in self.cells_of(id) {
                self.retire(cell);
            }
        } else {
            let tree = self.tree(id);
            let record = &mut self.statements[id.0 as usize];
            record.tag = tag_of(&tree.kind);
            record.diagnostics = tree.diagnostics.clone();
            self.establish(id, &tree, &mut wave);
            trees.insert(id, Rc::new(tree));
        }
        self.run_wave(wave, trees)
    }
}
