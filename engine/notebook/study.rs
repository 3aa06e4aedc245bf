//! Studies: sweeps and plots as cells. The study itself holds a column of columns; a named sweep
//! has a cell for each, so that other cells can use them.

use super::Notebook;
use super::cell::{CellState, Role};
use super::names::Entity;
use super::statement::StatementId;
use super::world::reach;
use crate::check::{CellId, Node, NodeKind, Type};
use crate::exact::Value;
use crate::plan;
use crate::source::Span;
use crate::syntax::{self, Expr, ExprKind};
use std::rc::Rc;

/// What a study is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum StudyKind {
    /// A sweep, with so many axes.
    Sweep(usize),
    /// Curves against one axis.
    Plot,
    /// What makes up the ± of a cell.
    Budget,
    /// Trials of a cell.
    Spread,
}

/// A study's columns: its axes first.
#[derive(Clone, Debug)]
pub struct Study {
    /// What it is.
    pub kind: StudyKind,
    /// Its name, if it has one.
    pub name: Option<Box<str>>,
    /// What each column is called.
    pub labels: Vec<String>,
    /// What each column holds; empty while the study is broken.
    pub types: Vec<Type>,
}

impl Study {
    /// How many of its columns are axes.
    pub fn axes(&self) -> usize {
        match self.kind {
            StudyKind::Sweep(axes) => axes,
            StudyKind::Plot => 1,
            StudyKind::Budget | StudyKind::Spread => 0,
        }
    }
}

impl Notebook {
    /// The studies of the notebook, in the order of its statements.
    pub fn studies(&self) -> Vec<(CellId, &Study)> {
        let mut all: Vec<(CellId, &Study)> = self
            .studies
            .iter()
            .map(|(cell, study)| (*cell, study))
            .collect();
        all.retain(|(cell, _)| self.cell(*cell).statement != StatementId(u32::MAX));
        all.sort_by_key(|(cell, _)| (self.cell(*cell).statement, *cell));
        all
    }

    /// What a study is; nothing for any other cell.
    pub fn study(&self, cell: CellId) -> Option<&Study> {
        self.studies.get(&cell)
    }

    /// The columns of a study, axes first; nothing while it has no value.
    pub fn study_columns(&self, cell: CellId) -> Option<Vec<Rc<[Value]>>> {
        let Value::Column(columns) = self.value(cell) else {
            return None;
        };
        columns
            .iter()
            .map(|column| match column {
                Value::Column(rows) => Some(rows.clone()),
                _ => None,
            })
            .collect()
    }

    /// How many rows a study has that is too long to be kept.
    pub fn study_length(&self, cell: CellId) -> Option<usize> {
        let Value::Column(columns) = self.value(cell) else {
            return None;
        };
        columns.iter().find_map(|column| match column {
            Value::Streamed(streamed) => Some(streamed.stream.rows()),
            _ => None,
        })
    }

    pub(super) fn define_sweep(&mut self, id: StatementId, part: u16, sweep: &syntax::Sweep) {
        let text = self.text_of(id).to_owned();
        let mut labels: Vec<String> = sweep
            .axes
            .iter()
            .map(|axis| axis.cell.span.of(&text).to_owned())
            .collect();
        labels.extend(sweep.show.iter().map(|show| show.span.of(&text).to_owned()));
        let study = self.new_cell("", id, part, Role::Study);
        let kind = StudyKind::Sweep(sweep.axes.len());
        let name = sweep.name.as_ref().map(|name| name.text.clone());
        self.studies.insert(
            study,
            Study {
                kind,
                name,
                labels,
                types: Vec::new(),
            },
        );
        let Some(name) = &sweep.name else { return };
        let names = &self.names.parts[usize::from(part)];
        let taken = names.entities.contains_key(&name.text);
        let mut columns: Vec<(Box<str>, CellId)> = Vec::new();
        for (number, column) in sweep_columns(sweep).into_iter().enumerate() {
            let Some(column) = column else { continue };
            let full = format!("{}.{column}", name.text);
            let cell = self.new_cell(&full, id, part, Role::StudyColumn(number as u16));
            // Whoever has the name has the columns: one message is enough.
            if !taken {
                self.enter(part, &full, Entity::Cell(cell), (id, name.span));
            }
            columns.push((column, cell));
        }
        self.enter(part, &name.text, Entity::Table(columns), (id, name.span));
    }

    pub(super) fn define_plot(&mut self, id: StatementId, part: u16, plot: &syntax::Plot) {
        let text = self.text_of(id).to_owned();
        let mut labels = vec![plot.axis.cell.span.of(&text).to_owned()];
        labels.extend(plot.show.iter().map(|show| show.span.of(&text).to_owned()));
        let study = self.new_cell("", id, part, Role::Study);
        self.studies.insert(
            study,
            Study {
                kind: StudyKind::Plot,
                name: None,
                labels,
                types: Vec::new(),
            },
        );
    }

    /// `budget x` and `spread x`: the study's value is the cell's, so that it follows it.
    pub(super) fn define_of_cell(
        &mut self,
        id: StatementId,
        part: u16,
        kind: StudyKind,
        path: &syntax::Path,
    ) {
        let label = path.span.of(self.text_of(id)).to_owned();
        let study = self.new_cell("", id, part, Role::Study);
        self.studies.insert(
            study,
            Study {
                kind,
                name: None,
                labels: vec![label],
                types: Vec::new(),
            },
        );
    }

    /// The cell that a budget or spread is about.
    pub fn study_subject(&self, study: CellId) -> Option<CellId> {
        let kind = self.studies.get(&study)?.kind;
        matches!(kind, StudyKind::Budget | StudyKind::Spread)
            .then(|| self.cell(study).uses.first().copied())
            .flatten()
    }

    /// A column of a study takes its type and its rows from the study.
    pub(super) fn check_study_column(&mut self, cell: CellId, column: u16) -> Option<CellId> {
        let statement = self.cell(cell).statement;
        let study = self
            .cells_of(statement)
            .into_iter()
            .find(|one| self.studies.contains_key(one));
        let Some(study) = study else {
            self.cells[cell.0 as usize].state = CellState::Failed;
            return None;
        };
        if self.cell(study).state == CellState::Unchecked {
            return Some(study);
        }
        self.set_uses(cell, vec![study]);
        let ty = self
            .studies
            .get(&study)
            .and_then(|study| study.types.get(usize::from(column)).cloned());
        let record = &mut self.cells[cell.0 as usize];
        match ty {
            None => {
                record.state = CellState::Waits(study);
                (record.plan, record.ty) = (None, None);
            }
            Some(ty) => {
                let whole = Node {
                    kind: NodeKind::Cell(study),
                    span: Span::default(),
                };
                let kind = NodeKind::Pick(Box::new(whole), usize::from(column));
                let node = Node {
                    kind,
                    span: Span::default(),
                };
                record.plan = Some(Rc::new(plan::compile(&node)));
                record.ty = Some(Rc::new(ty));
                record.state = CellState::Ok;
            }
        }
        None
    }

    pub(super) fn note_scenario(&mut self, cell: CellId, asks: bool) {
        self.scenarios.retain(|one| *one != cell);
        if asks {
            self.scenarios.push(cell);
            self.edges_changed = true;
        }
    }

    /// Cells that ask what values would be rest on all that those values rest on. Gives those
    /// whose edges this changed.
    pub(super) fn widen_scenarios(&mut self) -> Vec<CellId> {
        if !std::mem::take(&mut self.edges_changed) {
            return Vec::new();
        }
        let mut widened = Vec::new();
        for cell in self.scenarios.clone() {
            let Some(plan) = self.cell(cell).plan.clone() else {
                continue;
            };
            let mut named = plan.cells();
            named.extend(plan.overridden());
            let reached = reach(&named, |one| {
                self.cells[one.0 as usize].uses.iter().copied()
            });
            let mut uses: Vec<CellId> = reached.into_iter().filter(|one| *one != cell).collect();
            uses.sort();
            if self.cell(cell).uses != uses {
                self.set_uses(cell, uses);
                widened.push(cell);
            }
        }
        self.edges_changed = false;
        widened
    }
}

/// The names of a sweep's columns, axes first; nothing for one that no cell can ask for.
pub(super) fn sweep_columns(sweep: &syntax::Sweep) -> Vec<Option<Box<str>>> {
    let axes = sweep.axes.iter();
    let axes = axes.map(|axis| axis.cell.names.last().map(|name| name.text.clone()));
    axes.chain(sweep.show.iter().map(column_name)).collect()
}

/// The name by which a shown expression can be used: the last name of a path.
fn column_name(show: &Expr) -> Option<Box<str>> {
    match &show.kind {
        ExprKind::Name(name) => Some(name.clone()),
        ExprKind::Member(_, name) | ExprKind::Keyed(_, _, name) => Some(name.text.clone()),
        ExprKind::In(inner, _) | ExprKind::Bracketed(inner) => column_name(inner),
        _ => None,
    }
}
