//! The names of a notebook, and in a few words what each stands for.

use super::Notebook;
use super::names::Entity;
use crate::check::{CellId, Kind, State};
use crate::library::EntryKind;

impl Notebook {
    /// The names that the notebook itself defines: cells, tables, formulas.
    pub fn own_names(&self) -> Vec<String> {
        let names = &self.names.parts[0];
        let entities = names.entities.keys().map(|name| name.to_string());
        let formulas = names.formulas.keys().map(|name| name.to_string());
        let mut all: Vec<String> = entities.chain(formulas).collect();
        all.sort();
        all
    }

    /// Every cell that a line may name, the columns of tables, used cells and the defaults of the
    /// handbook included.
    pub fn cell_names(&self) -> Vec<String> {
        let names = &self.names.parts[0];
        let named = names.entities.iter().chain(&names.handbook);
        let cells = named.filter(|(_, entity)| matches!(entity, Entity::Cell(_)));
        let mut all: Vec<String> = cells.map(|(name, _)| name.to_string()).collect();
        let entries = self.library.entries().iter();
        let defaults = entries.filter(|entry| entry.kind == EntryKind::Default);
        all.extend(defaults.map(|entry| entry.name.to_owned()));
        for (prefix, part) in &self.names.parts[0].prefixes {
            let Some(used) = self.names.parts.get(usize::from(*part)) else {
                continue;
            };
            let cells = used
                .entities
                .iter()
                .filter(|(_, entity)| matches!(entity, Entity::Cell(_)));
            all.extend(cells.map(|(name, _)| format!("{prefix}.{name}")));
        }
        all.sort();
        all.dedup();
        all
    }

    /// What kind of value a cell has: “a volume”, “a gauge pressure”, “a switch”; nothing where
    /// that is not known.
    pub fn kind_words(&self, cell: CellId) -> Option<String> {
        let ty = self.cell(cell).ty.as_deref()?;
        let one = match &ty.kind {
            Kind::Switch => "a switch".to_owned(),
            Kind::Text => "text".to_owned(),
            Kind::Quantity(quantity) => match &quantity.state {
                State::Is(reference) => reference.row().noun.to_owned(),
                _ => {
                    let registry = self.registry();
                    registry.dimension_name(&registry.dimension(&quantity.unit))
                }
            },
        };
        Some(if ty.column {
            format!("a column: {one}")
        } else {
            one
        })
    }
}
