//! Unit names with two readings: one entry for each row of the list that the language settles
//! them by, with what comes out. The tables have the form of those in `check`.

use crate::check::{entries, hold};
use crate::support::files_in;
use std::fs;

#[test]
fn every_name_with_two_readings_is_settled() {
    for (_, path) in files_in("reference/names", "txt") {
        hold(&path, |result| !result.is_empty());
    }
}

#[test]
fn every_entry_says_which_name_it_is_about() {
    for (_, path) in files_in("reference/names", "txt") {
        let text = fs::read_to_string(&path).expect("the table can be read");
        for (source, _) in entries(&text) {
            assert!(source.starts_with("# "), "{source}");
        }
    }
}
