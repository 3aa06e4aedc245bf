//! Repairs are typed as they stand: every one that replaces a place is put there, and what was
//! said about the place is gone.

use super::entries;
use crate::support::{cells, document, files_in};
use gaugebook::source::{Code, Diagnostic, Severity};
use std::fs;

/// Every entry of the tables, and the cells of the pages that hold one code each.
fn sources() -> Vec<String> {
    let read = |(_, path)| fs::read_to_string(path).expect("the table can be read");
    let folders = ["check/refused", "check/accepted"];
    let files = folders.iter().flat_map(|folder| files_in(folder, "txt"));
    let of_tables = files.flat_map(|file| entries(&read(file)));
    let of_tables = of_tables.map(|(source, _)| source);
    let pages = files_in("errors", "md").into_iter().map(read);
    of_tables
        .chain(pages.flat_map(|page| cells_of(&page)))
        .collect()
}

/// What stands in the fences of a page.
fn cells_of(page: &str) -> Vec<String> {
    let fences = page.split("```gaugebook\n").skip(1);
    fences
        .filter_map(|fence| fence.split_once("```"))
        .map(|(inside, _)| inside.trim_end().to_owned())
        .collect()
}

/// A message and the document it is about.
fn messages(source: &str) -> (String, Vec<Diagnostic>) {
    let cells = cells(source);
    let text = cells.notebook.document().text().to_owned();
    let said = cells.diagnostics().into_iter().map(|(_, one)| one);
    (text, said.collect())
}

/// The same message about the same thing.
fn is_same(one: &Diagnostic, other: &Diagnostic) -> bool {
    (one.code, &one.message) == (other.code, &other.message) && one.span.start == other.span.start
}

#[test]
fn repairs_in_place_mend() {
    let mut tried = 0;
    let mut still = Vec::new();
    for source in sources() {
        let (text, said) = messages(&source);
        for diagnostic in &said {
            for repair in &diagnostic.repairs {
                let Some(place) = repair.replaces else {
                    continue;
                };
                let mut mended = text.clone();
                mended.replace_range(place.range(), &repair.text);
                let after = document(&mended);
                let left: Vec<Diagnostic> = after
                    .diagnostics()
                    .into_iter()
                    .map(|(_, one)| one)
                    .collect();
                let worse = |one: &&Diagnostic| {
                    let known = said.iter().any(|before| before.code == one.code);
                    one.severity == Severity::Error && !known && !is_invited(one)
                };
                let stays = left.iter().any(|one| is_same(one, diagnostic));
                let new = left.iter().find(worse);
                if (stays || new.is_some()) && !is_guess(diagnostic) {
                    let why = new.map_or("stays".to_owned(), |one| one.message.clone());
                    still.push(format!("{mended}\n  {}: {why}", diagnostic.message));
                }
                tried += 1;
            }
        }
    }
    assert!(
        still.is_empty(),
        "{} of {tried}:\n{}",
        still.len(),
        still.join("\n")
    );
    assert!(tried >= 150, "{tried} repairs");
}

/// A repair may name a cell that its message asks for, and what is sought may have to follow it.
fn is_invited(diagnostic: &Diagnostic) -> bool {
    let message = &diagnostic.message;
    message == "no cell is called rate" || message.contains("sought to equal")
}

/// Where the line cannot be read its readings are offered, whatever the cells are.
fn is_guess(diagnostic: &Diagnostic) -> bool {
    matches!(diagnostic.code, Code::Comma | Code::UnitBehind)
}

#[test]
fn repairs_can_be_typed() {
    for source in sources() {
        for repair in messages(&source).1.iter().flat_map(|one| &one.repairs) {
            let text = &repair.text;
            assert!(
                !text.contains('…') && !text.trim().is_empty(),
                "{source}\n{text}"
            );
            assert_eq!(text.trim(), text, "{source}");
        }
    }
}

#[test]
fn messages_are_worded_alike() {
    for source in sources() {
        for one in messages(&source).1 {
            for text in [&one.message, &one.label, &one.expected] {
                let about = format!("{source}\n{text}");
                assert!(!text.ends_with('.') && !text.contains("  "), "{about}");
                assert!(
                    !text.contains(['→', '←', '⇒']) && !text.contains("{0}"),
                    "{about}"
                );
            }
            let begins = one
                .message
                .chars()
                .next()
                .is_some_and(|c| !c.is_whitespace());
            assert!(begins && one.message.lines().count() == 1, "{source}");
            let helps = !one.expected.is_empty() || !one.repairs.is_empty();
            assert!(
                helps || one.severity == Severity::Note || one.code == Code::Waits,
                "{source}\n{}",
                one.message
            );
        }
    }
}
