//! Taking edits back and doing them again, and edits that are refused where they are wrong.

use super::recheck::Wave;
use super::statement::StatementId;
use super::{Edit, Notebook, Worked};
use crate::check::CellId;
use crate::source::{Diagnostic, Severity};
use crate::syntax;
use rustc_hash::FxHashMap;
use std::rc::Rc;

/// What a statement was before a step.
#[derive(Debug)]
pub(super) struct Step {
    statement: StatementId,
    edited: Option<Rc<str>>,
    removed: bool,
}

/// A line that was not taken: the notebook is as it was.
#[derive(Clone, Debug)]
pub struct Refused {
    /// What the messages are about: the line as typed, or with the head and the remark of the
    /// cell it was to replace.
    pub text: Rc<str>,
    /// What is wrong with it.
    pub diagnostics: Vec<Diagnostic>,
}

impl Notebook {
    /// The step that brings a statement back to what it is now.
    pub(super) fn step_back(&self, id: StatementId) -> Step {
        let record = self.statement(id);
        Step {
            statement: id,
            edited: record.edited.clone(),
            removed: record.removed,
        }
    }

    fn retrace(&mut self, step: Step) -> (Edit, Step) {
        let back = self.step_back(step.statement);
        let ripple = self.put(step.statement, step.edited, step.removed);
        let edit = Edit {
            statement: step.statement,
            added: back.removed && !step.removed,
            ripple,
        };
        (edit, back)
    }

    /// Takes the last edit back.
    pub fn undo(&mut self) -> Option<Edit> {
        let step = self.history.pop()?;
        let (edit, back) = self.retrace(step);
        self.undone.push(back);
        Some(edit)
    }

    /// Does again what was taken back last, as long as nothing else was edited since.
    pub fn redo(&mut self) -> Option<Edit> {
        let step = self.undone.pop()?;
        let (edit, back) = self.retrace(step);
        self.history.push(back);
        Some(edit)
    }

    /// Whether there is something to take back.
    pub fn can_undo(&self) -> bool {
        !self.history.is_empty()
    }

    /// Whether there is something to do again.
    pub fn can_redo(&self) -> bool {
        !self.undone.is_empty()
    }

    /// Takes a statement as [`Notebook::enter_statement`] does, unless it carries an error itself:
    /// then nothing changes. That it waits for a cell with an error is no error of its own.
    ///
    /// # Errors
    /// The messages about it.
    pub fn enter_right(&mut self, text: &str) -> Result<Edit, Refused> {
        let undone = std::mem::take(&mut self.undone);
        let edit = match self.enter_statement(text) {
            Ok(edit) => edit,
            Err(diagnostics) => {
                self.undone = undone;
                return Err(Refused {
                    text: text.into(),
                    diagnostics,
                });
            }
        };
        let diagnostics = self.own_messages(edit.statement);
        if !diagnostics
            .iter()
            .any(|one| one.severity == Severity::Error)
        {
            return Ok(edit);
        }
        let text = self.text_of(edit.statement).into();
        self.undo();
        self.undone = undone;
        Err(Refused { text, diagnostics })
    }

    /// Whether a line would be taken; nothing changes.
    pub fn would_take(&mut self, text: &str) -> bool {
        self.try_out(text, |_, _| ()).is_ok()
    }

    /// Takes a line as [`Notebook::enter_right`] does, reads something out, and takes it back.
    ///
    /// # Errors
    /// The messages about it.
    pub fn try_out<T>(
        &mut self,
        text: &str,
        read: impl FnOnce(&Notebook, &Edit) -> T,
    ) -> Result<T, Refused> {
        let undone = std::mem::take(&mut self.undone);
        let read = self.enter_right(text).map(|edit| {
            let read = read(self, &edit);
            self.undo();
            read
        });
        self.undone = undone;
        read
    }

    /// Works an expression out, with the defaults and tables of the handbook that it needs.
    ///
    /// # Errors
    /// The messages about it.
    pub fn answer_expression(&mut self, text: &str) -> Result<Worked, Vec<Diagnostic>> {
        let before = self.cells.len() as u32;
        self.require(0, &syntax::parse_entry(text));
        let wave = Wave::of((before..self.cells.len() as u32).map(CellId).collect());
        self.run_wave(wave, FxHashMap::default());
        self.work_expression(0, text)
    }

    /// The messages of a statement and of its cells, each once.
    pub fn own_messages(&self, id: StatementId) -> Vec<Diagnostic> {
        let mut messages = self.statement(id).diagnostics.clone();
        for cell in self.cells_of(id) {
            for message in self.messages(cell) {
                if !messages.contains(&message) {
                    messages.push(message);
                }
            }
        }
        messages
    }
}
