//! The program as other programs and people call it: every verb, its streams, its exit status.

mod broken;
mod export;
mod killed;
mod piped;
mod streams;
mod verbs;

#[cfg(unix)]
mod terminal;

use crate::files::folder::Folder;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};

/// What a call of the program came to.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Called {
    pub(crate) status: Option<i32>,
    pub(crate) out: String,
    pub(crate) err: String,
}

/// The program, in this folder and with an environment that no test shares.
pub(crate) fn program(folder: &Path) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_gaugebook"));
    command.current_dir(folder).env_clear();
    command.env("HOME", folder).env("LANG", "C.UTF-8");
    command
}

/// Calls the program with words and nothing piped in.
pub(crate) fn call(folder: &Folder, words: &[&str]) -> Called {
    called(program(folder.path()).args(words), b"")
}

/// Calls the program with words and text piped in.
pub(crate) fn call_with(folder: &Folder, words: &[&str], input: impl AsRef<[u8]>) -> Called {
    called(program(folder.path()).args(words), input.as_ref())
}

/// Runs a command to its end.
pub(crate) fn called(command: &mut Command, input: &[u8]) -> Called {
    command
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    let mut child = command.spawn().expect("the program starts");
    let mut stdin = child.stdin.take().expect("a pipe");
    let input = input.to_vec();
    let feed = std::thread::spawn(move || {
        // A program that has read enough closes the pipe.
        let _ = stdin.write_all(&input);
    });
    let output = child.wait_with_output().expect("the program ends");
    feed.join().expect("the pipe is fed");
    Called {
        status: output.status.code(),
        out: String::from_utf8_lossy(&output.stdout).into_owned(),
        err: String::from_utf8_lossy(&output.stderr).into_owned(),
    }
}

/// A notebook of an invented shop: one check holds, one fails.
pub(crate) const SHOP: &str = "\
# An invented shop

```gaugebook
tank  = 60 gal ± 1 gal  # plate
held  = 55 s
fill [gal/min] = tank / held
check tank >= 50 gal
check held >= 90 s  \"the tank fills too fast\"
```
";

/// A notebook in which all is well.
pub(crate) const QUIET: &str =
    "```gaugebook\ntank = 60 gal\nhalf = tank / 2\ncheck half > 10 gal\n```\n";
