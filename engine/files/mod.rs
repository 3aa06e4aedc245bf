//! The files of a person's computer: documents are read whole and saved whole, and what is typed
//! but not saved is journalled. Paths and bytes go in and come out, or a message in plain words.
//! No other module touches the file system; nothing here knows what a document says.

mod beside;
mod folder;
mod journal;
mod read;
mod save;
mod trouble;

pub use beside::Beside;
pub use folder::data_folder;
pub use journal::{Journal, Step};
pub use read::{STANDARD_INPUT, paths_beginning, read, read_document, read_standard_input};
pub use save::{make_folder, save};

/// A message about a file, boxed since it is made rarely and is large.
pub type Refusal = Box<crate::source::Diagnostic>;
