//! Messages with their place: errors, warnings and notes of every document that takes part, and
//! one for each cell that waits for another to be mended.

use super::reading::Reading;
use crate::check::CellId;
use crate::notebook::{CellState, Notebook, Role, StatementId};
use crate::source::{Code, Diagnostic, Document, Severity, Span};
use crate::syntax::{self, NameKind, Statement, StatementKind};
use rustc_hash::{FxHashMap, FxHashSet};

/// Of cells that wait for the same one, more than so many are named in one message.
const MOST_WAITING_ONE_BY_ONE: usize = 2;

/// A message and where it belongs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Message {
    /// What is said. Its spans point into `text`.
    pub diagnostic: Diagnostic,
    /// The document, by its path.
    pub path: String,
    /// The lines it is about.
    pub text: String,
    /// The number of the first of these lines; nothing for what was typed in the shell.
    pub first_line: Option<usize>,
    /// The line and column it stands at, from 1; nothing for what was typed in the shell.
    pub place: Option<(usize, usize)>,
    /// The cell it belongs to, if that has a name.
    pub cell: Option<String>,
    /// Its number among the cells.
    pub(super) id: Option<CellId>,
}

impl Message {
    /// Whether something has no value because of it.
    pub fn is_error(&self) -> bool {
        self.diagnostic.severity == Severity::Error
    }

    /// Whether it belongs below a table of results: notes do, mistakes end the screen.
    pub fn is_note(&self) -> bool {
        self.diagnostic.severity == Severity::Note
    }
}

/// Every message, document by document, line by line.
pub(super) fn messages(reading: &Reading<'_>) -> Vec<Message> {
    let notebook = reading.notebook;
    let mut all: Vec<(u16, Message)> = Vec::new();
    for (number, part) in notebook.parts().iter().enumerate() {
        let number = number as u16;
        let own = part.diagnostics.iter().map(|diagnostic| {
            let message = in_document(&part.document, &part.path, diagnostic.clone());
            (number, message)
        });
        all.extend(own);
    }
    let waiting = waiting(reading);
    for id in reading.all_statements() {
        let part = notebook.statement(id).part;
        let found = of_statement(reading, id, &waiting);
        all.extend(found.into_iter().map(|message| (part, message)));
    }
    // What waits is said behind the mistake of the same line.
    all.sort_by_key(|(part, message)| {
        let (line, column) = message.place.unwrap_or_default();
        let waits = message.diagnostic.code == Code::Waits;
        (*part, message.place.is_none(), line, waits, column)
    });
    all.into_iter().map(|(_, message)| message).collect()
}

/// The messages of one statement and of its cells, each once.
fn of_statement(
    reading: &Reading<'_>,
    id: StatementId,
    waiting: &FxHashMap<CellId, Vec<CellId>>,
) -> Vec<Message> {
    let notebook = reading.notebook;
    let record = notebook.statement(id);
    let mut seen: FxHashSet<(Code, Span, String)> = FxHashSet::default();
    let mut found: Vec<Message> = Vec::new();
    let cells = reading.cells_of(id);
    let mut add = |diagnostic: Diagnostic, cell: Option<CellId>| {
        let key = (diagnostic.code, diagnostic.span, diagnostic.message.clone());
        if seen.insert(key) {
            found.push(located(notebook, id, diagnostic, cell));
        }
    };
    for diagnostic in &record.diagnostics {
        let completed = notebook.completed_in(record.part, diagnostic.clone());
        add(completed, cells.first().copied());
    }
    for cell in cells {
        for diagnostic in notebook.messages(*cell) {
            add(diagnostic, Some(*cell));
        }
    }
    let first_waiting = cells
        .iter()
        .find(|cell| matches!(notebook.cell(**cell).state, CellState::Waits(_)));
    if let Some(cell) = first_waiting
        && let Some(message) = waits_message(reading, id, *cell, waiting)
    {
        add(message, Some(*cell));
    }
    for cell in cells {
        if let Some(waits) = waiting.get(cell)
            && waits.len() > MOST_WAITING_ONE_BY_ONE
        {
            add(all_wait_message(reading, id, *cell, waits), Some(*cell));
        }
    }
    found
}

/// A message about a statement, with the lines around it.
pub fn located(
    notebook: &Notebook,
    id: StatementId,
    diagnostic: Diagnostic,
    cell: Option<CellId>,
) -> Message {
    let record = notebook.statement(id);
    let name = cell
        .map(|cell| notebook.cell(cell).name.to_string())
        .filter(|name| !name.is_empty());
    let part = &notebook.parts()[usize::from(record.part)];
    let mut message = match record.edited.is_some() {
        false => in_document(&part.document, &part.path, diagnostic),
        true => {
            let text = notebook.text_of(id).to_owned();
            let first_line = notebook.line_of(id);
            let before = text.get(..diagnostic.span.start as usize).unwrap_or("");
            let line = before.matches('\n').count();
            let column = before.rsplit('\n').next().unwrap_or("").chars().count() + 1;
            Message {
                diagnostic,
                path: part.path.to_string(),
                place: first_line.map(|first| (first + line, column)),
                text,
                first_line,
                cell: None,
                id: None,
            }
        }
    };
    message.cell = name;
    message.id = cell;
    message
}

/// A message about a document, with the whole lines its span covers.
fn in_document(document: &Document, path: &str, mut diagnostic: Diagnostic) -> Message {
    let text = document.text();
    let start = text.floor_char_boundary(diagnostic.span.start as usize);
    let end = text
        .ceil_char_boundary(diagnostic.span.end as usize)
        .max(start);
    let from = text[..start].rfind('\n').map_or(0, |at| at + 1);
    let to = text[end..].find('\n').map_or(text.len(), |at| end + at);
    let place = document.line_column(start);
    let (first_line, _) = document.line_column(from);
    let by = -(from as i64);
    diagnostic.span = diagnostic.span.shifted(by);
    for repair in &mut diagnostic.repairs {
        repair.replaces = repair.replaces.map(|span| span.shifted(by));
    }
    Message {
        diagnostic,
        path: path.to_owned(),
        text: text[from..to].to_owned(),
        first_line: Some(first_line),
        place: Some(place),
        cell: None,
        id: None,
    }
}

/// Who waits for whom, by the cell that has to be mended.
fn waiting(reading: &Reading<'_>) -> FxHashMap<CellId, Vec<CellId>> {
    let mut waiting: FxHashMap<CellId, Vec<CellId>> = FxHashMap::default();
    for (id, cell) in reading.notebook.cells() {
        let counts = !matches!(cell.role, Role::Handbook);
        if counts && matches!(cell.state, CellState::Waits(_)) {
            waiting.entry(reading.cause(id)).or_default().push(id);
        }
    }
    waiting
}

/// What is said at a cell that waits; nothing where the cause says it for all.
fn waits_message(
    reading: &Reading<'_>,
    id: StatementId,
    cell: CellId,
    waiting: &FxHashMap<CellId, Vec<CellId>>,
) -> Option<Diagnostic> {
    let together = waiting.get(&reading.cause(cell)).map_or(0, Vec::len);
    if together > MOST_WAITING_ONE_BY_ONE {
        return None;
    }
    waits_at(reading, id, cell)
}

/// The message of a cell that waits; nothing for any other.
pub(super) fn waits_at(reading: &Reading<'_>, id: StatementId, cell: CellId) -> Option<Diagnostic> {
    let notebook = reading.notebook;
    let CellState::Waits(direct) = notebook.cell(cell).state else {
        return None;
    };
    let cause = reading.cause(cell);
    let tree = notebook.tree(id);
    let name = reading.name(cause);
    let mend = match reading.line(notebook.cell(cause).statement) {
        Some(line) if notebook.cell(cause).role != Role::Handbook => format!("mend line {line}"),
        _ => format!("mend {name}"),
    };
    let label = match direct == cause {
        true => format!("has no value: {mend}; the rest is right"),
        false => format!("waits for {name} too: {mend}; the rest is right"),
    };
    let waits = match notebook.cell(cell).role {
        Role::Check => "this check".to_owned(),
        Role::Study => "this study".to_owned(),
        _ => reading.name(cell),
    };
    let span = use_of(&tree, &reading.name(direct));
    let message = format!("{waits} waits for {name}");
    Some(Diagnostic::error(Code::Waits, span, message).label(label))
}

/// What is said at the cause when many wait for it.
fn all_wait_message(
    reading: &Reading<'_>,
    id: StatementId,
    cell: CellId,
    waits: &[CellId],
) -> Diagnostic {
    let notebook = reading.notebook;
    let mut names: Vec<String> = waits
        .iter()
        .map(|cell| reading.name(*cell))
        .filter(|name| !name.is_empty())
        .collect();
    let unnamed = |wanted: Role| {
        waits
            .iter()
            .filter(move |cell| notebook.cell(**cell).role == wanted)
    };
    for (role, one, many) in [
        (Role::Check, "check", "checks"),
        (Role::Study, "study", "studies"),
    ] {
        match unnamed(role).count() {
            0 => {}
            1 => names.push(format!("1 {one}")),
            count => names.push(format!("{count} {many}")),
        }
    }
    let tree = notebook.tree(id);
    let span = defined_name(&tree);
    let message = format!("{} wait for {}", waits.len(), reading.name(cell));
    Diagnostic::error(Code::Waits, span, message)
        .label(format!("mend it first: {}", names.join(", ")))
}

/// Where a statement uses a cell; the whole statement where only a formula's body does.
fn use_of(tree: &Statement, name: &str) -> Span {
    let mut found = None;
    syntax::visit_names(tree, &mut |used| {
        let is_cell = matches!(used.kind, NameKind::Cell | NameKind::UnitOrCell);
        if found.is_none() && is_cell && used.names.join(".") == name {
            found = Some(used.span);
        }
    });
    found.unwrap_or(match &tree.kind {
        StatementKind::Cell(cell) => cell.value.span,
        StatementKind::Check(check) => check.condition.span,
        _ => tree.span,
    })
}

fn defined_name(tree: &Statement) -> Span {
    match &tree.kind {
        StatementKind::Cell(cell) | StatementKind::Default(cell) => {
            let column = cell.column.as_ref();
            column.map_or(cell.name.span, |column| cell.name.span.to(column.span))
        }
        StatementKind::Table(table) => table.name.span,
        _ => tree.span,
    }
}
