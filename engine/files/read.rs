//! Reading: a path goes in, the bytes or the document come out. Nothing larger than a document may
//! be is held in memory, whatever the file is.

use super::Refusal;
use super::trouble::{Doing, expecting, explain, folder, refuse};
use crate::source::{Document, MOST_BYTES};
use std::fs::File;
use std::io::Read;
use std::path::Path;

/// The name under which messages about piped text stand.
pub const STANDARD_INPUT: &str = "standard input";

/// The bytes of a file.
///
/// # Errors
/// A folder, a missing or forbidden file, and one larger than [`MOST_BYTES`], each in its words.
pub fn read(path: &Path) -> Result<Vec<u8>, Refusal> {
    let said = |error| explain(path, &error, Doing::Reading);
    let about = std::fs::metadata(path).map_err(said)?;
    if about.is_dir() {
        return Err(folder(path));
    }
    if about.len() > MOST_BYTES as u64 {
        return Err(too_large(&path.display().to_string(), Some(about.len())));
    }
    let file = File::open(path).map_err(said)?;
    let bytes = read_bounded(file).map_err(said)?;
    bytes.ok_or_else(|| too_large(&path.display().to_string(), None))
}

/// What is piped in.
///
/// # Errors
/// More than [`MOST_BYTES`], or input that breaks off.
pub fn read_standard_input() -> Result<Vec<u8>, Refusal> {
    let name = Path::new(STANDARD_INPUT);
    let bytes = read_bounded(std::io::stdin().lock());
    bytes
        .map_err(|error| explain(name, &error, Doing::Reading))?
        .ok_or_else(|| too_large(STANDARD_INPUT, None))
}

/// The document in a file; `-` is what is piped in. With it comes the name it has in messages.
///
/// # Errors
/// As [`read`], and text that is not UTF-8.
pub fn read_document(path: &Path) -> Result<(String, Document), Refusal> {
    let (name, bytes) = if path == Path::new("-") {
        (STANDARD_INPUT.to_owned(), read_standard_input()?)
    } else {
        (path.display().to_string(), read(path)?)
    };
    match Document::from_bytes(bytes) {
        Ok(document) => Ok((name, document)),
        Err(mut refusal) => {
            refusal.message = format!("{name}: {}", refusal.message);
            Err(Box::new(refusal))
        }
    }
}

/// All that can be read, unless it is more than a document may be.
fn read_bounded(source: impl Read) -> std::io::Result<Option<Vec<u8>>> {
    let mut bytes = Vec::new();
    source.take(MOST_BYTES as u64 + 1).read_to_end(&mut bytes)?;
    Ok((bytes.len() <= MOST_BYTES).then_some(bytes))
}

fn too_large(name: &str, bytes: Option<u64>) -> Refusal {
    let message = match bytes {
        Some(bytes) => format!("{name} is {} MB long", bytes / 1_000_000),
        None => format!("{name} is too long"),
    };
    let expected = format!("at most {} MB", MOST_BYTES / 1_000_000);
    expecting(refuse(message), expected)
}

/// The notebooks and folders whose path begins like this, folders with `/` behind them.
pub fn paths_beginning(begun: &str) -> Vec<String> {
    let (folder, start) = match begun.rsplit_once('/') {
        Some((folder, start)) => (format!("{folder}/"), start),
        None => (String::new(), begun),
    };
    let place = match folder.strip_prefix("~/") {
        Some(rest) => std::env::home_dir().unwrap_or_default().join(rest),
        None if folder.is_empty() => ".".into(),
        None => folder.clone().into(),
    };
    let Ok(entries) = std::fs::read_dir(place) else {
        return Vec::new();
    };
    let mut paths: Vec<String> = entries
        .flatten()
        .filter_map(|entry| {
            let name = entry.file_name().into_string().ok()?;
            let is_wanted =
                name.starts_with(start) && (!name.starts_with('.') || start.starts_with('.'));
            let is_folder = entry.path().is_dir();
            match (is_wanted, is_folder) {
                (true, true) => Some(format!("{folder}{name}/")),
                (true, false) if name.ends_with(".md") => Some(format!("{folder}{name}")),
                _ => None,
            }
        })
        .collect();
    paths.sort();
    paths
}
