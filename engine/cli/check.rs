//! `gaugebook check`: what is wrong with each file, and nothing where all is well.

use super::Program;
use super::arguments::Wanted;
use super::exit::Exit;
use crate::export::text;
use crate::report::{self, Options};
use std::io;
use std::path::Path;

/// Checks files.
pub(super) fn check(program: &Program, wanted: &Wanted) -> io::Result<Exit> {
    let mut exit = Exit::Fine;
    for path in &wanted.files {
        exit = exit.and(check_file(program, path)?);
    }
    Ok(exit)
}

fn check_file(program: &Program, path: &Path) -> io::Result<Exit> {
    let notebook = match program.open(path) {
        Ok(notebook) => notebook,
        Err(refusal) => return program.refuse(&refusal),
    };
    let report = report::report(&notebook, Options::default());
    for check in &report.checks {
        program.print_raw(&text::check_line(
            notebook.path(),
            check,
            program.screen.layout(),
        ))?;
    }
    let messages = text::messages(&report, program.screen.layout_of_messages());
    program.say(&messages)?;
    Ok(Exit::of(!report.is_fine()))
}
