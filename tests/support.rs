//! The one place where tests of the language call the engine: a few lines go in, values and whole
//! messages come out, as a reader would see them.

use std::path::{Path, PathBuf};
use std::rc::Rc;
use std::{env, fs};

use gaugebook::check::CellId;
use gaugebook::exact::Value;
use gaugebook::library::Library;
use gaugebook::notebook::{
    CellState, Files, Notebook, Precision, StatementId, StatementRecord, Tag,
};
use gaugebook::source::{Diagnostic, Document, Severity, SourceText, Style, render};

/// How wide messages are drawn in tests.
const WIDTH: usize = 100;

/// Documents that lie beside the one opened, in a folder of the tests.
struct Beside<'p>(Option<&'p Path>);

impl Files for Beside<'_> {
    fn read(&self, path: &str, _beside: &str) -> Result<(String, Vec<u8>), String> {
        let missing = || format!("there is no file {path}");
        let file = self.0.ok_or_else(missing)?.join(path);
        fs::read(file)
            .map(|text| (path.to_owned(), text))
            .map_err(|_| missing())
    }
}

/// A notebook that a test asks about.
pub struct Cells {
    pub notebook: Notebook,
}

/// The lines of a shop, without a fence, as a notebook.
pub fn cells(source: &str) -> Cells {
    document(&format!("```gaugebook\n{source}\n```\n"))
}

/// A whole document as a notebook.
pub fn document(text: &str) -> Cells {
    opened("shop.md", text, &Beside(None))
}

/// A whole document, with the others of a folder beside it.
pub fn document_beside(name: &str, text: &str, folder: &Path) -> Cells {
    opened(name, text, &Beside(Some(folder)))
}

fn opened(name: &str, text: &str, files: &Beside<'_>) -> Cells {
    let library = Rc::new(Library::new());
    let notebook = Notebook::open(name, Document::new(text.to_owned()), files, library);
    Cells { notebook }
}

/// Holds the messages of a few lines to a text, carets and all.
#[track_caller]
pub fn check(source: &str, expected: &str) {
    let messages = cells(source).messages();
    assert_eq!(
        messages.trim_end(),
        expected.trim_end(),
        "\n{source}\n\n{messages}"
    );
}

/// What the last cell of a few lines is worth, as a table shows it.
pub fn evaluate(source: &str) -> String {
    let cells = cells(source);
    let last = cells.last();
    last.map_or(String::new(), |last| cells.shown(last))
}

impl Cells {
    /// What a cell is worth, as a table shows it; else that it failed, or what it waits for.
    #[track_caller]
    pub fn value(&self, name: &str) -> String {
        let cell = self.notebook.find(name);
        self.shown(cell.unwrap_or_else(|| panic!("no cell is called {name}")))
    }

    /// What a cell is worth with all its digits.
    #[track_caller]
    pub fn full(&self, name: &str) -> String {
        let cell = self.notebook.find(name);
        let cell = cell.unwrap_or_else(|| panic!("no cell is called {name}"));
        self.notebook.shown_with(cell, None, Precision::Full).line()
    }

    fn shown(&self, cell: CellId) -> String {
        match self.notebook.cell(cell).state {
            CellState::Ok => self.notebook.shown(cell, None).line(),
            CellState::Waits(other) => format!("waits for {}", self.notebook.cell(other).name),
            CellState::Failed | CellState::Unchecked => "failed".to_owned(),
        }
    }

    /// The last cell with a name.
    fn last(&self) -> Option<CellId> {
        let own = |(id, cell): (CellId, &gaugebook::notebook::Cell)| {
            let record = self.notebook.statements().get(cell.statement.0 as usize)?;
            let named = record.part == 0 && !record.is_handbook() && !cell.name.is_empty();
            named.then_some((cell.statement, id))
        };
        self.notebook
            .cells()
            .filter_map(own)
            .max()
            .map(|(_, id)| id)
    }

    /// How a check turned out, in the words of a report.
    fn outcome(&self, check: CellId) -> String {
        match (self.notebook.cell(check).state, self.notebook.value(check)) {
            (CellState::Waits(_) | CellState::Failed, _) => self.shown(check),
            (_, Value::Doubtful(doubt)) if doubt.low >= 0.95 => "holds".to_owned(),
            (_, Value::Doubtful(doubt)) if doubt.high <= 0.05 => "fails".to_owned(),
            (_, Value::Doubtful(doubt)) => {
                format!("is too close to call ({:.0} %)", doubt.low * 100.0)
            }
            (_, value) if value.holds() == Some(true) => "holds".to_owned(),
            (_, Value::Column(_)) => self.shown(check),
            _ => "fails".to_owned(),
        }
    }

    /// `draw is 12 cfm free` for the last cell; for a check that stands last, how it turned out.
    pub fn last_sentence(&self) -> Option<String> {
        let mut records = self.notebook.statements().iter();
        let own = |record: &&StatementRecord| record.part == 0 && !record.is_handbook();
        let last = records.rfind(own)?;
        if last.tag == Tag::Check {
            let place = last.span;
            let is_it = |id: StatementId| self.notebook.statement(id).span == place;
            let (check, _) = self
                .notebook
                .cells()
                .filter(|(_, cell)| cell.statement != StatementId(u32::MAX))
                .find(|(_, cell)| is_it(cell.statement))?;
            return Some(format!("check {}", self.outcome(check)));
        }
        let last = self.last()?;
        let name = &self.notebook.cell(last).name;
        let shown = self.shown(last);
        Some(match self.notebook.cell(last).state {
            CellState::Ok => format!("{name} is {shown}"),
            _ => format!("{name} {shown}"),
        })
    }

    /// Every message in the order of the document, with the place it is about.
    pub fn diagnostics(&self) -> Vec<(StatementId, Diagnostic)> {
        let notebook = &self.notebook;
        let mut all = Vec::new();
        for index in 0..notebook.statements().len() as u32 {
            let id = StatementId(index);
            let record = notebook.statement(id);
            let part = record.part;
            let writing = record.diagnostics.iter().cloned();
            all.extend(writing.map(|one| (id, notebook.completed_in(part, one))));
            for (cell, record) in notebook.cells() {
                if record.statement == id {
                    all.extend(notebook.messages(cell).into_iter().map(|one| (id, one)));
                }
            }
        }
        all
    }

    /// The codes of all messages, in the order of the document.
    pub fn codes(&self) -> Vec<&'static str> {
        self.diagnostics()
            .iter()
            .map(|(_, one)| one.code.name())
            .collect()
    }

    /// Whether any message is an error.
    pub fn has_error(&self) -> bool {
        self.diagnostics()
            .iter()
            .any(|(_, one)| one.severity == Severity::Error)
    }

    /// Every message as the shell draws it: without file and line.
    pub fn messages(&self) -> String {
        self.drawn(Style {
            place: false,
            ..Style::plain(WIDTH)
        })
    }

    /// The messages about statements that begin at or behind a place of the document.
    pub fn messages_from(&self, place: usize) -> String {
        let is_behind = |id: StatementId| self.notebook.statement(id).span.start as usize >= place;
        let all = self
            .diagnostics()
            .into_iter()
            .filter(|(id, _)| is_behind(*id));
        let style = Style {
            place: false,
            ..Style::plain(WIDTH)
        };
        all.map(|(id, one)| self.draw(id, &one, style)).collect()
    }

    /// Every message as a file's report draws it.
    pub fn located_messages(&self) -> String {
        let parts = self.notebook.parts().iter();
        let style = Style::plain(WIDTH);
        let fences: String = parts
            .flat_map(|part| {
                let source = SourceText::new(&part.path, part.document.text());
                part.diagnostics
                    .iter()
                    .map(move |one| render(one, &source, style))
            })
            .collect();
        fences + &self.drawn(style)
    }

    fn drawn(&self, style: Style) -> String {
        let all = self.diagnostics();
        all.iter()
            .map(|(id, one)| self.draw(*id, one, style))
            .collect()
    }

    fn draw(&self, id: StatementId, diagnostic: &Diagnostic, style: Style) -> String {
        let part = &self.notebook.parts()[usize::from(self.notebook.statement(id).part)];
        let source = SourceText::new(&part.path, self.notebook.text_of(id));
        render(diagnostic, &source, style)
    }
}

/// A file or folder of the tests.
pub fn tests_path(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests")
        .join(name)
}

/// Whether texts that tests hold results to are to be written afresh, to be read as a change of
/// the files: `UPDATE_EXPECTED=1 cargo test`.
pub fn updates_expected() -> bool {
    env::var_os("UPDATE_EXPECTED").is_some()
}

/// The files in a folder of the tests with this ending, by name.
pub fn files_in(folder: &str, ending: &str) -> Vec<(String, PathBuf)> {
    let entries = fs::read_dir(tests_path(folder)).expect("the folder can be read");
    let mut files: Vec<(String, PathBuf)> = entries
        .map(|entry| entry.expect("the entry can be read").path())
        .filter(|path| path.extension().is_some_and(|one| one == ending))
        .map(|path| {
            let name = path
                .file_stem()
                .expect("a name")
                .to_string_lossy()
                .into_owned();
            (name, path)
        })
        .collect();
    files.sort();
    files
}
