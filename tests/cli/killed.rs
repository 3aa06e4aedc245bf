//! A process that is killed at any moment leaves the whole old file or the whole new one.

use super::program;
use crate::files::folder::Folder;
use std::io::Write;
use std::process::Stdio;
use std::time::Duration;

/// How often a process is killed.
const KILLS: u64 = 25;

#[test]
fn a_save_survives_a_kill_at_any_moment() {
    let folder = Folder::new();
    // Large enough that writing takes a while.
    let prose = "A line of prose that has nothing to do with it.\n".repeat(20_000);
    let document = |tank: u64| format!("{prose}\n```gaugebook\ntank = {tank} gal\n```\n{prose}");
    folder.write("shop.md", document(0));
    let mut lines = "open shop.md\n".to_owned();
    for tank in 1..=200_u64 {
        lines.push_str(&format!("tank = {tank} gal\nsave\n"));
    }
    let mut seen = std::collections::BTreeSet::new();
    for kill in 0..KILLS {
        let mut command = program(folder.path());
        command
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .stderr(Stdio::null());
        let mut child = command.spawn().expect("starts");
        let mut stdin = child.stdin.take().expect("a pipe");
        let input = lines.clone();
        let feed = std::thread::spawn(move || {
            let _ = stdin.write_all(input.as_bytes());
        });
        std::thread::sleep(Duration::from_millis(20 + kill * 17));
        child.kill().expect("killed");
        child.wait().expect("gone");
        feed.join().expect("fed");
        let text = folder.read("shop.md");
        let tank = text.lines().find_map(|line| {
            line.strip_prefix("tank = ")?
                .strip_suffix(" gal")?
                .parse()
                .ok()
        });
        let tank: u64 = tank.expect("the cell is in the file");
        assert!(text == document(tank), "the file is torn after kill {kill}");
        seen.insert(tank);
    }
    assert!(seen.len() > 2, "the kills came before any save: {seen:?}");
}
