//! `gaugebook export`: a notebook as a post, a report, a live page or tables.

use super::Program;
use super::arguments::Wanted;
use super::exit::Exit;
use crate::export::{self, Made};
use crate::files;
use crate::report::{self, Options};
use crate::source::{Code, Diagnostic, Span, nearest};
use std::io;
use std::path::Path;

/// Exports a notebook to the output, a file or a folder.
pub(super) fn export(program: &Program, wanted: &Wanted) -> io::Result<Exit> {
    let kind = wanted.kind.as_deref().and_then(export::kind);
    let (Some(path), Some(kind)) = (wanted.files.first(), kind) else {
        return Ok(Exit::Unusable);
    };
    let notebook = match program.open(path) {
        Ok(notebook) => notebook,
        Err(refusal) => return program.refuse(&refusal),
    };
    let made = kind.make(&notebook);
    let written = match hand_over(program, wanted, &made) {
        Ok(written) => written?,
        Err(refusal) => return program.refuse(&refusal),
    };
    for one in &made.left_out {
        let place = match one.line {
            Some(line) => format!("{}:{line}: ", notebook.path()),
            None => String::new(),
        };
        let text = format!(
            "{place}warning: not on the page: `{}`, {}\n",
            one.name, one.why
        );
        program.say(&text)?;
    }
    let report = report::report(&notebook, Options::default());
    let errors = report
        .messages
        .iter()
        .filter(|message| message.is_error())
        .count();
    if errors > 0 {
        let lines = if errors == 1 {
            "1 error"
        } else {
            &format!("{errors} errors")
        };
        program.say(&format!(
            "{}: {lines}: `gaugebook check` tells where\n",
            notebook.path()
        ))?;
    }
    Ok(written.and(Exit::of(errors > 0)))
}

/// Writes what was made to where it was wanted; a refusal says why that cannot be.
fn hand_over(
    program: &Program,
    wanted: &Wanted,
    made: &Made,
) -> Result<io::Result<Exit>, files::Refusal> {
    let one = match (&wanted.table, &made.files[..]) {
        (Some(name), files) => Some(named(files, name)?),
        (None, [(_, text)]) => Some(text.as_str()),
        (None, _) => None,
    };
    match (one, wanted.output.as_deref()) {
        (Some(text), None) => Ok(program.print_raw(text).map(|()| Exit::Fine)),
        (Some(text), Some(output)) => {
            files::save(output, text.as_bytes())?;
            Ok(Ok(Exit::Fine))
        }
        (None, Some(folder)) => {
            save_all(folder, made)?;
            Ok(Ok(Exit::Fine))
        }
        (None, None) => Err(Box::new(
            usage("several tables and one output".to_owned()).expected(format!(
                "--table and one of {}; or -o and a folder for all of them",
                names(&made.files)
            )),
        )),
    }
}

fn named<'m>(files: &'m [(String, String)], name: &str) -> Result<&'m str, files::Refusal> {
    let found = files.iter().find(|(own, _)| own == name && !own.is_empty());
    if let Some((_, text)) = found {
        return Ok(text);
    }
    let mut message = usage(format!("no table is called {name}"));
    message = match nearest(name, files.iter().map(|(own, _)| own.as_str())) {
        Some(near) => message.repair(format!("--table {near}")),
        None => message.expected(format!("one of {}", names(files))),
    };
    Err(Box::new(message))
}

fn names(files: &[(String, String)]) -> String {
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    names.join(", ")
}

fn usage(message: String) -> Diagnostic {
    Diagnostic::error(Code::Argument, Span::default(), message)
}

/// One file a table, in a folder that is made if it is not there.
fn save_all(folder: &Path, made: &Made) -> Result<(), files::Refusal> {
    files::make_folder(folder)?;
    for (name, text) in &made.files {
        files::save(&folder.join(format!("{name}.csv")), text.as_bytes())?;
    }
    Ok(())
}
