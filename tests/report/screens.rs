//! Whole reports at several widths, with and without colour and other signs.

use super::{GUN, ascii, cells, open, read, screen};
use gaugebook::export::text::{self, Layout};
use gaugebook::report::{self, Options};

#[test]
fn a_report_of_eighty_columns() {
    let options = Options { sources: true };
    let report = report::report(&open(GUN), options);
    insta::assert_snapshot!(text::report(&report, Layout::plain(80)), @r"
    What the long-nose gun uses
    6 given, 6 worked out; checks: 1 holds, 1 fails, 1 too close to call

    The test
      given ────── value ± limit ── unit ──────────────── remark ───────────────────
      needle zero    0    ± 2       psi                   shared by both readings
      tank          74.0  ± 0.6     gal                   weighed full of water
      held          80.30 ± 0.72    s (95 %, dof = 11.6)  4 readings, thumb ± 0.4 s
      worked out ─ value ± at 95 %  unit ──────────────── remark ───────────────────
      start        126.0  ± 2.3     psig
      stop          94.0  ± 2.3     psig
      draw          16.09 ± 0.45    cfm free
      Taken as: atmosphere 14.696 psia, air_temperature 68 °F (handbook values: set
        them for your shop).
      Caution (bleed_down): a receiver is a pressure vessel: stay under its plate
        pressure, never block the relief valve, have it inspected as local law asks.

    What it asks of the pump
      given ────── value ± limit ── unit ──────────────── remark ───────────────────
      pump output   19.7 ± 0.8      cfm (95 %)            pumped up in March
      cut in        92   ± 1        psig
      cut out      127   ± 1        psig
      worked out ─ value ± at 95 %  unit ──────────────── remark ───────────────────
      duty          81.7 ± 4.0      %
      rest          87.8 ± 4.6      s                     pump off, gun blowing
      refill         6.5 ± 1.7      min                   pump on, gun blowing
      Taken as free air: 19.7 cfm of pump_output.
      Note (refill): this ± of refill is rough; `spread refill` gives an interval by
        trials.

    Checks ──────────── chance ── condition ────────────────────────────────────────
      holds             > 99.9 %  draw <= pump_output
      fails              < 0.1 %  duty <= 75 %
          81.7 ± 4.0 %: the pump runs more than three quarters of the time
      too close to call   18 %    rest >= 90 s
          87.8 ± 4.6 s; if it fails: the pump gets less than a minute and a half

    Sources ────────────────────────────────────────────────────────────────────────
      bleed_down: ideal gas law for a closed tank; molar form in 40 CFR 1065.644.
      duty: mass balance over one cycle.
      rest_time, run_time: ideal gas law at constant temperature.
      ±: JCGM 100:2008.
    ");
}

#[test]
fn below_seventy_two_columns_a_remark_has_a_line_of_its_own() {
    insta::assert_snapshot!(screen(&open(GUN), 60), @r"
    What the long-nose gun uses
    6 given, 6 worked out; checks: 1 holds, 1 fails,
      1 too close to call

    The test
      given ─────── value ± limit ─── unit ─────────────────────
      needle zero     0    ± 2        psi
          shared by both readings
      tank           74.0  ± 0.6      gal
          weighed full of water
      held           80.30 ± 0.72     s (95 %, dof = 11.6)
          4 readings, thumb ± 0.4 s
      worked out ── value ± at 95 % ─ unit ─────────────────────
      start         126.0  ± 2.3      psig
      stop           94.0  ± 2.3      psig
      draw           16.09 ± 0.45     cfm free
      Taken as: atmosphere 14.696 psia, air_temperature 68 °F
        (handbook values: set them for your shop).
      Caution (bleed_down): a receiver is a pressure vessel:
        stay under its plate pressure, never block the relief
        valve, have it inspected as local law asks.

    What it asks of the pump
      given ─────── value ± limit ─── unit ─────────────────────
      pump output    19.7 ± 0.8       cfm (95 %)
          pumped up in March
      cut in         92   ± 1         psig
      cut out       127   ± 1         psig
      worked out ── value ± at 95 % ─ unit ─────────────────────
      duty           81.7 ± 4.0       %
      rest           87.8 ± 4.6       s
          pump off, gun blowing
      refill          6.5 ± 1.7       min
          pump on, gun blowing
      Taken as free air: 19.7 cfm of pump_output.
      Note (refill): this ± of refill is rough; `spread refill`
        gives an interval by trials.

    Checks ──────────── chance ── condition ────────────────────
      holds             > 99.9 %  draw <= pump_output
      fails              < 0.1 %  duty <= 75 %
          81.7 ± 4.0 %: the pump runs more than three quarters
          of the time
      too close to call   18 %    rest >= 90 s
          87.8 ± 4.6 s; if it fails: the pump gets less than a
          minute and a half
    ");
}

#[test]
fn below_forty_six_columns_a_value_stands_under_its_name() {
    insta::assert_snapshot!(screen(&open(GUN), 44), @r"
    What the long-nose gun uses
    6 given, 6 worked out; checks: 1 holds,
      1 fails, 1 too close to call

    The test
      given, value ± limit ─────────────────────
      needle zero
            0    ± 2    psi
          shared by both readings
      tank
           74.0  ± 0.6  gal
          weighed full of water
      held
           80.30 ± 0.72 s (95 %, dof = 11.6)
          4 readings, thumb ± 0.4 s
      worked out, value ± at 95 % ──────────────
      start
          126.0  ± 2.3  psig
      stop
           94.0  ± 2.3  psig
      draw
           16.09 ± 0.45 cfm free
      Taken as: atmosphere 14.696 psia,
        air_temperature 68 °F (handbook values:
        set them for your shop).
      Caution (bleed_down): a receiver is a
        pressure vessel: stay under its plate
        pressure, never block the relief valve,
        have it inspected as local law asks.

    What it asks of the pump
      given, value ± limit ─────────────────────
      pump output
           19.7 ± 0.8 cfm (95 %)
          pumped up in March
      cut in
           92   ± 1   psig
      cut out
          127   ± 1   psig
      worked out, value ± at 95 % ──────────────
      duty
           81.7 ± 4.0 %
      rest
           87.8 ± 4.6 s
          pump off, gun blowing
      refill
            6.5 ± 1.7 min
          pump on, gun blowing
      Taken as free air: 19.7 cfm of
        pump_output.
      Note (refill): this ± of refill is rough;
        `spread refill` gives an interval by
        trials.

    Checks ─────────────────────────────────────
      holds             > 99.9 %
        draw <= pump_output
      fails              < 0.1 %
        duty <= 75 %
          81.7 ± 4.0 %: the pump runs more than
          three quarters of the time
      too close to call   18 %
        rest >= 90 s
          87.8 ± 4.6 s; if it fails: the pump
          gets less than a minute and a half
    ");
}

#[test]
fn widths_beyond_forty_and_a_hundred_are_not_used() {
    let notebook = open(GUN);
    assert_eq!(screen(&notebook, 10), screen(&notebook, 40));
    assert_eq!(screen(&notebook, 500), screen(&notebook, 100));
}

#[test]
fn no_line_is_wider_than_the_page() {
    let notebook = open(GUN);
    for width in 40..=100 {
        for line in screen(&notebook, width).lines() {
            let columns = unicode_width::UnicodeWidthStr::width(line);
            assert!(columns <= width, "{columns} columns of {width}: {line}");
        }
    }
}

#[test]
fn without_other_signs_the_same_stands_in_ascii() {
    let report = read(&open(GUN));
    let text = text::report(&report, ascii(80));
    assert!(text.is_ascii(), "{text}");
    insta::assert_snapshot!(text, @r"
    What the long-nose gun uses
    6 given, 6 worked out; checks: 1 holds, 1 fails, 1 too close to call

    The test
      given ----- value +/- limit - unit --------------- remark --------------------
      needle zero   0    +/- 2      psi                  shared by both readings
      tank         74.0  +/- 0.6    gal                  weighed full of water
      held         80.30 +/- 0.72   s (95 %, dof = 11.6) 4 readings, thumb +/- 0.4 s
      worked out  value +/- at 95 % unit --------------- remark --------------------
      start       126.0  +/- 2.3    psig
      stop         94.0  +/- 2.3    psig
      draw         16.09 +/- 0.45   cfm free
      Taken as: atmosphere 14.696 psia, air_temperature 68 degF (handbook values:
        set them for your shop).
      Caution (bleed_down): a receiver is a pressure vessel: stay under its plate
        pressure, never block the relief valve, have it inspected as local law asks.

    What it asks of the pump
      given ----- value +/- limit - unit --------------- remark --------------------
      pump output  19.7 +/- 0.8     cfm (95 %)           pumped up in March
      cut in       92   +/- 1       psig
      cut out     127   +/- 1       psig
      worked out  value +/- at 95 % unit --------------- remark --------------------
      duty         81.7 +/- 4.0     %
      rest         87.8 +/- 4.6     s                    pump off, gun blowing
      refill        6.5 +/- 1.7     min                  pump on, gun blowing
      Taken as free air: 19.7 cfm of pump_output.
      Note (refill): this +/- of refill is rough; `spread refill` gives an interval
        by trials.

    Checks ------------ chance -- condition ----------------------------------------
      holds             > 99.9 %  draw <= pump_output
      fails              < 0.1 %  duty <= 75 %
          81.7 +/- 4.0 %: the pump runs more than three quarters of the time
      too close to call   18 %    rest >= 90 s
          87.8 +/- 4.6 s; if it fails: the pump gets less than a minute and a half
    ");
}

#[test]
fn colour_moves_nothing_and_taking_it_away_loses_nothing() {
    let report = read(&open(GUN));
    for width in [44, 60, 80] {
        let plain = text::report(&report, Layout::plain(width));
        let layout = Layout {
            colour: true,
            ..Layout::plain(width)
        };
        let coloured = text::report(&report, layout);
        assert!(coloured.contains("\u{1b}[1m"), "heads are bold");
        assert!(coloured.contains("\u{1b}[31mfails"), "what fails is red");
        assert!(
            coloured.contains("\u{1b}[33mtoo close to call"),
            "what is open is yellow"
        );
        assert_eq!(without_escapes(&coloured), plain);
    }
}

fn without_escapes(text: &str) -> String {
    let mut plain = String::new();
    let mut rest = text;
    while let Some((before, behind)) = rest.split_once('\u{1b}') {
        plain.push_str(before);
        rest = behind.split_once('m').map_or("", |(_, behind)| behind);
    }
    plain + rest
}

#[test]
fn a_document_cannot_command_the_terminal() {
    let text = "# Ti\u{1b}[31mtle\u{2063}\n\n```gaugebook\nx = 1 mm  # \u{1b}]0;evil\u{7}\n```\n";
    let report = read(&open(text));
    let layout = Layout {
        colour: true,
        ..Layout::plain(80)
    };
    let shown = text::report(&report, layout);
    assert!(!without_escapes(&shown).contains('\u{7}'), "{shown:?}");
    assert!(!shown.contains("\u{1b}]"), "{shown:?}");
    assert!(!shown.contains('\u{2063}'), "{shown:?}");
}

#[test]
fn sections_without_a_plus_minus_have_no_column_for_it() {
    let notebook =
        cells("pump = 15.2 cfm free  # in spring\ngun = 12 cfm free\nload [%] = gun / pump");
    insta::assert_snapshot!(screen(&notebook, 80), @r"
    2 given, 1 worked out

      given ────── value ─ unit ───── remark ───────────────────────────────────────
      pump         15.2    cfm free   in spring
      gun          12      cfm free
      worked out ─ value ─ unit ───── remark ───────────────────────────────────────
      load         78.95   %
    ");
}

#[test]
fn inputs_are_shown_as_typed() {
    let notebook = cells(
        "a = 140 ± 1 psig\nb [bar] = 100 psi ± 1 psi\nc = 200 psi ± 1 %\nd = 100 psig ± 2 % of 200 psi\n\
         e = 1 1/2 in ± 1/16 in\nf = {2.40, 2.8, 3/16} in ± 0.1 in\ng = 12.50 kg ± 0.2 kg (k = 2, dof = 9)\n\
         h = 120 V ± 1 V (step)\ni = $ 350\nj = \"Ada\"\nk = on\nl = -10.50 °C",
    );
    insta::assert_snapshot!(screen(&notebook, 60), @r"
    12 given

      given ─ value ± limit ──────── unit ──────────────────────
      a         140     ±    1       psig
      b           6.895 ±    0.069   bar
      c         200     ±    2       psi
      d         100     ±    4       psig
      e       1 1/2     ± 1/16       in
      f       {2.40 ± 0.1, 2.8 ± 0.1, 3/16 ± 0.1} in
      g          12.50  ±    0.2     kg (k = 2, dof = 9)
      h         120     ±    1       V (step)
      i         350                  USD
      j       Ada
      k       true
      l         −10.50               °C
    ");
}

#[test]
fn all_limits_are_summed_where_that_is_less() {
    // 2 × 0.5 mm of limits is less than 1.96 × √2 × 0.5 mm / √3 would be for one of them alone.
    let notebook = cells("a = 3 mm ± 0.5 mm\ntwice = 2 * a\nboth = a + 4 mm ± 0.5 mm");
    insta::assert_snapshot!(screen(&notebook, 80), @r"
    1 given, 2 worked out

      given ────── value ± limit ─── unit ──────────────────────────────────────────
      a            3    ± 0.5        mm
      worked out ─ value ± at 95 % ─ unit ──────────────────────────────────────────
      twice        6.0  ± 1.0        mm (limits)
      both         7.00 ± 0.80       mm
    ");
}

#[test]
fn long_names_and_words_are_broken_but_never_cut() {
    let notebook = cells(
        "the_flow_through_the_long_nose_of_the_gun_in_the_corner = 12.25 cfm free ± 0.5 cfm (k = 2)  # as its maker has it in the little book\n\
         operator = \"Ada Birch and her brother, who came in on Saturday afternoons to hold the hose\"",
    );
    for width in [44, 60, 80] {
        let text = screen(&notebook, width);
        let squeezed: String = text.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(squeezed.contains("12.25 ± 0.5 cfm free (k = 2)"), "{text}");
        for word in
            "the flow through the long nose of the gun in the corner Saturday afternoons".split(' ')
        {
            assert!(text.contains(word), "{word} in {text}");
        }
    }
    insta::assert_snapshot!(screen(&notebook, 60), @r"
    2 given

      given ───────────────────── value ± limit unit ───────────
      the flow through the long   12.25 ± 0.5   cfm free (k = 2)
      nose of the gun in the
      corner
          as its maker has it in the little book
      operator                    Ada Birch and her brother, who
                                  came in on Saturday afternoons
                                  to hold the hose
    ");
}

#[test]
fn an_empty_document_says_why_it_is_empty() {
    insta::assert_snapshot!(screen(&open("# Notes\n\n```python\nx = 1\n```\n"), 80), @r"
    Notes
      Note (line 3): no cells here: no fence of this document says gaugebook;
        otherwise type ```gaugebook.
    ");
    assert_eq!(screen(&open(""), 80), "");
}
