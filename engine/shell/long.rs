//! Long work at a terminal: how far it is stands on the error stream while it goes on, and Ctrl-C
//! stops it with everything that was typed still there.

use crate::numerics::watch;
use std::cell::Cell;
use std::io::{self, IsTerminal, Write};
use std::rc::Rc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// Work that is done sooner says nothing.
const QUIET: Duration = Duration::from_millis(400);
/// Time between two lines about how far it is.
const BETWEEN: Duration = Duration::from_millis(150);

/// Whether Ctrl-C was pressed since the work began.
static STOP: AtomicBool = AtomicBool::new(false);

/// Lets Ctrl-C stop work instead of the program. Pressed again, with work that does not hear it,
/// it ends the program; what was typed is in the journal.
#[cfg(feature = "terminal")]
pub(super) fn listen() {
    // Where no handler can be set, Ctrl-C ends the program as it always did.
    let _ = ctrlc::set_handler(|| {
        if STOP.swap(true, Ordering::Relaxed) {
            std::process::exit(130);
        }
    });
}

/// Does work that may take long.
pub(super) fn watched<T>(work: impl FnOnce() -> T) -> T {
    STOP.store(false, Ordering::Relaxed);
    let shown = Rc::new(Cell::new(false));
    let teller = io::stderr().is_terminal().then(|| shown.clone());
    let begun = Instant::now();
    let mut told = begun;
    let watcher = move |what: &str, done: f64| {
        if let Some(shown) = &teller
            && begun.elapsed() > QUIET
            && (!shown.get() || told.elapsed() > BETWEEN)
        {
            told = Instant::now();
            shown.set(true);
            tell(what, done, begun.elapsed());
        }
        !STOP.load(Ordering::Relaxed)
    };
    let result = watch::watched(watcher, work);
    STOP.store(false, Ordering::Relaxed);
    if shown.get() {
        let _ = write!(io::stderr(), "\r\u{1b}[K");
    }
    result
}

fn tell(what: &str, done: f64, gone: Duration) {
    let left = match done > 0.0 {
        true => format!(", {:.1} s left", gone.as_secs_f64() * (1.0 - done) / done),
        false => String::new(),
    };
    let percent = done * 100.0;
    // A terminal that takes no progress still gets the answer.
    let _ = write!(
        io::stderr(),
        "\r\u{1b}[K{what}: {percent:.0} %{left}, Ctrl-C stops it"
    );
    let _ = io::stderr().flush();
}
