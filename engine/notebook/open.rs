//! From documents to cells with names: every statement is read once and its definitions noted.

use super::cell::{Cell, Role};
use super::message::{
    alike, bare_expression, built_in, default_in_notebook, duplicate, no_currency, no_table_file,
    not_yet, unit_clash, unit_size, unreadable, use_cycle,
};
use super::names::{Entity, Names, PartNames, sound_of};
use super::statement::{Origin, StatementId, StatementRecord, Tag};
use super::study::StudyKind;
use super::table_file::read_table;
use super::{Notebook, Part};
use crate::check::{CellId, Checker, FormulaDefinition, ScopeId};
use crate::exact::{Sources, Value};
use crate::library::{EntryKind, Library};
use crate::source::{Code, Diagnostic, Document, Span};
use crate::syntax::{self, ExprKind, NameKind, NameUse, Statement, StatementKind};
use crate::units::Registry;
use rustc_hash::{FxHashMap, FxHashSet};
use std::cell::RefCell;
use std::rc::Rc;

/// Where documents that are used and tables from files come from. Only the programs touch files.
pub trait Files {
    /// The text at `path`, seen from the document at `beside`, with the path by which the reader
    /// knows it; or why it cannot be read, in words.
    fn read(&self, path: &str, beside: &str) -> Result<(String, Vec<u8>), String>;
}

/// Nothing beside the document.
#[derive(Clone, Copy, Debug, Default)]
pub struct NoFiles;

impl Files for NoFiles {
    fn read(&self, _path: &str, _beside: &str) -> Result<(String, Vec<u8>), String> {
        Err("no files can be read here".to_owned())
    }
}

/// Files that are asked again while a notebook is edited.
pub(super) struct KeptFiles(pub(super) Rc<dyn Files>);

impl std::fmt::Debug for KeptFiles {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("KeptFiles")
    }
}

/// The most documents that may take part.
const MOST_PARTS: usize = 200;

/// Numbers of a notebook's own formulas begin here; those of the handbook are below.
const FIRST_OWN_FORMULA: u32 = 1 << 20;

impl Notebook {
    /// Opens a document and works its cells out.
    pub fn open(
        path: &str,
        document: Document,
        files: &dyn Files,
        library: Rc<Library>,
    ) -> Notebook {
        let mut notebook = Notebook {
            library,
            registry: RefCell::new(Registry::new()),
            cache: Default::default(),
            parts: Vec::new(),
            statements: Vec::new(),
            names: Names::default(),
            formulas: Vec::new(),
            cells: Vec::new(),
            values: Vec::new(),
            sources: Sources::default(),
            typed_sources: FxHashMap::default(),
            followed: Default::default(),
            messages: FxHashMap::default(),
            claims: FxHashMap::default(),
            claim_errors: FxHashMap::default(),
            open_literals: FxHashMap::default(),
            stale: FxHashSet::default(),
            studies: FxHashMap::default(),
            scenarios: Vec::new(),
            edges_changed: false,
            history: Vec::new(),
            undone: Vec::new(),
            files: KeptFiles(Rc::new(NoFiles)),
            file_tables: FxHashMap::default(),
            twice: FxHashSet::default(),
            used: FxHashMap::default(),
            ran: Vec::new(),
            next_formula: FIRST_OWN_FORMULA,
        };
        let mut trees = Vec::new();
        notebook.add_part(
            path,
            document,
            files,
            &mut vec![path.to_owned()],
            &mut trees,
        );
        notebook.define_all(&trees);
        notebook.check_all(trees);
        notebook.recompute_all();
        notebook
    }

    /// An empty notebook, to be typed into.
    pub fn empty(library: Rc<Library>) -> Notebook {
        Notebook::open(
            "new notebook",
            Document::new("```gaugebook\n```\n".to_owned()),
            &NoFiles,
            library,
        )
    }

    /// Reads a document and those it uses.
    fn add_part(
        &mut self,
        path: &str,
        document: Document,
        files: &dyn Files,
        around: &mut Vec<String>,
        trees: &mut Vec<(StatementId, Statement)>,
    ) -> u16 {
        let part = self.parts.len() as u16;
        let blocks: Vec<(Vec<Span>, Option<usize>, bool)> = document
            .blocks()
            .iter()
            .map(|block| (block.lines.clone(), block.heading, block.loose))
            .collect();
        let diagnostics = document.diagnostics().to_vec();
        self.parts.push(Part {
            path: path.into(),
            document,
            diagnostics,
        });
        self.names.parts.push(PartNames::default());
        let first = self.statements.len();
        for (number, (lines, heading, loose)) in blocks.into_iter().enumerate() {
            let text = self.parts[usize::from(part)].document.text();
            let parsed = syntax::parse(text, &lines, loose);
            let mut line = 0;
            for statement in parsed {
                let origin = origin_of(&lines, &mut line, number as u32, statement.span);
                let id = StatementId(self.statements.len() as u32);
                self.statements.push(StatementRecord {
                    part,
                    tag: tag_of(&statement.kind),
                    heading: heading.map(|heading| heading as u32),
                    span: statement.span,
                    edited: None,
                    removed: false,
                    diagnostics: statement.diagnostics.clone(),
                    origin,
                });
                trees.push((id, statement));
            }
        }
        let uses: Vec<(StatementId, syntax::Use)> = trees
            .iter()
            .filter(|(id, _)| id.0 as usize >= first)
            .filter_map(|(id, statement)| match &statement.kind {
                StatementKind::Use(used) => Some((*id, used.clone())),
                _ => None,
            })
            .collect();
        for (id, used) in uses {
            self.use_document(part, id, &used, files, around, trees);
        }
        for (id, statement) in trees.iter_mut() {
            if self.statement(*id).part == part && self.read_file_table(*id, statement, files) {
                statement.kind = self.tree(*id).kind;
            }
        }
        part
    }

    fn use_document(
        &mut self,
        part: u16,
        id: StatementId,
        used: &syntax::Use,
        files: &dyn Files,
        around: &mut Vec<String>,
        trees: &mut Vec<(StatementId, Statement)>,
    ) {
        let span = used.path.span;
        let beside = self.parts[usize::from(part)].path.to_string();
        let (path, bytes) = match files.read(&used.path.value, &beside) {
            Ok(read) => read,
            Err(why) => return self.report(id, unreadable(span, &used.path.value, &why)),
        };
        if let Some(at) = around.iter().position(|one| *one == path) {
            let circle = around[at..]
                .iter()
                .chain([&path])
                .cloned()
                .collect::<Vec<_>>()
                .join(", which uses ");
            return self.report(id, use_cycle(span, &circle));
        }
        if self.parts.len() >= MOST_PARTS {
            return self.report(
                id,
                unreadable(span, &used.path.value, "too many documents take part"),
            );
        }
        let document = match Document::from_bytes(bytes) {
            Ok(document) => document,
            Err(diagnostic) => {
                return self.report(id, unreadable(span, &used.path.value, &diagnostic.message));
            }
        };
        around.push(path.clone());
        let number = self.add_part(&path, document, files, around, trees);
        around.pop();
        self.used.insert(id, number);
        let names = &mut self.names.parts[usize::from(part)];
        match &used.name {
            Some(name) => {
                names.prefixes.insert(name.text.clone(), number);
            }
            None => names.merged.push(number),
        }
    }

    /// Reads the document that a typed line uses.
    pub(super) fn bring_in(&mut self, id: StatementId, used: &syntax::Use) {
        let part = self.statement(id).part;
        let files = self.files.0.clone();
        let mut around = vec![self.parts[usize::from(part)].path.to_string()];
        let mut trees = Vec::new();
        self.use_document(part, id, used, &*files, &mut around, &mut trees);
        self.define_trees(&trees);
    }

    pub(super) fn report(&mut self, id: StatementId, diagnostic: Diagnostic) {
        if diagnostic.code == Code::Duplicate {
            self.twice.insert(id);
        }
        self.statements[id.0 as usize].diagnostics.push(diagnostic);
    }

    /// Notes what the statements define: units first, since other lines are read with them.
    fn define_all(&mut self, trees: &[(StatementId, Statement)]) {
        self.define_handbook_units();
        self.define_trees(trees);
    }

    fn define_trees(&mut self, trees: &[(StatementId, Statement)]) {
        for (id, statement) in trees {
            match &statement.kind {
                StatementKind::Unit(unit) => self.define_unit(*id, unit),
                StatementKind::Default(cell) => self.define_default(*id, cell),
                _ => {}
            }
        }
        for (id, statement) in trees {
            self.define(*id, statement);
        }
        for (id, statement) in trees {
            let part = self.statement(*id).part;
            self.require(part, statement);
        }
        self.require_defaults();
    }

    /// The defaults of the handbook are there from the start: a message, an expression in the
    /// shell or an edit may need them.
    fn require_defaults(&mut self) {
        let library = self.library.clone();
        let entries = library.entries().iter();
        for entry in entries.filter(|entry| entry.kind == EntryKind::Default) {
            self.require_cell(0, entry.name);
        }
    }

    fn define_handbook_units(&mut self) {
        let library = self.library.clone();
        for entry in library
            .entries()
            .iter()
            .filter(|entry| entry.kind == EntryKind::Unit)
        {
            if let (StatementKind::Unit(unit), _) = (library.statement(entry).0.kind, ()) {
                let text = library.statement(entry).1;
                // The handbook's own units are held to be right by its tests.
                let _ = self.unit_defined(&unit, text);
            }
        }
    }

    pub(super) fn define_unit(&mut self, id: StatementId, unit: &syntax::UnitDefinition) {
        let text = self.text_of(id).to_owned();
        if let Err(diagnostic) = self.unit_defined(unit, &text) {
            self.report(id, *diagnostic);
        }
    }

    fn unit_defined(
        &mut self,
        unit: &syntax::UnitDefinition,
        text: &str,
    ) -> Result<(), Box<Diagnostic>> {
        let names: Vec<&str> = unit.names.iter().map(|name| &*name.text).collect();
        let span = unit.names.first().map_or(Span::default(), |name| name.span);
        let Some(size) = &unit.size else {
            let defined = self.registry.get_mut().define_dimension(&names);
            return defined
                .map(|_| ())
                .map_err(|error| Box::new(unit_clash(span, &error)));
        };
        let view = super::names::View {
            names: &self.names,
            cells: &self.cells,
            statements: &self.statements,
            library: &self.library,
            parts: &self.parts,
        };
        let mut checker = Checker::new(
            &view,
            self.registry.get_mut(),
            self.cache.get_mut(),
            ScopeId::of(0),
            (0, 0),
            text,
        );
        let amount = match &size.kind {
            ExprKind::Literal(literal) => checker.unit_size(literal).ok(),
            _ => None,
        };
        let mut found = std::mem::take(&mut checker.found.diagnostics);
        let Some((ratio, base)) = amount else {
            return Err(Box::new(
                found.pop().unwrap_or_else(|| unit_size(size.span)),
            ));
        };
        self.registry
            .get_mut()
            .define_unit(&names, &ratio, &base)
            .map(|_| ())
            .map_err(|error| Box::new(unit_clash(span, &error)))
    }

    /// `default currency = "CAD"` is the one default a notebook has.
    pub(super) fn define_default(&mut self, id: StatementId, cell: &syntax::Cell) {
        if self.is_chapter(self.statement(id).part) {
            return;
        }
        let diagnostic = match &cell.value.kind {
            ExprKind::Text(code) if &*cell.name.text == "currency" => {
                match self.registry.get_mut().set_default_currency(code) {
                    Ok(()) => return,
                    Err(_) => no_currency(cell.value.span, code),
                }
            }
            _ => {
                let edited = self.statement(id).edited.is_some();
                let start = match edited {
                    true => 0,
                    false => self.statement(id).span.start,
                };
                let whole = Span {
                    start,
                    end: cell.value.span.end,
                };
                let plain = Span {
                    start: cell.name.span.start,
                    ..whole
                };
                let plain = plain.of(self.text_of(id)).to_owned();
                default_in_notebook(cell.name.span, whole, &plain)
            }
        };
        self.report(id, diagnostic);
    }

    /// Whether a part is a chapter of the handbook opened by itself, whose defaults are cells.
    fn is_chapter(&self, part: u16) -> bool {
        let path = self.parts[usize::from(part)].path.replace('\\', "/");
        crate::library::CHAPTERS
            .iter()
            .any(|chapter| path.ends_with(chapter.path))
    }

    /// Notes the cells, tables and formulas that a statement defines.
    pub(super) fn define(&mut self, id: StatementId, statement: &Statement) {
        let part = self.statement(id).part;
        match &statement.kind {
            StatementKind::Cell(cell) => match &cell.column {
                None => self.define_cell(id, part, &cell.name, Role::WorkedOut),
                Some(column) => self.define_column(id, part, &cell.name, column),
            },
            StatementKind::Broken(Some(name)) => self.define_cell(id, part, name, Role::WorkedOut),
            StatementKind::Default(cell) if self.is_chapter(part) => {
                self.define_cell(id, part, &cell.name, Role::WorkedOut);
            }
            StatementKind::Table(table) if table.file.is_some() && table.head.is_empty() => {
                // Typed in the shell: its file is read now.
                self.file_tables.remove(&id);
                let files = self.files.0.clone();
                self.read_file_table(id, statement, &*files);
                match self.tree(id).kind {
                    StatementKind::Table(table) => self.define_table(id, part, &table),
                    _ => self.define_cell(id, part, &table.name, Role::WorkedOut),
                }
            }
            StatementKind::Table(table) => self.define_table(id, part, table),
            StatementKind::Check(_) => {
                self.new_cell("", id, part, Role::Check);
            }
            StatementKind::Formula(formula) => self.define_formula(id, part, formula),
            StatementKind::Sweep(sweep) => self.define_sweep(id, part, sweep),
            StatementKind::Plot(plot) => self.define_plot(id, part, plot),
            StatementKind::Budget(path) => self.define_of_cell(id, part, StudyKind::Budget, path),
            StatementKind::Spread(path) => self.define_of_cell(id, part, StudyKind::Spread, path),
            StatementKind::Fit(_) | StatementKind::Trace(_) => {
                self.report(id, not_yet(statement.span))
            }
            StatementKind::Expression(expr) => {
                let text = expr.span.of(self.text_of(id)).to_owned();
                self.report(id, bare_expression(expr.span, &text));
            }
            _ => {}
        }
    }

    pub(super) fn new_cell(
        &mut self,
        name: &str,
        id: StatementId,
        part: u16,
        role: Role,
    ) -> CellId {
        let number = CellId(self.cells.len() as u32);
        self.cells.push(Cell::new(name, id, part, role));
        self.values.push(Value::Gap);
        number
    }

    fn define_cell(&mut self, id: StatementId, part: u16, name: &syntax::Name, role: Role) {
        if &*name.text == "pi" {
            return self.report(id, built_in(name.span, &name.text));
        }
        let cell = self.new_cell(&name.text, id, part, role);
        self.enter(part, &name.text, Entity::Cell(cell), (id, name.span));
    }

    /// Enters a name; one that is there already is an error at both places.
    pub(super) fn enter(
        &mut self,
        part: u16,
        name: &str,
        entity: Entity,
        (id, span): (StatementId, Span),
    ) {
        let known = self.names.parts[usize::from(part)]
            .entities
            .get(name)
            .cloned();
        let Some(known) = known else {
            self.names.parts[usize::from(part)]
                .entities
                .insert(name.into(), entity);
            return self.warn_alike(part, name, (id, span));
        };
        let other = self.statement_of_entity(&known);
        let here = self.line_of(id);
        let there = other.and_then(|other| self.line_of(other));
        self.report(id, duplicate(span, name, there));
        if let Some(other) = other {
            let tree = self.tree(other);
            self.report(other, duplicate(span_of_name(&tree, name), name, here));
        }
    }

    /// Two names that differ only in capitals or `_` are easily taken for one.
    fn warn_alike(&mut self, part: u16, name: &str, (id, span): (StatementId, Span)) {
        let names = &mut self.names.parts[usize::from(part)];
        let sound = sound_of(name);
        let is_alike = |other: &str| other != name && sound_of(other) == sound;
        // Seldom is a sound there already; only then the names are gone through.
        let other = match names.sounds.insert(sound) {
            true => None,
            false => names.entities.iter().find(|(other, _)| is_alike(other)),
        };
        let other = other.map(|(other, entity)| (other.clone(), entity.clone()));
        let line = other.as_ref().and_then(|(_, entity)| {
            let statement = self.statement_of_entity(entity)?;
            self.line_of(statement)
        });
        let warning = match (other, line) {
            (Some((other, _)), Some(line)) => alike(span, name, &other, &format!("line {line}")),
            _ => match self.default_sounding(sound, name) {
                Some(default) => alike(span, name, default, "a default of the handbook"),
                None => return,
            },
        };
        self.report(id, warning);
    }

    /// A default of the handbook that sounds like a name, but is another.
    fn default_sounding(&mut self, sound: u64, name: &str) -> Option<&'static str> {
        let defaults = self.names.defaults.get_or_insert_with(|| {
            let entries = self.library.entries().iter();
            entries
                .filter(|entry| entry.kind == EntryKind::Default)
                .map(|entry| (sound_of(entry.name), entry.name))
                .collect()
        });
        defaults
            .get(&sound)
            .copied()
            .filter(|default| *default != name)
    }

    fn statement_of_entity(&self, entity: &Entity) -> Option<StatementId> {
        let cell = match entity {
            Entity::Cell(cell) => *cell,
            Entity::Table(columns) => columns.first()?.1,
        };
        Some(self.cell(cell).statement)
    }

    /// `guns.duty = …` adds a column to the table above.
    fn define_column(
        &mut self,
        id: StatementId,
        part: u16,
        table: &syntax::Name,
        column: &syntax::Name,
    ) {
        let name = format!("{}.{}", table.text, column.text);
        let cell = self.new_cell(&name, id, part, Role::ComputedColumn);
        self.enter(part, &name, Entity::Cell(cell), (id, column.span));
    }

    /// Reads the file of a table that names one; tells whether it is such a table.
    fn read_file_table(
        &mut self,
        id: StatementId,
        statement: &Statement,
        files: &dyn Files,
    ) -> bool {
        let StatementKind::Table(table) = &statement.kind else {
            return false;
        };
        let Some(file) = &table.file else {
            return false;
        };
        if self.file_tables.contains_key(&id) {
            return true;
        }
        let beside = self.parts[usize::from(self.statement(id).part)]
            .path
            .to_string();
        let read = match files.read(&file.value, &beside) {
            Ok((_, bytes)) => read_table(&bytes, &file.value, file.span),
            Err(why) => Err(vec![no_table_file(file.span, &file.value, &why)]),
        };
        let table = match read {
            Ok(table) => Some(Rc::new(table)),
            Err(diagnostics) => {
                for diagnostic in diagnostics {
                    self.report(id, diagnostic);
                }
                None
            }
        };
        self.file_tables.insert(id, table);
        true
    }

    fn define_table(&mut self, id: StatementId, part: u16, table: &syntax::Table) {
        let mut columns = Vec::with_capacity(table.head.len());
        for (number, head) in table.head.iter().enumerate() {
            let name = format!("{}.{}", table.name.text, head.name.text);
            let cell = self.new_cell(&name, id, part, Role::Column(number as u16));
            self.enter(part, &name, Entity::Cell(cell), (id, head.name.span));
            columns.push((head.name.text.clone(), cell));
        }
        self.enter(
            part,
            &table.name.text,
            Entity::Table(columns),
            (id, table.name.span),
        );
    }

    pub(super) fn define_formula(&mut self, id: StatementId, part: u16, formula: &syntax::Formula) {
        let name = formula.name.text.clone();
        if crate::check::is_native(&name) {
            return self.report(id, built_in(formula.name.span, &name));
        }
        if let Some(known) = self.names.parts[usize::from(part)]
            .formulas
            .get(&name)
            .cloned()
        {
            return self.report_formula_twice(id, formula, &known);
        }
        let record = self.statement(id);
        let document = &self.parts[usize::from(part)].document;
        let base = if record.edited.is_some() {
            0
        } else {
            record.span.start
        };
        let section = record
            .heading
            .and_then(|heading| document.headings().get(heading as usize));
        let definition = Rc::new(FormulaDefinition {
            id: self.next_formula,
            tree: formula.clone(),
            path: self.parts[usize::from(part)].path.clone(),
            text: self.source_of(id).into(),
            base,
            first_line: self.line_of(id).unwrap_or(1),
            section: section.map_or("", |heading| heading.text.as_str()).into(),
            chapter: document.title().unwrap_or("").into(),
            document: Some(part),
        });
        self.next_formula += 1;
        self.formulas.push(definition.clone());
        self.names.parts[usize::from(part)]
            .formulas
            .insert(name, definition);
    }

    /// A formula that is defined twice is an error at both places.
    fn report_formula_twice(
        &mut self,
        id: StatementId,
        formula: &syntax::Formula,
        known: &FormulaDefinition,
    ) {
        let name = &formula.name.text;
        let here = self.line_of(id);
        let other = (0..self.statements.len() as u32)
            .map(StatementId)
            .find(|other| {
                let record = self.statement(*other);
                let same = self.line_of(*other) == Some(known.first_line);
                record.tag == Tag::Formula && same && !record.is_handbook() && !record.is_added()
            });
        let there = other.and_then(|other| self.line_of(other));
        self.report(id, duplicate(formula.name.span, name, there));
        if let Some(other) = other {
            self.report(other, duplicate(known.tree.name.span, name, here));
        }
    }

    /// Brings in what a statement needs of the handbook: defaults and tables become cells.
    pub(super) fn require(&mut self, part: u16, statement: &Statement) {
        let mut wanted: Vec<Wanted> = Vec::new();
        syntax::visit_names(statement, &mut |name| wanted.extend(wanted_by(&name)));
        let mut formulas: FxHashSet<u32> = FxHashSet::default();
        while let Some(name) = wanted.pop() {
            match name {
                Wanted::Formula(name) => {
                    self.require_formula(part, &name, &mut formulas, &mut wanted)
                }
                Wanted::Cell(name) => self.require_cell(part, &name),
            }
        }
    }

    fn require_formula(
        &mut self,
        part: u16,
        name: &str,
        formulas: &mut FxHashSet<u32>,
        wanted: &mut Vec<Wanted>,
    ) {
        for need in crate::check::native_needs(name) {
            wanted.push(match *need {
                "state_change" => Wanted::Formula((*need).into()),
                cell => Wanted::Cell(cell.into()),
            });
        }
        let own = self.names.parts[usize::from(part)]
            .formulas
            .get(name)
            .cloned();
        let Some(definition) = own.or_else(|| self.library.formula(name)) else {
            return;
        };
        if formulas.insert(definition.id) {
            syntax::visit_formula_names(&definition.tree, &mut |name| {
                wanted.extend(wanted_by(&name))
            });
        }
    }

    /// A table of the handbook comes in whole.
    fn require_cell(&mut self, part: u16, first: &str) {
        if self.names.parts[usize::from(part)]
            .handbook
            .contains_key(first)
        {
            return;
        }
        let library = self.library.clone();
        let kinds = [EntryKind::Default, EntryKind::Table];
        let Some(entry) = kinds.iter().find_map(|kind| library.entry(*kind, first)) else {
            return;
        };
        let id = StatementId(self.statements.len() as u32);
        self.statements.push(StatementRecord {
            part,
            tag: Tag::Default,
            heading: None,
            span: entry.span,
            edited: None,
            removed: false,
            diagnostics: Vec::new(),
            origin: Origin::Handbook(entry.number),
        });
        let statement = library.statement(entry).0;
        match &statement.kind {
            StatementKind::Default(cell) => {
                let cell = self.new_cell(&cell.name.text, id, part, Role::Handbook);
                self.names.parts[usize::from(part)]
                    .handbook
                    .insert(first.into(), Entity::Cell(cell));
            }
            StatementKind::Table(table) => {
                let mut columns = Vec::new();
                for head in &table.head {
                    let name = format!("{}.{}", table.name.text, head.name.text);
                    let cell = self.new_cell(&name, id, part, Role::Handbook);
                    columns.push((head.name.text.clone(), cell));
                    let names = &mut self.names.parts[usize::from(part)];
                    names.handbook.insert(name.into(), Entity::Cell(cell));
                }
                self.names.parts[usize::from(part)]
                    .handbook
                    .insert(first.into(), Entity::Table(columns));
            }
            _ => {}
        }
        self.require(part, &statement);
    }
}

/// A name that may stand for something of the handbook.
enum Wanted {
    Cell(Box<str>),
    Formula(Box<str>),
}

/// What a use of a name asks for: of a path, the first name is enough.
fn wanted_by(name: &NameUse<'_>) -> Option<Wanted> {
    let first: Box<str> = (*name.names.first()?).into();
    match name.kind {
        NameKind::Cell | NameKind::Target | NameKind::UnitOrCell => Some(Wanted::Cell(first)),
        NameKind::Formula => Some(Wanted::Formula(first)),
        NameKind::Unit => None,
    }
}

/// Which lines of the block a statement covers, counted on from `line`.
fn origin_of(lines: &[Span], line: &mut usize, block: u32, span: Span) -> Origin {
    while *line < lines.len() && lines[*line].end <= span.start {
        *line += 1;
    }
    let first = *line;
    let mut last = first;
    while last + 1 < lines.len() && lines[last + 1].start < span.end {
        last += 1;
    }
    Origin::Document {
        block,
        first_line: first as u32,
        lines: (last + 1 - first) as u32,
    }
}

pub(super) fn tag_of(kind: &StatementKind) -> Tag {
    match kind {
        StatementKind::Cell(_) => Tag::Cell,
        StatementKind::Default(_) => Tag::Default,
        StatementKind::Formula(_) => Tag::Formula,
        StatementKind::Table(_) => Tag::Table,
        StatementKind::Check(_) => Tag::Check,
        StatementKind::Use(_) => Tag::Use,
        StatementKind::Unit(_) => Tag::Unit,
        StatementKind::Example(_) => Tag::Example,
        StatementKind::Sweep(_)
        | StatementKind::Plot(_)
        | StatementKind::Fit(_)
        | StatementKind::Trace(_)
        | StatementKind::Budget(_)
        | StatementKind::Spread(_) => Tag::Study,
        StatementKind::Expression(_) => Tag::Expression,
        StatementKind::Broken(_) => Tag::Broken,
    }
}

/// The place where a statement defines a name: a table has one for each column.
fn span_of_name(statement: &Statement, name: &str) -> Span {
    let column = name.rsplit('.').next().unwrap_or(name);
    let head = match &statement.kind {
        StatementKind::Table(table) if name.contains('.') => {
            table.head.iter().find(|head| &*head.name.text == column)
        }
        _ => None,
    };
    head.map(|head| head.name.span)
        .or_else(|| name_span(statement))
        .unwrap_or(statement.span)
}

/// The place of the name that a statement defines.
pub(super) fn name_span(statement: &Statement) -> Option<Span> {
    match &statement.kind {
        StatementKind::Cell(cell) | StatementKind::Default(cell) => Some(
            cell.column
                .as_ref()
                .map_or(cell.name.span, |column| column.span),
        ),
        StatementKind::Formula(formula) => Some(formula.name.span),
        StatementKind::Table(table) => Some(table.name.span),
        StatementKind::Sweep(sweep) => sweep.name.as_ref().map(|name| name.span),
        StatementKind::Broken(name) => name.as_ref().map(|name| name.span),
        _ => None,
    }
}
