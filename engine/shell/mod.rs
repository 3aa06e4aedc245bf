//! The shell: entries go in, the notebook at hand changes, and answers come out. A session knows no
//! terminal; a person at one, a pipe and a test each bring their lines to it.

mod answer;
mod change;
pub mod difference;
mod document;
pub mod gather;
mod greeting;
mod long;
mod look;
mod outcome;
mod piped;
pub mod print;
mod recall;
mod refuse;
mod retrace;
pub mod screen;
mod session;
#[cfg(feature = "terminal")]
mod terminal;
#[cfg(feature = "terminal")]
mod typing;
mod verb;

pub use outcome::Outcome;
pub use piped::read_entries;
pub use session::Session;

use crate::files;
use crate::library::Library;
use screen::Screen;
use std::io::{self, IsTerminal};
use std::rc::Rc;

/// Runs the shell on the streams of this process; tells whether an entry of a pipe had an error.
///
/// # Errors
/// Where a stream cannot be read or written.
pub fn run(library: Rc<Library>, screen: Screen) -> io::Result<bool> {
    let is_person = io::stdin().is_terminal();
    let folder = files::data_folder().filter(|_| is_person);
    let journals = folder.as_ref().map(|folder| folder.join("unsaved"));
    let mut session = Session::new(library, screen, journals);
    if !is_person {
        return read_entries(&mut session, io::stdin().lock(), false);
    }
    print::print_outcome(&session.begin())?;
    #[cfg(feature = "terminal")]
    if io::stdout().is_terminal() && !screen::is_dumb() {
        terminal::converse(session, screen, folder.as_deref())?;
        return Ok(false);
    }
    read_entries(&mut session, io::stdin().lock(), true).map(|_| false)
}
