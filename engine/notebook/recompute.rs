//! Working cells out, level by level; a cell whose value came out unchanged stops the wave.

use super::Notebook;
use super::before::Before;
use super::cell::{CellState, Role};
use super::world::Around;
use crate::check::CellId;
use crate::exact::{self, Mishap, Outcome, Value};
use crate::plan::Plan;
use crate::source::{Diagnostic, Severity};
use rustc_hash::FxHashSet;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

impl Notebook {
    /// Works every cell out.
    pub(super) fn recompute_all(&mut self) {
        let mut order: Vec<CellId> = (0..self.cells.len() as u32).map(CellId).collect();
        order.sort_by_key(|cell| self.cells[cell.0 as usize].level);
        self.ran.clear();
        self.stale.clear();
        self.followed.get_mut().clear();
        for cell in order {
            self.work_out(cell);
        }
    }

    /// Works out what is stale and what changes because of it, noting each value before it moves.
    pub(super) fn recompute_noting(&mut self, before: &mut Before) {
        self.ran.clear();
        self.followed.get_mut().clear();
        self.sources.begin();
        let stale: Vec<CellId> = self.stale.drain().collect();
        let mut queue: BinaryHeap<Reverse<(u32, CellId)>> = BinaryHeap::with_capacity(stale.len());
        let mut queued: FxHashSet<CellId> = stale.iter().copied().collect();
        queue.extend(
            stale
                .into_iter()
                .map(|cell| Reverse((self.cells[cell.0 as usize].level, cell))),
        );
        while let Some(Reverse((_, cell))) = queue.pop() {
            queued.remove(&cell);
            before.note(self, cell);
            if self.work_out(cell) {
                for index in 0..self.cells[cell.0 as usize].used_by.len() {
                    let reader = self.cells[cell.0 as usize].used_by[index];
                    if queued.insert(reader) {
                        queue.push(Reverse((self.cells[reader.0 as usize].level, reader)));
                    }
                }
            }
        }
    }

    /// Works one cell out; tells whether its value changed.
    fn work_out(&mut self, cell: CellId) -> bool {
        let index = cell.0 as usize;
        self.ran.push(cell);
        let claimed_twice = self.claim_errors.contains_key(&cell);
        let plan = self.cells[index].plan.clone().filter(|_| !claimed_twice);
        let Some(plan) = plan else {
            let waits = Value::failed(Mishap::Waits(cell), u32::MAX);
            let record = &mut self.cells[index];
            record.cautions.clear();
            if claimed_twice {
                record.state = CellState::Failed;
            }
            self.clear_run_messages(cell);
            return self.keep(cell, waits);
        };
        let mut outcome = {
            let world = Around {
                cells: &self.cells,
                values: &self.values,
            };
            exact::run(&plan, &world, &mut self.sources)
        };
        self.fit_table(cell, &plan, &mut outcome.value);
        let (value, state, mut messages) = match outcome.value.failure() {
            None => self.rows_settled(cell, &plan, &outcome),
            Some(failure) => {
                let broken = Value::failed(Mishap::Waits(cell), u32::MAX);
                match failure.mishap {
                    Mishap::Waits(other) => (broken, CellState::Waits(other), Vec::new()),
                    _ => {
                        let message = self.explain(cell, &plan, failure, &outcome);
                        (broken, CellState::Failed, vec![message])
                    }
                }
            }
        };
        let value = settled_rows(cell, value);
        if state == CellState::Ok {
            messages.extend(self.remarks(cell, &plan, &outcome));
        }
        self.cells[index].cautions = outcome.cautions;
        self.cells[index].state = state;
        if messages.is_empty() {
            self.clear_run_messages(cell);
        } else {
            self.messages.entry(cell).or_default().run = messages;
        }
        self.keep(cell, value)
    }

    /// A value of which single rows may have failed: they say so, and the others stand.
    fn rows_settled(
        &self,
        cell: CellId,
        plan: &Plan,
        outcome: &Outcome,
    ) -> (Value, CellState, Vec<Diagnostic>) {
        let value = &outcome.value;
        let said = self.broken_row(cell, plan, outcome);
        let study = matches!(self.cell(cell).role, Role::Study | Role::StudyColumn(_));
        let rows = match value {
            Value::Column(rows) if !study => rows,
            _ => return (value.clone(), CellState::Ok, said.into_iter().collect()),
        };
        let failed = |row: &&Value| row.failure().is_some();
        let Some(first) = rows.iter().find_map(Value::failure) else {
            return (value.clone(), CellState::Ok, Vec::new());
        };
        let waits = match (first.mishap.clone(), &said) {
            (Mishap::Waits(other), None) => Some(other),
            _ => None,
        };
        let mut messages: Vec<Diagnostic> = said.into_iter().collect();
        if let Some(other) = waits
            && self.cell(other).state != CellState::Ok
        {
            messages.push(self.waits_message(plan.place(first.site), other));
        }
        let broken = Value::failed(Mishap::Waits(cell), u32::MAX);
        if rows.iter().filter(failed).count() == rows.len() {
            let state = waits.map_or(CellState::Failed, CellState::Waits);
            return (broken, state, messages);
        }
        let kept = rows.iter().map(|row| match failed(&row) {
            true => broken.clone(),
            false => row.clone(),
        });
        (Value::column(kept.collect()), CellState::Ok, messages)
    }

    /// A column added to a table has as many rows as the table; a single value stands in each.
    fn fit_table(&self, cell: CellId, plan: &Plan, value: &mut Value) {
        let record = self.cell(cell);
        if record.role != Role::ComputedColumn || value.failure().is_some() {
            return;
        }
        let Some(key) = self.key_column(&record.name, record.part) else {
            return;
        };
        let Value::Column(keys) = self.value(key) else {
            return;
        };
        let rows = keys.len();
        let fitted = match &*value {
            Value::Column(own) if own.len() == rows => return,
            Value::Column(own) => {
                let step = plan.steps.get(plan.result as usize);
                let site = step.map_or(0, |step| step.site);
                Value::failed(Mishap::Lengths(own.len(), rows), site)
            }
            single => Value::column(vec![single.clone(); rows]),
        };
        *value = fitted;
    }

    fn clear_run_messages(&mut self, cell: CellId) {
        if let Some(messages) = self.messages.get_mut(&cell) {
            messages.run.clear();
            if messages.check.is_empty() {
                self.messages.remove(&cell);
            }
        }
    }

    /// Keeps a value; tells whether it differs from the one before, or its sources do.
    fn keep(&mut self, cell: CellId, value: Value) -> bool {
        let old = &mut self.values[cell.0 as usize];
        let same = *old == value && !touches_changed(&value, &self.sources);
        *old = value;
        !same
    }

    /// All messages of a cell, the mistakes first in the order they were found.
    pub fn messages(&self, cell: CellId) -> Vec<Diagnostic> {
        let own = self.messages.get(&cell);
        let check = own
            .map(|messages| messages.check.as_slice())
            .unwrap_or_default();
        let run = own
            .map(|messages| messages.run.as_slice())
            .unwrap_or_default();
        let claims = self
            .claim_errors
            .get(&cell)
            .map(Vec::as_slice)
            .unwrap_or_default();
        check
            .iter()
            .chain(claims)
            .chain(run)
            .map(|diagnostic| self.completed(cell, diagnostic))
            .chain(self.roughness(cell))
            .collect()
    }

    /// Whether a cell carries an error itself.
    pub fn has_error(&self, cell: CellId) -> bool {
        let own = self.messages.get(&cell);
        let mut all = own
            .into_iter()
            .flat_map(|messages| messages.check.iter().chain(&messages.run));
        self.claim_errors.contains_key(&cell) || all.any(|one| one.severity == Severity::Error)
    }
}

/// A column in which some rows have no value: the others keep theirs, and whoever reads one of
/// these waits for this cell, since the mistake is explained here.
fn settled_rows(cell: CellId, value: Value) -> Value {
    match &value {
        Value::Column(rows) if rows.iter().any(|row| row.failure().is_some()) => {
            let settled = |row: &Value| match row.failure() {
                Some(_) => Value::failed(Mishap::Waits(cell), u32::MAX),
                None => row.clone(),
            };
            Value::column(rows.iter().map(settled).collect())
        }
        _ => value,
    }
}

fn touches_changed(value: &Value, sources: &exact::Sources) -> bool {
    match value {
        Value::Uncertain(uncertain) => uncertain
            .terms
            .iter()
            .any(|(id, _)| sources.has_changed(*id)),
        Value::Column(items) => items.iter().any(|item| touches_changed(item, sources)),
        Value::Doubtful(_) => sources.any_changed(),
        _ => false,
    }
}
