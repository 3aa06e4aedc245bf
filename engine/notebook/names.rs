//! Names of a notebook and of the documents it uses, and how they look from a statement.

use super::Part;
use super::cell::{Cell, CellState};
use super::statement::StatementRecord;
use crate::check::{CellId, FormulaDefinition, Scope, ScopeId, Seen};
use crate::library::{EntryKind, Library};
use crate::source::Document;
use crate::units::Reference;
use rustc_hash::{FxHashMap, FxHashSet};
use std::hash::Hasher;
use std::rc::Rc;

/// What a name stands for.
#[derive(Clone, Debug)]
pub(super) enum Entity {
    Cell(CellId),
    Table(Vec<(Box<str>, CellId)>),
}

/// The names of one document.
#[derive(Debug, Default)]
pub(super) struct PartNames {
    pub(super) entities: FxHashMap<Box<str>, Entity>,
    /// Cells and tables of the handbook, as this document has them.
    pub(super) handbook: FxHashMap<Box<str>, Entity>,
    pub(super) formulas: FxHashMap<Box<str>, Rc<FormulaDefinition>>,
    /// The sounds of all names, for those that differ only in capitals or `_`.
    pub(super) sounds: FxHashSet<u64>,
    /// Documents used under a name.
    pub(super) prefixes: FxHashMap<Box<str>, u16>,
    /// Documents used without one.
    pub(super) merged: Vec<u16>,
    /// Cells that looked for a name which was not there.
    pub(super) missed: FxHashMap<Box<str>, Vec<CellId>>,
}

/// The names of all documents.
#[derive(Debug, Default)]
pub(super) struct Names {
    pub(super) parts: Vec<PartNames>,
    /// The defaults of the handbook by their sound, once they were asked for.
    pub(super) defaults: Option<FxHashMap<u64, &'static str>>,
}

/// A name as a reader hears it: without capitals and `_`, as one number.
pub(super) fn sound_of(name: &str) -> u64 {
    let mut hasher = rustc_hash::FxHasher::default();
    for sign in name.chars().filter(|sign| *sign != '_') {
        for lower in sign.to_lowercase() {
            hasher.write_u32(u32::from(lower));
        }
    }
    hasher.finish()
}

impl Names {
    /// The cell of that name, seen from the notebook itself.
    pub(super) fn find(&self, name: &str) -> Option<CellId> {
        match self.look_up(name, 0, false)? {
            Entity::Cell(cell) => Some(*cell),
            Entity::Table(_) => None,
        }
    }

    /// What a dotted name stands for in a document: its own names first, then those of documents
    /// it uses, then the handbook's.
    pub(super) fn look_up(&self, name: &str, part: u16, handbook: bool) -> Option<&Entity> {
        let names = self.parts.get(usize::from(part))?;
        if handbook {
            // A cell of the document replaces a default for the handbook's formulas too.
            return match names.handbook.get(name) {
                Some(entity) => Some(names.entities.get(name).unwrap_or(entity)),
                None => None,
            };
        }
        if let Some(entity) = names.entities.get(name) {
            return Some(entity);
        }
        if let Some((prefix, rest)) = name.split_once('.')
            && let Some(used) = names.prefixes.get(prefix)
        {
            return self.parts.get(usize::from(*used))?.entities.get(rest);
        }
        for used in &names.merged {
            if let Some(entity) = self
                .parts
                .get(usize::from(*used))
                .and_then(|names| names.entities.get(name))
            {
                return Some(entity);
            }
        }
        names.handbook.get(name)
    }
}

/// The notebook as `check` sees it.
pub(super) struct View<'n> {
    pub(super) names: &'n Names,
    pub(super) cells: &'n [Cell],
    pub(super) statements: &'n [StatementRecord],
    pub(super) library: &'n Library,
    pub(super) parts: &'n [Part],
}

impl View<'_> {
    fn seen(&self, id: CellId) -> Seen {
        let cell = &self.cells[id.0 as usize];
        match (cell.state, &cell.ty) {
            (CellState::Unchecked, _) => Seen::Unchecked(id),
            (CellState::Failed | CellState::Waits(_), None) => Seen::Failed(id),
            (_, Some(ty)) => Seen::Known(id, ty.clone()),
            (CellState::Ok, None) => Seen::Failed(id),
        }
    }

    /// How a document defines a default of the handbook, as written.
    fn default_text(&self, name: &str, part: u16) -> String {
        let entity = self.names.look_up(name, part, false);
        let Some(Entity::Cell(cell)) = entity else {
            return String::new();
        };
        let Some(statement) = self.cells.get(cell.0 as usize).map(|cell| cell.statement) else {
            return String::new();
        };
        let Some(record) = self.statements.get(statement.0 as usize) else {
            return String::new();
        };
        let text = match (&record.edited, self.document(record.part)) {
            (Some(text), _) => text,
            (None, _) if record.is_handbook() => return "handbook".to_owned(),
            (None, Some(document)) => record.span.of(document.text()),
            (None, None) => "",
        };
        let value = text.split_once('=').map_or("", |(_, value)| value);
        let value = value.split(" #").next().unwrap_or(value);
        value.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    fn document(&self, part: u16) -> Option<&Document> {
        self.parts.get(usize::from(part)).map(|part| &part.document)
    }
}

impl Scope for View<'_> {
    fn look_up(&self, path: &[&str], from: ScopeId) -> Seen {
        let joined;
        let name = match path {
            [one] => *one,
            several => {
                joined = several.join(".");
                joined.as_str()
            }
        };
        match self.names.look_up(name, from.document, from.handbook) {
            Some(Entity::Cell(id)) => self.seen(*id),
            Some(Entity::Table(columns)) => Seen::Table(columns.clone()),
            None => Seen::Missing,
        }
    }

    fn cell(&self, cell: CellId) -> Seen {
        self.seen(cell)
    }

    fn formula(&self, name: &str, from: ScopeId) -> Option<Rc<FormulaDefinition>> {
        if !from.handbook {
            let names = self.names.parts.get(usize::from(from.document))?;
            if let Some(formula) = names.formulas.get(name) {
                return Some(formula.clone());
            }
            for used in names.merged.iter().chain(names.prefixes.values()) {
                let used = self.names.parts.get(usize::from(*used));
                if let Some(formula) = used.and_then(|names| names.formulas.get(name)) {
                    return Some(formula.clone());
                }
            }
        }
        self.library.formula(name)
    }

    fn cell_names(&self, from: ScopeId) -> Vec<String> {
        let Some(names) = self.names.parts.get(usize::from(from.document)) else {
            return Vec::new();
        };
        let mut all: Vec<String> = names.handbook.keys().map(|name| name.to_string()).collect();
        if !from.handbook {
            all.extend(names.entities.keys().map(|name| name.to_string()));
            let defaults = self
                .library
                .entries()
                .iter()
                .filter(|entry| entry.kind == EntryKind::Default);
            all.extend(defaults.map(|entry| entry.name.to_owned()));
        }
        all.sort();
        all.dedup();
        all
    }

    fn formula_names(&self, from: ScopeId) -> Vec<String> {
        let own = self.names.parts.get(usize::from(from.document));
        let mut all: Vec<String> = own
            .iter()
            .flat_map(|names| names.formulas.keys())
            .map(|name| name.to_string())
            .collect();
        let formulas = self
            .library
            .entries()
            .iter()
            .filter(|entry| entry.kind == EntryKind::Formula);
        all.extend(formulas.map(|entry| entry.name.to_owned()));
        all
    }

    fn other_air(&self, cell: CellId, from: ScopeId, reference: Reference) -> Option<String> {
        let part = self.cells.get(cell.0 as usize)?.part;
        if part == from.document || from.handbook {
            return None;
        }
        let defaults: &[&str] = match reference {
            Reference::Gauge => &["atmosphere"],
            Reference::Free | Reference::Actual => &["atmosphere", "air_temperature"],
            _ => return None,
        };
        let differs =
            |name: &&&str| self.default_text(name, part) != self.default_text(name, from.document);
        let name = defaults.iter().find(differs)?;
        let path = &self.parts.get(usize::from(part))?.path;
        Some(format!("{name} of {path}"))
    }

    fn defined_at(&self, cell: CellId) -> String {
        let record = &self.statements[self.cells[cell.0 as usize].statement.0 as usize];
        if record.is_handbook() {
            return "handbook".to_owned();
        }
        match (record.is_added(), self.document(record.part)) {
            (false, Some(document)) => {
                format!(
                    "line {}",
                    document.line_column(record.span.start as usize).0
                )
            }
            _ => "typed here".to_owned(),
        }
    }

    fn name(&self, cell: CellId) -> &str {
        &self.cells[cell.0 as usize].name
    }
}
