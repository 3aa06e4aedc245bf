//! What was typed and not saved comes back, whoever died meanwhile.

use super::folder::Folder;
use gaugebook::files::{Journal, Step};
use std::fs::OpenOptions;
use std::io::Write;

fn enter(text: &str) -> Step {
    Step::Enter(text.to_owned())
}

#[test]
fn steps_of_a_journal_that_was_let_go_are_found_by_the_next() {
    let folder = Folder::new();
    let notebook = folder.write("gun.md", "");
    let journals = folder.file("unsaved");
    let (mut journal, left) = Journal::begin(&journals, Some(&notebook)).expect("a journal");
    assert!(left.is_empty());
    journal.note(&enter("stop = 92 psig")).expect("noted");
    journal
        .note(&enter("table guns\n    gun | bore [mm]\n    small | 2.4"))
        .expect("noted");
    journal
        .note(&Step::Remove("draw".to_owned()))
        .expect("noted");
    drop(journal);
    let (journal, left) = Journal::begin(&journals, Some(&notebook)).expect("a journal");
    assert_eq!(left.len(), 3);
    assert_eq!(left[0], enter("stop = 92 psig"));
    assert_eq!(left[2], Step::Remove("draw".to_owned()));
    // It was not cleared, so it is there for the next one too.
    journal.end();
    let (_, left) = Journal::begin(&journals, Some(&notebook)).expect("a journal");
    assert_eq!(left.len(), 3);
}

#[test]
fn a_line_cut_off_by_a_kill_is_all_that_is_lost() {
    let folder = Folder::new();
    let journals = folder.file("unsaved");
    let (mut journal, _) = Journal::begin(&journals, None).expect("a journal");
    journal.note(&enter("tank = 60 gal")).expect("noted");
    drop(journal);
    let name = std::fs::read_dir(&journals)
        .expect("there")
        .next()
        .expect("one")
        .expect("one")
        .path();
    let mut file = OpenOptions::new().append(true).open(name).expect("opens");
    file.write_all(b"{\"enter\":\"draw = ta").expect("written");
    drop(file);
    let (mut journal, left) = Journal::begin(&journals, None).expect("a journal");
    assert_eq!(left, [enter("tank = 60 gal")]);
    journal.note(&enter("draw = 9 cfm")).expect("noted");
    drop(journal);
    let (_, left) = Journal::begin(&journals, None).expect("a journal");
    assert_eq!(left, [enter("tank = 60 gal"), enter("draw = 9 cfm")]);
}

#[test]
fn two_shells_in_one_notebook_have_a_journal_each_and_the_next_finds_both() {
    let folder = Folder::new();
    let journals = folder.file("unsaved");
    let (mut first, _) = Journal::begin(&journals, None).expect("a journal");
    let (mut second, left) = Journal::begin(&journals, None).expect("a journal");
    assert!(left.is_empty());
    first.note(&enter("a = 1")).expect("noted");
    second.note(&enter("b = 2")).expect("noted");
    drop((first, second));
    let (_, left) = Journal::begin(&journals, None).expect("a journal");
    assert_eq!(left, [enter("a = 1"), enter("b = 2")]);
}

#[test]
fn a_journal_of_nothing_leaves_no_file() {
    let folder = Folder::new();
    let journals = folder.file("unsaved");
    let (mut journal, _) = Journal::begin(&journals, None).expect("a journal");
    journal.note(&enter("a = 1")).expect("noted");
    journal.rewrite(&[]).expect("cleared");
    journal.end();
    assert_eq!(std::fs::read_dir(&journals).expect("there").count(), 0);
}

#[test]
fn a_folder_that_cannot_be_made_is_an_error_not_a_panic() {
    let folder = Folder::new();
    let file = folder.write("file", "");
    assert!(Journal::begin(&file.join("unsaved"), None).is_err());
}
