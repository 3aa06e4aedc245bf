//! `gaugebook completions`: the text that makes a system's shell complete this command line, from
//! the table of verbs.

use super::Program;
use super::arguments::{Wanted, command};
use super::exit::Exit;
use std::io;

/// Prints the completions for a shell.
pub(super) fn completions(program: &Program, wanted: &Wanted) -> io::Result<Exit> {
    let Some(shell) = wanted.shell else {
        return Ok(Exit::Unusable);
    };
    let mut text: Vec<u8> = Vec::new();
    clap_complete::generate(shell, &mut command(), "gaugebook", &mut text);
    program.print(&String::from_utf8_lossy(&text))?;
    Ok(Exit::Fine)
}
