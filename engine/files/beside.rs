//! The documents that a notebook uses, found beside it. One document has one name, however it is
//! reached, so that documents which use each other are seen to do so.

use super::read::read;
use crate::notebook;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};

/// Files beside a notebook.
#[derive(Debug, Default)]
pub struct Beside {
    /// The name of each document by its real path.
    names: RefCell<BTreeMap<PathBuf, String>>,
}

impl Beside {
    /// Files beside the document at a path, which is known by that name.
    pub fn new(path: &str) -> Beside {
        let beside = Beside::default();
        beside.name_of(Path::new(path));
        beside
    }

    /// The name by which a document was first met, else its path without detours.
    fn name_of(&self, path: &Path) -> String {
        let plain = without_detours(path);
        let real = std::fs::canonicalize(path).unwrap_or_else(|_| plain.clone());
        let mut names = self.names.borrow_mut();
        let name = || plain.display().to_string();
        names.entry(real).or_insert_with(name).clone()
    }
}

impl notebook::Files for Beside {
    fn read(&self, path: &str, beside: &str) -> Result<(String, Vec<u8>), String> {
        let folder = Path::new(beside).parent().unwrap_or(Path::new(""));
        let path = folder.join(path);
        let bytes = read(&path).map_err(|refusal| refusal.message)?;
        Ok((self.name_of(&path), bytes))
    }
}

/// A path without `.` and without `folder/..`.
fn without_detours(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if plain.file_name().is_some() => {
                plain.pop();
            }
            other => plain.push(other),
        }
    }
    plain
}
