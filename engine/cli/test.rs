//! `gaugebook test`: every example of each file is tried; those that do not hold are printed with
//! what they give.

use super::Program;
use super::arguments::Wanted;
use super::exit::Exit;
use crate::notebook::{ExampleOutcome, Notebook, Tried};
use crate::source::{Diagnostic, SourceText, render};
use std::io;
use std::path::Path;

/// Tries the examples of files.
pub(super) fn test(program: &Program, wanted: &Wanted) -> io::Result<Exit> {
    let mut exit = Exit::Fine;
    for path in &wanted.files {
        exit = exit.and(test_file(program, path)?);
    }
    Ok(exit)
}

fn test_file(program: &Program, path: &Path) -> io::Result<Exit> {
    let notebook = match program.open(path) {
        Ok(notebook) => notebook,
        Err(refusal) => return program.refuse(&refusal),
    };
    let tried = notebook.try_examples();
    let failing: Vec<&Tried> = tried
        .iter()
        .filter(|one| one.outcome != ExampleOutcome::Holds)
        .collect();
    for one in &failing {
        program.print(&told(program, &notebook, one))?;
    }
    match (tried.len(), failing.len()) {
        (0, _) => {
            program.say(&format!("note: {} has no examples\n", notebook.path()))?;
            Ok(Exit::Fine)
        }
        (_, 0) => Ok(Exit::Fine),
        (all, some) => {
            let verb = if some == 1 { "does" } else { "do" };
            let line = format!(
                "{}: {some} of {all} examples {verb} not hold\n",
                notebook.path()
            );
            program.print(&line)?;
            Ok(Exit::Wrong)
        }
    }
}

/// An example that does not hold: where it stands, and what it gives.
fn told(program: &Program, notebook: &Notebook, tried: &Tried) -> String {
    let line = notebook.line_of(tried.statement).unwrap_or(1);
    let words: Vec<&str> = tried.text.split_whitespace().collect();
    let mut told = format!("{}:{line}: {}\n", notebook.path(), words.join(" "));
    match &tried.outcome {
        ExampleOutcome::Holds => {}
        ExampleOutcome::Fails(found) => told.push_str(&format!("  found     {found}\n")),
        ExampleOutcome::Broken(diagnostics) => {
            for diagnostic in diagnostics {
                told.push_str(&words_of(program, diagnostic));
            }
        }
    }
    told
}

/// A message without the text it is about, which stands above it.
fn words_of(program: &Program, diagnostic: &Diagnostic) -> String {
    let style = program.style_of_answers(false);
    let drawn = render(diagnostic, &SourceText::new("", ""), style);
    let indented = drawn.lines().map(|line| format!("  {line}\n"));
    indented.collect()
}
