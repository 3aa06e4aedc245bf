//! The handbook: chapters embedded in the program, with real virtual paths. A chapter gives a
//! notebook its formulas, tables and units, and the cells declared with `default`. Statements are
//! read one by one, when a notebook names them: starting costs one pass over the lines.

mod index;

pub use index::{Entry, EntryKind};

use crate::check::FormulaDefinition;
use crate::source::Span;
use crate::syntax::{self, Statement, StatementKind};
use index::Index;
use rustc_hash::FxHashMap;
use std::cell::{OnceCell, RefCell};
use std::rc::Rc;

macro_rules! chapters {
    ($($name:literal),* $(,)?) => {
        /// Every chapter, in the order of the handbook.
        pub const CHAPTERS: &[Chapter] = &[$(Chapter {
            path: concat!("stdlib/", $name),
            text: include_str!(concat!("../../stdlib/", $name)),
        },)*];
    };
}

chapters![
    "shop-air.md",
    "tank-tests.md",
    "receivers.md",
    "nozzles.md",
    "compressors.md",
    "lines.md",
    "moisture.md",
    "blasting.md",
    "electric.md",
    "costs.md",
    "safety.md",
    "measurement.md",
];

/// A chapter of the handbook.
#[derive(Debug)]
pub struct Chapter {
    /// Its path in the project.
    pub path: &'static str,
    /// The document.
    pub text: &'static str,
}

impl Chapter {
    /// Its title: the first heading.
    pub fn title(&self) -> &'static str {
        self.text
            .lines()
            .find_map(|line| line.strip_prefix("# "))
            .unwrap_or(self.path)
            .trim()
    }

    /// The word by which one asks for it: the file's name.
    pub fn topic(&self) -> &'static str {
        self.path
            .trim_start_matches("stdlib/")
            .trim_end_matches(".md")
    }
}

/// The handbook, as far as it was read.
#[derive(Debug, Default)]
pub struct Library {
    index: OnceCell<Index>,
    formulas: RefCell<FxHashMap<&'static str, Option<Rc<FormulaDefinition>>>>,
}

impl Library {
    /// A handbook of which nothing was read yet.
    pub fn new() -> Library {
        Library::default()
    }

    fn index(&self) -> &Index {
        self.index.get_or_init(|| Index::read(CHAPTERS))
    }

    /// Everything the handbook defines, in its order.
    pub fn entries(&self) -> &[Entry] {
        self.index().entries()
    }

    /// What the handbook calls `name`, of this kind.
    pub fn entry(&self, kind: EntryKind, name: &str) -> Option<&Entry> {
        self.index().find(kind, name)
    }

    /// The statement of an entry, with the text its spans point into.
    pub fn statement(&self, entry: &Entry) -> (Statement, &'static str) {
        let text = CHAPTERS[entry.chapter].text;
        let broken = Statement {
            span: entry.span,
            kind: StatementKind::Broken(None),
            remark: None,
            diagnostics: Vec::new(),
        };
        let statement = syntax::parse(text, &entry.lines(text), false)
            .into_iter()
            .next();
        (statement.unwrap_or(broken), text)
    }

    /// The formula of that name.
    pub fn formula(&self, name: &str) -> Option<Rc<FormulaDefinition>> {
        let entry = self.entry(EntryKind::Formula, name)?;
        if let Some(known) = self.formulas.borrow().get(entry.name) {
            return known.clone();
        }
        let made = self.read_formula(entry);
        self.formulas.borrow_mut().insert(entry.name, made.clone());
        made
    }

    fn read_formula(&self, entry: &Entry) -> Option<Rc<FormulaDefinition>> {
        let (statement, text) = self.statement(entry);
        let StatementKind::Formula(tree) = statement.kind else {
            return None;
        };
        let chapter = &CHAPTERS[entry.chapter];
        Some(Rc::new(FormulaDefinition {
            id: entry.number,
            tree: *tree,
            path: chapter.path.into(),
            text: entry.span.of(text).into(),
            base: entry.span.start,
            first_line: entry.line,
            section: entry.section.into(),
            chapter: chapter.title().into(),
            document: None,
        }))
    }

    /// The prose between the heading of an entry's section (or the end of the block before it) and
    /// the block it stands in.
    pub fn prose_above(&self, entry: &Entry) -> &'static str {
        let text = CHAPTERS[entry.chapter].text;
        let before = &text[..entry.fence as usize];
        let after_block = before.rfind("\n```\n").map_or(0, |at| at + 5);
        let after_heading = before.rfind("\n#").map_or(0, |at| {
            before[at + 1..]
                .find('\n')
                .map_or(before.len(), |end| at + 1 + end)
        });
        before[after_block.max(after_heading)..].trim()
    }

    /// The examples that stand in the same block as an entry or in the next block under the same
    /// heading, as written.
    pub fn examples(&self, entry: &Entry) -> Vec<&'static str> {
        let text = CHAPTERS[entry.chapter].text;
        self.index()
            .examples(entry)
            .iter()
            .map(|span: &Span| span.of(text).trim())
            .collect()
    }
}
