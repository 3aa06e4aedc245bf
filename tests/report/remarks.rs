//! What stands below a table: said once, and again only where it is new.

use super::{cells, open, screen};
use gaugebook::report::Remark;

const TWO_SECTIONS: &str = "\
# Two tests

Invented.

## First

```gaugebook
draw = bleed_down(80 gal, 125 psig, 95 psig, 75 s)
```

## Second

```gaugebook
again = bleed_down(80 gal, 120 psig, 95 psig, 60 s)
plate = 18 scfm
of_plate [%] = standard_air(again) / plate
```

## Third

```gaugebook
gun = 12 cfm
left = draw - gun
check leak_rate(80 gal, 110 psig, 100 psig, 9 min) <= 1.5 cfm free
```
";

#[test]
fn defaults_and_cautions_are_said_where_they_are_first_needed() {
    insta::assert_snapshot!(screen(&open(TWO_SECTIONS), 80), @r"
    Two tests
    2 given, 4 worked out; checks: 1 holds

    First
      worked out ─ value ── unit ───────────────────────────────────────────────────
      draw         17.47    cfm free
      Taken as: atmosphere 14.696 psia, air_temperature 68 °F (handbook values: set
        them for your shop).
      Caution (bleed_down): a receiver is a pressure vessel: stay under its plate
        pressure, never block the relief valve, have it inspected as local law asks.

    Second
      given ────── value ── unit ───────────────────────────────────────────────────
      plate         18      scfm
      worked out ─ value ── unit ───────────────────────────────────────────────────
      again         18.19   cfm free
      of plate     102.4    %
      Taken as: standard_pressure 1 bara, standard_temperature 20 °C (the states as
        the handbook has them).
      Caution (bleed_down): as above.

    Third
      given ────── value ── unit ───────────────────────────────────────────────────
      gun          12       cfm
      worked out ─ value ── unit ───────────────────────────────────────────────────
      left          5.465   cfm free
      Taken as free air: 12 cfm of gun.

    Checks ── condition ────────────────────────────────────────────────────────────
      holds   leak_rate(80 gal, 110 psig, 100 psig, 9 min) <= 1.5 cfm free
      Caution (bleed_down): as above.
    ");
}

#[test]
fn a_cell_of_the_notebook_is_no_default() {
    let notebook = cells(
        "atmosphere = 12.2 psia\nair_temperature = 84 °F\nx = absolute(50 psig)\ny = tank_content(80 gal, 100 psig)",
    );
    let report = super::read(&notebook);
    let taken = report.sections[0]
        .remarks
        .iter()
        .any(|remark| matches!(remark, Remark::TakenAs(_)));
    assert!(!taken, "{:?}", report.sections[0].remarks);
}

#[test]
fn a_note_stands_below_the_table_it_is_about() {
    let notebook = cells("room = 80 gal\nheld_air = room * 120 psi / (14.7 psi)");
    insta::assert_snapshot!(screen(&notebook, 80), @r"
    1 given, 1 worked out

      given ────── value ─ unit ────────────────────────────────────────────────────
      room          80     gal
      worked out ─ value ─ unit ────────────────────────────────────────────────────
      held air     653.1   gal
      Note (held_air): 120 psi is a difference, not a reading (multiplied with a
        flow or a volume); otherwise type absolute(120 psig) or 120 psia.
      Note (held_air): (14.7 psi) is a difference, not a reading; multiplied with a
        flow or a volume.
    ");
}
