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
    if let Some(study) = report::study_of(&session.notebook, edit.statement) {
        outcome.say(text::study(&study, layout));
    }
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
pub(super) fn mistakes(session: &Session, edit: &Edit) -> Outcome {
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
