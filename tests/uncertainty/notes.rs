//! Every note about a ±, with a case that gets it and one that does not.

use super::{cell, notes, open};
use gaugebook::notebook::Notebook;
use gaugebook::source::{Code, Diagnostic, Severity};

fn only(notebook: &Notebook, name: &str, code: Code) -> Diagnostic {
    let mut found = notes(notebook, name, code);
    assert_eq!(found.len(), 1, "{name}: {found:?}");
    let note = found.remove(0);
    assert_eq!(note.severity, Severity::Note, "{name}");
    note
}

fn rough(notebook: &Notebook, name: &str) -> String {
    let note = only(notebook, name, Code::SecondOrder);
    assert_eq!(note.message, format!("this ± of {name} is rough"));
    let offered = note.repairs.iter().map(|repair| repair.text.as_str());
    assert_eq!(offered.collect::<Vec<_>>(), [format!("spread {name}")]);
    note.label
}

fn silent(notebook: &Notebook, name: &str) {
    let found = notebook.messages(cell(notebook, name));
    assert!(found.is_empty(), "{name}: {found:?}");
}

#[test]
fn a_curve_that_moves_the_uncertainty_by_more_than_5_percent() {
    let notebook = open(
        "x = 0.20 ± 0.10 (k = 1)\ny = 2.0 ± 0.1 (k = 1)\nbent = x^2\nstraight = y^2\n\
         product = x * y",
    );
    // √(1 + u²/(2x²)) is 1.0607 here, and 1.0006 for y.
    assert_eq!(
        rough(&notebook, "bent"),
        "it bends with x; the second order moves its standard uncertainty by 6 %"
    );
    silent(&notebook, "straight");
    silent(&notebook, "product");
}

#[test]
fn a_small_divisor_is_named() {
    let notebook = open(
        "pump = 19.7 ± 0.8 lb/h (95 %)\ndraw = 16.9 ± 0.4 lb/h (95 %)\n\
         refill = 20 lb / (pump - draw)\nplenty = 20 lb / (pump + draw)",
    );
    let label = rough(&notebook, "refill");
    assert!(
        label.starts_with("it divides by `pump - draw`, which is small beside its own ±; "),
        "{label}"
    );
    silent(&notebook, "plenty");
}

#[test]
fn a_place_where_first_order_sees_nothing() {
    // JCGM 101, 9.4, at x1 = 0.
    let notebook = open("a = 0.000 ± 0.005 (k = 1)\nb = 0 ± 0.005 (k = 1)\ny = a^2 + b^2");
    let label = rough(&notebook, "y");
    assert!(
        label.ends_with("first order sees no doubt in it at all"),
        "{label}"
    );
}

#[test]
fn a_turning_point_within_three_standard_uncertainties() {
    let notebook = open(
        "x = 3.30 ± 0.11 (k = 1)\nnear = (x - 3)^2\nfar = (x - 2)^2\n\
         nearer = (x - 3.15)^2\nother = 5.0 ± 3 (k = 1)\nlittle = (x - 3)^2 + other",
    );
    // 2.7 standard uncertainties from the turn: the second order moves it by 3 % only.
    assert_eq!(
        rough(&notebook, "near"),
        "it turns round within three standard uncertainties of x"
    );
    silent(&notebook, "far");
    // At 1.4 it moves it by more, and that is said instead.
    assert!(rough(&notebook, "nearer").starts_with("it bends with x; "));
    // Beside a doubt that is much larger it does not matter.
    silent(&notebook, "little");
}

#[test]
fn a_cancelled_source_turns_nothing_round() {
    let notebook = open(
        "zero = 0 psi ± 2 psi\nhigh = 125 psig ± 0.5 psi + zero\nlow = 95 psig ± 0.5 psi + zero\n\
         draw = bleed_down(80 gal ± 1 gal, high, low, 75.0 s ± 0.3 s)",
    );
    for name in ["zero", "high", "low", "draw"] {
        silent(&notebook, name);
    }
}

#[test]
fn corners_of_min_max_and_abs() {
    let notebook = open(
        "a = 5.0 ± 0.1 (k = 1)\nb = 5.2 ± 0.1 (k = 1)\nc = 9.0 ± 0.1 (k = 1)\n\
         near = max(a, b)\nfar = min(a, c)\nsize = abs(a - b)\nclear = abs(a - c)\n\
         of_column = min({a, b, c})\nof_others = max({a, b, c})",
    );
    assert_eq!(
        rough(&notebook, "near"),
        "`max(a, b)` turns a corner within three standard uncertainties"
    );
    silent(&notebook, "far");
    assert!(rough(&notebook, "size").contains("`abs(a - b)` turns a corner"));
    silent(&notebook, "clear");
    assert!(rough(&notebook, "of_column").contains("turns a corner"));
    silent(&notebook, "of_others");
}

#[test]
fn a_branch_within_three_standard_uncertainties() {
    let notebook = open(
        "p = 80.0 psig ± 1 psi (k = 1)\nq = 5.0 ± 0.1 (k = 1)\n\
         near = if p > 78 psig then q else 2 * q\nfar = if p > 60 psig then q else 2 * q",
    );
    assert_eq!(
        rough(&notebook, "near"),
        "another branch lies within three standard uncertainties"
    );
    silent(&notebook, "far");
}

#[test]
fn a_limit_within_three_standard_uncertainties_offers_spread() {
    let source = "formula shown(p [psig]) [psig]\n    source \"invented\"\n    \
                  limit p < 100 psig \"the dial ends there\"\n    p\n";
    let notebook = open(&format!(
        "{source}near = shown(98.0 psig ± 1 psi (k = 1))\nfar = shown(90.0 psig ± 1 psi (k = 1))"
    ));
    let note = only(&notebook, "near", Code::Limit);
    assert_eq!(note.message, "the dial ends there");
    assert_eq!(
        note.label,
        "shown: its limit lies within three standard uncertainties"
    );
    assert_eq!(note.repairs[0].text, "spread near");
    silent(&notebook, "far");
}

#[test]
fn a_comparison_that_is_a_close_call() {
    let notebook = open(
        "p = 80.0 psig ± 1 psi (k = 1)\nnear = p > 78.5 psig\nfar = p > 60 psig\n\
         sure = 80 psig > 79.9 psig\ncheck p > 78.5 psig \"a check says so itself\"",
    );
    let note = only(&notebook, "near", Code::NearThreshold);
    assert_eq!(
        note.label,
        "decided on the value alone; it holds with a chance of 93 %"
    );
    silent(&notebook, "far");
    silent(&notebook, "sure");
    let checks: Vec<_> = notebook
        .cells()
        .filter(|(_, cell)| cell.name.is_empty())
        .flat_map(|(id, _)| notebook.messages(id))
        .collect();
    assert!(checks.is_empty(), "{checks:?}");
}

#[test]
fn an_exact_choice_that_is_a_close_call() {
    let notebook = open(
        "p = 80.0 psig ± 1 psi (k = 1)\nnear = if p > 78.5 psig then 2 else 3\n\
         far = if p > 60 psig then 2 else 3\nbore = 3.1 mm ± 0.05 mm (k = 1)\n\
         size = size_above({2, 3, 3.2, 4} mm, bore)\n\
         other = size_above({2, 3.5, 4} mm, bore)\n\
         exact = size_above({2, 3, 3.2, 4} mm, 3.1 mm)",
    );
    assert_eq!(
        only(&notebook, "near", Code::NearThreshold).message,
        "a choice closer than three standard uncertainties"
    );
    silent(&notebook, "far");
    only(&notebook, "size", Code::NearThreshold);
    silent(&notebook, "other");
    silent(&notebook, "exact");
}

#[test]
fn fewer_digits_than_the_uncertainty_implies() {
    let notebook = open(
        "few = 80 gal ± 0.4 gal\nhalf = 80 gal ± 0.5 gal\nenough = 80.0 gal ± 0.4 gal\n\
         normal = 80 gal ± 0.2 gal (k = 1)\nwide = 80 gal ± 0.3 gal (k = 1)\n\
         double = 80 gal ± 0.5 gal (k = 2)\n\
         share = 80 gal ± 0.4 %\nzero = 0 psi ± 0.2 psi\nfraction = 3/8 in ± 0.01 in\n\
         step = 126 psig ± 0.1 psi (step)\nfine = 126.0 psig ± 0.1 psi (step)\n\
         large = 1.2e3 L ± 20 L\ncolumn = {48.1, 48, 47.9} s ± 0.06 s\n\
         coarse = {48, 47, 49} s ± 0.06 s",
    );
    let note = only(&notebook, "few", Code::SeemsPrecise);
    assert_eq!(note.message, "80 gal has fewer digits than its ± implies");
    assert_eq!(note.label, "its last digit alone leaves ± 0.5");
    for name in ["normal", "share", "step", "large", "coarse"] {
        let note = only(&notebook, name, Code::SeemsPrecise);
        assert!(note.message.ends_with("fewer digits than its ± implies"));
    }
    for name in [
        "half", "enough", "wide", "double", "zero", "fraction", "fine", "column",
    ] {
        silent(&notebook, name);
    }
}

#[test]
fn no_doubt_at_all() {
    let notebook = open("none = 80 gal ± 0 gal\nsome = 80 gal ± 1 gal\nexact = 80 gal");
    let note = only(&notebook, "none", Code::SeemsPrecise);
    assert_eq!(
        note.message,
        "a ± of zero says that there is no doubt at all"
    );
    assert_eq!(note.repairs[0].text, "80 gal");
    silent(&notebook, "some");
    silent(&notebook, "exact");
}

#[test]
fn wider_than_the_value() {
    let notebook = open(
        "wide = 0.3 psi ± 0.5 psi\nnarrow = 0.3 psi ± 0.1 psi\nzero = 0 psi ± 0.5 psi\n\
         gauge = 0.3 psig ± 0.5 psi\ncold = -0.5 °C ± 1 °C\nnegative = -0.3 psi ± 0.5 psi",
    );
    for name in ["wide", "negative"] {
        let note = only(&notebook, name, Code::SeemsPrecise);
        assert!(note.message.starts_with("this ± is wider than "), "{name}");
    }
    for name in ["narrow", "zero", "gauge", "cold"] {
        silent(&notebook, name);
    }
}

#[test]
fn readings_that_are_few_or_all_alike() {
    let notebook = open(
        "two = readings({54.6, 55.3} s)\nthree = readings({54.6, 55.3, 55.1} s)\n\
         alike = readings({54.6, 54.6, 54.6} s)\nstepped = readings({54.6, 54.6, 54.7} s)",
    );
    assert_eq!(
        only(&notebook, "two", Code::SeemsPrecise).message,
        "two readings are one repeat only"
    );
    silent(&notebook, "three");
    assert_eq!(
        only(&notebook, "alike", Code::SeemsPrecise).message,
        "the readings are all alike"
    );
    silent(&notebook, "stepped");
}

#[test]
fn steps_leave_the_uncertainty_behind() {
    let notebook = open(
        "x = 54.6 s ± 0.5 s\ndown = floor(x, 1 s)\nup = ceil(x, 5 s)\nnearest = round(x, 1 s)\n\
         exact = floor(54.6 s, 1 s)",
    );
    for name in ["down", "up"] {
        only(&notebook, name, Code::PlusMinus);
        assert!(!notebook.value(cell(&notebook, name)).is_uncertain());
    }
    silent(&notebook, "nearest");
    assert!(notebook.value(cell(&notebook, "nearest")).is_uncertain());
    silent(&notebook, "exact");
}

#[test]
fn a_column_says_which_row_is_rough() {
    let notebook =
        open("x = {0.20, 2.0, 3.0} ± 0.1 (k = 1)\ny = x^2\nz = {2.0, 3.0} ± 0.1 (k = 1)\nw = z^2");
    let label = rough(&notebook, "y");
    assert!(label.starts_with("row 1: it bends with x; "), "{label}");
    silent(&notebook, "w");
}

#[test]
fn exact_cells_are_never_asked() {
    let notebook = open("x = 0.3\ny = x^2\nz = max(x, y)\nw = if x > 0.299 then 1 else 2");
    for name in ["x", "y", "z", "w"] {
        silent(&notebook, name);
        assert!(notebook.second_order(cell(&notebook, name), None).is_none());
    }
}
