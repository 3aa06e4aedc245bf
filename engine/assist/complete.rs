//! What could come next at the cursor.

use super::candidates::{
    behind_verb, columns, named, parameters, references, units, values, verb_candidates,
};
use super::context::{Context, Place};
use super::verb::VERBS;
use crate::notebook::Notebook;

/// What could come next.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Completion {
    /// Where the word begins that a candidate replaces, up to the cursor.
    pub start: usize,
    /// The candidates, the likeliest first.
    pub candidates: Vec<Candidate>,
}

/// One thing that could come next.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Candidate {
    /// What to type, with what must follow it: `bleed_down(`, `held: `.
    pub text: String,
    /// What it is.
    pub kind: CandidateKind,
    /// What it stands for, in a few words; may be empty.
    pub about: String,
}

/// What a candidate is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CandidateKind {
    /// A parameter of the formula around the cursor.
    Parameter,
    /// A cell, or a column of a table.
    Cell,
    /// A formula or built-in function.
    Formula,
    /// A unit.
    Unit,
    /// A verb of the shell.
    Verb,
    /// A word of the language.
    Word,
    /// Something that `help` knows.
    Topic,
}

/// Words that begin a statement, as one types them.
const STATEMENT_WORDS: &[&str] = &[
    "check ", "formula ", "table ", "unit ", "use ", "example ", "sweep ", "plot ", "trace ",
    "fit ", "budget ", "spread ",
];

/// What could come next at byte `cursor` of a line.
///
/// ```
/// use gaugebook::{assist, library::Library, notebook::Notebook};
/// use std::rc::Rc;
/// let notebook = Notebook::empty(Rc::new(Library::new()));
/// let completion = assist::complete(&notebook, "draw = bleed_d", 14);
/// assert_eq!((completion.start, completion.candidates[0].text.as_str()), (7, "bleed_down("));
/// ```
pub fn complete(notebook: &Notebook, line: &str, cursor: usize) -> Completion {
    let verbs: Vec<&str> = VERBS.iter().map(|verb| verb.name).collect();
    let context = Context::of(line, cursor, &verbs);
    let mut candidates = match &context.place {
        Place::Nothing => Vec::new(),
        Place::LineStart => {
            let mut all = verb_candidates();
            all.extend(
                STATEMENT_WORDS
                    .iter()
                    .map(|word| named(CandidateKind::Word, word, "")),
            );
            all.extend(values(notebook));
            all
        }
        Place::BehindVerb(verb) => behind_verb(notebook, verb),
        Place::Unit => units(notebook),
        Place::Reference(unit) => references(notebook, unit),
        Place::Column(table) => columns(notebook, table),
        Place::Value(begins) => {
            let mut all = match (&context.call, begins) {
                (Some(call), true) => parameters(notebook, call),
                _ => Vec::new(),
            };
            all.extend(values(notebook));
            all
        }
    };
    let typed = context.word.to_lowercase();
    candidates.retain(|one| one.text.to_lowercase().starts_with(&typed));
    // What is typed as it stands comes before what differs in capitals; a line begins with a verb
    // or a statement more often than with a value.
    let begins = context.place == Place::LineStart;
    let value = |kind| matches!(kind, CandidateKind::Cell | CandidateKind::Formula);
    candidates.sort_by_key(|one| {
        let other = !one.text.starts_with(&context.word);
        (other, begins && value(one.kind), one.kind)
    });
    candidates.dedup_by(|a, b| a.text == b.text);
    Completion {
        start: context.start,
        candidates,
    }
}
