//! `open` and `save` in a session: what goes wrong is said, and nothing is lost.

use crate::files::folder::Folder;
use gaugebook::library::Library;
use gaugebook::shell::screen::Screen;
use gaugebook::shell::{Outcome, Session};
use std::path::Path;
use std::rc::Rc;

const SHOP: &str = "# Shop\n\n```gaugebook\ntank = 60 gal\n```\n";

fn session() -> Session {
    let screen = Screen {
        width: 100,
        unicode: true,
        colour: false,
        colour_of_messages: false,
        plain: false,
    };
    Session::new(Rc::new(Library::new()), screen, None)
}

fn open(path: &Path) -> Session {
    let mut session = session();
    let outcome = session.open(path);
    assert!(!outcome.is_wrong, "{outcome:?}");
    session
}

fn said(outcome: Outcome, folder: &Folder) -> String {
    let place = format!("{}/", folder.path().display());
    let said = (outcome.answer + &outcome.messages).replace(&place, "");
    // Where a line wraps does not matter here.
    said.replace("\n    ", " ")
}

#[test]
fn what_cannot_be_opened_leaves_the_notebook_at_hand() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    folder.write("latin.md", b"```gaugebook\ntank = 60 gal \xb1 1 gal\n```\n");
    let mut session = open(&folder.file("shop.md"));
    for (name, message) in [
        (
            "shpo.md",
            "error: there is no file shpo.md (file)\n  repair    shop.md\n",
        ),
        (
            "latin.md",
            "error: latin.md: this file is not UTF-8 text: no character at line 2",
        ),
        ("", "error: "),
    ] {
        let outcome = session.enter(&format!("open {}", folder.file(name).display()));
        assert!(outcome.is_wrong, "{name}");
        let said = said(outcome, &folder);
        assert!(said.starts_with(message), "{name}: {said}");
        assert_eq!(session.enter("tank").answer, "  60 gal\n");
    }
}

#[test]
fn names_need_no_ending_and_may_stand_in_quotes() {
    let folder = Folder::new();
    folder.write("my shop.md", SHOP);
    let mut session = session();
    for typed in ["my shop.md", "my shop", "\"my shop.md\""] {
        let path = folder.path().display();
        let typed = match typed.strip_prefix('"') {
            Some(name) => format!("open \"{path}/{name}"),
            None => format!("open {path}/{typed}"),
        };
        assert!(!session.enter(&typed).is_wrong, "{typed}");
        assert_eq!(session.prompt(), "my shop: ");
    }
    session.enter("held = 55 s");
    session.enter(&format!("save {}/other", folder.path().display()));
    assert!(folder.read("other.md").contains("held = 55 s\n"));
    assert_eq!(session.prompt(), "other: ");
}

#[test]
fn a_file_that_is_there_is_written_over_only_when_asked_twice() {
    let folder = Folder::new();
    let path = folder.write("shop.md", SHOP);
    let mut session = session();
    session.enter("held = 55 s");
    let save = format!("save {}", path.display());
    assert_eq!(
        said(session.enter(&save), &folder),
        "  shop.md is there already: `save shop.md` again writes over it\n"
    );
    assert_eq!(folder.read("shop.md"), SHOP);
    assert!(!session.enter(&save).is_wrong);
    assert_eq!(folder.read("shop.md"), "```gaugebook\nheld = 55 s\n```\n");
}

#[test]
fn what_another_program_wrote_meanwhile_is_not_lost_without_a_word() {
    let folder = Folder::new();
    let path = folder.write("shop.md", SHOP);
    let mut session = open(&path);
    session.enter("tank = 62 gal");
    let other = SHOP.replace("# Shop", "# My shop");
    folder.write("shop.md", &other);
    assert_eq!(
        said(session.enter("save"), &folder),
        "  shop.md was changed by another program since it was opened: `save` again writes over it\n"
    );
    assert_eq!(folder.read("shop.md"), other);
    session.enter("tank");
    assert!(
        session
            .enter("save")
            .answer
            .contains("again writes over it")
    );
    assert!(session.enter("save").answer.contains("saved; 1 line"));
    assert_eq!(folder.read("shop.md"), SHOP.replace("60", "62"));
}

#[test]
fn a_save_that_fails_leaves_the_file_and_what_was_typed() {
    let folder = Folder::new();
    let path = folder.write("shop.md", SHOP);
    let mut session = open(&path);
    session.enter("tank = 62 gal");
    let mut rights = std::fs::metadata(&path).expect("there").permissions();
    rights.set_readonly(true);
    std::fs::set_permissions(&path, rights).expect("set");
    let outcome = session.enter("save");
    assert!(outcome.is_wrong);
    assert_eq!(
        said(outcome, &folder),
        "error: shop.md cannot be saved: it is write-protected (file)\n  expected  another name; the file is as it was, and nothing is lost\n"
    );
    assert_eq!(folder.read("shop.md"), SHOP);
    assert_eq!(session.prompt(), "shop, not saved: ");
    let outcome = session.enter(&format!("save {}/nowhere/shop.md", folder.path().display()));
    assert!(outcome.is_wrong);
    assert!(
        !session
            .enter(&format!("save {}", folder.file("copy.md").display()))
            .is_wrong
    );
    assert_eq!(folder.read("copy.md"), SHOP.replace("60", "62"));
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_disk_is_said_and_another_name_saves_it_all() {
    let folder = Folder::new();
    let path = folder.write("shop.md", SHOP);
    let mut session = open(&path);
    session.enter("tank = 62 gal");
    let full = folder.file("full.md");
    std::os::unix::fs::symlink("/dev/full", &full).expect("a link");
    let outcome = session.enter(&format!("save {}", full.display()));
    assert!(outcome.is_wrong);
    assert!(
        said(outcome, &folder)
            .starts_with("error: full.md cannot be saved: the disk is full (file)\n")
    );
    assert_eq!(session.prompt(), "shop, not saved: ");
    assert!(!session.enter("save").is_wrong);
    assert_eq!(folder.read("shop.md"), SHOP.replace("60", "62"));
}

#[test]
fn saving_again_without_a_change_says_that_it_is_all_there() {
    let folder = Folder::new();
    let path = folder.write("shop.md", SHOP);
    let mut session = open(&path);
    assert_eq!(
        said(session.enter("save"), &folder),
        "  nothing to save: shop.md has it all\n"
    );
    session.enter("tank = 62 gal");
    session.enter("save");
    assert_eq!(
        said(session.enter("save"), &folder),
        "  nothing to save: shop.md has it all\n"
    );
    assert!(session.enter("quit").ends);
}

#[test]
fn a_notebook_beside_can_be_used_while_typing() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    let path = folder.write("gun.md", "```gaugebook\nheld = 55 s\n```\n");
    let mut session = open(&path);
    assert!(!session.enter("use \"shop.md\" as shop").is_wrong);
    assert_eq!(session.enter("shop.tank").answer, "  60 gal\n");
    session.enter("save");
    let mut again = open(&path);
    assert_eq!(again.enter("shop.tank").answer, "  60 gal\n");
    let outcome = again.enter("shop.tank = 70 gal");
    assert!(outcome.is_wrong);
    assert!(
        outcome
            .messages
            .contains("belongs to a notebook that is used here"),
        "{}",
        outcome.messages
    );
    assert!(again.enter("use \"nowhere.md\"").is_wrong);
    assert_eq!(
        folder.read("gun.md"),
        "```gaugebook\nheld = 55 s\nuse \"shop.md\" as shop\n```\n"
    );
}

#[test]
fn line_ends_marks_and_tabs_survive_a_session_byte_for_byte() {
    let folder = Folder::new();
    let text = "\u{feff}# Shop\r\n\r\n> quoted\r\n> ```gaugebook\r\n> \ttank\t=  60 gal\t# plate\r\n> \theld = 55 s\r\n> ```\r\nlast line without an end";
    let path = folder.write("shop.md", text);
    let mut session = open(&path);
    for line in [
        "tank = 62 gal",
        "held = 50 s",
        "undo",
        "extra = 2 * tank",
        "remove extra",
        "undo",
        "save",
    ] {
        let outcome = session.enter(line);
        assert!(!outcome.is_wrong, "{line}: {outcome:?}");
    }
    let wanted = text
        .replace("60 gal", "62 gal")
        .replace("> ```\r\nlast", "> \textra = 2 * tank\r\n> ```\r\nlast");
    assert_eq!(folder.read("shop.md"), wanted);
}
