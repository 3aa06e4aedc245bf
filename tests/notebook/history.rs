//! Steps back and forth bring every value with them, and a refused line leaves no trace.

use super::{open, shown};

const SHOP: &str =
    "```gaugebook\ntank = 60 gal\nheld = 55 s\nfill = tank / held\ncheck fill <= 70 gal/min\n```\n";

#[test]
fn undo_and_redo_walk_through_the_same_states() {
    let mut notebook = open(SHOP);
    let mut states = vec![(notebook.text(), shown(&notebook))];
    let edits = [
        "tank = 62 gal",
        "rest = 3 * held",
        "check rest <= 200 s",
        "held = 50 s",
        "unit bag = 50 lb",
        "load = 3 bag",
    ];
    for line in edits {
        notebook
            .enter_right(line)
            .unwrap_or_else(|refused| panic!("{line}: {refused:?}"));
        states.push((notebook.text(), shown(&notebook)));
    }
    notebook.remove("rest").expect("there");
    states.push((notebook.text(), shown(&notebook)));
    for state in states.iter().rev().skip(1) {
        assert!(notebook.undo().is_some());
        assert_eq!((notebook.text(), shown(&notebook)), *state);
    }
    assert!(notebook.undo().is_none());
    for state in states.iter().skip(1) {
        assert!(notebook.redo().is_some());
        assert_eq!((notebook.text(), shown(&notebook)), *state);
        // Opening the text afresh gives the same values.
        assert_eq!(shown(&open(&notebook.text())), state.1);
    }
    assert!(notebook.redo().is_none());
}

#[test]
fn a_new_edit_ends_what_could_be_done_again() {
    let mut notebook = open(SHOP);
    notebook.enter_right("tank = 62 gal").expect("taken");
    notebook.undo();
    assert!(notebook.can_redo());
    notebook.enter_right("tank = 64 gal").expect("taken");
    assert!(!notebook.can_redo());
}

#[test]
fn a_line_with_an_error_of_its_own_changes_nothing() {
    let mut notebook = open(SHOP);
    notebook.enter_right("tank = 62 gal").expect("taken");
    notebook.undo();
    let before = (notebook.text(), shown(&notebook));
    for line in [
        "tank = 60 gal + 3 s",
        "new = tank + held",
        "tank = (",
        "held = nothing_of_that_name",
        "check tank",
        "table tank\n    a | b\n    1 | 2",
    ] {
        let refused = notebook.enter_right(line);
        assert!(refused.is_err(), "{line} is taken: {refused:?}");
        assert_eq!((notebook.text(), shown(&notebook)), before, "{line}");
        assert!(notebook.can_redo(), "{line}");
        assert!(!notebook.can_undo(), "{line}");
    }
}

#[test]
fn a_cell_that_only_waits_is_taken() {
    let mut notebook = open("```gaugebook\nbad = 1 gal + 1 s\n```\n");
    notebook
        .enter_right("next = 2 * bad")
        .expect("it is right itself");
    assert!(shown(&notebook)[1].starts_with("next: failed Waits"));
}

#[test]
fn asking_whether_a_line_would_be_taken_changes_nothing() {
    let mut notebook = open(SHOP);
    let before = (notebook.text(), shown(&notebook));
    assert!(notebook.would_take("tank = 70 gal"));
    assert!(!notebook.would_take("tank = 70 gal + 1 s"));
    assert_eq!((notebook.text(), shown(&notebook)), before);
    assert!(!notebook.can_undo());
}

#[test]
fn an_expression_brings_the_defaults_it_needs() {
    let mut notebook = open("```gaugebook\n```\n");
    let worked = notebook
        .answer_expression("free_air(10 scfm)")
        .expect("a value");
    assert!(worked.value.number().is_some());
    assert_eq!(notebook.text(), "```gaugebook\n```\n");
}

#[test]
fn statements_without_a_name_are_found_by_what_they_say() {
    let mut notebook = open(SHOP);
    let id = notebook
        .statement_like("check fill<=70 gal/min")
        .expect("the check");
    notebook.remove_statement(id);
    assert!(!notebook.text().contains("check"));
    assert_eq!(notebook.statement_like("check fill <= 70 gal/min"), None);
}
