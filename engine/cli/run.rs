//! `gaugebook run`: the results of a notebook, as text or as JSON.

use super::Program;
use super::arguments::Wanted;
use super::exit::Exit;
use crate::check::CellId;
use crate::export::{json, text};
use crate::library::EntryKind;
use crate::notebook::{Notebook, Refused};
use crate::report::{self, Options};
use crate::source::{Code, Diagnostic, Severity, SourceText, Span, nearest, render};
use std::io;

/// Prints what a notebook comes to.
pub(super) fn run(program: &Program, wanted: &Wanted) -> io::Result<Exit> {
    let Some(path) = wanted.files.first() else {
        return Ok(Exit::Unusable);
    };
    let mut notebook = match program.open(path) {
        Ok(notebook) => notebook,
        Err(refusal) => return program.refuse(&refusal),
    };
    for setting in &wanted.settings {
        if let Err(refused) = set(&mut notebook, setting, program.library.entries()) {
            return refused.told(program);
        }
    }
    let options = Options {
        sources: wanted.sources,
    };
    let report = report::report(&notebook, options);
    if wanted.json {
        program.print_raw(&json::report(&report))?;
    } else {
        program.print_raw(&text::report(&report, program.screen.layout()))?;
        let messages = text::messages(&report, program.screen.layout_of_messages());
        program.say(&messages)?;
    }
    Ok(Exit::of(!report.is_fine()))
}

/// A value that could not be set.
struct Unset {
    /// The line as it was tried.
    text: String,
    diagnostics: Vec<Diagnostic>,
    exit: Exit,
}

impl Unset {
    fn usage(text: &str, diagnostic: Diagnostic) -> Unset {
        Unset {
            text: text.to_owned(),
            diagnostics: vec![diagnostic],
            exit: Exit::Unusable,
        }
    }

    fn told(&self, program: &Program) -> io::Result<Exit> {
        let source = SourceText::new("", &self.text);
        for diagnostic in &self.diagnostics {
            program.say(&render(diagnostic, &source, program.style(false)))?;
        }
        Ok(self.exit)
    }
}

/// Sets a cell as the shell would: `name=value`.
fn set(
    notebook: &mut Notebook,
    setting: &str,
    handbook: &[crate::library::Entry],
) -> Result<(), Unset> {
    let Some((name, value)) = setting.split_once('=') else {
        let place = Span::new(0, setting.len());
        let message = Diagnostic::error(Code::Syntax, place, "this sets nothing")
            .expected("a cell, `=` and its value, as in --set 'bore=3.2 mm'");
        return Err(Unset::usage(setting, message));
    };
    let (name, value) = (name.trim(), value.trim());
    let line = format!("{name} = {value}");
    let place = Span::new(0, name.len());
    let is_default = handbook
        .iter()
        .any(|entry| entry.kind == EntryKind::Default && entry.name == name);
    let known = notebook.find(name);
    if known.is_none() && !is_default {
        let names = notebook.cell_names();
        let mut message = Diagnostic::error(
            Code::UnknownName,
            place,
            format!("no cell is called {name}"),
        );
        if let Some(near) = nearest(name, names.iter().map(String::as_str)) {
            message = message.replace(place, near);
        }
        return Err(Unset::usage(&line, message));
    }
    let kind = known.map(|cell| kind_of(notebook, cell));
    match notebook.enter_right(&line) {
        Ok(_) => {}
        Err(Refused { text, diagnostics }) => {
            let errors = diagnostics.into_iter();
            return Err(Unset {
                text: text.to_string(),
                diagnostics: errors
                    .filter(|one| one.severity == Severity::Error)
                    .collect(),
                exit: Exit::Wrong,
            });
        }
    }
    let (Some((Some(before), shown)), Some(cell)) = (kind, notebook.find(name)) else {
        return Ok(());
    };
    match kind_of(notebook, cell) {
        (Some(now), _) if now != before => {
            let place = Span::new(name.len() + 3, line.len());
            let message = Diagnostic::error(
                Code::Dimension,
                place,
                format!("this does not fit {name}, which is {before}"),
            )
            .label(now)
            .expected(format!("a value like {shown}"));
            Err(Unset {
                text: line,
                diagnostics: vec![message],
                exit: Exit::Wrong,
            })
        }
        _ => Ok(()),
    }
}

/// What kind of value a cell has, in words, and the value as shown.
fn kind_of(notebook: &Notebook, cell: CellId) -> (Option<String>, String) {
    let words = notebook.kind_words(cell);
    (words, notebook.shown(cell, None).line())
}
