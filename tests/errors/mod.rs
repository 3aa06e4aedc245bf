//! One small file for each code: a document that brings it about, and below it everything that is
//! said about the document, as a report of the file says it.
//!
//! The texts are written afresh with `UPDATE_EXPECTED=1 cargo test errors::`; read the change of
//! the files before keeping it.

use crate::support::{document_beside, files_in, tests_path, updates_expected};
use gaugebook::source::{Code, Document, Severity};
use std::collections::BTreeSet;
use std::fs;

/// Codes that no small document brings about, and where they are tested.
const ELSEWHERE: [(Code, &str); 3] = [
    (Code::Encoding, "below, from bytes"),
    (Code::TooLong, "below, from a long line"),
    (Code::Stopped, "with the studies, by someone who stops one"),
];

/// The part of a page above its last fence, and what stands in that fence.
fn parts(page: &str) -> (&str, &str) {
    let fence = page.rfind("```text\n").expect("a fence for what is said");
    let (above, below) = page.split_at(fence);
    let said = below.strip_prefix("```text\n").unwrap_or(below);
    (
        above,
        said.strip_suffix("```\n").expect("the fence is closed"),
    )
}

fn said_about(name: &str, page: &str) -> String {
    document_beside(&format!("{name}.md"), page, &tests_path("errors/beside")).located_messages()
}

#[test]
fn every_page_says_what_it_shows() {
    for (name, path) in files_in("errors", "md") {
        let page = fs::read_to_string(&path).expect("the page can be read");
        let (above, expected) = parts(&page);
        let said = said_about(&name, &page);
        if updates_expected() && said != expected {
            fs::write(&path, format!("{above}```text\n{said}```\n")).expect("the page is written");
        } else {
            assert_eq!(said, expected, "\nin {name}.md:\n{said}");
        }
        let line = format!("({name})");
        assert!(
            said.lines().any(|one| one.ends_with(&line)),
            "{name}.md brings about {name}"
        );
    }
}

#[test]
fn every_code_has_its_page() {
    let pages: BTreeSet<String> = files_in("errors", "md")
        .into_iter()
        .map(|(name, _)| name)
        .collect();
    let elsewhere = |code: &Code| ELSEWHERE.iter().any(|(one, _)| one == code);
    for code in Code::ALL.iter().filter(|code| !elsewhere(code)) {
        assert!(pages.contains(code.name()), "no page for {code}");
    }
    for page in &pages {
        assert!(
            Code::ALL.iter().any(|code| code.name() == page),
            "{page} is no code"
        );
    }
}

#[test]
fn every_code_has_its_meaning_and_a_name_of_its_own() {
    let names: BTreeSet<&str> = Code::ALL.iter().map(|code| code.name()).collect();
    assert_eq!(names.len(), Code::ALL.len());
    for code in Code::ALL {
        assert!(code.meaning().ends_with('.'), "{code}");
        let kebab = |sign: char| sign.is_ascii_lowercase() || sign == '-';
        assert!(code.name().chars().all(kebab), "{code}");
    }
}

#[test]
fn bytes_that_are_no_text_are_refused_with_their_place() {
    let refused = Document::from_bytes(b"# Shop\n\ntank = 60 \xb5m\n".to_vec());
    let message = refused.expect_err("Latin-1 is not read");
    assert_eq!(
        (message.code, message.severity),
        (Code::Encoding, Severity::Error)
    );
    insta::assert_snapshot!(format!("{}\n{}", message.message, message.expected), @r"
    this file is not UTF-8 text: no character at line 3, column 11
    a text file saved as UTF-8
    ");
}

#[test]
fn a_line_without_end_is_refused_and_the_rest_is_worked_out() {
    let long = format!("long = {}1", "1 + ".repeat(30_000));
    let page = format!("```gaugebook\n{long}\ntank = 60 gal\n```\n");
    let shop = document_beside("long.md", &page, &tests_path("errors/beside"));
    let codes: Vec<&str> = shop.notebook.parts()[0]
        .diagnostics
        .iter()
        .map(|one| one.code.name())
        .collect();
    assert_eq!(codes, ["too-long"]);
    assert_eq!(shop.value("tank"), "60 gal");
}
