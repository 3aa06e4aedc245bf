//! The command line: words go in, what the verb gives comes out on the streams, with an exit
//! status. Each verb is a file; what a notebook says is decided in the layers above.
#![cfg(feature = "terminal")]

pub mod arguments;
mod check;
mod completions;
pub mod exit;
mod export;
mod format;
mod library;
mod run;
mod test;
pub mod verb;

pub use exit::Exit;
pub use format::formatted;

use crate::files::{self, Beside, Refusal};
use crate::library::Library;
use crate::notebook::Notebook;
use crate::shell::print::{print_answer, print_message};
use crate::shell::{self, screen::Screen};
use crate::source::{Diagnostic, SourceText, Style, ascii, render};
use arguments::{Said, Wanted};
use std::ffi::OsString;
use std::io;
use std::path::Path;
use std::rc::Rc;

/// Does what the words of a command line say, the program's own name first.
pub fn run(words: impl IntoIterator<Item = OsString>) -> Exit {
    let wanted = match arguments::read(words) {
        Ok(wanted) => wanted,
        Err(said) => return speak(&said),
    };
    let program = Program::new(&wanted);
    let done = match wanted.verb {
        None => shell::run(program.library.clone(), program.screen).map(Exit::of),
        Some("run") => run::run(&program, &wanted),
        Some("check") => check::check(&program, &wanted),
        Some("test") => test::test(&program, &wanted),
        Some("format") => format::format(&program, &wanted),
        Some("export") => export::export(&program, &wanted),
        Some("library") => library::library(&program, &wanted),
        Some(_) => completions::completions(&program, &wanted),
    };
    done.unwrap_or_else(|error| ended_by(&error))
}

/// Help, the version, or what was not understood.
fn speak(said: &Said) -> Exit {
    let screen = Screen::detect(true, None);
    let signs = |text: &str| match screen.unicode {
        true => text.to_owned(),
        false => ascii(text),
    };
    match said {
        Said::Asked(text) => match print_answer(&signs(text)) {
            Ok(()) => Exit::Fine,
            Err(error) => ended_by(&error),
        },
        Said::Misread(text) => {
            // Where the error stream is gone too, the exit status has to do.
            let _ = print_message(&signs(text));
            Exit::Unusable
        }
    }
}

/// What a run comes to whose output could not be written. A reader who has had enough is no error.
fn ended_by(error: &io::Error) -> Exit {
    if error.kind() == io::ErrorKind::BrokenPipe {
        return Exit::Fine;
    }
    let why = match error.kind() {
        io::ErrorKind::StorageFull => "the disk is full".to_owned(),
        _ => error.to_string(),
    };
    let _ = print_message(&format!("error: the output cannot be written: {why}\n"));
    Exit::Unusable
}

/// What every verb needs.
struct Program {
    library: Rc<Library>,
    screen: Screen,
}

impl Program {
    fn new(wanted: &Wanted) -> Program {
        Program {
            library: Rc::new(Library::new()),
            screen: Screen::detect(wanted.plain, wanted.width),
        }
    }

    /// Opens a notebook with the documents beside it.
    fn open(&self, path: &Path) -> Result<Notebook, Refusal> {
        let (name, document) = files::read_document(path)?;
        let beside = Rc::new(Beside::new(&name));
        let mut notebook = Notebook::open(&name, document, &*beside, self.library.clone());
        notebook.keep_files(beside);
        Ok(notebook)
    }

    /// Prints to the output.
    fn print(&self, text: &str) -> io::Result<()> {
        print_answer(&self.signs(text))
    }

    /// Prints to the output what is laid out already.
    fn print_raw(&self, text: &str) -> io::Result<()> {
        print_answer(text)
    }

    /// Prints to the error stream.
    fn say(&self, text: &str) -> io::Result<()> {
        print_message(&self.signs(text))
    }

    fn signs(&self, text: &str) -> String {
        match self.screen.unicode {
            true => text.to_owned(),
            false => ascii(text),
        }
    }

    /// How messages are drawn on the error stream.
    fn style(&self, place: bool) -> Style {
        Style {
            colour: self.screen.colour_of_messages,
            ..self.style_of_answers(place)
        }
    }

    /// How messages are drawn among the answers.
    fn style_of_answers(&self, place: bool) -> Style {
        Style {
            colour: self.screen.colour,
            unicode: self.screen.unicode,
            width: self.screen.width,
            place,
        }
    }

    /// Says why a file cannot be used.
    fn refuse(&self, refusal: &Diagnostic) -> io::Result<Exit> {
        let text = render(refusal, &SourceText::new("", ""), self.style(false));
        self.say(&text)?;
        Ok(Exit::Unusable)
    }
}
