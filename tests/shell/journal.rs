//! What a session that ended without saving left is offered to the next one.

use crate::files::folder::Folder;
use gaugebook::library::Library;
use gaugebook::shell::Session;
use gaugebook::shell::screen::Screen;
use std::path::Path;
use std::rc::Rc;

const SHOP: &str = "```gaugebook\ntank = 60 gal\nheld = 55 s\ncheck held > 10 s\n```\n";

fn session(folder: &Folder) -> Session {
    let screen = Screen {
        width: 80,
        unicode: true,
        colour: false,
        colour_of_messages: false,
        plain: false,
    };
    Session::new(
        Rc::new(Library::new()),
        screen,
        Some(folder.file("unsaved")),
    )
}

fn open(folder: &Folder, shop: &Path) -> (Session, String) {
    let mut session = session(folder);
    session.begin();
    let outcome = session.open(shop);
    let said = outcome.answer + &outcome.messages;
    // Where a line wraps does not matter here.
    (session, said.replace("\n    ", " "))
}

#[test]
fn lines_of_a_session_that_died_come_back_with_redo() {
    let folder = Folder::new();
    let shop = folder.write("shop.md", SHOP);
    let (mut first, said) = open(&folder, &shop);
    assert!(!said.contains("last time"), "{said}");
    for line in [
        "tank = 61 gal",
        "tank = 62 gal",
        "fill = tank / held",
        "remove check held > 10 s",
    ] {
        let outcome = first.enter(line);
        assert!(!outcome.is_wrong, "{line}: {outcome:?}");
    }
    drop(first);
    assert_eq!(folder.read("shop.md"), SHOP);
    let (mut second, said) = open(&folder, &shop);
    assert!(
        said.contains(
            "3 lines were not saved last time: `tank = 62 gal`, `fill = tank / held` and `remove"
        ),
        "{said}"
    );
    assert!(!second.is_unsaved());
    assert!(
        second
            .enter("redo")
            .answer
            .starts_with("  brought back: tank is 62 gal")
    );
    // It dies again: what came back and what did not are both kept.
    drop(second);
    let (mut third, said) = open(&folder, &shop);
    assert!(said.contains("3 lines"), "{said}");
    third.enter("redo all");
    third.enter("save");
    assert_eq!(
        folder.read("shop.md"),
        "```gaugebook\ntank = 62 gal\nheld = 55 s\nfill = tank / held\n```\n"
    );
    assert!(third.enter("quit").ends);
    let (_, said) = open(&folder, &shop);
    assert!(!said.contains("last time"), "{said}");
}

#[test]
fn lines_dropped_by_quit_are_offered_once_more() {
    let folder = Folder::new();
    let shop = folder.write("shop.md", SHOP);
    let (mut first, _) = open(&folder, &shop);
    first.enter("tank = 62 gal");
    let asked = first.enter("quit");
    assert!(!asked.ends);
    assert_eq!(
        asked.answer,
        "  line 2 is not in the file: `save` keeps it, `quit` again drops it (the next\n    `open` still offers it)\n"
    );
    assert!(first.enter("quit").ends);
    drop(first);
    let (mut second, said) = open(&folder, &shop);
    assert!(
        said.contains("not saved last time: `tank = 62 gal`; `redo` brings it back"),
        "{said}"
    );
    // Saving something else means that it is not wanted.
    second.enter("held = 50 s");
    second.enter("save");
    assert!(second.enter("quit").ends);
    let (_, said) = open(&folder, &shop);
    assert!(!said.contains("last time"), "{said}");
}

#[test]
fn another_entry_between_two_quits_keeps_the_session() {
    let folder = Folder::new();
    let mut session = session(&folder);
    session.begin();
    session.enter("tank = 60 gal");
    assert!(!session.enter("quit").ends);
    session.enter("tank");
    assert!(!session.enter("quit").ends);
    assert!(session.enter("quit").ends);
}

#[test]
fn a_new_notebook_is_kept_too() {
    let folder = Folder::new();
    let mut first = session(&folder);
    first.begin();
    first.enter("tank = 60 gal");
    drop(first);
    let mut second = session(&folder);
    let begin = second.begin();
    assert!(
        begin
            .answer
            .contains("not saved last time: `tank = 60 gal`; `redo` brings it back"),
        "{}",
        begin.answer
    );
    second.enter("redo");
    let path = folder.file("new.md");
    second.enter(&format!("save {}", path.display()));
    assert_eq!(folder.read("new.md"), "```gaugebook\ntank = 60 gal\n```\n");
    assert!(second.enter("quit").ends);
    assert!(!session(&folder).begin().answer.contains("last time"));
}

#[test]
fn where_nothing_can_be_kept_that_is_said_once_and_the_shell_goes_on() {
    let folder = Folder::new();
    folder.write("unsaved", "a file where the folder should be");
    let mut session = session(&folder);
    let begin = session.begin();
    assert!(
        begin
            .messages
            .starts_with("warning: what is typed is kept nowhere until it is saved"),
        "{begin:?}"
    );
    let outcome = session.enter("tank = 60 gal");
    assert_eq!(
        (outcome.answer.as_str(), outcome.messages.as_str()),
        ("  tank is 60 gal\n", "")
    );
    assert!(!session.enter("quit").answer.contains("still offers"));
}
