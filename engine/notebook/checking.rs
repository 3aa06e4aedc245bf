//! Checking cells in the order of need, without recursion: a cell that needs another is put
//! aside until that one is done.

use super::Notebook;
use super::cell::{CellState, Role};
use super::message;
use super::names::{Entity, View};
use super::open::name_span;
use super::statement::{StatementId, Tag};
use crate::check::{CellId, Checker, Claim, Place, ScopeId, Stop, Type, Typed};
use crate::library::EntryKind;
use crate::plan;
use crate::source::{Code, Diagnostic, Severity, Span};
use crate::syntax::{self, ExprKind, NameKind, Statement, StatementKind};
use crate::units::Reference;
use rustc_hash::{FxHashMap, FxHashSet};
use std::rc::Rc;

impl Notebook {
    /// Checks every cell, with the trees at hand.
    pub(super) fn check_all(&mut self, trees: Vec<(StatementId, Statement)>) {
        let mut trees: FxHashMap<StatementId, Rc<Statement>> = trees
            .into_iter()
            .map(|(id, tree)| (id, Rc::new(tree)))
            .collect();
        let all: Vec<CellId> = (0..self.cells.len() as u32).map(CellId).collect();
        self.check_cells(all, &mut trees);
        self.widen_scenarios();
        self.settle_claims();
        self.renew_levels();
    }

    /// Checks these cells and whatever unchecked ones they need.
    pub(super) fn check_cells(
        &mut self,
        cells: Vec<CellId>,
        trees: &mut FxHashMap<StatementId, Rc<Statement>>,
    ) {
        let mut waiting: Vec<CellId> = Vec::new();
        let mut on_stack: FxHashSet<CellId> = FxHashSet::default();
        for cell in cells {
            if self.cell(cell).state != CellState::Unchecked {
                continue;
            }
            waiting.push(cell);
            on_stack.insert(cell);
            let mut tries: FxHashMap<CellId, u32> = FxHashMap::default();
            while let Some(&top) = waiting.last() {
                let need = match self.cell(top).state {
                    CellState::Unchecked => self.check_cell(top, trees),
                    _ => None,
                };
                match need {
                    None => {
                        waiting.pop();
                        on_stack.remove(&top);
                    }
                    Some(need) if on_stack.contains(&need) => self.break_cycle(need, &waiting),
                    Some(need) => {
                        let count = tries.entry(top).or_default();
                        *count += 1;
                        // A line with many names is not tried again for each of them.
                        let more = if *count == 2 {
                            self.unchecked_names(top, trees)
                        } else {
                            Vec::new()
                        };
                        for one in more.into_iter().chain([need]) {
                            if on_stack.insert(one) {
                                waiting.push(one);
                            }
                        }
                    }
                }
            }
        }
    }

    fn unchecked_names(
        &mut self,
        cell: CellId,
        trees: &mut FxHashMap<StatementId, Rc<Statement>>,
    ) -> Vec<CellId> {
        let tree = self.tree_of(cell, trees);
        let part = self.cell(cell).part;
        let mut needed = Vec::new();
        syntax::visit_names(&tree, &mut |name| {
            if let Some(super::names::Entity::Cell(id)) =
                self.names.look_up(&name.names.join("."), part, false)
                && name.kind == NameKind::Cell
                && self.cell(*id).state == CellState::Unchecked
            {
                needed.push(*id);
            }
        });
        needed.retain(|id| *id != cell);
        needed
    }

    fn tree_of(
        &mut self,
        cell: CellId,
        trees: &mut FxHashMap<StatementId, Rc<Statement>>,
    ) -> Rc<Statement> {
        let id = self.cell(cell).statement;
        if let Some(tree) = trees.get(&id)
            && !is_unread_table(tree)
        {
            return tree.clone();
        }
        let tree = Rc::new(self.tree(id));
        // A table has many columns and a circle many turns: keep it as long as this goes on.
        trees.insert(id, tree.clone());
        tree
    }

    /// Checks one cell; gives the cell that has to be checked before it.
    fn check_cell(
        &mut self,
        cell: CellId,
        trees: &mut FxHashMap<StatementId, Rc<Statement>>,
    ) -> Option<CellId> {
        let tree = self.tree_of(cell, trees);
        let id = self.cell(cell).statement;
        let part = self.cell(cell).part;
        let role = self.cell(cell).role;
        let base = if self.statement(id).edited.is_some() {
            0
        } else {
            tree.span.start
        };
        let scope = match role {
            Role::Handbook => ScopeId::of(part).handbook_for(),
            _ => ScopeId::of(part),
        };
        let replaced = self.replaced_default(cell);
        if let Role::StudyColumn(column) = role {
            return self.check_study_column(cell, column);
        }
        if role == Role::ComputedColumn && self.refuse_without_table(cell, &tree) {
            return None;
        }
        let name = self.cell(cell).name.clone();
        let Notebook {
            names,
            cells,
            statements,
            library,
            parts,
            registry,
            cache,
            ..
        } = self;
        let record = &statements[id.0 as usize];
        let text: &str = match (&record.edited, &record.origin) {
            (Some(text), _) => text,
            (None, super::statement::Origin::Handbook(number)) => {
                crate::library::CHAPTERS[library.entries()[*number as usize].chapter].text
            }
            (None, _) => parts[usize::from(part)].document.text(),
        };
        let view = View {
            names,
            cells,
            statements,
            library,
            parts,
        };
        let (registry, cache) = (registry.get_mut(), cache.get_mut());
        let mut checker = Checker::new(&view, registry, cache, scope, (id.0, base), text);
        let mut types = Vec::new();
        let outcome = typed(&mut checker, &tree, role, &name, &mut types);
        let outcome = match (outcome, replaced) {
            (Ok(typed), Some((default, was))) => {
                let typed = checker.as_default(typed, &name, &default, value_span(&tree));
                if typed.is_ok() && !was.is_empty() && part == 0 {
                    checker.note_replaced(name_span(&tree).unwrap_or(tree.span), &name, was);
                }
                typed
            }
            (outcome, _) => outcome,
        };
        let found = std::mem::take(&mut checker.found);
        if let Err(Stop::Needs(need)) = outcome {
            return Some(need);
        }
        if let Some(study) = self.studies.get_mut(&cell) {
            study.types = types;
        }
        self.settle(cell, &tree, outcome, found);
        None
    }

    /// The first column of the table that a computed column belongs to.
    pub(super) fn key_column(&self, name: &str, part: u16) -> Option<CellId> {
        let (table, _) = name.rsplit_once('.')?;
        match self.names.look_up(table, part, false)? {
            Entity::Table(columns) => columns.first().map(|(_, cell)| *cell),
            Entity::Cell(_) => None,
        }
    }

    /// `guns.duty = …` needs a table that is called guns.
    fn refuse_without_table(&mut self, cell: CellId, tree: &Statement) -> bool {
        let record = self.cell(cell);
        if self.key_column(&record.name, record.part).is_some() {
            return false;
        }
        let StatementKind::Cell(written) = &tree.kind else {
            return false;
        };
        let diagnostic = message::no_table(written.name.span, &written.name.text);
        self.note_missed(cell, std::slice::from_ref(&diagnostic), tree);
        let part = self.cell(cell).part;
        let missed = &mut self.names.parts[usize::from(part)].missed;
        missed
            .entry(written.name.text.clone())
            .or_default()
            .push(cell);
        self.messages.entry(cell).or_default().check = vec![diagnostic];
        let record = &mut self.cells[cell.0 as usize];
        record.state = CellState::Failed;
        (record.plan, record.ty) = (None, None);
        true
    }

    /// Keeps what checking a cell gave.
    fn settle(
        &mut self,
        cell: CellId,
        tree: &Statement,
        outcome: Result<Typed, Stop>,
        found: crate::check::Findings,
    ) {
        let id = self.cell(cell).statement;
        let broken_writing = self
            .statement(id)
            .diagnostics
            .iter()
            .any(|diagnostic| diagnostic.severity == Severity::Error);
        let mut uses = found.uses;
        let record = self.cell(cell);
        if record.role == Role::ComputedColumn
            && let Some(key) = self.key_column(&record.name, record.part)
            && !uses.contains(&key)
        {
            // It has as many rows as the table has.
            uses.push(key);
        }
        self.set_uses(cell, uses);
        let failed = broken_writing
            || found
                .diagnostics
                .iter()
                .any(|diagnostic| diagnostic.severity == Severity::Error);
        for (place, literal) in found.open_literals {
            self.open_literals.insert(place, literal);
        }
        for source in found.sources {
            self.typed_sources.insert(source.place, source);
        }
        self.note_missed(cell, &found.diagnostics, tree);
        let record = &mut self.cells[cell.0 as usize];
        record.formulas = found.formulas;
        record.headed = has_head(tree, record.role);
        match outcome {
            Ok(mut typed) => {
                typed.ty.column |= record.role == Role::ComputedColumn;
                record.state = if failed {
                    CellState::Failed
                } else {
                    CellState::Ok
                };
                record.plan = (!failed).then(|| Rc::new(plan::compile(&typed.node)));
                record.ty = Some(Rc::new(typed.ty));
            }
            Err(Stop::Waits(other)) => {
                record.state = if failed {
                    CellState::Failed
                } else {
                    CellState::Waits(other)
                };
                (record.plan, record.ty) = (None, None);
            }
            Err(Stop::Failed | Stop::Needs(_)) => {
                record.state = CellState::Failed;
                (record.plan, record.ty) = (None, None);
            }
        }
        if matches!(record.role, Role::WorkedOut | Role::Given) {
            record.role = if record.uses.is_empty() && is_given(tree) {
                Role::Given
            } else {
                Role::WorkedOut
            };
        }
        let asks = self.cells[cell.0 as usize]
            .plan
            .as_ref()
            .is_some_and(|plan| plan.has_scenarios());
        self.note_scenario(cell, asks);
        self.messages.entry(cell).or_default().check = found.diagnostics;
        if self
            .messages
            .get(&cell)
            .is_some_and(|all| all.check.is_empty() && all.run.is_empty())
        {
            self.messages.remove(&cell);
        }
        if found.claims.is_empty() {
            self.claims.remove(&cell);
        } else {
            self.claims.insert(cell, found.claims);
        }
    }

    /// Remembers who looked for a name in vain, so that defining it later wakes them.
    fn note_missed(&mut self, cell: CellId, diagnostics: &[Diagnostic], tree: &Statement) {
        if !diagnostics
            .iter()
            .any(|diagnostic| diagnostic.code == Code::UnknownName || diagnostic.code == Code::Kind)
        {
            return;
        }
        let part = self.cell(cell).part;
        let mut missed: Vec<Box<str>> = Vec::new();
        syntax::visit_names(tree, &mut |name| {
            missed.push(name.names[0].into());
            missed.push(name.names.join(".").into());
        });
        let names = &mut self.names.parts[usize::from(part)];
        for name in missed {
            let list = names.missed.entry(name).or_default();
            if !list.contains(&cell) {
                list.push(cell);
            }
        }
    }

    pub(super) fn set_uses(&mut self, cell: CellId, uses: Vec<CellId>) {
        let old = std::mem::take(&mut self.cells[cell.0 as usize].uses);
        for used in &old {
            if !uses.contains(used) {
                self.cells[used.0 as usize]
                    .used_by
                    .retain(|one| *one != cell);
            }
        }
        for used in &uses {
            if !old.contains(used) {
                self.cells[used.0 as usize].used_by.push(cell);
            }
        }
        self.edges_changed |= old != uses;
        self.cells[cell.0 as usize].uses = uses;
    }

    /// Cells that need each other: reported once, with the path; the others wait.
    fn break_cycle(&mut self, first: CellId, waiting: &[CellId]) {
        let start = waiting.iter().position(|cell| *cell == first).unwrap_or(0);
        let circle: Vec<String> = waiting[start..]
            .iter()
            .chain([&first])
            .map(|cell| self.cell(*cell).name.to_string())
            .collect();
        let tree = self.tree(self.cell(first).statement);
        let span = name_span(&tree).unwrap_or(tree.span);
        let diagnostic = message::cycle(span, &circle);
        self.messages.entry(first).or_default().check = vec![diagnostic];
        let record = &mut self.cells[first.0 as usize];
        record.state = CellState::Failed;
        (record.plan, record.ty) = (None, None);
    }

    /// The default of the handbook that a cell replaces: its type, and how it read.
    fn replaced_default(&mut self, cell: CellId) -> Option<(Type, &'static str)> {
        let record = self.cell(cell);
        if !matches!(record.role, Role::WorkedOut | Role::Given) {
            return None;
        }
        let chapter = self.statement(record.statement).tag == Tag::Default;
        let name = record.name.to_string();
        let entry = self.library.entry(EntryKind::Default, &name)?.clone();
        let (statement, text) = self.library.statement(&entry);
        let StatementKind::Default(default) = &statement.kind else {
            return None;
        };
        let view = View {
            names: &self.names,
            cells: &self.cells,
            statements: &self.statements,
            library: &self.library,
            parts: &self.parts,
        };
        let scope = ScopeId::of(0).handbook_for();
        let mut checker = Checker::new(
            &view,
            self.registry.get_mut(),
            self.cache.get_mut(),
            scope,
            (u32::MAX, 0),
            text,
        );
        let was = if chapter {
            ""
        } else {
            default.value.span.of(text)
        };
        checker.cell(default).ok().map(|typed| (typed.ty, was))
    }

    /// Judges the open flows that met a reference: two different ones are an error at both.
    pub(super) fn settle_claims(&mut self) {
        let mut taken: FxHashMap<Place, Vec<(Reference, CellId, Span)>> = FxHashMap::default();
        for (cell, claims) in &self.claims {
            for Claim {
                place,
                reference,
                at,
            } in claims
            {
                taken
                    .entry(*place)
                    .or_default()
                    .push((*reference, *cell, *at));
            }
        }
        let mut errors: FxHashMap<CellId, Vec<Diagnostic>> = FxHashMap::default();
        for (place, mut uses) in taken {
            uses.sort_by_key(|(_, cell, at)| (*cell, at.start));
            let first = uses[0].0;
            if uses.iter().all(|(reference, ..)| *reference == first) {
                continue;
            }
            let typed = self.literal_text(place);
            for (index, (reference, cell, at)) in uses.iter().enumerate() {
                let other = uses
                    .iter()
                    .enumerate()
                    .find(|(at, (one, ..))| *at != index && one != reference);
                let Some((_, (other, other_cell, _))) = other else {
                    continue;
                };
                let other_name = self.called(*other_cell);
                let retyped = self.retyped(place, *reference);
                errors.entry(*cell).or_default().push(message::taken_twice(
                    *at,
                    &typed,
                    (*reference, *other),
                    &other_name,
                    retyped,
                ));
            }
        }
        let affected: Vec<CellId> = errors
            .keys()
            .chain(self.claim_errors.keys())
            .copied()
            .collect();
        self.claim_errors = errors;
        self.stale.extend(affected);
    }

    /// A cell's name; a check has none, but a line.
    fn called(&self, cell: CellId) -> String {
        let record = self.cell(cell);
        match (record.name.is_empty(), self.line_of(record.statement)) {
            (false, _) => record.name.to_string(),
            (true, Some(line)) => format!("the check in line {line}"),
            (true, None) => "a check".to_owned(),
        }
    }

    fn literal_text(&self, place: Place) -> String {
        let id = StatementId(place.statement);
        match (
            self.statements.get(id.0 as usize),
            self.open_literals.get(&place),
        ) {
            (Some(_), Some(literal)) => literal.span.of(self.text_of(id)).to_owned(),
            _ => String::new(),
        }
    }

    /// An open flow as it would be typed with a reference, and where it stands.
    fn retyped(&self, place: Place, reference: Reference) -> Option<(String, String)> {
        if reference.row().word.is_empty() {
            return None;
        }
        let id = StatementId(place.statement);
        let literal = self.open_literals.get(&place)?;
        let written = literal.span.of(self.text_of(id));
        let bare = self.registry.borrow().bare(&literal.unit);
        let unit = self.registry.borrow().show(&bare, Some(reference));
        let signs = |c: char| c.is_ascii_digit() || "._/-".contains(c);
        let number = written.split(|c| !signs(c)).next().unwrap_or("");
        let text = match number.is_empty() {
            true => format!("{written} [{unit}]"),
            false => format!("{number} {unit}"),
        };
        let line = self.line_of(id).map(|line| format!("in line {line}"));
        Some((text, line.unwrap_or_default()))
    }

    /// Where open flows of the notebook were typed and what they were taken as: place, reference.
    pub fn taken_as(&self) -> Vec<(StatementId, String, Reference)> {
        let mut taken: Vec<(StatementId, String, Reference)> = Vec::new();
        let mut claims: Vec<&Claim> = self.claims.values().flatten().collect();
        claims.sort_by_key(|claim| claim.place);
        for claim in claims {
            let id = StatementId(claim.place.statement);
            let entry = (id, self.literal_text(claim.place), claim.reference);
            if !taken.contains(&entry) {
                taken.push(entry);
            }
        }
        taken
    }
}

/// Whether a tree is that of a table whose rows stand in a file, without them.
fn is_unread_table(tree: &Statement) -> bool {
    matches!(&tree.kind, StatementKind::Table(table) if table.file.is_some() && table.head.is_empty())
}

/// Types the part of a statement that a cell stands for.
fn typed(
    checker: &mut Checker<'_>,
    tree: &Statement,
    role: Role,
    name: &str,
    types: &mut Vec<Type>,
) -> Result<Typed, Stop> {
    match &tree.kind {
        StatementKind::Sweep(sweep) => {
            let axes: Vec<&syntax::Axis> = sweep.axes.iter().collect();
            studied(checker.sweep(tree.span, &axes, &sweep.show)?, types)
        }
        StatementKind::Plot(plot) => {
            studied(checker.sweep(tree.span, &[&plot.axis], &plot.show)?, types)
        }
        StatementKind::Budget(path) | StatementKind::Spread(path) => {
            let typed = checker.value(&path_expr(path))?;
            *types = vec![typed.ty.clone()];
            Ok(typed)
        }
        StatementKind::Cell(cell) | StatementKind::Default(cell) => checker.cell(cell),
        StatementKind::Check(check) => checker.condition(&check.condition),
        StatementKind::Table(table) => {
            let column = name.rsplit('.').next().unwrap_or(name);
            let index = match role {
                Role::Column(index) => usize::from(index),
                _ => table
                    .head
                    .iter()
                    .position(|head| &*head.name.text == column)
                    .unwrap_or(0),
            };
            let fields: Vec<&syntax::Field> = table
                .rows
                .iter()
                .filter_map(|row| row.fields.get(index))
                .collect();
            let head = table.head.get(index);
            let span = head.map_or(tree.span, |head| head.name.span);
            checker.table_column(span, head.and_then(|head| head.unit.as_ref()), &fields)
        }
        _ => Err(Stop::Failed),
    }
}

/// A study as a value: the types of its columns are kept beside it.
fn studied(
    (node, columns): (crate::check::Node, Vec<Type>),
    types: &mut Vec<Type>,
) -> Result<Typed, Stop> {
    *types = columns;
    Ok(Typed {
        node,
        ty: Type::text().columned(true),
    })
}

/// A path as the expression it is.
fn path_expr(path: &syntax::Path) -> syntax::Expr {
    let mut names = path.names.iter();
    let first = names.next();
    let mut expr = syntax::Expr {
        span: first.map_or(path.span, |name| name.span),
        kind: ExprKind::Name(first.map(|name| name.text.clone()).unwrap_or_default()),
    };
    for name in names {
        let span = expr.span.to(name.span);
        expr = syntax::Expr {
            span,
            kind: ExprKind::Member(Box::new(expr), name.clone()),
        };
    }
    expr
}

fn value_span(tree: &Statement) -> Span {
    match &tree.kind {
        StatementKind::Cell(cell) | StatementKind::Default(cell) => cell.value.span,
        _ => tree.span,
    }
}

fn has_head(tree: &Statement, role: Role) -> bool {
    match (&tree.kind, role) {
        (StatementKind::Cell(cell) | StatementKind::Default(cell), _) => {
            cell.unit.is_some() || matches!(cell.value.kind, ExprKind::In(..))
        }
        (StatementKind::Table(_), _) => true,
        _ => false,
    }
}

/// Whether a cell names nothing and calls nothing: what a person typed in. A word that may be a
/// unit or a cell counts as a unit here; what is read from a cell is among the cell's uses.
fn is_given(tree: &Statement) -> bool {
    let mut refers = false;
    syntax::visit_names(tree, &mut |name| {
        refers |= !matches!(name.kind, NameKind::Unit | NameKind::UnitOrCell);
    });
    !refers
}
