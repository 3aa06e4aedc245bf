//! Input that is broken: each gets a clear error within bounded time, and nothing is lost.

use super::{call, call_with};
use crate::files::folder::Folder;
use std::time::{Duration, Instant};

/// Runs a document and gives the first line on the error stream; nothing may be slow or crash.
fn first_error(text: impl AsRef<[u8]>) -> (Option<i32>, String) {
    let folder = Folder::new();
    folder.write("bad.md", text);
    let begin = Instant::now();
    let run = call(&folder, &["run", "bad.md"]);
    assert!(
        begin.elapsed() < Duration::from_secs(60),
        "it took {:?}",
        begin.elapsed()
    );
    assert!(matches!(run.status, Some(0..=2)), "it crashed: {run:?}");
    let first = run.err.lines().next().unwrap_or_default().to_owned();
    (run.status, first)
}

fn cells(lines: &str) -> String {
    format!("```gaugebook\n{lines}\n```\n")
}

#[test]
fn text_that_is_not_utf_8() {
    let (status, first) = first_error(b"```gaugebook\ntank = 60 gal \xb1 1 gal\n```\n");
    assert_eq!(status, Some(2));
    assert_eq!(
        first,
        "error: bad.md: this file is not UTF-8 text: no character at line 2, column 15"
    );
    let (status, first) = first_error(b"\xff\xfet\0a\0n\0k\0");
    assert_eq!(status, Some(2));
    assert_eq!(
        first,
        "error: bad.md: this file is not UTF-8 text: it was saved as UTF-16 (encoding)"
    );
}

#[test]
fn a_file_of_a_hundred_megabytes() {
    let folder = Folder::new();
    let line = "tank = 60 gal  # again and again\n";
    folder.write("large.md", line.repeat(100_000_000 / line.len() + 1));
    let run = call(&folder, &["run", "large.md"]);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert!(
        run.err
            .starts_with("error: large.md is 100 MB long (file)\n  expected  at most 67 MB\n"),
        "{}",
        run.err
    );
}

#[test]
fn a_line_of_a_million_characters() {
    let (status, first) = first_error(cells(&format!("x = {}", "1 + ".repeat(250_000))));
    assert_eq!(
        (status, first.as_str()),
        (
            Some(1),
            "bad.md:2:1: error: this line is 1000004 characters long (too-long)"
        )
    );
    let folder = Folder::new();
    let shell = call_with(
        &folder,
        &[],
        format!("x = {}\ny = 2\n", "1 + ".repeat(250_000)),
    );
    assert_eq!((shell.status, shell.out.as_str()), (Some(1), "  y is 2\n"));
    assert!(
        shell
            .err
            .starts_with("standard input:1:1: error: this line is too long (too-long)\n"),
        "{}",
        shell.err
    );
}

#[test]
fn ten_thousand_nested_parentheses() {
    let nested = format!("x = {}1{}", "(".repeat(10_000), ")".repeat(10_000));
    let (status, first) = first_error(cells(&nested));
    assert_eq!(status, Some(1));
    assert!(
        first.contains("error: ") && first.ends_with("(too-deep)"),
        "{first}"
    );
    let folder = Folder::new();
    let shell = call_with(&folder, &[], format!("{nested}\ny = 2\n"));
    assert_eq!((shell.status, shell.out.as_str()), (Some(1), "  y is 2\n"));
    assert!(shell.err.contains("(too-deep)"), "{}", shell.err);
    let (_, first) = first_error(cells(&format!("x = {}", "(".repeat(10_000))));
    assert!(first.contains("error: "), "{first}");
}

#[test]
fn mistakes_of_every_day_each_have_their_code() {
    for (line, code) in [
        ("x = 3 gallonss", "unknown-unit"),
        ("x = 3 * tnak", "unknown-name"),
        ("x = bled_down(60 gal)", "unknown-name"),
        ("x = bleed_down(60 gal)", "argument"),
        (
            "x = bleed_down(60 gal, 126 psig, 94 psig, 80 s, 1 °F, 2 °F, 3 °F)",
            "argument",
        ),
        ("x = y + 1\ny = x + 1", "cycle"),
        ("x = x", "cycle"),
        ("x = 1 gal + 1 s", "dimension"),
        ("x = (1", "syntax"),
        ("x = 1\nx = 2", "duplicate"),
        ("if = 3", "reserved"),
        ("x = 1 / 0", "zero"),
    ] {
        let (status, first) = first_error(cells(line));
        assert_eq!(status, Some(1), "{line}");
        assert!(
            first.starts_with("bad.md:") && first.ends_with(&format!("({code})")),
            "{line}: {first}"
        );
    }
}

#[test]
fn a_fence_that_is_not_closed() {
    let (status, first) = first_error("# Shop\n\n```gaugebook\ntank = 60 gal\n");
    assert_eq!(
        (status, first.as_str()),
        (
            Some(1),
            "bad.md:3:1: error: this fence is not closed (fence)"
        )
    );
}

#[test]
fn documents_that_use_each_other_and_documents_that_are_not_there() {
    let folder = Folder::new();
    folder.write("a.md", cells("use \"./b.md\" as b\nx = 1"));
    folder.write("b.md", cells("use \"../b.md/../a.md\" as a"));
    std::fs::create_dir(folder.file("shops")).expect("a folder");
    folder.write("shops/c.md", cells("use \"../a.md\" as a\ny = a.x"));
    folder.write("d.md", cells("use \"nowhere.md\" as n\nuse \"shops\" as s"));
    folder.write("b.md", cells("use \"shops/../a.md\" as a"));
    let run = call(&folder, &["run", "a.md"]);
    assert_eq!(run.status, Some(1));
    assert!(
        run.err.contains("notebooks that use each other (cycle)"),
        "{}",
        run.err
    );
    let run = call(&folder, &["run", "d.md"]);
    assert_eq!(run.status, Some(1));
    assert!(
        run.err.contains("nowhere.md cannot be used")
            && run.err.contains("there is no file nowhere.md"),
        "{}",
        run.err
    );
    assert!(run.err.contains("shops is a folder"), "{}", run.err);
}

#[test]
fn files_that_cannot_be_read() {
    let folder = Folder::new();
    folder.write("compressor.md", "");
    let run = call(&folder, &["run", "."]);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert_eq!(
        run.err,
        "error: . is a folder (file)\n  expected  a notebook in it, with its name behind the folder's\n"
    );
    let run = call(&folder, &["run", "compresor.md"]);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert_eq!(
        run.err,
        "error: there is no file compresor.md (file)\n  repair    compressor.md\n"
    );
    let run = call(&folder, &["format", "compresor.md"]);
    assert_eq!(run.status, Some(2));
}

#[test]
fn nothing_at_all_is_no_error() {
    for text in ["", "\n", "\u{feff}", "only prose, no cells\n"] {
        let (status, first) = first_error(text);
        assert_eq!((status, first.as_str()), (Some(0), ""), "{text:?}");
    }
}

/// A disk of 64 kB, where the system lets this test make one.
#[cfg(target_os = "linux")]
struct SmallDisk(std::path::PathBuf);

#[cfg(target_os = "linux")]
impl SmallDisk {
    fn new(folder: &Folder) -> Option<SmallDisk> {
        let path = folder.file("disk");
        std::fs::create_dir(&path).expect("a folder");
        let mut mount = std::process::Command::new("mount");
        mount
            .args(["-t", "tmpfs", "-o", "size=64k", "none"])
            .arg(&path);
        mount.stderr(std::process::Stdio::null());
        let is_there = mount.status().is_ok_and(|status| status.success());
        is_there.then_some(SmallDisk(path))
    }
}

#[cfg(target_os = "linux")]
impl Drop for SmallDisk {
    fn drop(&mut self) {
        let _ = std::process::Command::new("umount").arg(&self.0).status();
    }
}

#[test]
#[cfg(target_os = "linux")]
fn a_disk_that_is_full_keeps_the_old_file() {
    let folder = Folder::new();
    let Some(disk) = SmallDisk::new(&folder) else {
        // Without the right to mount, the device that is always full stands in for one.
        let save = call_with(&folder, &[], "tank = 62 gal\nsave /dev/full\n");
        assert_eq!(save.status, Some(1));
        assert!(save.err.contains("the disk is full"), "{}", save.err);
        return;
    };
    let prose = "A line of prose that takes up room.\n".repeat(1000);
    let text = format!("{prose}\n```gaugebook\ntank = 60 gal\n```\n");
    std::fs::write(disk.0.join("shop.md"), &text).expect("written");
    let input = "open disk/shop.md\ntank = 62 gal\nsave\nsave shop.md\n";
    let save = call_with(&folder, &[], input);
    assert_eq!(save.status, Some(1));
    assert!(
        save.err.starts_with(
            "standard input:3:1: error: disk/shop.md cannot be saved: the disk is full (file)\n"
        ),
        "{}",
        save.err
    );
    let kept = std::fs::read_to_string(disk.0.join("shop.md")).expect("there");
    assert_eq!(kept, text);
    assert_eq!(folder.read("shop.md"), text.replace("60 gal", "62 gal"));
    let left = std::fs::read_dir(&disk.0).expect("there").count();
    assert_eq!(left, 1);
}
