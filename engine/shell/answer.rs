//! What the shell says to entries that were taken. The values, tables and worked lines come from
//! `report` and `export`; the sentences around them are made here.

use super::outcome::Outcome;
use super::screen::Screen;
use super::session::Session;
use crate::check::CellId;
use crate::export::text;
use crate::notebook::{CellState, Edit, Worked};
use crate::report;
use crate::source::{Diagnostic, Severity, SourceText, Style, render, wrap};
use crate::syntax;

impl Screen {
    /// How answers are laid out.
    pub fn layout(&self) -> text::Layout {
        text::Layout {
            width: self.width,
            unicode: self.unicode,
            colour: self.colour,
            plain: self.plain,
        }
    }

    /// How messages are laid out.
    pub fn layout_of_messages(&self) -> text::Layout {
        text::Layout {
            colour: self.colour_of_messages,
            ..self.layout()
        }
    }
}

/// A message about a text, drawn for the error stream.
pub(super) fn draw(session: &Session, text: &str, diagnostic: &Diagnostic) -> String {
    let screen = session.screen;
    let style = Style {
        colour: screen.colour_of_messages,
        unicode: screen.unicode,
        width: screen.width,
        place: session.line.is_some(),
    };
    let source = SourceText {
        first_line: session.line.unwrap_or(1),
        ..SourceText::new(crate::files::STANDARD_INPUT, text)
    };
    render(diagnostic, &source, style)
}

/// A paragraph indented by two columns, its further lines by four.
pub(super) fn hanging(text: &str, screen: Screen) -> String {
    let lines = wrap(text, screen.width - 2, screen.width - 4);
    let indented = lines.iter().enumerate().map(|(number, line)| match number {
        0 => format!("  {line}\n"),
        _ => format!("    {line}\n"),
    });
    indented.collect()
}

/// What an expression is worth.
pub(super) fn value(session: &mut Session, worked: &Worked) -> Outcome {
    let layout = session.screen.layout();
    let sentence = report::answer(&session.notebook, worked);
    let mut outcome = Outcome::answer(text::sentence(&sentence, layout));
    let remarks = report::remarks_of(&session.notebook, worked, &mut session.said);
    outcome.say(text::remarks(&remarks, layout));
    outcome
}

/// What an entry did that was taken.
pub(super) fn edit(session: &mut Session, edit: &Edit) -> Outcome {
    let layout = session.screen.layout();
    let rippled = report::ripple(&session.notebook, edit);
    let mut outcome = Outcome::answer(text::ripple(&rippled, layout));
    let own = session.notebook.cells_of(edit.statement);
    let remarks = report::remarks(&session.notebook, &own, &mut session.said);
    outcome.say(text::remarks(&remarks, layout));
    outcome.join(examples(session, edit));
    outcome.join(mistakes(session, edit));
    outcome
}

/// What an example gives, where it is one that was typed.
fn examples(session: &Session, edit: &Edit) -> Outcome {
    use crate::notebook::ExampleOutcome;
    let tree = session.notebook.tree(edit.statement);
    let syntax::StatementKind::Example(example) = &tree.kind else {
        return Outcome::default();
    };
    let text = session.notebook.text_of(edit.statement);
    match session.notebook.try_example(0, text, example) {
        ExampleOutcome::Holds => Outcome::answer("  holds"),
        ExampleOutcome::Fails(found) => {
            let fails = hanging(&format!("fails: it gives {found}"), session.screen);
            Outcome {
                is_wrong: true,
                ..Outcome::answer(fails)
            }
        }
        ExampleOutcome::Broken(diagnostics) => {
            let drawn = diagnostics.iter().map(|one| draw(session, "", one));
            Outcome::error(drawn.collect::<String>())
        }
    }
}

/// Warnings about the entry itself, and the mistakes that other cells have because of it.
fn mistakes(session: &Session, edit: &Edit) -> Outcome {
    let notebook = &session.notebook;
    let mut outcome = Outcome::default();
    let text = notebook.text_of(edit.statement);
    for message in notebook.own_messages(edit.statement) {
        if message.severity == Severity::Warning {
            outcome.messages.push_str(&draw(session, text, &message));
        }
    }
    let failed = edit
        .ripple
        .broken
        .iter()
        .filter(|cell| matches!(notebook.cell(**cell).state, CellState::Failed));
    for cell in failed.take(MOST_MISTAKES) {
        outcome.is_wrong = true;
        outcome.messages.push_str(&mistake(session, *cell));
    }
    outcome
}

/// More cells that fail because of one entry are not explained; the answer names them.
const MOST_MISTAKES: usize = 3;

/// The errors of a cell, with its own line.
fn mistake(session: &Session, cell: CellId) -> String {
    let notebook = &session.notebook;
    let statement = notebook.cell(cell).statement;
    let found = notebook.messages(cell);
    let errors = found
        .into_iter()
        .filter(|one| one.severity == Severity::Error);
    let drawn = errors.map(|error| {
        let message = report::located(notebook, statement, error, Some(cell));
        text::message(&message, session.screen.layout_of_messages())
    });
    drawn.collect()
}

/// What the cell still is that an entry was to change.
pub(super) fn still(session: &Session, text: &str) -> String {
    let syntax::StatementKind::Cell(cell) = syntax::parse_entry(text).kind else {
        return String::new();
    };
    let known = session.notebook.find(&cell.name.text);
    let Some(known) = known.filter(|_| session.line.is_none() && cell.column.is_none()) else {
        return String::new();
    };
    let sentence = report::Sentence {
        name: None,
        ..report::sentence(&session.notebook, known)
    };
    let value = text::sentence(&sentence, session.screen.layout_of_messages());
    format!("  still     {}\n", value.trim())
}

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
            let name = super::recall::name_in(&source);
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
