//! What only looks: `show`, `why`, `help`, `budget`, `spread`, and sweeps and plots that are tried.

use super::outcome::Outcome;
use super::session::Session;
use crate::assist;
use crate::check::CellId;
use crate::export::text;
use crate::notebook::{Edit, Notebook, Refused};
use crate::report::{self, Study};
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

    /// What makes up the ± of one cell, or trials of it.
    pub(super) fn study_cell(
        &mut self,
        verb: &str,
        name: &str,
        study: fn(&Notebook, CellId) -> Study,
    ) -> Outcome {
        match self.cell_named(verb, name) {
            Ok(cell) => {
                let study = study(&self.notebook, cell);
                Outcome::answer(text::study(&study, self.screen.layout()))
            }
            Err(outcome) => outcome,
        }
    }

    /// A sweep without a name, or a plot: worked out once and not kept.
    pub(super) fn try_study(&mut self, text: &str) -> Outcome {
        let read = |notebook: &Notebook, edit: &Edit| report::study_of(notebook, edit.statement);
        match self.notebook.try_out(text, read) {
            Ok(study) => {
                let study = study.map(|study| text::study(&study, self.screen.layout()));
                Outcome::answer(study.unwrap_or_default())
            }
            Err(Refused { text, diagnostics }) => self.refuse(&text, diagnostics),
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
