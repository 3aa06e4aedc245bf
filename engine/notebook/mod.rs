//! A document with its cells: what each is called, what it needs, what it is worth, and what is
//! recomputed when one changes. Knows nothing of terminals and files; text comes in and goes out.
//!
//! Cells live in flat arrays and know each other by number. Edges are kept both ways, so that an
//! edit costs the cone it moves, never the size of the notebook.

mod as_typed;
mod asking;
mod before;
mod cell;
mod checking;
mod diagnose;
mod edit;
mod example;
mod follow;
mod history;
mod literal;
mod message;
mod mishap;
mod names;
mod naming;
mod open;
mod order;
mod recheck;
mod recompute;
mod remark;
mod rivals;
mod shown;
mod source_name;
mod statement;
mod stream;
mod study;
mod swept;
mod table_file;
mod text;
mod world;

pub use cell::{Cell, CellState, Role};
pub use diagnose::Worked;
pub use edit::{Edit, Flip, Moved, Ripple};
pub use example::{ExampleOutcome, Tried};
pub use history::Refused;
pub use open::{Files, NoFiles};
pub use shown::{Precision, Shown, ShownKind};
pub use source_name::SourceName;
pub use statement::{StatementId, StatementRecord, Tag};
pub use study::{Study, StudyKind};

use crate::check::{CellId, FormulaCache, FormulaDefinition, OpenLiteral, Place, TypedSource};
use crate::exact::{Followed, Sources, Value};
use crate::library::Library;
use crate::source::{Diagnostic, Document};
use crate::units::Registry;
use names::Names;
use rustc_hash::{FxHashMap, FxHashSet};
use std::cell::{Ref, RefCell};
use std::rc::Rc;

/// A document that takes part: the notebook itself, or one it uses.
#[derive(Debug)]
pub struct Part {
    /// Its path as the reader knows it.
    pub path: Rc<str>,
    /// Its text as opened; edits stand beside it, in the statements.
    pub document: Document,
    /// Messages about reading it.
    pub diagnostics: Vec<Diagnostic>,
}

/// A notebook with its cells worked out.
#[derive(Debug)]
pub struct Notebook {
    library: Rc<Library>,
    /// Units are interned when a line first names them, an expression tried beside the cells too.
    registry: RefCell<Registry>,
    cache: RefCell<FormulaCache>,
    parts: Vec<Part>,
    statements: Vec<StatementRecord>,
    names: Names,
    formulas: Vec<Rc<FormulaDefinition>>,
    cells: Vec<Cell>,
    values: Vec<Value>,
    sources: Sources,
    /// How the sources were typed, by their place.
    typed_sources: FxHashMap<Place, TypedSource>,
    /// Cells whose second order somebody asked for, until something changes.
    followed: RefCell<FxHashMap<CellId, Rc<Followed>>>,
    /// Messages by cell: those of checking, then those of working out.
    messages: FxHashMap<CellId, Messages>,
    /// What each cell takes open values as.
    claims: FxHashMap<CellId, Vec<crate::check::Claim>>,
    /// Cells with an error because of a claim elsewhere.
    claim_errors: FxHashMap<CellId, Vec<Diagnostic>>,
    /// Literals that may be claimed.
    open_literals: FxHashMap<Place, OpenLiteral>,
    /// Cells waiting to be worked out.
    stale: FxHashSet<CellId>,
    /// What the cells of studies are.
    studies: FxHashMap<CellId, Study>,
    /// Cells that ask what values would be with other cells; they rest on more than they name.
    scenarios: Vec<CellId>,
    /// Whether edges changed since those were looked at.
    edges_changed: bool,
    history: Vec<history::Step>,
    undone: Vec<history::Step>,
    /// Where documents come from that a typed line uses.
    files: open::KeptFiles,
    /// Tables that were read from files; nothing for one that could not be.
    file_tables: FxHashMap<StatementId, Option<Rc<table_file::FileTable>>>,
    /// Statements that were found to define a name which another defines.
    twice: FxHashSet<StatementId>,
    /// The parts that `use` statements brought in.
    used: FxHashMap<StatementId, u16>,
    ran: Vec<CellId>,
    next_formula: u32,
}

/// The messages of a cell.
#[derive(Debug, Default)]
struct Messages {
    check: Vec<Diagnostic>,
    run: Vec<Diagnostic>,
}

impl Notebook {
    /// The parts: the notebook itself first.
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// The document of the notebook itself, as opened.
    pub fn document(&self) -> &Document {
        &self.parts[0].document
    }

    /// Its path.
    pub fn path(&self) -> &str {
        &self.parts[0].path
    }

    /// From where documents are read that a typed line uses; without this there are none.
    pub fn keep_files(&mut self, files: Rc<dyn Files>) {
        self.files = open::KeptFiles(files);
    }

    /// Its title.
    pub fn title(&self) -> Option<&str> {
        self.document().title()
    }

    /// All cells, those of the handbook and of used documents included.
    pub fn cells(&self) -> impl Iterator<Item = (CellId, &Cell)> {
        self.cells
            .iter()
            .enumerate()
            .map(|(index, cell)| (CellId(index as u32), cell))
    }

    /// One cell.
    pub fn cell(&self, id: CellId) -> &Cell {
        &self.cells[id.0 as usize]
    }

    /// What a cell is worth.
    pub fn value(&self, id: CellId) -> &Value {
        &self.values[id.0 as usize]
    }

    /// The cell of that name in the notebook itself; a used one behind its prefix.
    pub fn find(&self, name: &str) -> Option<CellId> {
        self.names.find(name)
    }

    /// The units.
    pub fn registry(&self) -> Ref<'_, Registry> {
        self.registry.borrow()
    }

    /// The handbook.
    pub fn library(&self) -> &Rc<Library> {
        &self.library
    }

    /// The sources of uncertainty.
    pub fn sources(&self) -> &Sources {
        &self.sources
    }

    /// The statements of all parts.
    pub fn statements(&self) -> &[StatementRecord] {
        &self.statements
    }

    /// The notebook's own formulas.
    pub fn formulas(&self) -> &[Rc<FormulaDefinition>] {
        &self.formulas
    }

    /// The cells that ran in the last recompute, in order.
    pub fn ran(&self) -> &[CellId] {
        &self.ran
    }
}
