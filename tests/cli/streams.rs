//! What goes to which stream, in which width, signs and colours; and streams that are gone.

use super::{SHOP, call, called, program};
use crate::files::folder::Folder;
use std::process::Stdio;

const MISTAKES: &str = "```gaugebook\ntank = 60 gal ± 1 gal\nair = 20 °C\nx = tank + 1 s\ny = 2 * x\nchecked = tank / 2\n```\n";

#[test]
fn results_go_to_the_output_and_mistakes_with_their_place_to_the_error_stream() {
    let folder = Folder::new();
    folder.write("mistakes.md", MISTAKES);
    let run = call(&folder, &["run", "mistakes.md"]);
    assert_eq!(run.status, Some(1));
    assert!(
        run.out.contains("failed") && run.out.contains("waits for x"),
        "{}",
        run.out
    );
    assert!(!run.out.contains("error"), "{}", run.out);
    assert!(
        run.err.starts_with("mistakes.md:4:5: error: "),
        "{}",
        run.err
    );
    assert!(!run.err.contains("checked"), "{}", run.err);
}

#[test]
fn columns_sets_the_width_of_what_is_piped_and_width_overrides_it() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    let widest = |called: super::Called| called.out.lines().map(|line| line.chars().count()).max();
    let with = |columns: &str, words: &[&str]| {
        let mut command = program(folder.path());
        command
            .env("COLUMNS", columns)
            .args(["run", "shop.md"])
            .args(words);
        widest(called(&mut command, b""))
    };
    assert_eq!(widest(call(&folder, &["run", "shop.md"])), Some(80));
    assert_eq!(with("60", &[]), Some(60));
    assert_eq!(with("60", &["--width", "44"]), Some(44));
    assert_eq!(with("10", &[]), Some(40));
    assert_eq!(with("1000", &[]), Some(100));
    assert_eq!(with("wide", &[]), Some(80));
}

#[test]
fn without_utf_8_everything_is_ascii() {
    let folder = Folder::new();
    folder.write("mistakes.md", MISTAKES);
    for (variable, value, ascii) in [
        ("LC_ALL", "C", true),
        ("LC_ALL", "en_US.ISO-8859-1", true),
        ("LC_ALL", "en_US.UTF-8", false),
        ("LC_CTYPE", "POSIX", true),
        ("LC_ALL", "", false),
    ] {
        let mut command = program(folder.path());
        command.env(variable, value).args(["run", "mistakes.md"]);
        let run = called(&mut command, b"");
        assert_eq!(
            run.out.is_ascii() && run.err.is_ascii(),
            ascii,
            "{variable}={value}: {run:?}"
        );
        assert!(
            run.out
                .contains(if ascii { "60   +/- 1" } else { "60   ± 1" })
                || run.out.contains("+/-") == ascii,
            "{}",
            run.out
        );
    }
    let mut command = program(folder.path());
    let run = called(command.env_remove("LANG").args(["run", "mistakes.md"]), b"");
    assert!(run.out.contains('±'), "{}", run.out);
}

#[test]
fn a_pipe_gets_no_colours_whatever_the_terminal() {
    let folder = Folder::new();
    folder.write("mistakes.md", MISTAKES);
    let mut command = program(folder.path());
    let run = called(
        command
            .env("TERM", "xterm-256color")
            .args(["run", "mistakes.md"]),
        b"",
    );
    assert!(!run.out.contains('\u{1b}') && !run.err.contains('\u{1b}'));
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_disk_under_the_output_is_an_error() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    for words in [
        vec!["run", "shop.md"],
        vec!["--help"],
        vec!["library"],
        vec!["run", "--json", "shop.md"],
    ] {
        let full = std::fs::OpenOptions::new()
            .write(true)
            .open("/dev/full")
            .expect("opens");
        let output = program(folder.path())
            .args(&words)
            .stdin(Stdio::null())
            .stdout(full)
            .output()
            .expect("ends");
        assert_eq!(output.status.code(), Some(2), "{words:?}");
        assert_eq!(
            String::from_utf8_lossy(&output.stderr),
            "error: the output cannot be written: the disk is full\n"
        );
    }
}

#[test]
fn a_reader_who_has_had_enough_is_no_error() {
    let folder = Folder::new();
    let rows: String = (0..5000)
        .map(|row| format!("a{row} = {row} gal\n"))
        .collect();
    folder.write("long.md", format!("```gaugebook\n{rows}```\n"));
    let mut command = program(folder.path());
    command
        .args(["run", "long.md"])
        .stdin(Stdio::null())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped());
    let mut child = command.spawn().expect("starts");
    drop(child.stdout.take());
    let output = child.wait_with_output().expect("ends");
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(String::from_utf8_lossy(&output.stderr), "");
}
