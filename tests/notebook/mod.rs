//! A notebook while it is edited: its text, its steps back and forth, the documents it uses.

mod history;
mod random;
mod text;
mod using;

use gaugebook::library::Library;
use gaugebook::notebook::{NoFiles, Notebook};
use gaugebook::source::Document;
use std::rc::Rc;

fn open(text: &str) -> Notebook {
    let document = Document::new(text.to_owned());
    Notebook::open("shop.md", document, &NoFiles, Rc::new(Library::new()))
}

/// Every cell of a notebook as it is shown, with its name.
fn shown(notebook: &Notebook) -> Vec<String> {
    let cells = notebook.cells().filter(|(id, cell)| {
        cell.part == 0
            && !cell.name.is_empty()
            && !notebook.statement(cell.statement).is_handbook()
            && notebook.find(&cell.name) == Some(*id)
    });
    let mut shown: Vec<String> = cells
        .map(|(id, cell)| {
            format!(
                "{}: {} {:?}",
                cell.name,
                notebook.shown(id, None).line(),
                cell.state
            )
        })
        .collect();
    shown.sort();
    shown
}
