//! Notebooks about trying other values: cross tables, solved cells, plots and named sweeps.
//!
//! Beside what their last paragraphs say they are held to sums by hand. These rest on the mass
//! flow of air through a choked nozzle, 0.040418 s·K^½/m · area · pressure / √temperature (ideal
//! gas of 1.4 and 287.05 J/(kg K), the limit of ISO 9300), and on p·V of the tank.

use super::measured::Outcome::Holds;
use super::measured::hold;
use gaugebook::library::Library;
use gaugebook::notebook::{NoFiles, Notebook};
use gaugebook::report::{Outcome, studies};
use gaugebook::source::Document;
use std::rc::Rc;

const GUNS: (&str, &str) = (
    "which-gun-on-which-pump.md",
    include_str!("../../notebooks/which-gun-on-which-pump.md"),
);
const RECEIVER: (&str, &str) = (
    "the-smallest-receiver.md",
    include_str!("../../notebooks/the-smallest-receiver.md"),
);
const BORE: (&str, &str) = (
    "pressure-against-bore.md",
    include_str!("../../notebooks/pressure-against-bore.md"),
);

fn open((path, text): (&str, &str)) -> Notebook {
    let document = Document::new(text.to_owned());
    Notebook::open(path, document, &NoFiles, Rc::new(Library::new()))
}

/// Holds a cell to a sum by hand, as closely as it is shown: to half a per cent.
fn near(notebook: &Notebook, name: &str, by_hand: f64) {
    let id = notebook.find(name).expect("the cell is there");
    let shown = notebook.shown(id, None).value;
    let found: f64 = shown.parse().expect("a number is shown");
    assert!(
        (found / by_hand - 1.0).abs() < 0.005,
        "{name}: {found} against {by_hand} by hand"
    );
}

/// What a choked jet takes, in cubic feet of free air a minute at 14.696 psia.
fn jet_takes(bore_in: f64, psig: f64, kelvin: f64) -> f64 {
    let area = std::f64::consts::PI / 4.0 * (bore_in * 0.0254).powi(2);
    let mass = 0.040_418 * area * (psig + 14.696) * 6_894.757 / kelvin.sqrt();
    let density = 101_325.0 / (287.05 * kelvin);
    mass / density * 60.0 / 0.3048_f64.powi(3)
}

/// 68 °F and 95 °F.
const COMMON: f64 = 293.15;
const HOT: f64 = 308.15;

#[test]
fn guns_against_pumps() {
    hold(
        GUNS.0,
        GUNS.1,
        &[Holds, Holds, Holds, Holds],
        &[
            ("load", "56.2 % ± 2.8 pp (95 %)"),
            ("twin_now", "92.7 % ± 3.9 pp (95 %)"),
            ("twin_turned_down", "87.8 % ± 3.7 pp (95 %)"),
        ],
    );
    let notebook = open(GUNS);
    let trigger = jet_takes(3.0 / 32.0, 80.0, COMMON);
    near(&notebook, "draw", trigger);
    near(&notebook, "load", trigger / 21.5 * 100.0);
    let twin = jet_takes(5.0 / 32.0, 75.0, COMMON);
    near(&notebook, "twin_turned_down", twin / 36.2 * 100.0);
}

#[test]
fn each_pair_has_a_word() {
    use Outcome::{Fails, Holds, Open};
    let notebook = open(GUNS);
    let all = studies(&notebook);
    let check = &all[0].checks[..];
    assert_eq!(check.len(), 1, "checks on the table itself stay outside");
    let words: Vec<Outcome> = check[0].rows.iter().map(|row| row.0.clone()).collect();
    let expected = [
        [Holds, Holds, Holds],
        [Fails, Holds, Holds],
        [Fails, Fails, Holds],
        [Fails, Fails, Open],
    ];
    assert_eq!(words, expected.concat());
}

#[test]
fn the_smallest_receiver() {
    hold(
        RECEIVER.0,
        RECEIVER.1,
        &[Holds, Holds, Holds, Holds, Holds],
        &[
            ("needed", "88.9 ± 8.8 gal (95 %)"),
            ("hot_day", "95.4 ± 9.0 gal (95 %)"),
            ("first", "100 gal"),
            ("first_if_hot", "120 gal"),
        ],
    );
    // What the pump lacks in six minutes, as free air, is the volume times the fall of pressure.
    let tank = |lack: f64| lack * 6.0 * 14.696 / (125.0 - 76.0) * 1_728.0 / 231.0;
    let notebook = open(RECEIVER);
    let common = jet_takes(0.125, 70.0, COMMON);
    near(&notebook, "needed", tank(common - 12.6));
    near(&notebook, "with_helper", tank(common - 12.6 - 3.4));
    near(
        &notebook,
        "hot_day",
        tank(jet_takes(0.125, 70.0, HOT) - 12.6),
    );
    near(&notebook, "today", 6.0 * 60.0 / tank(common - 12.6));
}

#[test]
fn pressure_against_bore() {
    hold(
        BORE.0,
        BORE.1,
        &[Holds, Holds, Holds],
        &[
            ("widest", "0.2068 ± 0.0055 in (95 %)"),
            ("at_quarter", "57.0 ± 3.8 psig (95 %)"),
        ],
    );
    let notebook = open(BORE);
    let through_an_inch = 0.80 * jet_takes(1.0, 90.0, COMMON);
    near(&notebook, "widest", (52.0 / through_an_inch).sqrt());
    let a_psi = 0.80 * jet_takes(0.25, 1.0 - 14.696, COMMON);
    near(&notebook, "at_quarter", 52.0 / a_psi - 14.696);
    // The nozzle chart of the trade gives a No. 4 47 cfm at 50 psig and 54 at 60: 52 cfm lies at
    // 57.1 psig, between them in a straight line.
    near(&notebook, "at_quarter", 50.0 + 10.0 * (52.0 - 47.0) / 7.0);
}
