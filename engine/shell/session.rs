//! A session: an entry goes in, an outcome comes out. It knows no terminal; whoever reads the lines
//! and prints the answers may be one, a pipe or a test.

use super::answer;
use super::gather;
use super::long;
use super::outcome::Outcome;
use super::piped::too_long;
use super::recall::{Recall, name_in};
use super::refuse::misspelt_verb;
use super::screen::Screen;
use super::verb::split_verb;
use crate::assist::Verb;
use crate::files::Step;
use crate::library::Library;
use crate::notebook::{Edit, Notebook, Refused};
use crate::report::{self, Said};
use crate::source::{Code, Diagnostic, MOST_CHARACTERS_IN_LINE, Severity, Span};
use crate::syntax::{self, StatementKind};
use std::path::PathBuf;
use std::rc::Rc;

/// A notebook being worked in.
#[derive(Debug)]
pub struct Session {
    pub(super) library: Rc<Library>,
    pub(super) notebook: Notebook,
    /// Its file, unless it is a new notebook.
    pub(super) file: Option<PathBuf>,
    /// The text of the file, as this session last read or wrote it.
    pub(super) saved: String,
    pub(super) screen: Screen,
    pub(super) recall: Recall,
    /// What a second time of the same would do.
    pub(super) asked: Asked,
    /// The defaults and cautions that were said already.
    pub(super) said: Said,
    /// The line of a piped entry; nothing where a person types.
    pub(super) line: Option<usize>,
}

/// What was asked back.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) enum Asked {
    #[default]
    Nothing,
    Quit,
    Open(PathBuf),
    Save(PathBuf),
    Remove(String),
}

impl Session {
    /// A session in a new notebook. What is typed is journalled in `journals`, if given.
    pub fn new(library: Rc<Library>, screen: Screen, journals: Option<PathBuf>) -> Session {
        let notebook = Notebook::empty(library.clone());
        Session {
            library,
            saved: notebook.text(),
            notebook,
            file: None,
            screen,
            recall: Recall::new(journals),
            asked: Asked::Nothing,
            said: Said::default(),
            line: None,
        }
    }

    /// The notebook, for completion and hints.
    pub fn notebook(&self) -> &Notebook {
        &self.notebook
    }

    /// The screen that answers are laid out for.
    pub fn set_screen(&mut self, screen: Screen) {
        self.screen = screen;
    }

    /// What stands before a line: the notebook's name, and whether something is not saved.
    pub fn prompt(&self) -> String {
        if self.screen.width < NARROW {
            return ": ".to_owned();
        }
        let name = self.name();
        match self.file.is_some() && self.is_unsaved() {
            true => format!("{name}, not saved: "),
            false => format!("{name}: "),
        }
    }

    /// The notebook's name, as far as it fits a prompt.
    fn name(&self) -> String {
        let Some(stem) = self.file.as_ref().and_then(|file| file.file_stem()) else {
            return "new notebook".to_owned();
        };
        let stem = stem.to_string_lossy();
        let plain: String = stem.chars().filter(|sign| !sign.is_control()).collect();
        match plain.chars().count() {
            ..=LONGEST_NAME => plain,
            _ => plain.chars().take(LONGEST_NAME).chain(['…']).collect(),
        }
    }

    /// Whether the file lacks something.
    pub fn is_unsaved(&self) -> bool {
        self.notebook.text() != self.saved
    }

    /// Takes what was typed or pasted in one go: one entry, or several.
    pub fn enter(&mut self, text: &str) -> Outcome {
        let mut outcome = Outcome::default();
        for entry in gather::entries(text) {
            outcome.join(long::watched(|| self.enter_one(&entry.text)));
            if outcome.ends {
                break;
            }
        }
        outcome
    }

    /// The message for a line of a pipe that could not be read at all.
    pub(super) fn refuse_line(&mut self, message: Diagnostic, line: usize) -> Outcome {
        self.line = Some(line);
        self.refuse("", vec![message])
    }

    /// The input is over: what was not saved is said, where there is a file to save it in.
    pub(super) fn end(&mut self) -> Outcome {
        self.recall.end();
        match (&self.file, self.is_unsaved()) {
            (Some(file), true) => {
                let message = Diagnostic::warning(
                    Code::File,
                    Span::default(),
                    format!("{} is as it was: nothing was saved", file.display()),
                )
                .repair_with("save", "before the input ends");
                self.line = None;
                Outcome {
                    messages: answer::draw(self, "", &message),
                    ..Outcome::default()
                }
            }
            _ => Outcome::default(),
        }
    }

    /// Takes an entry of a pipe, with its line there.
    pub fn enter_from_line(&mut self, text: &str, line: usize) -> Outcome {
        self.line = Some(line);
        self.enter_one(text)
    }

    fn enter_one(&mut self, text: &str) -> Outcome {
        if text.lines().any(is_too_long) {
            return self.refuse("", vec![too_long()]);
        }
        let asked = std::mem::take(&mut self.asked);
        if let Some((verb, rest)) = split_verb(text) {
            return self.obey(verb, rest, asked);
        }
        let statement = syntax::parse_entry(text);
        let is_broken = statement
            .diagnostics
            .iter()
            .any(|one| one.severity == Severity::Error);
        match statement.kind {
            _ if is_comment(text) => Outcome::default(),
            StatementKind::Expression(_) if !is_broken => self.answer_expression(text),
            StatementKind::Sweep(syntax::Sweep { name: None, .. }) | StatementKind::Plot(_)
                if !is_broken =>
            {
                self.try_study(text)
            }
            _ if is_broken => match misspelt_verb(text) {
                Some(message) => self.refuse(text, vec![message]),
                None => self.refuse(text, statement.diagnostics),
            },
            _ => self.enter_statement(text),
        }
    }

    fn obey(&mut self, verb: &Verb, rest: &str, asked: Asked) -> Outcome {
        match (verb.name, rest) {
            ("open", "") => self.lacks(verb, "open gun.md"),
            ("open", path) => self.open_asked(path, &asked),
            ("save", path) => self.save(path, &asked),
            ("undo", "") => self.undo(),
            ("redo", "") => self.redo(),
            ("redo", "all") => self.redo_all(),
            ("remove", "") => self.lacks(verb, "remove draw"),
            ("remove", name) => self.remove(name, &asked),
            ("show", "") => self.show_all(),
            ("show", name) => self.show(name),
            ("why", "") => self.lacks(verb, "why draw"),
            ("why", name) => self.why(name),
            ("budget" | "spread", "") => self.lacks(verb, &format!("{} draw", verb.name)),
            ("budget", name) => self.study_cell("budget", name, report::budget_of),
            ("spread", name) => self.study_cell("spread", name, report::spread_of),
            ("help", word) => self.help(word),
            ("quit", "") => self.quit(&asked),
            (name, rest) => {
                let text = format!("{name} {rest}");
                let message = Diagnostic::error(
                    Code::Syntax,
                    Span::new(name.len() + 1, text.len()),
                    format!("`{name}` takes nothing behind it"),
                )
                .repair(name);
                self.refuse(&text, vec![message])
            }
        }
    }

    /// A verb without what has to follow it.
    fn lacks(&mut self, verb: &Verb, example: &str) -> Outcome {
        let message = Diagnostic::error(
            Code::Syntax,
            Span::new(0, verb.name.len()),
            format!(
                "`{}` needs a {} behind it",
                verb.name,
                verb.takes.to_lowercase()
            ),
        )
        .expected(format!("for example {example}"));
        self.refuse(verb.name, vec![message])
    }

    fn answer_expression(&mut self, text: &str) -> Outcome {
        match self.notebook.answer_expression(text) {
            Ok(worked) => answer::value(self, &worked),
            Err(diagnostics) => self.refuse(text, diagnostics),
        }
    }

    fn enter_statement(&mut self, text: &str) -> Outcome {
        match self.notebook.enter_right(text) {
            Ok(edit) => {
                let kept = self.keep(&edit);
                let mut outcome = answer::edit(self, &edit);
                outcome.join(kept);
                outcome
            }
            Err(Refused {
                text: merged,
                diagnostics,
            }) => {
                let mut outcome = self.refuse(&merged, diagnostics);
                outcome.messages.push_str(&answer::still(self, text));
                outcome
            }
        }
    }

    /// Notes in the journal what an edit did.
    pub(super) fn keep(&mut self, edit: &Edit) -> Outcome {
        let record = self.notebook.statement(edit.statement);
        let text = self.notebook.plain_source(edit.statement);
        let step = match record.removed {
            true => Step::Remove(name_in(&text)),
            false => Step::Enter(text),
        };
        match self.recall.note(&step) {
            Ok(()) => Outcome::default(),
            Err(error) => self.no_journal(&error),
        }
    }

    /// What is said, once, where nothing can be journalled.
    pub(super) fn no_journal(&self, error: &std::io::Error) -> Outcome {
        let message = Diagnostic::warning(
            Code::File,
            Span::default(),
            format!("what is typed is kept nowhere until it is saved: {error}"),
        );
        Outcome {
            messages: answer::draw(self, "", &message),
            ..Outcome::default()
        }
    }

    /// Brings the journal to the disk, when nobody waits.
    pub fn rest(&self) {
        self.recall.sync();
    }
}

/// Below this width the prompt is a colon.
const NARROW: usize = 60;

/// The longest name that a prompt shows, in characters.
const LONGEST_NAME: usize = 40;

fn is_comment(text: &str) -> bool {
    text.lines().all(|line| {
        let line = line.trim();
        line.is_empty() || line == "#" || line.starts_with("# ")
    })
}

/// Bytes are counted first: they are known without a walk along the line.
fn is_too_long(line: &str) -> bool {
    line.len() > MOST_CHARACTERS_IN_LINE && line.chars().count() > MOST_CHARACTERS_IN_LINE
}
