//! What an edit sets going: names come and go, cells are checked again where a type or a name
//! changed, and stale values are worked out.

use super::Notebook;
use super::before::Before;
use super::cell::{CellState, Role};
use super::edit::Ripple;
use super::names::Entity;
use super::rivals::{defined_names, table_name};
use super::statement::{StatementId, Tag};
use crate::check::{CellId, Type};
use crate::exact::Value;
use crate::source::Severity;
use crate::syntax::{Statement, StatementKind};
use rustc_hash::{FxHashMap, FxHashSet};
use std::rc::Rc;

/// What an edit touches before anything is worked out.
#[derive(Debug, Default)]
pub(super) struct Wave {
    /// Cells of the statement that was edited.
    pub(super) own: Vec<CellId>,
    /// Cells that have to be checked again.
    pub(super) recheck: Vec<CellId>,
    /// Everything has to be checked again: units or used documents changed.
    all: bool,
    /// Inputs of the statement as they were typed before.
    pub(super) typed: Vec<(CellId, super::Shown)>,
}

impl Wave {
    /// Only these cells are new.
    pub(super) fn of(own: Vec<CellId>) -> Wave {
        Wave {
            own,
            ..Wave::default()
        }
    }
}

impl Notebook {
    /// Takes away what a statement defines; its cells stay in the arrays, nameless and broken,
    /// until it is established again.
    pub(super) fn withdraw(&mut self, id: StatementId, wave: &mut Wave) {
        let part = self.statement(id).part;
        let cells: Vec<CellId> = self.cells_of(id);
        self.typed_sources
            .retain(|place, _| place.statement != id.0);
        let typed = cells
            .iter()
            .filter(|cell| self.cell(**cell).role == Role::Given);
        wave.typed = typed.map(|cell| (*cell, self.shown(*cell, None))).collect();
        for cell in &cells {
            let name = self.cell(*cell).name.clone();
            let names = &mut self.names.parts[usize::from(part)];
            if matches!(names.entities.get(&name), Some(Entity::Cell(known)) if known == cell) {
                names.entities.remove(&name);
            }
            if names.handbook.contains_key(&name) {
                *self.cache.get_mut() = Default::default();
            }
            wave.recheck
                .extend_from_slice(&self.cell(*cell).used_by.clone());
        }
        match &self.tree(id).kind {
            kind @ (StatementKind::Table(_) | StatementKind::Sweep(_)) => {
                let Some(name) = table_name(kind) else { return };
                let entities = &mut self.names.parts[usize::from(part)].entities;
                let own = |entity: &Entity| match entity {
                    Entity::Table(columns) => columns.iter().all(|(_, cell)| cells.contains(cell)),
                    Entity::Cell(_) => false,
                };
                if entities.get(&name.text).is_some_and(own) {
                    entities.remove(&name.text);
                }
            }
            StatementKind::Formula(formula) => {
                self.withdraw_formula(part, &formula.name.text, wave)
            }
            // A unit that was refused its name defined nothing.
            StatementKind::Unit(_) if self.has_own_error(id) => wave.all = true,
            StatementKind::Unit(unit) => {
                for name in &unit.names {
                    self.registry.get_mut().remove_definition(&name.text);
                }
                wave.all = true;
            }
            StatementKind::Use(_) => {
                if let Some(used) = self.used.remove(&id) {
                    let names = &mut self.names.parts[usize::from(part)];
                    names.prefixes.retain(|_, part| *part != used);
                    names.merged.retain(|part| *part != used);
                }
                wave.all = true;
            }
            StatementKind::Default(_) => wave.all = true,
            _ => {}
        }
    }

    /// Whether a statement carries an error in its writing or its names.
    fn has_own_error(&self, id: StatementId) -> bool {
        let found = &self.statement(id).diagnostics;
        found.iter().any(|one| one.severity == Severity::Error)
    }

    fn withdraw_formula(&mut self, part: u16, name: &str, wave: &mut Wave) {
        let removed = self.names.parts[usize::from(part)].formulas.remove(name);
        if let Some(removed) = removed {
            self.formulas.retain(|formula| formula.id != removed.id);
            let calls = |cell: &super::Cell| {
                cell.formulas
                    .iter()
                    .any(|one| one.definition.id == removed.id)
            };
            wave.recheck.extend(
                self.cells()
                    .filter(|(_, cell)| calls(cell))
                    .map(|(id, _)| id),
            );
        }
    }

    /// The cells of a statement.
    pub fn cells_of(&self, id: StatementId) -> Vec<CellId> {
        // Cells of one statement were made together.
        let first = self.cells.iter().position(|cell| cell.statement == id);
        let Some(first) = first else {
            return Vec::new();
        };
        (first..self.cells.len())
            .take_while(|index| self.cells[*index].statement == id)
            .map(|index| CellId(index as u32))
            .collect()
    }

    /// Enters what a statement defines; a cell that was there before keeps its number.
    pub(super) fn establish(&mut self, id: StatementId, tree: &Statement, wave: &mut Wave) {
        let part = self.statement(id).part;
        let old = self.cells_of(id);
        let before = self.cells.len();
        match (&tree.kind, &old[..]) {
            (StatementKind::Cell(cell), [one]) if cell.column.is_none() => {
                self.reuse_cell(*one, &cell.name.text, (id, part), tree);
            }
            (StatementKind::Check(_), [_]) => {}
            _ => {
                for cell in &old {
                    self.retire(*cell);
                }
                match &tree.kind {
                    StatementKind::Unit(unit) => {
                        wave.all = true;
                        self.define_unit(id, unit);
                    }
                    StatementKind::Default(cell) => {
                        wave.all = true;
                        self.define_default(id, cell);
                    }
                    StatementKind::Use(used) => {
                        wave.all = true;
                        self.bring_in(id, used);
                    }
                    _ => {}
                }
                self.define(id, tree);
            }
        }
        self.require(part, tree);
        if self.cells.len() == before {
            wave.own = old;
        } else {
            wave.own = (before as u32..self.cells.len() as u32)
                .map(CellId)
                .collect();
        }
        self.wake_missed(part, tree, wave);
    }

    fn reuse_cell(
        &mut self,
        cell: CellId,
        name: &str,
        (id, part): (StatementId, u16),
        tree: &Statement,
    ) {
        let entities = &mut self.names.parts[usize::from(part)].entities;
        if entities.contains_key(name) {
            // The name is taken by another statement now.
            self.retire(cell);
            self.define(id, tree);
            return;
        }
        entities.insert(name.into(), Entity::Cell(cell));
        let record = &mut self.cells[cell.0 as usize];
        record.name = name.into();
        record.role = Role::WorkedOut;
        record.state = CellState::Unchecked;
    }

    /// A cell that no statement stands for any more.
    pub(super) fn retire(&mut self, cell: CellId) {
        self.set_uses(cell, Vec::new());
        let record = &mut self.cells[cell.0 as usize];
        record.statement = StatementId(u32::MAX);
        record.name = "".into();
        record.state = CellState::Failed;
        (record.plan, record.ty) = (None, None);
        record.formulas.clear();
        self.values[cell.0 as usize] = Value::Gap;
        self.messages.remove(&cell);
        self.claims.remove(&cell);
    }

    /// Cells that looked for a name in vain, or found a default under it, look again.
    fn wake_missed(&mut self, part: u16, tree: &Statement, wave: &mut Wave) {
        let defined = defined_names(&tree.kind);
        for name in defined {
            let names = &mut self.names.parts[usize::from(part)];
            if let Some(cells) = names.missed.remove(&name) {
                wave.recheck.extend(cells);
            }
            if let Some(Entity::Cell(default)) = names.handbook.get(&name) {
                wave.recheck
                    .extend_from_slice(&self.cells[default.0 as usize].used_by);
                // Formulas that were read with the default have to be read again.
                *self.cache.get_mut() = Default::default();
            }
        }
    }

    /// Checks and works out what an edit set going, and tells what moved.
    pub(super) fn run_wave(
        &mut self,
        wave: Wave,
        mut trees: FxHashMap<StatementId, Rc<Statement>>,
    ) -> Ripple {
        let mut before = Before::default();
        let mut pending: Vec<CellId> = wave.own.iter().chain(&wave.recheck).copied().collect();
        if wave.all {
            pending = (0..self.cells.len() as u32).map(CellId).collect();
            *self.cache.get_mut() = Default::default();
        }
        let mut touched: Vec<CellId> = Vec::new();
        let mut seen: FxHashSet<CellId> = FxHashSet::default();
        while !pending.is_empty() {
            let round: Vec<CellId> = pending
                .drain(..)
                .filter(|cell| {
                    seen.insert(*cell) && self.cell(*cell).statement != StatementId(u32::MAX)
                })
                .collect();
            let types: Vec<(CellId, Option<Rc<Type>>)> = round
                .iter()
                .map(|cell| (*cell, self.cell(*cell).ty.clone()))
                .collect();
            for cell in &round {
                before.note(self, *cell);
                self.cells[cell.0 as usize].state = CellState::Unchecked;
            }
            self.check_cells(round.clone(), &mut trees);
            for (cell, ty) in types {
                if self.cell(cell).ty != ty {
                    pending.extend_from_slice(&self.cell(cell).used_by);
                }
            }
            touched.extend(round);
        }
        touched.extend(self.widen_scenarios());
        self.raise_levels(&touched);
        if !self.claims.is_empty() || !self.claim_errors.is_empty() {
            self.settle_claims();
        }
        self.stale.extend(touched.iter().copied());
        self.recompute_noting(&mut before);
        let mut ripple = before.ripple(self, &wave.own);
        for moved in &mut ripple.moved {
            let typed = wave.typed.iter().find(|(cell, _)| *cell == moved.cell);
            if let (Some((_, typed)), true) = (typed, moved.was.is_some()) {
                moved.was = Some(typed.clone());
            }
        }
        ripple
    }

    /// Whether a statement is one of the notebook's own checks.
    pub fn is_check(&self, id: StatementId) -> bool {
        self.statement(id).tag == Tag::Check
    }
}
