//! The live page.

mod field;
mod literal;
mod model;
mod program;
mod vocabulary;

pub use field::{Field, FieldKind, fields};
pub use model::LeftOut;
pub use program::{ProgramWriter, Unwritable, operations};

use crate::notebook::Notebook;
use model::Model;

/// The script of a page that works the cells of a notebook out, without what touches the page;
/// and what it leaves out.
pub fn engine_script(notebook: &Notebook) -> (String, Vec<LeftOut>) {
    let mut model = Model::new(notebook);
    (model.script(), model.left_out)
}
