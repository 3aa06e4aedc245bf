//! The language guide, page by page: prose for readers, with cells and examples that are worked
//! out here. Each page is one notebook.
//!
//! - A fence `gaugebook` holds cells of the page; none of them has an error.
//! - A fence `comes out` names cells and what they are worth.
//! - A fence `refused` holds lines that the page's cells could have beside them, a rule of dashes,
//!   and all that is said about them.
//!
//! What comes out is written afresh with
//! `UPDATE_EXPECTED=1 cargo test spec:: -- --test-threads=1`.

use crate::support::{Cells, document_beside, files_in, tests_path, updates_expected};
use gaugebook::notebook::ExampleOutcome;
use gaugebook::source::{Code, Severity};
use std::fs;
use std::path::PathBuf;

const RULE: &str = "-----";
const CODES_BEGIN: &str = "<!-- every code, written by a test -->\n";
const CODES_END: &str = "<!-- end of the codes -->\n";

/// A page opened under its own name.
fn opened(name: &str, page: &str) -> Cells {
    document_beside(&format!("{name}.md"), page, &tests_path("spec"))
}

fn pages() -> Vec<(String, PathBuf, String)> {
    let read = |(name, path): (String, PathBuf)| {
        let text = fs::read_to_string(&path).expect("the page can be read");
        (name, path, text)
    };
    files_in("spec", "md").into_iter().map(read).collect()
}

/// A page with the content of each fence of one kind made anew.
fn rewritten(page: &str, info: &str, content: impl Fn(&str) -> String) -> String {
    let opening = format!("```{info}\n");
    let mut parts = page.split(opening.as_str());
    let mut text = parts.next().unwrap_or("").to_owned();
    for part in parts {
        let (inside, behind) = part.split_once("```\n").expect("the fence is closed");
        text.push_str(&format!("{opening}{}```\n{behind}", content(inside)));
    }
    text
}

/// Holds a page to the text it would have, or writes it.
fn hold(path: &PathBuf, page: &str, fresh: &str) {
    if updates_expected() {
        fs::write(path, fresh).expect("the page can be written");
    } else {
        assert_eq!(page, fresh, "{}", path.display());
    }
}

#[test]
fn pages_have_no_error_of_their_own() {
    for (name, _, page) in pages() {
        let errors: Vec<String> = opened(&name, &page)
            .diagnostics()
            .into_iter()
            .filter(|(_, one)| one.severity == Severity::Error)
            .map(|(_, one)| format!("{}: {}", one.code, one.message))
            .collect();
        assert!(errors.is_empty(), "{name}: {errors:?}");
    }
}

#[test]
fn examples_of_the_pages_hold() {
    let mut tried = 0;
    for (name, _, page) in pages() {
        for example in opened(&name, &page).notebook.try_examples() {
            let outcome = format!("{:?}", example.outcome);
            let holds = example.outcome == ExampleOutcome::Holds;
            assert!(holds, "{name}: {}\n{outcome}", example.text);
            tried += 1;
        }
    }
    assert!(tried >= 60, "{tried} examples");
}

/// `draw is 12 cfm free` for each line that names a cell.
fn outcomes(shop: &Cells, lines: &str) -> String {
    let line = |line: &str| {
        let name = line.split(" is ").next().unwrap_or(line).trim();
        format!("{name} is {}\n", shop.value(name))
    };
    lines.lines().map(line).collect()
}

#[test]
fn what_comes_out_is_what_the_page_says() {
    for (name, path, page) in pages() {
        let shop = opened(&name, &page);
        let fresh = rewritten(&page, "comes out", |inside| outcomes(&shop, inside));
        hold(&path, &page, &fresh);
    }
}

/// What is said about lines that stand in a fence of their own below a page.
fn said_about(name: &str, page: &str, lines: &str) -> String {
    let whole = format!("{page}\n```gaugebook\n{lines}\n```\n");
    let shop = opened(name, &whole);
    let below = page.len();
    shop.messages_from(below)
}

#[test]
fn what_is_refused_says_why() {
    for (name, path, page) in pages() {
        let fresh = rewritten(&page, "refused", |inside| {
            let lines = inside.split(RULE).next().unwrap_or("").trim_end();
            let said = said_about(&name, &page, lines);
            assert!(said.contains("error: "), "{name}: {lines}\n{said}");
            format!("{lines}\n{RULE}\n{said}")
        });
        hold(&path, &page, &fresh);
    }
}

#[test]
fn the_list_of_codes_is_current() {
    let (_, path, page) = pages()
        .into_iter()
        .find(|(name, ..)| name == "errors")
        .expect("the page on errors");
    let (above, rest) = page.split_once(CODES_BEGIN).expect("where the codes begin");
    let (_, below) = rest.split_once(CODES_END).expect("where the codes end");
    let rows: String = Code::ALL
        .iter()
        .map(|code| {
            format!(
                "| `{}` | {} |\n",
                code.name(),
                code.meaning().trim_end_matches('.')
            )
        })
        .collect();
    let table = format!("\n| code | what it says |\n|---|---|\n{rows}\n");
    hold(
        &path,
        &page,
        &format!("{above}{CODES_BEGIN}{table}{CODES_END}{below}"),
    );
}
