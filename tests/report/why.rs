//! Worked lines and single cells in full.

use super::{GUN, ascii, cells, open, show, why};
use gaugebook::export::text::Layout;

/// A formula like the one of the handbook, in its plainest form.
const PLAIN: &str = "\
tank = 74.0 gal ± 0.6 gal  # weighed full of water
start = 126 psig
stop = 94 psig
held = 80.3 s
formula fall(tank [gal], start [psig], stop [psig], held [s]) [cfm free]
    source  \"ideal gas at constant temperature\"
    limit   stop < start  \"the tank must lose pressure\"
    caution \"stay under its plate pressure\"
    tank * (start - stop) / (atmosphere * held)
draw = fall(tank, start, stop, held)
";

#[test]
fn names_and_numbers_stand_side_by_side() {
    insta::assert_snapshot!(why(&cells(PLAIN), "draw", Layout::plain(80)), @r"
    why draw
      fall        tank × (start − stop)      74.0 gal × (126 psig − 94 psig)
                  ─────────────────────      ───────────────────────────────
                    atmosphere × held             14.696 psia × 80.3 s
      result      16.09 ± 0.13 cfm free
      limit       stop < start: kept
      source      ideal gas at constant temperature
      caution     stay under its plate pressure
    ");
}

#[test]
fn on_one_line_where_that_is_asked_for() {
    let plain = Layout {
        plain: true,
        ..Layout::plain(80)
    };
    insta::assert_snapshot!(why(&cells(PLAIN), "draw", plain), @r"
    why draw
      fall        tank × (start − stop) / (atmosphere × held)
                  = 74.0 gal × (126 psig − 94 psig) / (14.696 psia × 80.3 s)
      result      16.09 ± 0.13 cfm free
      limit       stop < start: kept
      source      ideal gas at constant temperature
      caution     stay under its plate pressure
    ");
    let text = why(&cells(PLAIN), "draw", ascii(60));
    assert!(text.is_ascii(), "{text}");
    insta::assert_snapshot!(text, @r"
    why draw
      fall        tank * (start - stop)
                  ---------------------
                    atmosphere * held
                    74.0 gal * (126 psig - 94 psig)
                  = -------------------------------
                         14.696 psia * 80.3 s
      result      16.09 +/- 0.13 cfm free
      limit       stop < start: kept
      source      ideal gas at constant temperature
      caution     stay under its plate pressure
    ");
}

#[test]
fn on_a_narrow_page_numbers_stand_below_names() {
    insta::assert_snapshot!(why(&cells(PLAIN), "draw", Layout::plain(44)), @r"
    why draw
      fall        tank × (start − stop)
                  ─────────────────────
                    atmosphere × held
                  = 74.0 gal × (126 psig −
                    94 psig) / (14.696 psia ×
                    80.3 s)
      result      16.09 ± 0.13 cfm free
      limit       stop < start: kept
      source      ideal gas at constant
                  temperature
      caution     stay under its plate pressure
    ");
}

#[test]
fn locals_have_lines_of_their_own() {
    insta::assert_snapshot!(why(&open(GUN), "draw", Layout::plain(80)), @r"
    why draw
      bleed_down  tank × (at_start − at_stop) × absolute(air_temperature)
                  ───────────────────────────────────────────────────────
                                     atmosphere × held
                    74.0 gal × (0.4799 psi/K − 0.3708 psi/K) × absolute(68 °F)
                  = ──────────────────────────────────────────────────────────
                                      14.696 psia × 80.30 s
      at_start    absolute(start) / absolute(start_temperature)
                  = absolute(126.0 psig) / absolute(68 °F) = 0.4799 psi/K
      at_stop           absolute(stop)            absolute(94.0 psig)
                  ──────────────────────────      ─────────────────── = 0.3708 psi/K
                  absolute(stop_temperature)        absolute(68 °F)
      result      16.09 ± 0.45 cfm free (95 %)
      limit       stop < start: kept
      limit       held > 0 s: kept
      source      ideal gas law for a closed tank; molar form in 40 CFR 1065.644
      caution     a receiver is a pressure vessel: stay under its plate pressure,
                  never block the relief valve, have it inspected as local law asks
    ");
}

#[test]
fn a_line_without_a_formula_is_worked_too() {
    let notebook = cells(
        "a = 3 mm ± 0.1 mm\nb = -2 mm\nc = 20 °C\nsum = a - b + 1/2 in\nratio [%] = (a + 1 mm) / (b * 2)\ncube = a^3\nroot = sqrt(a * 5 mm)\npick = if c > 10 °C then a else b",
    );
    let all: Vec<String> = ["sum", "ratio", "cube", "root", "pick", "a", "c"]
        .iter()
        .map(|name| why(&notebook, name, Layout::plain(80)))
        .collect();
    insta::assert_snapshot!(all.concat(), @r"
    why sum
      sum         a − b + 1/2 in      3 mm − (−2 mm) + 1/2 in
      result      17.70 ± 0.10 mm
    why ratio
      ratio       a + 1 mm      3 mm + 1 mm
                  ────────      ───────────
                   b × 2         −2 mm × 2
      result      −100.0 ± 2.5 %
    why cube
      cube        a³      (3 mm)³
      result      27.0 ± 2.7 mm³
    why root
      root        sqrt(a × 5 mm)      sqrt(3 mm × 5 mm)
      result      3.873 ± 0.065 mm
    why pick
      pick        if c > 10 °C then a else b
                  = if 20 °C > 10 °C then 3 mm else −2 mm
      result      3.00 ± 0.10 mm
    why a
      a           3 mm ± 0.1 mm
      result      3 ± 0.1 mm
    shop.md:2:5: note: 3 mm has fewer digits than its ± implies (seems-precise)
      found     its last digit alone leaves ± 0.5
      expected  all the digits that were read, zeros too, or a wider ±
    why c
      c           20 °C
      result      20 °C
    ");
}

#[test]
fn a_formula_within_a_line_gives_its_value() {
    let notebook = cells("wet = 0.9 * duty(9 cfm free, 15 cfm free) [%]");
    insta::assert_snapshot!(why(&notebook, "wet", Layout::plain(80)), @r"
    why wet
      wet         0.9 × duty(9 cfm free, 15 cfm free) [%]      0.9 × 60 %
      result      54 %

      duty        draw      9 cfm free
                  ────      ───────────
                  pump      15 cfm free
      limit       draw < pump: kept
      source      mass balance over one cycle
    ");
}

#[test]
fn a_limit_that_is_not_kept_says_what_is_wrong() {
    let notebook = cells(&PLAIN.replace("stop = 94 psig", "stop = 130 psig"));
    insta::assert_snapshot!(why(&notebook, "draw", Layout::plain(80)), @r"
    why draw
      fall        tank × (start − stop)      74.0 gal × (126 psig − 130 psig)
                  ─────────────────────      ────────────────────────────────
                    atmosphere × held              14.696 psia × 80.3 s
      result      −2.012 ± 0.016 cfm free
      limit       stop < start: not kept: the tank must lose pressure
      source      ideal gas at constant temperature
      caution     stay under its plate pressure
    shop.md:11:8: warning: the tank must lose pressure (limit)
    11 | draw = fall(tank, start, stop, held)
       |        ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ outside the range of fall
       expected  values inside that range; the result is shown all the same
    ");
}

#[test]
fn a_column_shows_the_numbers_of_its_first_row() {
    let notebook = cells(
        "table guns\n    gun | draw [cfm free]\n    small | 9\n    large | 16\npump = 20 cfm free\nguns.duty [%] = guns.draw / pump",
    );
    insta::assert_snapshot!(why(&notebook, "guns.duty", Layout::plain(80)), @r"
    why guns.duty
      guns.duty   guns.draw      9 cfm free
                  ─────────      ───────────
                    pump         20 cfm free
      result      {45, 80} %
      row         the numbers put in are those of “small”
    ");
}

#[test]
fn a_cell_without_a_value_says_why() {
    let notebook = cells("bad = 1 mm + 1 s\nnext = bad * 2\nlast = next * 2");
    let all: Vec<String> = ["bad", "last"]
        .iter()
        .map(|name| why(&notebook, name, Layout::plain(80)))
        .collect();
    insta::assert_snapshot!(all.concat(), @r"
    why bad
      bad         1 mm + 1 s
      result      failed
    shop.md:2:7: error: a time added to a length (dimension)
    2 | bad = 1 mm + 1 s
      |       ^^^^^^^^^^ 1 mm and 1 s
      expected  two values of one kind
    why last
      last        next × 2
      result      waits for bad
    shop.md:4:8: error: last waits for bad (waits)
    4 | last = next * 2
      |        ^^^^ waits for bad too: mend line 2; the rest is right
    ");
}

#[test]
fn locals_that_grow_without_bound_are_left_without_numbers() {
    let mut lines = "formula deep(x)\n    a0 = x + x\n".to_owned();
    for number in 1..40 {
        lines.push_str(&format!("    a{number} = a{0} + a{0}\n", number - 1));
    }
    lines.push_str("    a39\ny = deep(1 mm)\n");
    let notebook = cells(&lines);
    let text = why(&notebook, "y", Layout::plain(80));
    assert!(text.contains("a38 + a38"), "{text}");
}

#[test]
fn one_cell_in_full() {
    let all: Vec<String> = ["draw", "tank", "duty", "held"]
        .iter()
        .map(|name| show(&open(GUN), name))
        .collect();
    insta::assert_snapshot!(all.concat(), @r"
    show draw
      value     16.09483399328366927415405801 cfm free
      ±         0.4481 at 95 %; standard 0.2285, k = 1.961, 1674 degrees of freedom
      rests on  tank, start, stop, held, air_temperature, atmosphere; used by duty,
                rest, refill, check draw <= pump_output
      typed     line 13: draw = bleed_down(tank, start, stop, held)
    show tank
      value     74 gal
      ±         0.6 as a limit; standard 0.3464
      used by   draw, rest, refill
      typed     line 9: tank = 74.0 gal ± 0.6 gal # weighed full of water
    show duty
      value     81.69966494052623997032516756 %
      ±         4.022 at 95 %; standard 2.052, k = 1.960, 16406 degrees of freedom
      rests on  draw, pump_output; used by check duty <= 75 %
      typed     line 22: duty [%] = duty(draw, pump_output)
    show held
      value     80.3 s
      ±         0.7196 at 95 %; standard 0.3291, k = 2.186, 11.64 degrees of freedom
      used by   draw
      typed     line 12: held = readings({80.1, 80.9, 80.4, 79.8} s) ± 0.4 s # 4
                readings, thumb ± 0.4 s
    ");
}
