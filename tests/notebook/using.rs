//! Documents that a typed line brings in.

use super::shown;
use gaugebook::library::Library;
use gaugebook::notebook::{Files, Notebook};
use gaugebook::source::Document;
use std::rc::Rc;

struct Shop;

impl Files for Shop {
    fn read(&self, path: &str, _beside: &str) -> Result<(String, Vec<u8>), String> {
        match path {
            "shop.md" => Ok((path.to_owned(), b"tank = 60 gal\nhose = 3/8 in\n".to_vec())),
            _ => Err("there is no such file".to_owned()),
        }
    }
}

fn notebook() -> Notebook {
    let text = "```gaugebook\nheld = 55 s\n```\n";
    let document = Document::new(text.to_owned());
    let mut notebook = Notebook::open("gun.md", document, &Shop, Rc::new(Library::new()));
    notebook.keep_files(Rc::new(Shop));
    notebook
}

#[test]
fn cells_of_a_used_document_can_be_named_at_once() {
    let mut notebook = notebook();
    notebook
        .enter_right("use \"shop.md\" as shop")
        .expect("taken");
    notebook
        .enter_right("fill [gal/min] = shop.tank / held")
        .expect("taken");
    assert_eq!(shown(&notebook)[0], "fill: 65.45 gal/min Ok");
    notebook.undo();
    notebook.undo();
    assert!(notebook.enter_right("fill = shop.tank / held").is_err());
    notebook.redo();
    notebook.redo();
    assert_eq!(shown(&notebook)[0], "fill: 65.45 gal/min Ok");
}

#[test]
fn a_document_that_is_not_there_is_refused() {
    let mut notebook = notebook();
    let refused = notebook
        .enter_right("use \"tank.md\"")
        .expect_err("refused");
    assert_eq!(refused.diagnostics[0].message, "tank.md cannot be used");
    assert_eq!(notebook.text(), "```gaugebook\nheld = 55 s\n```\n");
}
