//! Exports: reports in other formats, and what comes back from them.

mod browser;
mod devtools;
mod formulas;
mod hostile;
mod paste;
mod reading;
mod script;
mod tables;

use std::path::PathBuf;

/// The demo notebooks.
fn demo_notebooks() -> Vec<PathBuf> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("notebooks");
    let entries = std::fs::read_dir(folder).expect("the notebooks are there");
    let mut files: Vec<PathBuf> = entries
        .map(|entry| entry.expect("an entry").path())
        .collect();
    files.retain(|file| file.extension().is_some_and(|ending| ending == "md"));
    files.sort();
    assert!(!files.is_empty());
    files
}
