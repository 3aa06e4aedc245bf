//! What help and completion ask of a notebook: words, units, formulas, tables by their names.

use super::Notebook;
use super::names::Entity;
use crate::check::{CellId, FormulaDefinition};
use crate::units::Lookup;
use std::rc::Rc;

impl Notebook {
    /// What a word in unit position means here.
    pub fn unit_word(&self, word: &str) -> Lookup {
        self.registry.borrow_mut().word(word)
    }

    /// The formula of that name: the notebook's own before the handbook's.
    pub fn formula(&self, name: &str) -> Option<Rc<FormulaDefinition>> {
        let own = self.names.parts.first()?.formulas.get(name).cloned();
        own.or_else(|| self.library.formula(name))
    }

    /// The columns of a table of the notebook, or of a named study, by their own names.
    pub fn table_columns(&self, table: &str) -> Option<Vec<(String, CellId)>> {
        let names = self.names.parts.first()?;
        match names.entities.get(table).or(names.handbook.get(table))? {
            Entity::Table(columns) => Some(
                columns
                    .iter()
                    .map(|(name, cell)| (name.to_string(), *cell))
                    .chain(self.computed_columns(table))
                    .collect(),
            ),
            Entity::Cell(_) => None,
        }
    }

    fn computed_columns(&self, table: &str) -> impl Iterator<Item = (String, CellId)> + '_ {
        let before = format!("{table}.");
        let entities = self.names.parts.first().map(|names| &names.entities);
        let cells = entities.into_iter().flatten();
        let mut found: Vec<(String, CellId)> = cells
            .filter_map(|(name, entity)| match entity {
                Entity::Cell(cell) => {
                    let own = name.strip_prefix(&before)?;
                    let computed = self.cell(*cell).role == super::Role::ComputedColumn;
                    computed.then(|| (own.to_owned(), *cell))
                }
                Entity::Table(_) => None,
            })
            .collect();
        found.sort_by_key(|(_, cell)| *cell);
        found.into_iter()
    }
}
