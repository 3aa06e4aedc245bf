//! Which lines make one entry.

use gaugebook::shell::gather::{entries, is_whole};

fn texts(text: &str) -> Vec<String> {
    entries(text).into_iter().map(|entry| entry.text).collect()
}

#[test]
fn brackets_and_bodies_go_on_and_lines_behind_them_begin_anew() {
    assert_eq!(texts("a = 1\nb = 2"), ["a = 1", "b = 2"]);
    assert_eq!(texts("a = (1 +\n2)\nb = 2"), ["a = (1 +\n2)", "b = 2"]);
    assert_eq!(
        texts("formula f(x)\n    y = 2 * x\n    y + 1\nf(2)"),
        ["formula f(x)\n    y = 2 * x\n    y + 1", "f(2)"]
    );
    assert_eq!(
        texts("table t\n    a | b\n    1 | 2\n\nb = 2"),
        ["table t\n    a | b\n    1 | 2", "b = 2"]
    );
    assert_eq!(
        texts("table t\n    a | b\n    1 | 2\nundo\nb = 2"),
        ["table t\n    a | b\n    1 | 2", "undo", "b = 2"]
    );
    assert_eq!(
        texts("open (old) gun.md\nb = 2"),
        ["open (old) gun.md", "b = 2"]
    );
    assert_eq!(texts("\n\n  \n"), [""; 0]);
}

#[test]
fn the_lines_of_entries_are_counted() {
    let found = entries("a = 1\n\ntable t\n    a | b\n    1 | 2\nc = 3");
    let lines: Vec<usize> = found.iter().map(|entry| entry.line).collect();
    assert_eq!(lines, [1, 3, 6]);
}

#[test]
fn a_pasted_post_or_notebook_gives_its_statements() {
    assert_eq!(
        texts("> tank = 60 gal\n> and some prose\n> held = 55 s"),
        ["tank = 60 gal", "held = 55 s"]
    );
    assert_eq!(
        texts("# Gun\n\nProse (open\n\n```gaugebook\ntank = 60 gal\nsum = (1 +\n  2)\n```\nmore\n"),
        ["tank = 60 gal", "sum = (1 +\n  2)"]
    );
    assert_eq!(texts("[code]\ntank = 60 gal\n[/code]"), ["tank = 60 gal"]);
}

#[test]
fn the_line_editor_waits_for_what_is_open() {
    for text in [
        "a = 1",
        "a = 1\nb = (2 +\n3)",
        "undo",
        "open (old).md",
        "",
        "table t\n    a | b\n    1 | 2\n",
        "table t\n    a | b\n    1 | 2\nb = 3",
        "```gaugebook\na = (1\n```",
    ] {
        assert!(is_whole(text), "{text:?}");
    }
    for text in [
        "a = (1",
        "a = 1\nb = {2,",
        "formula f(x)",
        "table t",
        "table t\n    a | b\n    1 | 2",
        "```gaugebook\na = 1",
    ] {
        assert!(!is_whole(text), "{text:?}");
    }
}
