//! What the line editor asks while a person types: completions, a hint, and whether an entry is
//! whole. The answers come from `assist`; only their form is made here.

use super::gather;
use super::session::Session;
use rustyline::completion::{Completer, Pair};
use rustyline::highlight::Highlighter;
use rustyline::hint::{Hint, Hinter};
use rustyline::validate::{ValidationContext, ValidationResult, Validator};
use rustyline::{Context, Helper};
use std::borrow::Cow;
use std::cell::RefCell;
use std::rc::Rc;

/// The session as the line editor sees it.
pub(super) struct Typing {
    session: Rc<RefCell<Session>>,
    colour: bool,
}

impl Typing {
    pub fn new(session: Rc<RefCell<Session>>, colour: bool) -> Typing {
        Typing { session, colour }
    }
}

impl Helper for Typing {}

impl Validator for Typing {
    fn validate(&self, context: &mut ValidationContext<'_>) -> rustyline::Result<ValidationResult> {
        Ok(match gather::is_whole(context.input()) {
            true => ValidationResult::Valid(None),
            false => ValidationResult::Incomplete,
        })
    }
}

impl Completer for Typing {
    type Candidate = Pair;

    fn complete(
        &self,
        line: &str,
        cursor: usize,
        _context: &Context<'_>,
    ) -> rustyline::Result<(usize, Vec<Pair>)> {
        let session = self.session.borrow();
        let (start, found) = session.complete(line, cursor);
        let pairs = found.into_iter().map(|text| Pair {
            display: text.clone(),
            replacement: text,
        });
        Ok((start, pairs.collect()))
    }
}

/// A hint, as a comment: it is not part of what is typed, and harmless where it is copied.
pub(super) struct Remark(String);

impl Hint for Remark {
    fn display(&self) -> &str {
        &self.0
    }

    fn completion(&self) -> Option<&str> {
        None
    }
}

impl Hinter for Typing {
    type Hint = Remark;

    fn hint(&self, line: &str, cursor: usize, _context: &Context<'_>) -> Option<Remark> {
        if cursor < line.len() || line.is_empty() {
            return None;
        }
        let hint = self.session.borrow().hint(line, cursor)?;
        Some(Remark(format!("  # {hint}")))
    }
}

impl Highlighter for Typing {
    fn highlight_hint<'h>(&self, hint: &'h str) -> Cow<'h, str> {
        match self.colour {
            true => Cow::Owned(format!("\u{1b}[36m{hint}\u{1b}[0m")),
            false => Cow::Borrowed(hint),
        }
    }
}
