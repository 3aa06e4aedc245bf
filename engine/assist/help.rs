//! What a word means: a verb, a topic of the language, a cell, a formula, a unit, the code of a
//! message, a chapter; else whatever the handbook has about it.

use super::contents::{ChapterListed, chapter};
use super::formula::{self, FormulaHelp};
use super::guide::{GUIDE, Guide, topic};
use super::prose::paragraphs;
use super::search::{Hit, Reach, known_words, search};
use super::unit::{self, UnitHelp};
use super::verb::{VERBS, Verb};
use crate::check::NATIVES;
use crate::library::{CHAPTERS, EntryKind};
use crate::notebook::{CellState, Notebook};
use crate::source::{Code, Span, nearest};
use crate::syntax::StatementKind;
use crate::units::{Lookup, catalogue};

/// What is known about a word.
#[derive(Clone, Debug, PartialEq)]
pub struct Help {
    /// The word that was asked for.
    pub word: String,
    /// The word that is answered, where nothing is known of the one asked for.
    pub near: Option<String>,
    /// The answers: a word may be a formula and a unit.
    pub answers: Vec<Answer>,
}

/// One thing that a word means.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// What there is to ask, for whoever asks nothing.
    Overview,
    /// A verb of the shell.
    Verb(&'static Verb),
    /// A topic of the language.
    Guide(&'static Guide),
    /// A cell of the notebook.
    Cell(CellHelp),
    /// A formula.
    Formula(Box<FormulaHelp>),
    /// A built-in function: how it is called, and what it gives.
    Native(&'static str, &'static str),
    /// A unit.
    Unit(Box<UnitHelp>),
    /// A word that is no unit, and what to type instead.
    Refused {
        /// The word.
        word: String,
        /// Completes “ton is …”.
        reads: String,
        /// What to type, and what that is.
        offers: Vec<(String, String)>,
    },
    /// A default of the handbook.
    Default {
        /// The line as written, its remark apart.
        line: String,
        /// The remark behind it.
        remark: Option<String>,
        /// The title of its chapter.
        chapter: String,
    },
    /// A table of the handbook.
    Table {
        /// Its name.
        name: String,
        /// The heads of its columns.
        heads: Vec<String>,
        /// Its rows, field by field.
        rows: Vec<Vec<String>>,
        /// What the handbook says about it.
        prose: Vec<String>,
        /// The title of its chapter.
        chapter: String,
    },
    /// A chapter of the handbook.
    Chapter(ChapterListed),
    /// The code of a message, and what it means.
    Code(&'static str, &'static str),
    /// What a search found.
    Found(Vec<Hit>),
}

/// A cell of the notebook.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CellHelp {
    /// Its name.
    pub name: String,
    /// Its value as it could be typed; nothing where it has none.
    pub value: Option<String>,
    /// What kind of value it has: “a flow”.
    pub kind: Option<String>,
    /// The line it stands in.
    pub line: Option<usize>,
}

/// What is known about a word.
pub fn help(notebook: &Notebook, word: &str) -> Help {
    let word = word.trim();
    let mut answers = exact(notebook, word);
    let refused = |one: &Answer| matches!(one, Answer::Refused { .. });
    if answers.iter().all(refused) {
        let reach = match answers.is_empty() {
            true => Reach::Everything,
            // What merely mentions the word is no answer beside its meanings.
            false => Reach::First,
        };
        let hits = search(notebook.library(), word, reach);
        if !hits.is_empty() {
            answers.push(Answer::Found(hits));
        }
    }
    let mut near = None;
    if answers.is_empty()
        && let Some(neighbour) = neighbour(notebook, word)
    {
        answers = exact(notebook, &neighbour);
        if answers.is_empty() {
            answers.push(Answer::Found(search(
                notebook.library(),
                &neighbour,
                Reach::Everything,
            )));
        }
        near = Some(neighbour);
    }
    Help {
        word: word.to_owned(),
        near,
        answers,
    }
}

/// The answers to a word that is known as it stands.
fn exact(notebook: &Notebook, word: &str) -> Vec<Answer> {
    if word.is_empty() {
        return vec![Answer::Overview];
    }
    let library = notebook.library();
    let joined = word.replace([' ', '-'], "_");
    let mut answers = Vec::new();
    answers.extend(
        VERBS
            .iter()
            .find(|verb| verb.name == word)
            .map(Answer::Verb),
    );
    answers.extend(cell(notebook, word));
    if let Some(formula) = notebook.formula(&joined) {
        answers.push(Answer::Formula(Box::new(formula::page(library, &formula))));
    }
    let native = NATIVES.iter().find(|native| native.name == joined);
    answers.extend(native.map(|native| Answer::Native(native.signature, native.about)));
    answers.extend(of_unit(notebook, word));
    answers.extend(entry(notebook, &joined));
    answers.extend(topic(word).map(Answer::Guide));
    answers.extend(chapter(library, word).map(Answer::Chapter));
    let code = word.replace('_', "-");
    let code = Code::ALL.iter().find(|one| one.name() == code);
    answers.extend(code.map(|code| Answer::Code(code.name(), code.meaning())));
    answers
}

fn cell(notebook: &Notebook, word: &str) -> Option<Answer> {
    let cell = notebook.find(word)?;
    let record = notebook.cell(cell);
    let statement = notebook.statement(record.statement);
    if statement.is_handbook() {
        return None;
    }
    let has_value = record.state == CellState::Ok;
    Some(Answer::Cell(CellHelp {
        name: record.name.to_string(),
        value: has_value.then(|| notebook.shown(cell, None).line()),
        kind: notebook.kind_words(cell),
        line: notebook
            .line_of(record.statement)
            .filter(|_| !statement.is_added()),
    }))
}

fn of_unit(notebook: &Notebook, word: &str) -> Option<Answer> {
    if let Some(page) = unit::page(notebook, word) {
        return Some(Answer::Unit(Box::new(page)));
    }
    match notebook.unit_word(word) {
        Lookup::Refused { reads, offers } => Some(Answer::Refused {
            word: word.to_owned(),
            reads,
            offers,
        }),
        _ => None,
    }
}

/// A default or a table of the handbook.
fn entry(notebook: &Notebook, name: &str) -> Option<Answer> {
    let library = notebook.library();
    let kinds = [EntryKind::Default, EntryKind::Table];
    let entry = kinds.iter().find_map(|kind| library.entry(*kind, name))?;
    let chapter = CHAPTERS[entry.chapter].title().to_owned();
    let (statement, text) = library.statement(entry);
    match &statement.kind {
        StatementKind::Default(cell) => {
            let line = Span {
                start: statement.span.start,
                end: cell.value.span.end,
            };
            let remark = statement.remark.map(|remark| remark.of(text).trim());
            Some(Answer::Default {
                line: line.of(text).trim_start_matches("default ").to_owned(),
                remark: remark.map(str::to_owned),
                chapter,
            })
        }
        StatementKind::Table(table) => {
            let head = |column: &crate::syntax::TableColumn| {
                let unit = column.unit.as_ref().map(crate::syntax::print_unit);
                let unit = unit.map(|unit| format!(" [{unit}]")).unwrap_or_default();
                format!("{}{unit}", column.name.text)
            };
            let row = |row: &crate::syntax::Row| {
                let fields = row.fields.iter();
                fields.map(|field| field.span.of(text).to_owned()).collect()
            };
            Some(Answer::Table {
                name: name.to_owned(),
                heads: table.head.iter().map(head).collect(),
                rows: table.rows.iter().map(row).collect(),
                prose: paragraphs(library.prose_above(entry)),
                chapter,
            })
        }
        _ => None,
    }
}

/// The known word that is most like one that nobody knows.
fn neighbour(notebook: &Notebook, word: &str) -> Option<String> {
    let library = notebook.library();
    let mut known: Vec<String> = notebook.cell_names();
    known.extend(
        notebook
            .formulas()
            .iter()
            .map(|formula| formula.name().to_owned()),
    );
    known.extend(library.entries().iter().map(|entry| entry.name.to_owned()));
    known.extend(NATIVES.iter().map(|native| native.name.to_owned()));
    known.extend(VERBS.iter().map(|verb| verb.name.to_owned()));
    known.extend(
        GUIDE
            .iter()
            .flat_map(|guide| guide.words)
            .map(|word| (*word).to_owned()),
    );
    known.extend(CHAPTERS.iter().map(|chapter| chapter.topic().to_owned()));
    known.extend(Code::ALL.iter().map(|code| code.name().to_owned()));
    known.extend(known_words(library));
    let units = catalogue().flat_map(|unit| {
        let names = unit.names.split(' ').filter(|name| !name.is_empty());
        std::iter::once(unit.symbol).chain(names)
    });
    // Short unit symbols are like everything.
    known.extend(
        units
            .filter(|unit| unit.chars().count() > 2)
            .map(str::to_owned),
    );
    nearest(word, known.iter().map(String::as_str)).map(str::to_owned)
}
