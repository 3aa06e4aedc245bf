//! `gaugebook format`: the cells of each file in one spelling, everything else as it was.

use super::Program;
use super::arguments::Wanted;
use super::exit::Exit;
use crate::files;
use crate::source::Document;
use crate::syntax;
use std::io;
use std::path::Path;

/// Formats files, or with `--check` names those that would change.
pub(super) fn format(program: &Program, wanted: &Wanted) -> io::Result<Exit> {
    let mut exit = Exit::Fine;
    for path in &wanted.files {
        exit = exit.and(format_file(program, path, wanted.check)?);
    }
    Ok(exit)
}

fn format_file(program: &Program, path: &Path, only_check: bool) -> io::Result<Exit> {
    let (name, document) = match files::read_document(path) {
        Ok(read) => read,
        Err(refusal) => return program.refuse(&refusal),
    };
    let formatted = formatted(&document);
    let differs = formatted != document.text();
    let is_piped = path == Path::new("-");
    match (only_check, is_piped) {
        (true, _) if differs => {
            program.print(&format!("{name}\n"))?;
            Ok(Exit::Wrong)
        }
        (true, _) => Ok(Exit::Fine),
        (false, true) => {
            program.print(&formatted)?;
            Ok(Exit::Fine)
        }
        (false, false) if differs => match files::save(path, formatted.as_bytes()) {
            Ok(()) => Ok(Exit::Fine),
            Err(refusal) => program.refuse(&refusal),
        },
        (false, false) => Ok(Exit::Fine),
    }
}

/// A document with the lines of its blocks in one spelling.
pub fn formatted(document: &Document) -> String {
    let text = document.text();
    let mut formatted = String::with_capacity(text.len());
    let mut at = 0;
    for block in document.blocks() {
        let lines = syntax::format(text, &block.lines, block.loose);
        for (span, line) in block.lines.iter().zip(lines) {
            let (start, end) = (span.start as usize, span.end as usize);
            if start < at || line == span.of(text) {
                continue;
            }
            formatted.push_str(&text[at..start]);
            formatted.push_str(&line);
            at = end;
        }
    }
    formatted.push_str(&text[at..]);
    formatted
}
