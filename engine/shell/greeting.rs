//! What is said around a notebook: at the beginning, when one is opened, when it is saved.

use super::answer::hanging;
use super::difference::{Change, changes};
use super::outcome::Outcome;
use super::retrace::listed;
use super::session::Session;
use crate::export::text;
use crate::files::Step;
use crate::report;
use std::path::Path;

/// What stands on the screen before the first prompt, from 60 columns on and below.
pub(super) fn greeting(session: &Session) -> String {
    let version = env!("CARGO_PKG_VERSION")
        .rsplit_once('.')
        .map_or("", |(two, _)| two);
    let title = format!(
        "gaugebook {version}: calculations with units and ± for compressed air and blasting"
    );
    let mut said =
        crate::source::wrap(&title, session.screen.width, session.screen.width - 2).join("\n  ");
    said.push('\n');
    for (task, line, more) in BEGINNINGS {
        let row = format!("  {task:17}{line:27}{more}");
        match row.chars().count() <= session.screen.width {
            true => said.push_str(&row),
            false => said.push_str(&format!("  {task:17}{line}")),
        }
        said.push('\n');
    }
    said
}

/// What one may begin with: the task, what to type, and what else there is.
const BEGINNINGS: [(&str, &str, &str); 4] = [
    (
        "name a value",
        "tank = 60 gal ± 1 gal",
        "then ask  why tank",
    ),
    (
        "open a notebook",
        "open measure-a-gun.md",
        "more to learn from: help notebooks",
    ),
    (
        "look it up",
        "help leak, help psi",
        "words, units, formulas",
    ),
    ("leave", "quit", "tells you first what is not saved"),
];

/// What a notebook that was opened holds, and what is wrong with it.
pub(super) fn opened(session: &Session) -> Outcome {
    let report = report::report(&session.notebook, report::Options::default());
    let mut outcome = Outcome::answer(text::summary(&report.counts, session.screen.layout()));
    outcome.messages = text::messages(&report, session.screen.layout_of_messages());
    outcome.is_wrong = report.messages.iter().any(report::Message::is_error);
    outcome
}

/// What earlier sessions left, and how it comes back.
pub(super) fn offer(session: &Session, left: &[Step]) -> String {
    let words: Vec<String> = left.iter().map(words_of).collect();
    let shown: Vec<&str> = words
        .iter()
        .rev()
        .take(MOST_OFFERED)
        .rev()
        .map(String::as_str)
        .collect();
    let said = match (words.len(), words.len() - shown.len()) {
        (1, _) => format!(
            "not saved last time: {}; `redo` brings it back",
            shown.concat()
        ),
        (count, 0) => format!(
            "{count} lines were not saved last time: {}; `redo` brings the first back, `redo all` all of them",
            listed(&shown)
        ),
        (count, _) => format!(
            "{count} lines were not saved last time, the last of them {}; `redo` brings the first back, `redo all` all of them",
            listed(&shown)
        ),
    };
    hanging(&said, session.screen)
}

/// More lines than these are counted.
const MOST_OFFERED: usize = 3;

fn words_of(step: &Step) -> String {
    let (before, text) = match step {
        Step::Enter(text) => ("", text),
        Step::Remove(name) => ("remove ", name),
    };
    let mut lines = text.lines();
    let first = lines.next().unwrap_or_default();
    let more = if lines.next().is_some() { " …" } else { "" };
    format!("`{before}{first}{more}`")
}

/// What a save changed: the lines that differ, as they were and as they are.
pub(super) fn saved(session: &Session, path: &Path, text: &str) -> String {
    let differing = changes(&session.saved, text);
    let changed: usize = differing
        .iter()
        .map(|one| one.was.len().min(one.now.len()))
        .sum();
    let new: usize = differing
        .iter()
        .map(|one| one.now.len().saturating_sub(one.was.len()))
        .sum();
    let gone: usize = differing
        .iter()
        .map(|one| one.was.len().saturating_sub(one.now.len()))
        .sum();
    let others = session.saved.lines().count().saturating_sub(changed + gone);
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    let lines = |count: usize| {
        if count == 1 {
            "1 line".to_owned()
        } else {
            format!("{count} lines")
        }
    };
    let mut parts: Vec<String> = Vec::new();
    if changed > 0 {
        let verb = if changed == 1 { "differs" } else { "differ" };
        parts.push(format!("{} of {name} {verb}", lines(changed)));
    }
    if new > 0 {
        let what = if parts.is_empty() {
            format!("{} of {name}", lines(new))
        } else {
            new.to_string()
        };
        parts.push(format!(
            "{what} {} new",
            if new == 1 { "is" } else { "are" }
        ));
    }
    if gone > 0 {
        let what = if parts.is_empty() {
            format!("{} of {name}", lines(gone))
        } else {
            gone.to_string()
        };
        parts.push(format!(
            "{what} {} gone",
            if gone == 1 { "is" } else { "are" }
        ));
    }
    parts.push(match others {
        1 => "the other one is untouched".to_owned(),
        _ => format!("the other {others} are untouched"),
    });
    let mut said = hanging(&format!("saved; {}", parts.join(", ")), session.screen);
    for change in differing.iter().take(MOST_CHANGES) {
        said.push_str(&rows(session, change));
    }
    if differing.len() > MOST_CHANGES {
        said.push_str(&format!(
            "  and {} more places\n",
            differing.len() - MOST_CHANGES
        ));
    }
    said
}

/// More places than these are counted.
const MOST_CHANGES: usize = 12;

/// One change in rows; source lines are cut, never wrapped.
fn rows(session: &Session, change: &Change<'_>) -> String {
    let mut rows = String::new();
    let paired = change.was.len().max(change.now.len());
    for number in 0..paired {
        let line = format!("line {}", change.line + number);
        let was = change.was.get(number);
        let now = change.now.get(number);
        let shown: Vec<(&str, &str)> = match (was, now) {
            (Some(was), Some(now)) => vec![("was", was), ("now", now)],
            (None, Some(now)) => vec![("new", now)],
            (Some(was), None) => vec![("gone", was)],
            (None, None) => Vec::new(),
        };
        for (row, (word, text)) in shown.into_iter().enumerate() {
            let line = if row == 0 { line.as_str() } else { "" };
            rows.push_str(&cut(
                &format!("  {line:7}  {word:4} {text}"),
                session.screen.width,
            ));
            rows.push('\n');
        }
    }
    rows
}

fn cut(line: &str, columns: usize) -> String {
    let line = line.trim_end().replace('\t', " ");
    match line.chars().count() > columns {
        true => line
            .chars()
            .take(columns.saturating_sub(1))
            .chain(['…'])
            .collect(),
        false => line,
    }
}

/// What is said of a file that was not there.
pub(super) fn saved_anew(path: &Path, text: &str) -> String {
    let lines = text.lines().count();
    format!("  saved: {} has {lines} lines\n", path.display())
}
