//! The verbs that only look: `show`, `why` and `help`.

use super::outcome::Outcome;
use super::session::Session;
use crate::assist;
use crate::check::CellId;
use crate::export::text;
use crate::report;
use crate::source::{Code, Diagnostic, Span, nearest};

impl Session {
    /// The whole notebook, as `gaugebook run` prints it.
    pub(super) fn show_all(&mut self) -> Outcome {
        let report = report::report(&self.notebook, report::Options::default());
        let mut outcome = Outcome::answer(text::report(&report, self.screen.layout()));
        outcome.messages = text::messages(&report, self.screen.layout_of_messages());
        outcome
    }

    /// One cell in full.
    pub(super) fn show(&mut self, name: &str) -> Outcome {
        match self.cell_named("show", name) {
            Ok(cell) => {
                let page = report::page(&self.notebook, cell);
                Outcome::answer(text::page(&page, self.screen.layout()))
            }
            Err(outcome) => outcome,
        }
    }

    /// How one cell is worked out.
    pub(super) fn why(&mut self, name: &str) -> Outcome {
        match self.cell_named("why", name) {
            Ok(cell) => {
                let why = report::why(&self.notebook, cell);
                Outcome::answer(text::why(&why, self.screen.layout()))
            }
            Err(outcome) => outcome,
        }
    }

    /// The cell that a verb names.
    fn cell_named(&mut self, verb: &str, name: &str) -> Result<CellId, Outcome> {
        if let Some(cell) = self.notebook.find(name) {
            return Ok(cell);
        }
        let text = format!("{verb} {name}");
        let place = Span::new(verb.len() + 1, text.len());
        let names = self.notebook.cell_names();
        let mut message = Diagnostic::error(
            Code::UnknownName,
            place,
            format!("no cell is called {name}"),
        );
        if let Some(near) = nearest(name, names.iter().map(String::as_str)) {
            message = message.replace(place, near);
        } else if self.notebook.statement_of_name(name).is_some() {
            message = message.expected(format!("a cell; `help {name}` tells of it"));
        }
        Err(self.refuse(&text, vec![message]))
    }

    /// What a word means.
    pub(super) fn help(&mut self, word: &str) -> Outcome {
        let help = assist::help(&self.notebook, word);
        let answer = text::help(&help, self.screen.layout());
        match help.answers.is_empty() {
            false => Outcome::answer(answer),
            true => Outcome::error(answer),
        }
    }
}
