//! What the shell says when it walks through the history, and before and after it takes something
//! out.

use super::answer::{hanging, mistakes};
use super::outcome::Outcome;
use super::recall::name_in;
use super::session::Session;
use crate::check::CellId;
use crate::export::text;
use crate::notebook::Edit;
use crate::report;

/// What taking back or doing again came to: `taken back: stop is 94.0 ± 2.3 psig again; 5 cells
/// and 1 check as before`.
pub(super) fn retraced(session: &mut Session, verb: Retraced, edit: &Edit) -> Outcome {
    let subject = subject(session, edit);
    let rippled = report::ripple(&session.notebook, edit);
    let (moved, flipped) = (edit.ripple.moved.len(), rippled.flips.len());
    let others = counted(moved, flipped);
    let mut said = match verb {
        Retraced::Back => format!("taken back: {subject} again"),
        Retraced::Again => format!("done again: {subject}"),
        Retraced::Brought => format!("brought back: {subject}"),
        Retraced::Removed => format!("removed: {subject}"),
    };
    if session.notebook.statement(edit.statement).removed {
        said = match verb {
            Retraced::Back | Retraced::Again | Retraced::Brought => {
                format!("{}: {subject} is gone", verb.words())
            }
            Retraced::Removed => said,
        };
    }
    if moved + flipped > 1 && verb != Retraced::Removed {
        let how = if verb == Retraced::Back {
            "as before"
        } else {
            "with it"
        };
        said.push_str(&format!("; {others} {how}"));
    }
    let waiting = waiting(session, edit);
    if !waiting.is_empty() {
        said.push_str(&format!("; {waiting}"));
    }
    let mut outcome = Outcome::answer(hanging(&said, session.screen));
    if verb != Retraced::Removed {
        // Who removes something that is used was told what comes of it.
        outcome.join(mistakes(session, edit));
    }
    outcome
}

/// Ways to walk through the history.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Retraced {
    Back,
    Again,
    Brought,
    Removed,
}

impl Retraced {
    fn words(self) -> &'static str {
        match self {
            Retraced::Back => "taken back",
            Retraced::Again => "done again",
            Retraced::Brought => "brought back",
            Retraced::Removed => "removed",
        }
    }
}

/// What an edit was about: a cell with its value, or the first line of a statement.
fn subject(session: &Session, edit: &Edit) -> String {
    let notebook = &session.notebook;
    let record = notebook.statement(edit.statement);
    let source = notebook.plain_source(edit.statement);
    let cells = notebook.cells_of(edit.statement);
    match (record.removed, &cells[..]) {
        (false, [cell]) if !notebook.cell(*cell).name.is_empty() => {
            let mut sentence = report::sentence(notebook, *cell);
            sentence.shown.tag = None;
            text::sentence(&sentence, session.screen.layout())
                .trim()
                .to_owned()
        }
        _ => {
            let name = name_in(&source);
            name.lines().next().unwrap_or_default().trim().to_owned()
        }
    }
}

fn counted(cells: usize, checks: usize) -> String {
    let counted = |count: usize, word: &str| match count {
        0 => None,
        1 => Some(format!("1 {word}")),
        _ => Some(format!("{count} {word}s")),
    };
    let parts: Vec<String> = [counted(cells, "cell"), counted(checks, "check")]
        .into_iter()
        .flatten()
        .collect();
    parts.join(" and ")
}

/// Which cells wait because of an edit.
fn waiting(session: &Session, edit: &Edit) -> String {
    let notebook = &session.notebook;
    let names: Vec<&str> = edit
        .ripple
        .broken
        .iter()
        .map(|cell| &*notebook.cell(*cell).name)
        .filter(|name| !name.is_empty())
        .collect();
    let (named, rest) = names.split_at(names.len().min(MOST_NAMED));
    match (named, rest.len()) {
        ([], _) => String::new(),
        ([one], 0) => format!("{one} has no value now"),
        (names, 0) => format!("{} have no value now", listed(names)),
        (names, more) => format!("{} and {more} more have no value now", names.join(", ")),
    }
}

/// More names than these are counted.
const MOST_NAMED: usize = 8;

/// `draw, duty and rest`
pub(super) fn listed(names: &[&str]) -> String {
    match names.split_last() {
        None => String::new(),
        Some((last, [])) => (*last).to_owned(),
        Some((last, before)) => format!("{} and {last}", before.join(", ")),
    }
}

/// What is said before something is removed that others use.
pub(super) fn used_by(session: &Session, name: &str, readers: &[CellId]) -> String {
    let notebook = &session.notebook;
    let mut named: Vec<String> = Vec::new();
    for reader in readers {
        let cell = notebook.cell(*reader);
        let text = match &*cell.name {
            "" => {
                let source = notebook.plain_source(cell.statement);
                source.lines().next().unwrap_or_default().to_owned()
            }
            name => name.to_owned(),
        };
        if !named.contains(&text) {
            named.push(text);
        }
    }
    let users: Vec<&str> = named.iter().map(String::as_str).collect();
    let said = format!(
        "used by {}, without a value then: `remove {name}` again takes it out",
        listed(&users)
    );
    hanging(&said, session.screen)
}
