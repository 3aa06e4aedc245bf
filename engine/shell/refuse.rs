//! Entries that were not taken: the messages about them, and the entry as it would be taken.

use super::answer;
use super::outcome::Outcome;
use super::session::Session;
use super::verb::split_verb;
use crate::assist::VERBS;
use crate::source::{Code, Diagnostic, Span, nearest};
use crate::syntax::{self, StatementKind};

impl Session {
    /// Draws the messages about an entry that was not taken.
    pub(super) fn refuse(&mut self, text: &str, mut diagnostics: Vec<Diagnostic>) -> Outcome {
        let mended = match self.line {
            None => self.mend(text, &mut diagnostics),
            Some(_) => None,
        };
        let drawn = diagnostics.iter().map(|one| answer::draw(self, text, one));
        Outcome {
            messages: drawn.collect(),
            is_wrong: true,
            mended,
            ..Outcome::default()
        }
    }

    /// The entry with the first repair that makes it right put in, and a word about it there.
    fn mend(&mut self, text: &str, diagnostics: &mut [Diagnostic]) -> Option<String> {
        for diagnostic in diagnostics {
            let span = diagnostic.span;
            for repair in &mut diagnostic.repairs {
                let place = repair.replaces.unwrap_or(span);
                let Some(mended) = replaced(text, place, &repair.text) else {
                    continue;
                };
                if self.would_take(&mended) {
                    let hint = "press Up: the mended line is there";
                    repair.remark = match repair.remark.as_str() {
                        "" => format!("({hint})"),
                        remark => format!("{remark}  ({hint})"),
                    };
                    return Some(mended);
                }
            }
        }
        None
    }

    fn would_take(&mut self, text: &str) -> bool {
        if split_verb(text).is_some() {
            return true;
        }
        match syntax::parse_entry(text).kind {
            StatementKind::Expression(_) => self.notebook.answer_expression(text).is_ok(),
            _ => self.notebook.would_take(text),
        }
    }
}

/// Where the first word looks like a verb that was mistyped.
pub(super) fn misspelt_verb(text: &str) -> Option<Diagnostic> {
    let text = text.trim();
    let end = text.find(char::is_whitespace).unwrap_or(text.len());
    let (word, rest) = text.split_at(end);
    if rest.trim_start().starts_with(['=', '[']) || text.contains('\n') {
        return None;
    }
    let near = nearest(word, VERBS.iter().map(|verb| verb.name))?;
    let place = Span::new(0, word.len());
    let message = format!("no verb is called {word}");
    Some(Diagnostic::error(Code::UnknownName, place, message).replace(place, near))
}

/// A text with a run of it replaced.
fn replaced(text: &str, place: Span, by: &str) -> Option<String> {
    text.get(place.range())?;
    let mut text = text.to_owned();
    text.replace_range(place.range(), by);
    Some(text)
}
