//! Sweeps as they are printed, with the checks that turn on an axis and no others.

use super::{cells, screen};

/// An invented lamp: 12 V over 4 Ω and 6 Ω, by hand 36 W and 24 W.
const LAMP: &str = "\
volts = 12 V
ohms = 5 ohm
watts = volts ^ 2 / ohms [W]
check watts <= 30 W
";

fn words(more: &str) -> Vec<String> {
    let notebook = cells(&format!("{LAMP}{more}"));
    let studies = gaugebook::report::studies(&notebook);
    let checks = studies[0].checks.iter();
    checks.map(|check| check.condition.clone()).collect()
}

#[test]
fn a_check_on_what_is_shown_stands_beside_it() {
    assert_eq!(
        words("sweep ohms over {4, 6} ohm show watts"),
        ["watts <= 30 W"]
    );
}

#[test]
fn a_check_on_the_sweep_itself_does_not_turn_on_its_axis() {
    let more = "sweep lamp: ohms over {4, 6} ohm show watts\ncheck lamp[4 ohm].watts <= 40 W";
    assert_eq!(words(more), ["watts <= 30 W"]);
}

#[test]
fn a_check_on_what_is_sought_does_not_turn_on_the_cell_that_is_moved() {
    let more = "sweep ohms over {4, 6} ohm show watts
needed = solve ohms for watts = 24 W from 1 ohm to 20 ohm
low = watts with ohms = 20 ohm
check needed <= 7 ohm
check low <= 8 W";
    assert_eq!(words(more), ["watts <= 30 W"]);
}

#[test]
fn what_a_scenario_does_not_set_reaches_through() {
    let more = "sweep volts over {10, 12} V show watts
needed = solve ohms for watts = 24 W from 1 ohm to 20 ohm
low = watts with ohms = ohms * 2
check needed <= 7 ohm
check low <= 15 W";
    assert_eq!(
        words(more),
        ["watts <= 30 W", "needed <= 7 ohm", "low <= 15 W"]
    );
    let own = "sweep ohms over {4, 6} ohm show watts
low = watts with ohms = ohms * 2
check low <= 15 W";
    assert_eq!(words(own), ["watts <= 30 W", "low <= 15 W"]);
}

#[test]
fn a_cross_table_is_held_to_checks_that_name_what_it_shows() {
    let notebook = cells(
        "table lamps
    lamp  | ohms [ohm]
    small | 6
    large | 4
table cells
    cell | volts [V]
    old  | 10
    new  | 12
lamp = \"small\"
cell = \"old\"
watts = cells[cell].volts ^ 2 / lamps[lamp].ohms [W]
check watts <= 30 W
sweep pairs: lamp over lamps.lamp, cell over cells.cell show watts
check pairs[\"large\", \"new\"].watts <= 40 W
check lamps[lamp].ohms <= 5 ohm
",
    );
    let screen = screen(&notebook, 80);
    let from = screen.find("  Sweep pairs").expect("the sweep is shown");
    let to = screen.find("\nChecks").expect("the checks are shown");
    // 10 V and 12 V over 6 ohm and 4 ohm, by hand.
    insta::assert_snapshot!(&screen[from..to], @r"
      Sweep pairs: watts against lamp and cell
      watts [W], held to watts <= 30 W
      lamp ── old ───────── new ────────────────────────────────────────────────────
      small   16.67 holds   24 holds
      large   25    holds   36 fails
    ");
}
