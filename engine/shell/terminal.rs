//! The shell at a terminal: a line editor with history, completion, hints and entries of several
//! lines. What is typed goes to the session, and what that says is printed.

use super::long;
use super::outcome::Outcome;
use super::print::print_outcome;
use super::screen::Screen;
use super::session::Session;
use super::typing::Typing;
use rustyline::config::{BellStyle, CompletionType};
use rustyline::error::ReadlineError;
use rustyline::history::{FileHistory, History};
use rustyline::{Config, Editor};
use std::cell::RefCell;
use std::io;
use std::path::{Path, PathBuf};
use std::rc::Rc;

/// Entries kept from earlier sessions.
const MOST_ENTRIES: usize = 5000;

/// A line editor with what it needs around it.
struct Terminal {
    editor: Editor<Typing, FileHistory>,
    session: Rc<RefCell<Session>>,
    history: Option<PathBuf>,
}

/// Reads entries until `quit`; tells whether the last one had an error. The history of entries is
/// kept in `folder`.
///
/// # Errors
/// Where the terminal cannot be read or written.
pub fn converse(session: Session, screen: Screen, folder: Option<&Path>) -> io::Result<()> {
    let mut terminal = Terminal::new(session, screen, folder).map_err(as_io)?;
    long::listen();
    loop {
        terminal.measure(screen);
        let prompt = terminal.session.borrow().prompt();
        let read = terminal.editor.readline(&prompt);
        // The window may have changed while the line was typed.
        terminal.measure(screen);
        let outcome = match read {
            Ok(text) => terminal.enter(&text),
            Err(ReadlineError::Interrupted) => continue,
            Err(ReadlineError::Eof) => terminal.session.borrow_mut().enter("quit"),
            Err(ReadlineError::Signal(_)) => continue,
            Err(error) => return Err(as_io(error)),
        };
        print_outcome(&outcome)?;
        if outcome.ends {
            return Ok(());
        }
        terminal.session.borrow().rest();
    }
}

fn as_io(error: ReadlineError) -> io::Error {
    match error {
        ReadlineError::Io(error) => error,
        other => io::Error::other(other.to_string()),
    }
}

impl Terminal {
    fn new(
        session: Session,
        screen: Screen,
        folder: Option<&Path>,
    ) -> Result<Terminal, ReadlineError> {
        let config = Config::builder()
            .max_history_size(MOST_ENTRIES)?
            .history_ignore_dups(true)?
            .history_ignore_space(false)
            .completion_type(CompletionType::List)
            .bell_style(BellStyle::None)
            .tab_stop(4)
            .build();
        let session = Rc::new(RefCell::new(session));
        let mut editor = Editor::with_config(config)?;
        editor.set_helper(Some(Typing::new(session.clone(), screen.colour)));
        let history = folder.map(|folder| folder.join("history"));
        if let Some(history) = &history {
            // Without a history from before, it begins now.
            let _ = editor.load_history(history);
        }
        Ok(Terminal {
            editor,
            session,
            history,
        })
    }

    /// Lays out for the width that the terminal has now.
    fn measure(&mut self, screen: Screen) {
        if let Some((columns, _)) = self.editor.dimensions() {
            let screen = screen.with_width(usize::from(columns));
            self.session.borrow_mut().set_screen(screen);
        }
    }

    fn enter(&mut self, text: &str) -> Outcome {
        self.remember(text);
        let outcome = self.session.borrow_mut().enter(text);
        if let Some(mended) = &outcome.mended {
            self.remember(mended);
        }
        outcome
    }

    /// Keeps an entry for the Up key, and for later sessions.
    fn remember(&mut self, text: &str) {
        if text.trim().is_empty() {
            return;
        }
        // An entry that cannot be kept is only missed by the Up key of later sessions.
        let _ = self.editor.add_history_entry(text.trim_end());
        if let Some(history) = &self.history {
            let kept = match self.editor.history().len() {
                0 => Ok(()),
                _ => self.editor.append_history(history),
            };
            let _ = kept;
        }
    }
}
