//! The verbs that change the notebook otherwise than by typing a line: `undo`, `redo`, `remove`.

use super::outcome::Outcome;
use super::retrace::{self, Retraced};
use super::session::{Asked, Session};
use crate::files::Step;
use crate::notebook::{Edit, StatementId};
use crate::source::{Code, Diagnostic, Span, nearest};

impl Session {
    pub(super) fn undo(&mut self) -> Outcome {
        match self.notebook.undo() {
            Some(edit) => self.told(Retraced::Back, &edit),
            None => Outcome::answer("  nothing to take back"),
        }
    }

    /// Does again what was taken back, or brings back what an earlier session left.
    pub(super) fn redo(&mut self) -> Outcome {
        if let Some(edit) = self.notebook.redo() {
            return self.told(Retraced::Again, &edit);
        }
        match self.recall.take_next() {
            Some(step) => self.bring_back(step),
            None => Outcome::answer("  nothing to do again"),
        }
    }

    /// Everything that can be done again, one after the other.
    pub(super) fn redo_all(&mut self) -> Outcome {
        if !self.notebook.can_redo() && self.recall.left().is_empty() {
            return Outcome::answer("  nothing to do again");
        }
        let mut outcome = Outcome::default();
        while self.notebook.can_redo() || !self.recall.left().is_empty() {
            outcome.join(self.redo());
        }
        outcome
    }

    fn bring_back(&mut self, step: Step) -> Outcome {
        let edit = match &step {
            Step::Enter(text) => match self.notebook.enter_right(text) {
                Ok(edit) => edit,
                Err(refused) => {
                    let text = refused.text;
                    return self.refuse(&text, refused.diagnostics);
                }
            },
            Step::Remove(text) => match self.standing(text) {
                Some(id) => self.notebook.remove_statement(id),
                None => return Outcome::answer(format!("  gone already: {text}")),
            },
        };
        self.told(Retraced::Brought, &edit)
    }

    /// Notes an edit and tells what it did.
    fn told(&mut self, verb: Retraced, edit: &Edit) -> Outcome {
        let kept = self.keep(edit);
        let mut outcome = retrace::retraced(self, verb, edit);
        outcome.join(kept);
        outcome
    }

    /// The statement that a name or the text of a statement stands for.
    fn standing(&self, text: &str) -> Option<StatementId> {
        let named = self.notebook.statement_of_name(text);
        named.or_else(|| self.notebook.statement_like(text))
    }

    pub(super) fn remove(&mut self, name: &str, asked: &Asked) -> Outcome {
        let Some(id) = self.standing(name) else {
            return self.nothing_to_remove(name);
        };
        let readers = self.notebook.readers(name);
        if !readers.is_empty() && *asked != Asked::Remove(name.to_owned()) {
            self.asked = Asked::Remove(name.to_owned());
            return Outcome::answer(retrace::used_by(self, name, &readers));
        }
        let edit = self.notebook.remove_statement(id);
        self.told(Retraced::Removed, &edit)
    }

    fn nothing_to_remove(&mut self, name: &str) -> Outcome {
        let text = format!("remove {name}");
        let place = Span::new("remove ".len(), text.len());
        let names: Vec<String> = self.notebook.own_names();
        let mut message = Diagnostic::error(
            Code::UnknownName,
            place,
            format!("nothing in this notebook is called {name}"),
        );
        if self.notebook.find(name).is_some() {
            message =
                message.label("a default of the handbook, or a cell of a notebook that is used");
        }
        if let Some(near) = nearest(name, names.iter().map(String::as_str)) {
            message = message.replace(place, near);
        }
        self.refuse(&text, vec![message])
    }
}
