//! The written-out plans in a JavaScript engine, held to the program's own runners.

use gaugebook::export::page;
use gaugebook::library::Library;
use gaugebook::notebook::{NoFiles, Notebook};
use gaugebook::source::Document;
use rquickjs::{Context, Runtime};
use std::rc::Rc;

pub(super) fn open(text: &str) -> Notebook {
    Notebook::open(
        "shop.md",
        Document::new(text.to_owned()),
        &NoFiles,
        Rc::new(Library::new()),
    )
}

/// Runs a script behind that of a page, and gives what it returns as text.
pub(super) fn run(notebook: &Notebook, script: &str) -> String {
    let (engine, _) = page::engine_script(notebook);
    let runtime = Runtime::new().expect("the engine starts");
    let context = Context::full(&runtime).expect("the engine starts");
    context.with(|context| {
        let whole = format!("(() => {{{engine}\nstartOver(); workOut();\n{script}\n}})()");
        let result: Result<String, _> = context.eval(whole.as_bytes());
        match result {
            Ok(text) => text,
            Err(_) => {
                let caught = context.catch();
                let message = caught
                    .as_exception()
                    .map(|exception| format!("{exception}"))
                    .unwrap_or_default();
                panic!("the script stopped: {message}")
            }
        }
    })
}
