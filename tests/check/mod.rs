//! What the language refuses and accepts, as tables of lines: each entry is a few lines of a
//! notebook, a rule of dashes, and what comes out: whole messages, then the last cell's value or
//! the last check's outcome.
//!
//! Expected texts are written afresh with `UPDATE_EXPECTED=1 cargo test check::`; read the change
//! of the files before keeping it. The expected values were worked out by hand from the
//! definitions in NIST SP 811, Appendix B, and the ideal gas law; where a formula of the handbook
//! is called, its chapter names the source.

mod repairs;
mod values;

use crate::support::{cells, files_in, updates_expected};
use std::fs;
use std::path::Path;

const RULE: &str = "-----";

/// The entries of a table: the lines, and what is expected of them.
pub fn entries(text: &str) -> Vec<(String, String)> {
    let lines: Vec<&str> = text.lines().collect();
    lines
        .split(|line| line.is_empty())
        .filter_map(|entry| {
            let rule = entry.iter().position(|line| *line == RULE);
            let (source, expected) = entry.split_at(rule.unwrap_or(entry.len()));
            let expected = expected.get(1..).unwrap_or_default();
            (!source.is_empty()).then(|| (source.join("\n"), expected.join("\n")))
        })
        .collect()
}

fn result(source: &str) -> String {
    let cells = cells(source);
    let mut text = cells.messages();
    text.extend(cells.last_sentence());
    text.trim_end().to_owned()
}

/// Holds every entry of a file to its result; gives how many there are.
pub fn hold(path: &Path, is_right: fn(&str) -> bool) -> usize {
    let text = fs::read_to_string(path).expect("the table can be read");
    let entries = entries(&text);
    if updates_expected() {
        let fresh: Vec<String> = entries
            .iter()
            .map(|(source, _)| format!("{source}\n{RULE}\n{}\n", result(source)))
            .collect();
        fs::write(path, fresh.join("\n")).expect("the table can be written");
    }
    let text = fs::read_to_string(path).expect("the table can be read");
    for (source, expected) in self::entries(&text) {
        let found = result(&source);
        assert_eq!(
            found,
            expected,
            "\nin {}:\n{source}\n\n{found}\n",
            path.display()
        );
        assert!(
            is_right(&found),
            "in {}:\n{source}\n\n{found}",
            path.display()
        );
    }
    entries.len()
}

fn is_refused(result: &str) -> bool {
    result.lines().any(|line| line.starts_with("error: "))
}

#[test]
fn refused_lines_say_why() {
    let files = files_in("check/refused", "txt");
    let count: usize = files.iter().map(|(_, path)| hold(path, is_refused)).sum();
    assert!(count >= 150, "{count} refused lines");
}

#[test]
fn accepted_lines_have_their_value() {
    let files = files_in("check/accepted", "txt");
    let count: usize = files
        .iter()
        .map(|(_, path)| hold(path, |found| !is_refused(found)))
        .sum();
    assert!(count >= 100, "{count} accepted lines");
}
