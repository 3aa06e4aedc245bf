//! What the line editor asks while a person types: completions, a hint, and whether an entry is
//! whole. The answers come from `assist`; only their form is made here.

use super::gather;
use super::session::Session;
use crate::assist;
use crate::files::paths_beginning;
use rustyline::completion::{Completer, Pair};
use rustyline::highlight::Highlighter;
use rustyline::hint::{Hint, Hinter};
use rustyline::validate::{ValidationContext, ValidationResult, Validator};
use rustyline::{Context, Helper};
use std::borrow::Cow;
use std::cell::RefCell;
use std::rc::Rc;
use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

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

/// Where less room is left on the line there is no hint.
const LEAST_HINT: usize = 12;

/// A hint that fits the rest of its line.
fn cut(hint: &str, room: usize) -> String {
    if hint.width() <= room {
        return hint.to_owned();
    }
    let mut kept = String::new();
    for sign in hint.chars() {
        if kept.width() + sign.width().unwrap_or(0) >= room {
            break;
        }
        kept.push(sign);
    }
    kept + "…"
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
        let session = self.session.borrow();
        let hint = format!("  # {}", session.hint(line, cursor)?);
        let last = line.rsplit('\n').next().unwrap_or(line);
        let before = match last.len() == line.len() {
            true => session.prompt().width() + last.width(),
            false => last.width(),
        };
        let columns = session.columns();
        let room = columns.saturating_sub(before % columns + 1);
        (room >= LEAST_HINT).then(|| Remark(cut(&hint, room)))
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

impl Session {
    /// Completions of what stands before the cursor, and where they begin.
    fn complete(&self, line: &str, cursor: usize) -> (usize, Vec<String>) {
        let before = line.get(..cursor).unwrap_or(line);
        if let Some(("open" | "save", begun)) = before.trim_start().split_once(' ') {
            let begun = begun.trim_start();
            return (cursor - begun.len(), paths_beginning(begun));
        }
        let completion = assist::complete(&self.notebook, line, cursor);
        let candidates = completion.candidates.into_iter();
        let texts = candidates.map(|candidate| {
            let takes_more =
                |verb: &assist::Verb| verb.name == candidate.text && !verb.takes.is_empty();
            match assist::VERBS.iter().any(takes_more) {
                true if candidate.kind == assist::CandidateKind::Verb => candidate.text + " ",
                _ => candidate.text,
            }
        });
        (completion.start, texts.collect())
    }

    /// What could come next, in a few words.
    fn hint(&self, line: &str, cursor: usize) -> Option<String> {
        assist::hint(&self.notebook, line, cursor)
    }

    /// The columns that answers are laid out for.
    fn columns(&self) -> usize {
        self.screen.width.max(1)
    }
}
