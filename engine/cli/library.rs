//! `gaugebook library`: the handbook's chapters, or one word looked up.

use super::Program;
use super::arguments::Wanted;
use super::exit::Exit;
use crate::assist;
use crate::export::text;
use crate::notebook::Notebook;
use std::io;

/// Lists the handbook, or looks a word up in it.
pub(super) fn library(program: &Program, wanted: &Wanted) -> io::Result<Exit> {
    let notebook = Notebook::empty(program.library.clone());
    let layout = program.screen.layout();
    let Some(topic) = &wanted.topic else {
        program.print_raw(&text::contents(&assist::contents(&program.library), layout))?;
        return Ok(Exit::Fine);
    };
    let help = assist::help(&notebook, topic);
    match help.answers.is_empty() {
        false => {
            program.print_raw(&text::help(&help, layout))?;
            Ok(Exit::Fine)
        }
        true => {
            program.say(&text::help(&help, program.screen.layout_of_messages()))?;
            Ok(Exit::Unusable)
        }
    }
}
