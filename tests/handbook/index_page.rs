//! `stdlib/index.md`: every formula of the handbook with its signature and what it is for, written
//! from the chapters: `UPDATE_EXPECTED=1 cargo test handbook::index_page`.

use crate::support::updates_expected;
use gaugebook::assist::{chapter, signature_line};
use gaugebook::library::{CHAPTERS, EntryKind, Library};
use std::fs;
use std::path::Path;

fn written() -> String {
    let library = Library::new();
    let mut page = String::from(
        "# Every formula of the handbook\n\nWritten from the chapters by a test; change those. \
         `gaugebook library NAME` has more about each: when not to use it, its limits, its source, \
         an example.\n",
    );
    for (number, one) in CHAPTERS.iter().enumerate() {
        page.push_str(&format!("\n## {} ({})\n\n", one.title(), one.topic()));
        let listed = chapter(&library, one.topic()).expect("a chapter is listed by its topic");
        for entry in library.entries() {
            if entry.chapter != number || entry.kind != EntryKind::Formula {
                continue;
            }
            let formula = library.formula(entry.name).expect("a formula can be read");
            let about = listed
                .entries
                .iter()
                .find(|listed| listed.name == entry.name)
                .map_or("", |listed| listed.about.as_str());
            page.push_str(&format!("- `{}`  \n  {about}\n", signature_line(&formula)));
        }
    }
    page
}

#[test]
fn the_index_page_lists_every_formula_as_it_is() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("stdlib/index.md");
    let page = written();
    if updates_expected() {
        fs::write(&path, &page).expect("the page can be written");
    }
    let kept = fs::read_to_string(&path).expect("the page can be read");
    assert_eq!(kept, page, "UPDATE_EXPECTED=1 writes it afresh");
}
