//! What is typed and not saved, kept in a journal, and what earlier sessions left in theirs. The
//! shell goes on without a journal where none can be written, and says so once.

use crate::files::{Journal, Step};
use crate::syntax::{self, StatementKind};
use std::io;
use std::path::{Path, PathBuf};

/// The journal of the notebook at hand, and what was left in it.
#[derive(Debug, Default)]
pub(super) struct Recall {
    /// Where journals are; nothing where none are wanted.
    folder: Option<PathBuf>,
    journal: Option<Journal>,
    left: Vec<Step>,
    has_failed: bool,
}

impl Recall {
    /// Journals in this folder, or none.
    pub fn new(folder: Option<PathBuf>) -> Recall {
        Recall {
            folder,
            ..Recall::default()
        }
    }

    /// Turns to the notebook at a path, or to one without a file.
    pub fn begin(&mut self, path: Option<&Path>) -> io::Result<()> {
        self.end();
        let Some(folder) = &self.folder else {
            return Ok(());
        };
        let (journal, left) = Journal::begin(folder, path)?;
        (self.journal, self.left) = (Some(journal), latest(left));
        Ok(())
    }

    /// Lets go of the journal: what is in it stays.
    pub fn end(&mut self) {
        if let Some(journal) = self.journal.take() {
            journal.end();
        }
        self.left.clear();
    }

    /// Whether what is typed is kept somewhere.
    pub fn is_kept(&self) -> bool {
        self.journal.is_some() && !self.has_failed
    }

    /// Keeps a step. The first time that this fails it gives the error.
    pub fn note(&mut self, step: &Step) -> io::Result<()> {
        let Some(journal) = &mut self.journal else {
            return Ok(());
        };
        let noted = journal.note(step);
        match noted {
            Err(error) if !self.has_failed => {
                self.has_failed = true;
                Err(error)
            }
            _ => Ok(()),
        }
    }

    /// Everything is in the file now; what was left and not brought back is dropped.
    pub fn all_saved(&mut self) {
        self.left.clear();
        self.keep_left();
    }

    /// Nothing of this session is to be kept, only what was left before it.
    pub fn keep_left(&mut self) {
        if let Some(journal) = &mut self.journal {
            // A step too many in the journal is offered once more and does no harm.
            let _ = journal.rewrite(&self.left);
        }
    }

    /// Brings the journal to the disk.
    pub fn sync(&self) {
        if let Some(journal) = &self.journal {
            // The system holds it in any case; only a power cut could lose it.
            let _ = journal.sync();
        }
    }

    /// What was left and not brought back yet, the oldest first.
    pub fn left(&self) -> &[Step] {
        &self.left
    }

    /// The next of what was left.
    pub fn take_next(&mut self) -> Option<Step> {
        (!self.left.is_empty()).then(|| self.left.remove(0))
    }
}

/// The last step for each name, in the order of these last steps.
fn latest(steps: Vec<Step>) -> Vec<Step> {
    let mut latest: Vec<(String, Step)> = Vec::new();
    for step in steps {
        let name = name_of(&step);
        latest.retain(|(other, _)| *other != name);
        latest.push((name, step));
    }
    latest.into_iter().map(|(_, step)| step).collect()
}

fn name_of(step: &Step) -> String {
    match step {
        Step::Enter(text) | Step::Remove(text) => name_in(text),
    }
}

/// What a statement defines; for a check and the like, and for a bare name, the text itself.
pub(super) fn name_in(text: &str) -> String {
    match syntax::parse_entry(text).kind {
        StatementKind::Cell(cell) => match cell.column {
            None => cell.name.text.to_string(),
            Some(column) => format!("{}.{}", cell.name.text, column.text),
        },
        StatementKind::Table(table) => table.name.text.to_string(),
        StatementKind::Formula(formula) => formula.name.text.to_string(),
        _ => text.to_owned(),
    }
}
