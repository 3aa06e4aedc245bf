//! What an edit moved.

use super::{GUN, cells, open, typed};
use gaugebook::export::text::{self, Layout};
use gaugebook::report;

const STOP: &str = "stop = 92 psig ± 0.5 psi + needle_zero";

#[test]
fn was_stands_beside_now_and_what_flipped_below() {
    insta::assert_snapshot!(typed(&mut open(GUN), STOP, 80), @r"
    stop = 92 psig ± 0.5 psi + needle_zero
      5 changed ─ was ────────── now ────────── unit ───── by ──────────────────────
      stop        94.0  ± 2.3    92.0  ± 2.3    psig       −2 psi
      draw        16.09 ± 0.45   17.10 ± 0.45   cfm free   +1.006, +6.2 %
      duty        81.7  ± 4.0    86.8  ± 4.2    %          +5.11 pp
      rest        87.8  ± 4.6    82.7  ± 4.3    s          −5.17, −5.9 %
      refill       6.5  ± 1.7     9.1  ± 3.2    min        +2.53, +39 %
      flipped: rest >= 90 s was too close to call (18 %), now fails (< 0.1 %)
    ");
}

#[test]
fn on_a_narrow_page_the_difference_stands_below() {
    insta::assert_snapshot!(typed(&mut open(GUN), STOP, 60), @r"
    stop = 92 psig ± 0.5 psi + needle_zero
      5 changed ─ was ────────── now ────────── unit ───────────
      stop        94.0  ± 2.3    92.0  ± 2.3    psig
          by −2 psi
      draw        16.09 ± 0.45   17.10 ± 0.45   cfm free
          by +1.006, +6.2 %
      duty        81.7  ± 4.0    86.8  ± 4.2    %
          by +5.11 pp
      rest        87.8  ± 4.6    82.7  ± 4.3    s
          by −5.17, −5.9 %
      refill       6.5  ± 1.7     9.1  ± 3.2    min
          by +2.53, +39 %
      flipped: rest >= 90 s was too close to call (18 %), now
        fails (< 0.1 %)
    ");
    insta::assert_snapshot!(typed(&mut open(GUN), STOP, 44), @r"
    stop = 92 psig ± 0.5 psi + needle_zero
      5 changed ────────────────────────────────
      stop
          was 94.0  ± 2.3 psig
          now 92.0  ± 2.3 psig
          by  −2 psi
      draw
          was 16.09 ± 0.45 cfm free
          now 17.10 ± 0.45 cfm free
          by  +1.006, +6.2 %
      duty
          was 81.7  ± 4.0 %
          now 86.8  ± 4.2 %
          by  +5.11 pp
      rest
          was 87.8  ± 4.6 s
          now 82.7  ± 4.3 s
          by  −5.17, −5.9 %
      refill
          was  6.5  ± 1.7 min
          now  9.1  ± 3.2 min
          by  +2.53, +39 %
      flipped: rest >= 90 s was too close to
        call (18 %), now fails (< 0.1 %)
    ");
}

#[test]
fn a_new_cell_is_answered_by_a_sentence() {
    let mut notebook = cells("");
    assert_eq!(
        typed(&mut notebook, "tank = 60 gal ± 1 gal", 80),
        "tank = 60 gal ± 1 gal\n  tank is 60 ± 1 gal\n"
    );
    assert_eq!(
        typed(&mut notebook, "name = \"Ada\"", 80),
        "name = \"Ada\"\n  name is Ada\n"
    );
    assert_eq!(
        typed(&mut notebook, "half = tank / 2", 80),
        "half = tank / 2\n  half is 30.00 ± 0.50 gal\n"
    );
    assert_eq!(
        typed(&mut notebook, "check half > 20 gal", 80),
        "check half > 20 gal\n  check half > 20 gal: holds (> 99.9 %)\n"
    );
    assert_eq!(
        typed(&mut notebook, "unit drum, drums = 55 gal", 80),
        "unit drum, drums = 55 gal\n  unit drum, drums is known\n"
    );
}

#[test]
fn a_cell_set_to_what_it_was_says_what_it_is() {
    let mut notebook = cells("tank = 60 gal\nhalf = tank / 2");
    assert_eq!(
        typed(&mut notebook, "tank = 60 gal", 80),
        "tank = 60 gal\n  tank is 60 gal\n"
    );
}

#[test]
fn digits_are_added_until_was_and_now_differ() {
    let mut notebook = cells("x = 10 mm ± 1 mm\ny = x / 3");
    insta::assert_snapshot!(typed(&mut notebook, "x = 10.00002 mm ± 1 mm", 80), @r"
    x = 10.00002 mm ± 1 mm
      2 changed ─ was ───────────── now ───────────── unit ─ by ────────────────────
      x           10       ± 1      10.00002 ± 1      mm     +0.00002, +0.0002 %
      y            3.33333 ± 0.33    3.33334 ± 0.33   mm     +0.000007, +0.00020 %
    ");
}

#[test]
fn readings_differ_by_psi_and_kelvin_percentages_by_points() {
    let mut notebook = cells(
        "p = 90 psig\nt = 20 °C\ns = 40 %\nv = 3 gal\nz = 0 mm\nall = if p > 1 psig then 1 else 2",
    );
    let lines = [
        "p = 100 psig",
        "t = 18.5 °C",
        "s = 45.5 %",
        "v = 4 gal",
        "z = 5 mm",
    ];
    let answers: Vec<String> = lines
        .iter()
        .map(|line| typed(&mut notebook, line, 60))
        .collect();
    insta::assert_snapshot!(answers.concat(), @r"
    p = 100 psig
      1 changed ─ was ─ now ─ unit ─ by ────────────────────────
      p            90   100   psig   +10 psi
    t = 18.5 °C
      1 changed ─ was ── now ── unit ─ by ──────────────────────
      t           20     18.5   °C     −1.5 K
    s = 45.5 %
      1 changed ─ was ── now ── unit ─ by ──────────────────────
      s           40     45.5   %      +5.5 pp
    v = 4 gal
      1 changed ─ was ─ now ─ unit ─ by ────────────────────────
      v           3     4     gal    +1, +33 %
    z = 5 mm
      1 changed ─ was ─ now ─ unit ─ by ────────────────────────
      z           0     5     mm     +5
    ");
}

#[test]
fn rows_of_a_column_are_named_as_one_types_them() {
    let mut notebook = cells(
        "table guns\n    gun | draw [cfm free]\n    small | 9\n    large | 16\npump = 20 cfm free\nguns.duty [%] = guns.draw / pump",
    );
    insta::assert_snapshot!(typed(&mut notebook, "pump = 25 cfm free", 80), @r#"
    pump = 25 cfm free
      3 changed ────────── was ─ now ─ unit ───── by ───────────────────────────────
      pump                 20    25    cfm free   +5, +25 %
      guns["small"].duty   45    36    %          −9 pp
      guns["large"].duty   80    64    %          −16 pp
    "#);
}

#[test]
fn cells_that_lose_their_value_are_named() {
    let mut notebook = open(GUN);
    let edit = notebook.remove("draw").expect("it is there");
    let rippled = report::ripple(&notebook, &edit);
    let text = text::ripple(&rippled, Layout::plain(80));
    insta::assert_snapshot!(format!("remove draw\n{text}"), @r"
    remove draw
      flipped: draw <= pump_output held (> 99.9 %), now has no answer
      flipped: duty <= 75 % failed (< 0.1 %), now waits for duty
      flipped: rest >= 90 s was too close to call (18 %), now waits for rest
      no value now: duty, rest, refill
    ");
}

#[test]
fn an_input_was_as_it_was_typed() {
    let mut notebook = cells("tank = 74.0 gal ± 0.6 gal");
    insta::assert_snapshot!(typed(&mut notebook, "tank = 80.5 gal ± 0.50 gal", 60), @r"
    tank = 80.5 gal ± 0.50 gal
      1 changed  was ──────── now ──────── unit  by ────────────
      tank       74.0 ± 0.6   80.5 ± 0.50  gal   +6.5, +8.8 %
    ");
}

#[test]
fn a_step_back_undoes_the_ripple() {
    let mut notebook = open(GUN);
    let before = super::screen(&notebook, 80);
    typed(&mut notebook, STOP, 80);
    assert_ne!(super::screen(&notebook, 80), before);
    notebook.undo().expect("there is a step");
    assert_eq!(super::screen(&notebook, 80), before);
}
