//! What an operating system says about a file, in a shop owner's words.

use super::Refusal;
use crate::source::{Code, Diagnostic, Span, nearest};
use std::io::{Error, ErrorKind};
use std::path::Path;

/// What was to be done with a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Doing {
    Reading,
    Saving,
}

/// A message about a file, without a place in a text.
pub(super) fn refuse(message: impl Into<String>) -> Refusal {
    Box::new(Diagnostic::error(Code::File, Span::default(), message))
}

/// Says what is to be done instead.
pub(super) fn expecting(mut refusal: Refusal, expected: impl Into<String>) -> Refusal {
    refusal.expected = expected.into();
    refusal
}

/// The message for what went wrong with a file.
pub(super) fn explain(path: &Path, error: &Error, doing: Doing) -> Refusal {
    let name = path.display();
    match (error.kind(), doing) {
        (ErrorKind::NotFound, Doing::Reading) => missing(path),
        (ErrorKind::NotFound, Doing::Saving) => expecting(
            refuse(format!("{name} cannot be saved: its folder is not there")),
            "a folder that exists; nothing is lost, save under another name",
        ),
        (ErrorKind::PermissionDenied, Doing::Reading) => expecting(
            refuse(format!("{name} may not be read by you")),
            "a file that its owner has let you read",
        ),
        (ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem, Doing::Saving) => {
            write_protected(path)
        }
        (ErrorKind::IsADirectory, _) => folder(path),
        (ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge, _) => {
            expecting(
                refuse(format!("{name} cannot be saved: the disk is full")),
                "room on the disk, or another one; the file is as it was, and nothing is lost",
            )
        }
        (ErrorKind::InvalidFilename, _) => {
            refuse(format!("{name} is not a name that a file can have"))
        }
        (_, Doing::Reading) => refuse(format!("{name} cannot be read: {}", words(error))),
        (_, Doing::Saving) => expecting(
            refuse(format!("{name} cannot be saved: {}", words(error))),
            "another name or disk; the file is as it was, and nothing is lost",
        ),
    }
}

/// A folder where a notebook was expected.
pub(super) fn folder(path: &Path) -> Refusal {
    expecting(
        refuse(format!("{} is a folder", path.display())),
        "a notebook in it, with its name behind the folder's",
    )
}

/// A file that its owner protects.
pub(super) fn write_protected(path: &Path) -> Refusal {
    expecting(
        refuse(format!(
            "{} cannot be saved: it is write-protected",
            path.display()
        )),
        "another name; the file is as it was, and nothing is lost",
    )
}

/// A file that is not there, with the most similar name that is.
fn missing(path: &Path) -> Refusal {
    let refusal = refuse(format!("there is no file {}", path.display()));
    let Some(name) = path.file_name().and_then(|name| name.to_str()) else {
        return refusal;
    };
    let folder = path
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    let names: Vec<String> = match std::fs::read_dir(folder.unwrap_or(Path::new("."))) {
        Ok(entries) => entries
            .take(MOST_NAMES)
            .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
            .collect(),
        Err(_) => {
            let folder = folder.unwrap_or(path).display();
            return expecting(refusal, format!("a folder that exists: {folder} does not"));
        }
    };
    let with_ending = format!("{name}.md");
    let near = match names.iter().find(|one| **one == with_ending) {
        Some(found) => Some(found.as_str()),
        None => nearest(name, names.iter().map(String::as_str)),
    };
    match near {
        Some(near) => Box::new(refusal.repair(path.with_file_name(near).display().to_string())),
        None => refusal,
    }
}

/// Names of a folder beyond these are not compared.
const MOST_NAMES: usize = 10_000;

/// What the system says, without its number and in small letters.
fn words(error: &Error) -> String {
    let text = error.to_string();
    let text = text.split(" (os error").next().unwrap_or(&text);
    let mut signs = text.chars();
    match signs.next() {
        Some(first) => first.to_lowercase().chain(signs).collect(),
        None => "the system refused".to_owned(),
    }
}
