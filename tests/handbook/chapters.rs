//! Chapters: each opens without an error, its examples hold, and each formula has prose above it
//! and an example.

use gaugebook::library::{CHAPTERS, EntryKind, Library};
use gaugebook::notebook::{ExampleOutcome, NoFiles, Notebook, StatementId};
use gaugebook::source::{Document, Severity};
use std::rc::Rc;

fn open(path: &str, text: &str) -> Notebook {
    Notebook::open(
        path,
        Document::new(text.to_owned()),
        &NoFiles,
        Rc::new(Library::new()),
    )
}

#[test]
fn chapters_open_without_a_message() {
    for chapter in CHAPTERS {
        let notebook = open(chapter.path, chapter.text);
        let mut found = Vec::new();
        for (index, statement) in notebook.statements().iter().enumerate() {
            for one in &statement.diagnostics {
                let line = notebook.line_of(StatementId(index as u32)).unwrap_or(0);
                found.push(format!("{}:{line}: {}", chapter.path, one.message));
            }
        }
        for (id, cell) in notebook.cells() {
            for one in notebook.messages(id) {
                if one.severity != Severity::Note {
                    found.push(format!("{}: {}: {}", chapter.path, cell.name, one.message));
                }
            }
        }
        assert!(found.is_empty(), "{}", found.join("\n"));
    }
}

#[test]
fn examples_of_the_chapters_hold() {
    let mut wrong = Vec::new();
    let mut count = 0;
    for chapter in CHAPTERS {
        for tried in open(chapter.path, chapter.text).try_examples() {
            count += 1;
            match tried.outcome {
                ExampleOutcome::Holds => {}
                ExampleOutcome::Fails(gives) => {
                    wrong.push(format!("{}\n    gives {gives}", tried.text))
                }
                ExampleOutcome::Broken(found) => {
                    let why: Vec<String> = found.iter().map(|one| one.message.clone()).collect();
                    wrong.push(format!("{}\n    {}", tried.text, why.join("; ")));
                }
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} of {count} examples fail:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    assert!(count > 100, "the chapters hold examples: {count}");
}

#[test]
fn every_formula_has_prose_a_source_and_an_example() {
    let library = Library::new();
    let mut poor = Vec::new();
    for entry in library
        .entries()
        .iter()
        .filter(|entry| entry.kind == EntryKind::Formula)
    {
        if library.prose_above(entry).len() < 40 {
            poor.push(format!("{} has no prose above it", entry.name));
        }
        if library.examples(entry).is_empty() {
            poor.push(format!("{} has no example in its section", entry.name));
        }
        let sources = library.formula(entry.name).map_or(0, |formula| {
            formula
                .tree
                .clauses
                .iter()
                .filter(|clause| matches!(clause, gaugebook::syntax::Clause::Source(_)))
                .count()
        });
        if sources == 0 {
            poor.push(format!("{} names no source", entry.name));
        }
    }
    assert!(poor.is_empty(), "{}", poor.join("\n"));
}

#[test]
fn no_name_of_the_handbook_is_defined_twice() {
    let library = Library::new();
    let mut seen = std::collections::BTreeMap::new();
    for entry in library.entries() {
        let before = seen.insert((entry.name, format!("{:?}", entry.kind)), entry.chapter);
        assert!(before.is_none(), "{} is defined twice", entry.name);
    }
}
