//! What was typed into a notebook and is not in its file: one line a step, written before the next
//! line is typed, so that a process that is killed loses no more than that. The next who opens
//! the notebook is told what was left.

use serde::{Deserialize, Serialize};
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Read, Seek, Write};
use std::path::{Path, PathBuf};

/// One change, by what it did.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Step {
    /// This statement was set or added.
    Enter(String),
    /// What this names, or this statement, was removed.
    Remove(String),
}

/// A journal that this process holds.
#[derive(Debug)]
pub struct Journal {
    file: File,
    path: PathBuf,
    /// Steps in the file.
    steps: usize,
}

/// The longest journal that is read.
const MOST_BYTES: u64 = 64 << 20;

/// The most journals of one notebook.
const MOST_JOURNALS: usize = 100;

impl Journal {
    /// Takes a journal for the notebook at `path` (or one without a file) in this folder, and tells
    /// what processes that are gone left in journals of it.
    ///
    /// # Errors
    /// Where the folder or the file cannot be written.
    pub fn begin(folder: &Path, path: Option<&Path>) -> io::Result<(Journal, Vec<Step>)> {
        fs::create_dir_all(folder)?;
        let mut left = Vec::new();
        let mut own: Option<Journal> = None;
        let mut others: Vec<(PathBuf, File)> = Vec::new();
        for number in 1..=MOST_JOURNALS {
            let name = folder.join(format!("{}-{number}.journal", key_of(path)));
            let is_there = name.exists();
            if own.is_some() && !is_there {
                break;
            }
            let Some(mut file) = take(&name)? else {
                continue;
            };
            left.append(&mut read_steps(&mut file)?);
            match own {
                None => {
                    own = Some(Journal {
                        file,
                        path: name,
                        steps: 0,
                    });
                }
                Some(_) => others.push((name, file)),
            }
        }
        let Some(mut own) = own else {
            return Err(io::Error::other("too many journals of one notebook"));
        };
        own.rewrite(&left)?;
        for (name, file) in others {
            fs::remove_file(name)?;
            drop(file);
        }
        Ok((own, left))
    }

    /// Adds a step.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn note(&mut self, step: &Step) -> io::Result<()> {
        self.file.write_all(line_of(step).as_bytes())?;
        self.steps += 1;
        Ok(())
    }

    /// Brings it to the disk, for when the power goes.
    ///
    /// # Errors
    /// Where the disk refuses.
    pub fn sync(&self) -> io::Result<()> {
        self.file.sync_data()
    }

    /// Keeps only these steps: all others are in the file.
    ///
    /// # Errors
    /// Where it cannot be written.
    pub fn rewrite(&mut self, steps: &[Step]) -> io::Result<()> {
        let text: String = steps.iter().map(line_of).collect();
        self.file.set_len(0)?;
        self.file.rewind()?;
        self.file.write_all(text.as_bytes())?;
        self.steps = steps.len();
        Ok(())
    }

    /// Lets go of it; an empty one is removed.
    pub fn end(self) {
        if self.steps == 0 {
            // It is empty: left behind, it would be nothing but untidy.
            let _ = fs::remove_file(&self.path);
        }
    }
}

/// Opens a journal and locks it, unless another process holds it.
fn take(name: &Path) -> io::Result<Option<File>> {
    for _ in 0..MOST_JOURNALS {
        let file = OpenOptions::new()
            .read(true)
            .append(true)
            .create(true)
            .open(name)?;
        match file.try_lock() {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => return Ok(None),
            Err(TryLockError::Error(error)) => return Err(error),
        }
        // Whoever held it may have removed it meanwhile.
        if is_still(&file, name) {
            return Ok(Some(file));
        }
    }
    Ok(None)
}

#[cfg(unix)]
fn is_still(file: &File, name: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    match (file.metadata(), fs::metadata(name)) {
        (Ok(open), Ok(named)) => (open.dev(), open.ino()) == (named.dev(), named.ino()),
        _ => false,
    }
}

#[cfg(not(unix))]
fn is_still(_file: &File, name: &Path) -> bool {
    name.exists()
}

fn line_of(step: &Step) -> String {
    // Two strings always have a form as JSON.
    serde_json::to_string(step).unwrap_or_default() + "\n"
}

/// The steps of a journal; a line that was cut off when the process ended is passed over.
fn read_steps(file: &mut File) -> io::Result<Vec<Step>> {
    let mut bytes = Vec::new();
    file.rewind()?;
    file.take(MOST_BYTES).read_to_end(&mut bytes)?;
    let lines = bytes.split(|byte| *byte == b'\n');
    Ok(lines
        .filter_map(|line| serde_json::from_slice(line).ok())
        .collect())
}

/// The name of a notebook's journals: a number made from its real path (FNV-1a, 64 bits).
fn key_of(path: Option<&Path>) -> String {
    let Some(path) = path else {
        return "new".to_owned();
    };
    let real = fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
    let bytes = real.as_os_str().as_encoded_bytes();
    let hash = bytes.iter().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
    });
    format!("{hash:016x}")
}
