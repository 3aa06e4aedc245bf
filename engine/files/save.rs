//! Saving: the new text goes into a file beside the old one, is brought to the disk, and takes the
//! old one's place in one step. Whenever the process ends, the file holds the old text or the new.

use super::Refusal;
use super::trouble::{Doing, explain, folder, write_protected};
use std::ffi::{OsStr, OsString};
use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// Puts a text in the place of a file. Behind a symbolic link it is the file there that changes;
/// who may read and write it stays as it was.
///
/// # Errors
/// A folder, a write-protected file, a missing folder, a full disk. The file is then as it was.
pub fn save(path: &Path, text: &[u8]) -> Result<(), Refusal> {
    let said = |error: io::Error| explain(path, &error, Doing::Saving);
    let target = behind_links(path).map_err(said)?;
    let before = match fs::metadata(&target) {
        Ok(about) => Some(about),
        Err(error) if error.kind() == io::ErrorKind::NotFound => None,
        Err(error) => return Err(said(error)),
    };
    match &before {
        Some(about) if about.is_dir() => return Err(folder(path)),
        Some(about) if about.permissions().readonly() => return Err(write_protected(path)),
        Some(about) if !about.is_file() => return write_through(&target, text).map_err(said),
        Some(_) => {
            // Renaming would not ask whether this file may be written.
            OpenOptions::new().write(true).open(&target).map_err(said)?;
        }
        None => {}
    }
    replace(&target, text, before.as_ref()).map_err(said)
}

/// Makes a folder, and those around it, if they are not there.
///
/// # Errors
/// A file of that name, a place that may not be written.
pub fn make_folder(path: &Path) -> Result<(), Refusal> {
    fs::create_dir_all(path).map_err(|error| explain(path, &error, Doing::Saving))
}

/// The file that a path stands for, behind symbolic links, whether it exists or not.
fn behind_links(path: &Path) -> io::Result<PathBuf> {
    let mut target = path.to_path_buf();
    for _ in 0..MOST_LINKS {
        match fs::read_link(&target) {
            Ok(link) => target = folder_of(&target).join(link),
            Err(_) => return Ok(target),
        }
    }
    Err(io::Error::other("its links go in a circle"))
}

/// Longer chains of links are taken for circles.
const MOST_LINKS: usize = 40;

fn folder_of(path: &Path) -> &Path {
    match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// A device or a pipe has no place to be taken.
fn write_through(target: &Path, text: &[u8]) -> io::Result<()> {
    let mut file = OpenOptions::new().write(true).open(target)?;
    file.write_all(text)?;
    file.flush()
}

fn replace(target: &Path, text: &[u8], before: Option<&Metadata>) -> io::Result<()> {
    let name = target
        .file_name()
        .ok_or_else(|| io::Error::from(io::ErrorKind::InvalidFilename))?;
    let folder = folder_of(target);
    let beside = folder.join(name_beside(name, &std::process::id().to_string()));
    let done = write_new(&beside, text, before).and_then(|()| fs::rename(&beside, target));
    if done.is_err() {
        // What cannot be removed is swept away by a later save.
        let _ = fs::remove_file(&beside);
        return done;
    }
    // Not every system lets a folder be brought to the disk; the text itself is there.
    let _ = File::open(folder).and_then(|folder| folder.sync_all());
    sweep(folder, name);
    Ok(())
}

/// The whole text on the disk, with the rights of the file before it.
fn write_new(path: &Path, text: &[u8], before: Option<&Metadata>) -> io::Result<()> {
    let mut file = OpenOptions::new()
        .write(true)
        .create(true)
        .truncate(true)
        .open(path)?;
    file.write_all(text)?;
    if let Some(before) = before {
        keep_owner(path, before);
        file.set_permissions(before.permissions())?;
    }
    file.sync_all()
}

/// Who saves the file of somebody else leaves it theirs, where the system allows that.
#[cfg(unix)]
fn keep_owner(path: &Path, before: &Metadata) {
    use std::os::unix::fs::MetadataExt;
    let same =
        fs::metadata(path).is_ok_and(|now| (now.uid(), now.gid()) == (before.uid(), before.gid()));
    if !same {
        let _ = std::os::unix::fs::chown(path, Some(before.uid()), Some(before.gid()));
    }
}

#[cfg(not(unix))]
fn keep_owner(_path: &Path, _before: &Metadata) {}

/// The name of the file a text is written to first.
fn name_beside(name: &OsStr, mark: &str) -> OsString {
    let mut beside = OsString::from(".");
    beside.push(name);
    beside.push(format!(".{mark}.saving"));
    beside
}

/// Removes what processes that were killed while saving left beside a file.
fn sweep(folder: &Path, name: &OsStr) {
    let Ok(entries) = fs::read_dir(folder) else {
        return;
    };
    let before =
        [OsStr::new("."), name, OsStr::new(".")]
            .iter()
            .fold(OsString::new(), |mut all, part| {
                all.push(part);
                all
            });
    for entry in entries.flatten() {
        let own = entry.file_name();
        let own = own.as_encoded_bytes();
        let left = own.starts_with(before.as_encoded_bytes()) && own.ends_with(b".saving");
        if left && is_old(&entry.path()) {
            let _ = fs::remove_file(entry.path());
        }
    }
}

/// Nobody takes longer than this to save.
const LONGEST_SAVE: Duration = Duration::from_secs(60);

fn is_old(path: &Path) -> bool {
    let changed = fs::metadata(path).and_then(|about| about.modified());
    changed.is_ok_and(|changed| changed.elapsed().is_ok_and(|age| age > LONGEST_SAVE))
}
