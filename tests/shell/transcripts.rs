//! Shell sessions as Markdown: `tests/transcripts/*.md`. A fence `file NAME` is a file beside the
//! session, a fence `shell WIDTH` is typed line by line: what stands behind a prompt is typed, the
//! lines below it are what the shell says. Lines that continue an entry begin with `| `. With the
//! variable UPDATE_TRANSCRIPTS set, the pages are written anew; read the difference.

use crate::files::folder::Folder;
use gaugebook::library::Library;
use gaugebook::shell::Session;
use gaugebook::shell::screen::Screen;
use std::path::Path;
use std::rc::Rc;

fn screen(width: usize) -> Screen {
    Screen {
        width,
        unicode: true,
        colour: false,
        colour_of_messages: false,
        plain: false,
    }
}

/// A fence of a page: its info, its lines, and where they stand among the lines of the page.
struct Fence {
    info: String,
    lines: Vec<String>,
    first: usize,
}

fn fences(page: &str) -> Vec<Fence> {
    let mut fences: Vec<Fence> = Vec::new();
    let mut is_open = false;
    for (number, line) in page.lines().enumerate() {
        match line.strip_prefix("~~~") {
            Some(_) if is_open => is_open = false,
            Some(info) => {
                fences.push(Fence {
                    info: info.trim().to_owned(),
                    lines: Vec::new(),
                    first: number + 1,
                });
                is_open = true;
            }
            None if is_open => fences
                .last_mut()
                .expect("a fence is open")
                .lines
                .push(line.to_owned()),
            None => {}
        }
    }
    fences
}

/// Plays a fence; gives its lines as they should be.
fn play(fence: &Fence, session: &mut Session, folder: &Folder) -> Vec<String> {
    let mut played = Vec::new();
    let mut lines = fence.lines.iter().peekable();
    while let Some(line) = lines.next() {
        let prompt = session.prompt();
        let Some(typed) = typed(line, &prompt) else {
            continue;
        };
        played.push(format!("{prompt}{typed}").trim_end().to_owned());
        let mut entry = in_folder(typed, folder);
        while let Some(more) = lines.next_if(|line| line.starts_with("| ")) {
            played.push(more.clone());
            entry.push('\n');
            entry.push_str(&more[2..]);
        }
        let outcome = session.enter(&entry);
        let said = outcome.answer + &outcome.messages;
        let said = said.replace(&format!("{}/", folder.path().display()), "");
        played.extend(said.lines().map(str::to_owned));
    }
    played
}

/// What stands behind the prompt; whether something is not saved may be told wrongly there, so
/// that the page can be written anew.
fn typed<'l>(line: &'l str, prompt: &str) -> Option<&'l str> {
    let name = prompt
        .trim_end_matches([' ', ':'])
        .trim_end_matches(", not saved");
    let behind = line.strip_prefix(name)?;
    let behind = behind.strip_prefix(", not saved").unwrap_or(behind);
    behind.strip_prefix(':').map(str::trim_start)
}

/// Names of files are those in the folder of the test.
fn in_folder(typed: &str, folder: &Folder) -> String {
    match typed.split_once(' ') {
        Some((verb @ ("open" | "save"), name)) => format!("{verb} {}", folder.file(name).display()),
        _ => typed.to_owned(),
    }
}

fn play_page(path: &Path) -> (String, String) {
    let page = std::fs::read_to_string(path).expect("the page can be read");
    let folder = Folder::new();
    let mut session = Session::new(Rc::new(Library::new()), screen(80), None);
    let mut lines: Vec<String> = page.lines().map(str::to_owned).collect();
    let mut moved = 0_i64;
    for fence in fences(&page) {
        if let Some(name) = fence.info.strip_prefix("file ") {
            folder.write(name, fence.lines.join("\n") + "\n");
        }
        if let Some(width) = fence.info.strip_prefix("shell") {
            session.set_screen(screen(width.trim().parse().unwrap_or(80)));
            let played = play(&fence, &mut session, &folder);
            let first = (fence.first as i64 + moved) as usize;
            moved += played.len() as i64 - fence.lines.len() as i64;
            lines.splice(first..first + fence.lines.len(), played);
        }
    }
    (page, lines.join("\n") + "\n")
}

#[test]
fn every_session_goes_as_its_page_says() {
    let pages = std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/transcripts"))
        .expect("the pages");
    let mut count = 0;
    for page in pages {
        let path = page.expect("a page").path();
        count += 1;
        let (told, played) = play_page(&path);
        if std::env::var_os("UPDATE_TRANSCRIPTS").is_some() {
            std::fs::write(&path, &played).expect("the page is written");
            continue;
        }
        assert_eq!(played, told, "{}", path.display());
    }
    assert!(count > 2, "there are pages");
}
