//! The shell without a person at a terminal: lines are read one by one, each entry is answered,
//! a bad one is reported and the rest goes on.

use super::gather::{Entry, Gather};
use super::print::{print_message, print_outcome};
use super::session::Session;
use crate::source::{Code, Diagnostic, MOST_CHARACTERS_IN_LINE, Span};
use std::io::{self, BufRead, Read};

/// Reads entries until the input ends or says `quit`; tells whether one had an error. With
/// `prompts` each line is asked for, on the error stream.
///
/// # Errors
/// Where the input breaks off or the output cannot be written.
pub fn read_entries(
    session: &mut Session,
    mut input: impl BufRead,
    prompts: bool,
) -> io::Result<bool> {
    let mut gather = Gather::default();
    let mut is_wrong = false;
    let mut number = 0;
    loop {
        if prompts {
            print_message(&session.prompt())?;
        }
        let line = read_line(&mut input)?;
        number += 1;
        let is_last = matches!(line, Line::End);
        let entries: Vec<Entry> = match line {
            Line::End => gather.finish().into_iter().collect(),
            Line::Text(text) => gather.push(&text),
            Line::Refused(message) => {
                let outcome = session.refuse_line(*message, number);
                print_outcome(&outcome)?;
                is_wrong = true;
                gather.push("")
            }
        };
        for entry in entries {
            let outcome = match prompts {
                true => session.enter(&entry.text),
                false => session.enter_from_line(&entry.text, entry.line),
            };
            print_outcome(&outcome)?;
            is_wrong |= outcome.is_wrong;
            if outcome.ends {
                return Ok(is_wrong);
            }
        }
        if is_last {
            print_outcome(&session.end())?;
            return Ok(is_wrong);
        }
    }
}

/// A line of the input.
enum Line {
    Text(String),
    Refused(Box<Diagnostic>),
    End,
}

/// The most bytes that a line of so many characters takes.
const MOST_BYTES: u64 = MOST_CHARACTERS_IN_LINE as u64 * 4 + 2;

/// Reads a line and no more of it than a line may have.
fn read_line(input: &mut impl BufRead) -> io::Result<Line> {
    let mut bytes = Vec::new();
    let read = input
        .by_ref()
        .take(MOST_BYTES)
        .read_until(b'\n', &mut bytes)?;
    if read == 0 {
        return Ok(Line::End);
    }
    if bytes.pop_if(|last| *last == b'\n').is_none() && read as u64 == MOST_BYTES {
        skip_line(input)?;
        return Ok(Line::Refused(Box::new(too_long())));
    }
    bytes.pop_if(|last| *last == b'\r');
    match String::from_utf8(bytes) {
        Ok(text) if text.chars().count() > MOST_CHARACTERS_IN_LINE => {
            Ok(Line::Refused(Box::new(too_long())))
        }
        Ok(text) => Ok(Line::Text(text)),
        Err(_) => Ok(Line::Refused(Box::new(not_text()))),
    }
}

/// Passes over the rest of a line.
fn skip_line(input: &mut impl BufRead) -> io::Result<()> {
    loop {
        let read = input.fill_buf()?;
        if read.is_empty() {
            return Ok(());
        }
        let end = read.iter().position(|byte| *byte == b'\n');
        let passed = end.map_or(read.len(), |at| at + 1);
        input.consume(passed);
        if end.is_some() {
            return Ok(());
        }
    }
}

/// The message for a line that is longer than a line may be.
pub(super) fn too_long() -> Diagnostic {
    Diagnostic::error(Code::TooLong, Span::default(), "this line is too long")
        .expected(format!("at most {MOST_CHARACTERS_IN_LINE} characters"))
}

fn not_text() -> Diagnostic {
    Diagnostic::error(
        Code::Encoding,
        Span::default(),
        "this line is not UTF-8 text",
    )
    .expected("text saved as UTF-8")
}
