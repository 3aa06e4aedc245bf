//! Answers and messages onto the streams of the process. Whoever reads them may have gone away,
//! and a disk may be full: both come back as errors.

use super::outcome::Outcome;
use std::io::{self, Write};

/// Prints an outcome: the answer, then its messages, so that these end the screen.
///
/// # Errors
/// Where a stream cannot be written.
pub fn print_outcome(outcome: &Outcome) -> io::Result<()> {
    print_answer(&outcome.answer)?;
    print_message(&outcome.messages)
}

/// Prints to the output.
///
/// # Errors
/// Where it cannot be written.
pub fn print_answer(text: &str) -> io::Result<()> {
    let mut out = io::stdout().lock();
    out.write_all(text.as_bytes())?;
    out.flush()
}

/// Prints to the error stream.
///
/// # Errors
/// Where it cannot be written.
pub fn print_message(text: &str) -> io::Result<()> {
    io::stderr().lock().write_all(text.as_bytes())
}
