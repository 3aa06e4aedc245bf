//! `solve` in the body of a formula: the unit of the unknown, and columns.

use gaugebook::library::Library;
use gaugebook::notebook::{NoFiles, Notebook, Precision};
use gaugebook::source::Document;
use std::rc::Rc;

/// What the cell `expect` of a notebook shows.
fn shown(lines: &str) -> String {
    let text = format!("```gaugebook\n{lines}\n```\n");
    let library = Rc::new(Library::new());
    let notebook = Notebook::open("roots.md", Document::new(text), &NoFiles, library);
    let id = notebook.find("expect").expect("a cell named expect");
    let value = notebook.shown_with(id, None, Precision::Table);
    let messages = notebook.messages(id);
    match messages.first() {
        None => format!("{} {}", value.value, value.unit).trim().to_owned(),
        Some(message) => message.message.clone(),
    }
}

#[test]
fn without_a_bracket_the_unknown_has_the_unit_of_the_range() {
    let plain = "formula root_of(a)\n    solve x for x^2 = a from 0 to 10\nexpect = root_of(9)";
    assert_eq!(shown(plain), "3");
    let length = "formula side(a [in2]) [in]\n    solve x for x^2 = a from 0 in to 1 ft\nexpect = side(9 in2)";
    assert_eq!(shown(length), "3 in");
    let unlike = "formula side(a [in2]) [in]\n    solve x for x^2 = a from 0 in to 1 s\nexpect = side(9 in2)";
    assert!(shown(unlike).contains("side by side"), "{}", shown(unlike));
}

#[test]
fn a_root_is_sought_in_every_row_of_a_column() {
    let rows =
        "formula root_of(a)\n    solve x for x^2 = a from 0 to 10\nexpect = root_of({4, 9, 16})";
    assert_eq!(shown(rows), "{2, 3, 4}");
    let nested = "formula root_of(a)\n    solve x for x^2 = a from 0 to 10\nformula twice(a)\n    solve x for x^2 = root_of(a) from 0 to 10\nexpect = twice({16, 81})";
    assert_eq!(shown(nested), "{2, 3}");
}

#[test]
fn a_reduction_within_solve_sees_the_whole_column() {
    let total =
        "formula part(a)\n    solve x for sum(a * x) = 12 from 0 to 10\nexpect = part({1, 2, 3})";
    assert_eq!(shown(total), "2");
    let both =
        "formula parts(a)\n    solve x for x * sum(a) = a from 0 to 10\nexpect = parts({1, 3})";
    assert_eq!(shown(both), "{0.25, 0.75}");
}
