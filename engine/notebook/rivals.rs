//! Statements that define the same name: one of them has it, the others are refused it. When one
//! goes, the others are looked at again.

use super::Notebook;
use super::recheck::Wave;
use super::statement::{StatementId, StatementRecord};
use super::study::sweep_columns;
use crate::source::Code;
use crate::syntax::{Name, StatementKind, Sweep};

impl Notebook {
    /// Statements that were refused a name because of this one, or shared it, take it up now.
    pub(super) fn settle_rivals(&mut self, rivals: &[StatementId], wave: &mut Wave) {
        for rival in rivals {
            self.statements[rival.0 as usize]
                .diagnostics
                .retain(|one| one.code != Code::Duplicate);
        }
        let (own, typed) = (
            std::mem::take(&mut wave.own),
            std::mem::take(&mut wave.typed),
        );
        for rival in rivals {
            let tree = self.tree(*rival);
            self.withdraw(*rival, wave);
            self.establish(*rival, &tree, wave);
            wave.recheck.append(&mut wave.own);
        }
        (wave.own, wave.typed) = (own, typed);
    }

    /// The other statements that define a name which this one defines.
    pub(super) fn rivals_of(&self, id: StatementId) -> Vec<StatementId> {
        if self.twice.is_empty() {
            return Vec::new();
        }
        let part = self.statement(id).part;
        let is_twice = |one: &StatementRecord| {
            let found = &one.diagnostics;
            one.part == part && !one.removed && found.iter().any(|one| one.code == Code::Duplicate)
        };
        let own = defined_names(&self.tree(id).kind);
        let mut rivals: Vec<StatementId> = self.twice.iter().copied().collect();
        rivals.retain(|other| {
            *other != id && is_twice(self.statement(*other)) && {
                let names = defined_names(&self.tree(*other).kind);
                names.iter().any(|name| own.contains(name))
            }
        });
        rivals.sort();
        rivals
    }
}

/// The name before the dot of the columns that a statement defines: a table's, a sweep's.
pub(super) fn table_name(kind: &StatementKind) -> Option<&Name> {
    match kind {
        StatementKind::Table(table) => Some(&table.name),
        StatementKind::Sweep(sweep) => sweep.name.as_ref(),
        _ => None,
    }
}

/// The names that a statement defines, a table's columns included.
pub(super) fn defined_names(kind: &StatementKind) -> Vec<Box<str>> {
    let column = |table: &str, column: &str| format!("{table}.{column}").into();
    match kind {
        StatementKind::Cell(cell) => match &cell.column {
            None => vec![cell.name.text.clone()],
            Some(name) => vec![column(&cell.name.text, &name.text)],
        },
        StatementKind::Table(table) => {
            let heads = table.head.iter();
            let columns = heads.map(|head| column(&table.name.text, &head.name.text));
            std::iter::once(table.name.text.clone())
                .chain(columns)
                .collect()
        }
        StatementKind::Sweep(
            sweep @ Sweep {
                name: Some(name), ..
            },
        ) => {
            let columns = sweep_columns(sweep).into_iter().flatten();
            let columns = columns.map(|own| column(&name.text, &own));
            std::iter::once(name.text.clone()).chain(columns).collect()
        }
        StatementKind::Formula(formula) => vec![formula.name.text.clone()],
        StatementKind::Unit(unit) => unit.names.iter().map(|name| name.text.clone()).collect(),
        StatementKind::Broken(Some(name)) => vec![name.text.clone()],
        _ => Vec::new(),
    }
}
