//! The lines in which two texts differ.

use gaugebook::shell::difference::{Change, changes};
use proptest::prelude::*;

fn told(old: &str, new: &str) -> Vec<(usize, Vec<String>, Vec<String>)> {
    let owned = |lines: Vec<&str>| lines.into_iter().map(str::to_owned).collect();
    changes(old, new)
        .into_iter()
        .map(|change| (change.line, owned(change.was), owned(change.now)))
        .collect()
}

#[test]
fn a_changed_a_new_and_a_gone_line_have_their_numbers() {
    let lines = |lines: &[&str]| {
        lines
            .iter()
            .map(|line| (*line).to_owned())
            .collect::<Vec<_>>()
    };
    assert_eq!(told("a\nb\nc\n", "a\nb\nc\n"), []);
    assert_eq!(
        told("a\nb\nc\n", "a\nB\nc\n"),
        [(2, lines(&["b"]), lines(&["B"]))]
    );
    assert_eq!(told("a\nc\n", "a\nb\nc\n"), [(2, vec![], lines(&["b"]))]);
    assert_eq!(told("a\nb\nc\n", "a\nc\n"), [(2, lines(&["b"]), vec![])]);
    assert_eq!(
        told("a\nb\nc\nd\ne\n", "A\nb\nc\nd\nd\ne\n"),
        [
            (1, lines(&["a"]), lines(&["A"])),
            (4, vec![], lines(&["d"]))
        ]
    );
}

/// The new text, made from the old one and the changes.
fn applied(old: &str, changes: &[Change<'_>]) -> Vec<String> {
    let old: Vec<&str> = old.split('\n').collect();
    let mut new: Vec<String> = Vec::new();
    let mut at = 0;
    let mut gone = 0;
    let mut added = 0;
    for change in changes {
        let begin = match change.now.is_empty() {
            true => change.line - 1,
            false => change.line - 1 + gone - added,
        };
        new.extend(old[at..begin].iter().map(|line| (*line).to_owned()));
        assert_eq!(old[begin..begin + change.was.len()], change.was[..]);
        new.extend(change.now.iter().map(|line| (*line).to_owned()));
        at = begin + change.was.len();
        gone += change.was.len();
        added += change.now.len();
    }
    new.extend(old[at..].iter().map(|line| (*line).to_owned()));
    new
}

proptest! {
    #[test]
    fn the_changes_turn_the_old_text_into_the_new_one(old in "[ab\n]{0,24}", new in "[ab\n]{0,24}") {
        let found = changes(&old, &new);
        let wanted: Vec<String> = new.split('\n').map(str::to_owned).collect();
        prop_assert_eq!(applied(&old, &found), wanted);
    }

    #[test]
    fn equal_texts_do_not_differ(text in "[ab\n]{0,24}") {
        prop_assert!(changes(&text, &text).is_empty());
    }
}

#[test]
fn texts_that_have_nothing_in_common_are_one_change() {
    let old: String = (0..5000).map(|line| format!("old {line}\n")).collect();
    let new: String = (0..5000).map(|line| format!("new {line}\n")).collect();
    assert_eq!(changes(&old, &new).len(), 1);
}
