//! The block of checks.

use super::{cells, screen};
use gaugebook::export::text::{self, Layout};
use gaugebook::report::Outcome;

#[test]
fn chances_are_whole_percents_but_at_the_ends() {
    let notebook = cells(
        "x = 10 mm ± 1 mm (k = 1)\ncheck x <= 10 mm\ncheck x <= 11 mm\ncheck x <= 12.5 mm\ncheck x <= 14 mm\n\
         check x <= 7.5 mm\ncheck x <= 6 mm\ncheck 9 mm <= x <= 12 mm\ncheck 3 < 2",
    );
    insta::assert_snapshot!(screen(&notebook, 60), @r"
    1 given; checks: 2 hold, 3 fail, 3 too close to call

      given ─ value ± limit ─ unit ─────────────────────────────
      x       10 ± 1          mm (k = 1)

    Checks ──────────── chance ──── condition ──────────────────
      too close to call   50 %      x <= 10 mm
          10 ± 1 mm (k = 1)
      too close to call   84 %      x <= 11 mm
          10 ± 1 mm (k = 1)
      holds               99.4 %    x <= 12.5 mm
      holds             > 99.9 %    x <= 14 mm
      fails                0.6 %    x <= 7.5 mm
          10 ± 1 mm (k = 1)
      fails              < 0.1 %    x <= 6 mm
          10 ± 1 mm (k = 1)
      too close to call 82 to 84 %  9 mm <= x <= 12 mm
          10 ± 1 mm (k = 1)
      fails                         3 < 2
    ");
}

#[test]
fn two_values_stand_against_each_other() {
    let notebook = cells(
        "gun = 17.2 cfm free\npump = 15.2 cfm free\ncheck gun <= pump \"the pump cannot feed it\"",
    );
    insta::assert_snapshot!(screen(&notebook, 80), @r"
    2 given; checks: 1 fails

      given ─ value ─ unit ─────────────────────────────────────────────────────────
      gun     17.2    cfm free
      pump    15.2    cfm free

    Checks ── condition ────────────────────────────────────────────────────────────
      fails   gun <= pump
          17.2 cfm free against 15.2 cfm free: the pump cannot feed it
    ");
}

#[test]
fn a_check_of_a_column_names_the_rows_that_do_not_hold() {
    let notebook = cells(
        "table guns\n    gun | draw [cfm free]\n    short | 9\n    long | 16\n    twin | 14.5 ± 1\n\
         pump = 15 cfm free\ncheck guns.draw <= pump \"the pump cannot feed it\"\ncheck {1, 2} mm < 1.5 mm",
    );
    insta::assert_snapshot!(screen(&notebook, 80), @r"
    1 given, 1 table; checks: 2 fail

      given ─ value ─ unit ─────────────────────────────────────────────────────────
      pump    15      cfm free
      Table guns
      gun ─── draw cfm free ± limit ────────────────────────────────────────────────
      short    9
      long    16
      twin    14.5 ± 1

    Checks ── condition ────────────────────────────────────────────────────────────
      fails   guns.draw <= pump
          the pump cannot feed it
          long: 16 cfm free against 15 cfm free, fails
          twin: 14.5 ± 1 cfm free against 15 cfm free, too close to call (81 %)
      fails   {1, 2} mm < 1.5 mm
          row 2: fails
    ");
    let report = super::read(&notebook);
    assert_eq!(report.checks[0].outcome, Outcome::Fails);
    assert_eq!(report.checks[0].rows.len(), 3);
}

#[test]
fn a_check_without_an_answer_says_for_whom_it_waits() {
    let notebook = cells(
        "bad = 1 mm + 1 s\nnext = bad * 2\ncheck next > 1 mm\ncheck bad > 1 mm and nothing < 2",
    );
    insta::assert_snapshot!(screen(&notebook, 60), @r"
    1 failed, 1 waiting; checks: 2 without an answer

      given ────── value ───────────────────────────────────────
      bad          failed
      worked out ─ value ───────────────────────────────────────
      next         waits for bad

    Checks ───────── condition ─────────────────────────────────
      waits for bad  next > 1 mm
      waits for bad  bad > 1 mm and nothing < 2
    ");
}

#[test]
fn a_line_of_the_verb_check_begins_with_its_place() {
    let notebook =
        cells("gun = 17.2 cfm free\ncheck gun <= 15 cfm free \"too much\"\ncheck gun > 1 cfm free");
    let report = super::read(&notebook);
    let lines: Vec<String> = report
        .checks
        .iter()
        .map(|check| text::check_line(&report.path, check, Layout::plain(80)))
        .collect();
    assert_eq!(
        lines[0],
        "shop.md:3: fails: gun <= 15 cfm free\n      17.2 cfm free: too much\n"
    );
    assert_eq!(lines[1], "");
}

#[test]
fn what_the_exit_status_tells() {
    assert!(super::read(&cells("x = 1 mm")).is_fine());
    assert!(
        super::read(&cells("x = 1 mm ± 1 mm\ncheck x > 1 mm")).is_fine(),
        "too close to call is no failure"
    );
    assert!(!super::read(&cells("x = 1 mm\ncheck x > 2 mm")).is_fine());
    assert!(!super::read(&cells("x = 1 mm + 1 s")).is_fine());
}
