//! The shell at a pseudo-terminal: typed, completed, resized, interrupted, ended. What stands on
//! the screen is read through a terminal that is only a program.

use super::{SHOP, program};
use crate::files::folder::Folder;
use expectrl::process::unix::WaitStatus;
use expectrl::session::OsSession;
use std::io::Write;
use std::num::NonZeroU16;
use std::process::Command;
use std::time::{Duration, Instant};

/// A terminal with the shell in it.
struct Terminal {
    session: OsSession,
    parser: vt100::Parser,
}

const ROWS: u16 = 40;
const PATIENCE: Duration = Duration::from_secs(20);

fn size(number: u16) -> NonZeroU16 {
    NonZeroU16::new(number).expect("a size")
}

fn shell(folder: &Folder) -> Command {
    let mut command = program(folder.path());
    command
        .env("TERM", "xterm-256color")
        .env("XDG_DATA_HOME", folder.file("data"));
    command
}

impl Terminal {
    fn start(mut command: Command, columns: u16) -> Terminal {
        // The size has to be known before the program asks.
        command.env("COLUMNS", columns.to_string());
        let mut session = OsSession::spawn(command).expect("the shell starts");
        session
            .get_process_mut()
            .set_window_size(columns, ROWS)
            .expect("a size");
        Terminal {
            session,
            parser: vt100::Parser::new(size(ROWS), size(columns), 0),
        }
    }

    /// Reads what the program wrote, until the screen is as wanted.
    fn wait(&mut self, wanted: impl Fn(&str) -> bool) -> String {
        let begin = Instant::now();
        loop {
            let mut bytes = [0; 4096];
            if let Ok(read) = self.session.try_read(&mut bytes) {
                self.parser.process(&bytes[..read]);
            }
            let screen = self.parser.screen().contents();
            if wanted(&screen) {
                return screen;
            }
            assert!(begin.elapsed() < PATIENCE, "the screen stays:\n{screen}");
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// Waits until the last line is a prompt with nothing behind it.
    fn wait_prompt(&mut self, prompt: &str) -> String {
        self.wait(|screen| {
            screen
                .lines()
                .last()
                .is_some_and(|line| line.trim_end() == prompt.trim_end())
        })
    }

    fn type_keys(&mut self, keys: &str) {
        self.session.write_all(keys.as_bytes()).expect("typed");
        self.session.flush().expect("typed");
    }

    fn enter(&mut self, line: &str) {
        self.type_keys(line);
        self.type_keys("\r");
    }

    fn resize(&mut self, columns: u16) {
        self.session
            .get_process_mut()
            .set_window_size(columns, ROWS)
            .expect("a size");
        self.parser.set_size(size(ROWS), size(columns));
    }

    fn status(&mut self) -> Option<i32> {
        let begin = Instant::now();
        while begin.elapsed() < PATIENCE {
            let mut bytes = [0; 4096];
            let _ = self.session.try_read(&mut bytes);
            match self.session.get_process().status() {
                Ok(WaitStatus::Exited(_, status)) => return Some(status),
                Ok(WaitStatus::StillAlive) => std::thread::sleep(Duration::from_millis(5)),
                _ => return None,
            }
        }
        None
    }
}

#[test]
fn a_line_is_typed_answered_and_quit_leaves_with_status_zero() {
    let folder = Folder::new();
    let mut terminal = Terminal::start(shell(&folder), 80);
    let screen = terminal.wait_prompt("new notebook:");
    assert!(
        screen.contains(
            "gaugebook 0.1: calculations with units and ± for compressed air and blasting"
        ),
        "{screen}"
    );
    terminal.enter("tank = 60 gal ± 1 gal");
    let screen = terminal.wait(|screen| screen.contains("tank is 60 ± 1 gal"));
    assert!(
        screen.contains("new notebook: tank = 60 gal ± 1 gal"),
        "{screen}"
    );
    terminal.wait_prompt("new notebook:");
    terminal.enter("quit");
    terminal.wait(|screen| screen.contains("1 line is in no file"));
    terminal.wait_prompt("new notebook:");
    terminal.enter("quit");
    assert_eq!(terminal.status(), Some(0));
}

#[test]
fn tab_completes_and_up_brings_the_mended_line() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    let mut terminal = Terminal::start(shell(&folder), 80);
    terminal.wait_prompt("new notebook:");
    terminal.type_keys("sav\t");
    terminal.wait(|screen| screen.trim_end().ends_with("save"));
    terminal.type_keys("\u{15}open sh\t");
    terminal.wait(|screen| screen.contains("open shop.md"));
    terminal.type_keys("\r");
    terminal.wait_prompt("shop:");
    terminal.type_keys("twice = 2 * fi\t");
    terminal.wait(|screen| screen.contains("twice = 2 * fill"));
    terminal.type_keys("\r");
    terminal.wait_prompt("shop, not saved:");
    terminal.enter("more = 2 * tnak");
    let screen = terminal.wait(|screen| screen.contains("press Up"));
    assert!(screen.contains("^^^^"), "{screen}");
    terminal.wait_prompt("shop, not saved:");
    terminal.type_keys("\u{1b}[A");
    terminal.wait(|screen| screen.contains("more = 2 * tank"));
    terminal.type_keys("\r");
    terminal.wait(|screen| screen.contains("more is 120"));
}

#[test]
fn a_formula_shows_its_signature_while_it_is_typed() {
    let folder = Folder::new();
    let mut terminal = Terminal::start(shell(&folder), 100);
    terminal.wait_prompt("new notebook:");
    terminal.type_keys("bleed_down(60 gal, ");
    let screen = terminal.wait(|screen| screen.contains("start"));
    assert!(screen.contains("# "), "{screen}");
    terminal.type_keys("\u{3}");
    terminal.wait_prompt("new notebook:");
}

#[test]
fn answers_follow_the_width_of_the_terminal() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    let mut terminal = Terminal::start(shell(&folder), 80);
    terminal.wait_prompt("new notebook:");
    terminal.enter("open shop.md");
    terminal.wait_prompt("shop:");
    terminal.resize(50);
    terminal.enter("show");
    let screen = terminal.wait(|screen| screen.contains("too fast"));
    assert!(
        screen
            .lines()
            .any(|line| line.contains('─') && line.chars().count() == 50),
        "{screen}"
    );
    // Below 60 columns the prompt is a colon.
    terminal.wait_prompt(":");
}

#[test]
fn interrupting_drops_the_line_and_the_end_of_input_asks_before_it_leaves() {
    let folder = Folder::new();
    let mut terminal = Terminal::start(shell(&folder), 80);
    terminal.wait_prompt("new notebook:");
    terminal.type_keys("tank = 60");
    terminal.wait(|screen| screen.ends_with("tank = 60"));
    terminal.type_keys("\u{3}");
    terminal.wait_prompt("new notebook:");
    terminal.enter("tank = 61 gal");
    terminal.wait(|screen| screen.contains("tank is 61 gal"));
    terminal.wait_prompt("new notebook:");
    terminal.type_keys("\u{4}");
    terminal.wait(|screen| screen.contains("1 line is in no file"));
    terminal.wait_prompt("new notebook:");
    terminal.type_keys("\u{4}");
    assert_eq!(terminal.status(), Some(0));
}

#[test]
fn several_lines_can_be_typed_and_pasted() {
    let folder = Folder::new();
    let mut terminal = Terminal::start(shell(&folder), 80);
    terminal.wait_prompt("new notebook:");
    terminal.enter("sum = (1 +");
    terminal.enter("2)");
    terminal.wait(|screen| screen.contains("sum is 3"));
    terminal.wait_prompt("new notebook:");
    // Bracketed paste.
    terminal.type_keys("\u{1b}[200~tank = 60 gal\nhalf = tank / 2\u{1b}[201~");
    terminal.wait(|screen| screen.ends_with("half = tank / 2"));
    terminal.type_keys("\r");
    terminal.wait(|screen| screen.contains("tank is 60 gal") && screen.contains("half is 30"));
}

#[test]
fn history_and_unsaved_lines_outlive_a_kill() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    let mut terminal = Terminal::start(shell(&folder), 80);
    terminal.wait_prompt("new notebook:");
    terminal.enter("open shop.md");
    terminal.wait_prompt("shop:");
    terminal.enter("tank = 62 gal");
    terminal.wait_prompt("shop, not saved:");
    terminal.type_keys("held = 5");
    terminal.wait(|screen| screen.ends_with("held = 5"));
    let id = terminal.session.get_process().pid().as_raw().to_string();
    let killed = Command::new("kill")
        .args(["-9", &id])
        .status()
        .expect("kill runs");
    assert!(killed.success());
    terminal.status();
    let mut terminal = Terminal::start(shell(&folder), 80);
    terminal.wait_prompt("new notebook:");
    terminal.type_keys("\u{1b}[A");
    terminal.wait(|screen| screen.ends_with("tank = 62 gal"));
    terminal.type_keys("\u{1b}[A\r");
    let screen = terminal.wait(|screen| screen.contains("last time"));
    assert!(
        screen.contains("not saved last time: `tank  = 62 gal"),
        "{screen}"
    );
    terminal.wait_prompt("shop:");
    terminal.enter("redo");
    terminal.wait(|screen| screen.contains("brought back: tank is 62 gal"));
}

#[test]
fn colours_are_the_terminals_own_and_no_color_takes_them_away() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    for (variable, value, coloured) in [
        ("TERM", "xterm", true),
        ("NO_COLOR", "1", false),
        ("TERM", "dumb", false),
    ] {
        let mut command = shell(&folder);
        command.env(variable, value).args(["run", "shop.md"]);
        let mut terminal = Terminal::start(command, 80);
        let screen = terminal.wait(|screen| screen.contains("too fast"));
        let formatted = terminal.parser.screen().contents_formatted();
        assert_eq!(
            formatted.contains("\u{1b}[31m") || formatted.contains("\u{1b}[0;31m"),
            coloured,
            "{variable}={value}\n{screen}"
        );
        assert_eq!(terminal.status(), Some(1));
    }
}

#[test]
fn a_terminal_that_can_only_print_is_enough() {
    let folder = Folder::new();
    let mut command = shell(&folder);
    command.env("TERM", "dumb");
    let mut terminal = Terminal::start(command, 80);
    terminal.wait(|screen| screen.contains("new notebook:"));
    terminal.enter("tank = 60 gal");
    terminal.wait(|screen| screen.contains("tank is 60 gal"));
    terminal.enter("quit");
    terminal.enter("quit");
    assert_eq!(terminal.status(), Some(0));
}

#[test]
fn long_work_says_how_far_it_is_and_stops_with_everything_kept() {
    let folder = Folder::new();
    let mut terminal = Terminal::start(shell(&folder), 80);
    terminal.wait_prompt("new notebook:");
    terminal.enter("bore = 3 mm");
    terminal.wait(|screen| screen.contains("bore is 3 mm"));
    terminal.enter("draw = 2 * bore");
    terminal.wait(|screen| screen.contains("draw is 6 mm"));
    // Far more points than any machine works out while somebody waits.
    terminal.enter("sweep often: bore from 2 mm to 4 mm by 4e-10 mm show draw");
    terminal.wait(|screen| screen.contains("5000000001 rows are too many"));
    terminal.enter("max(often.draw)");
    terminal.wait(|screen| screen.contains("working the points out: "));
    terminal.type_keys("\u{3}");
    terminal.wait(|screen| screen.contains("stopped before it was done (stopped)"));
    terminal.wait_prompt("new notebook:");
    terminal.enter("draw");
    terminal.wait(|screen| screen.trim_end().ends_with("6 mm\nnew notebook:"));
}
