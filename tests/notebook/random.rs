//! Random edits: whatever was typed, removed, taken back and done again, the values are those of
//! the text opened afresh.

use super::{open, shown};
use proptest::prelude::*;

const SHOP: &str = "\
# Shop

```gaugebook
tank = 60 gal ± 1 gal
start = 126 psig ± 1 psi
stop = 94 psig
held = 55 s
draw = bleed_down(tank, start, stop, held)
pump = 19.7 cfm free
duty [%] = draw / pump
table guns
    gun   | bore [mm] | use [cfm free]
    small | 2.4       | 7.5
    large | 4         | 13.8 ± 0.5
guns.share [%] = guns.use / pump
check draw <= pump
check duty <= 75 %
```
";

/// What is typed: most of it fits, some does not.
const ENTRIES: &[&str] = &[
    "tank = 62 gal",
    "tank = 60 gal ± 1 gal",
    "tank = 230 L ± 4 L",
    "tank = 3 s",
    "start = stop + 30 psi",
    "stop = start - 30 psi",
    "stop = 92 psig ± 1 psi",
    "held = readings({54, 55, 56} s)",
    "held = 55",
    "draw [L/min free] = bleed_down(tank, start, stop, held)",
    "draw = 9 cfm free",
    "draw = 9 cfm",
    "pump = 20 cfm",
    "pump = 20 scfm",
    "pump = pump_plate * 90 %",
    "pump_plate = 22 cfm free",
    "duty = draw / pump",
    "duty = draw",
    "atmosphere = 12.2 psia",
    "air_temperature = 90 °F",
    "rest = 3 * held",
    "check rest <= 200 s",
    "check duty <= 90 %",
    "unit bag = 50 lb",
    "unit bag = 60 lb",
    "load = 3 bag",
    "formula half(a)\n    a / 2",
    "formula half(a)\n    a / 2 + 0 * a",
    "spare = half(tank)",
    "table guns\n    gun   | bore [mm] | use [cfm free]\n    small | 2.4       | 7.7",
    "table guns\n    gun   | bore [mm]\n    small | 2.4",
    "guns.share [%] = 2 * guns.use / pump",
    "best = max(guns.use)",
    "bore = guns[\"large\"].bore",
    "x = y + 1",
    "y = x + 1",
    "y = 2",
    "x = (",
];

const NAMES: &[&str] = &[
    "tank",
    "start",
    "stop",
    "held",
    "draw",
    "pump",
    "duty",
    "guns",
    "rest",
    "bag",
    "half",
    "spare",
    "atmosphere",
    "pump_plate",
    "load",
    "x",
    "y",
    "guns.share",
    "best",
];

#[derive(Clone, Debug)]
enum Step {
    Enter(usize),
    /// As the shell does it: not where it is wrong itself.
    EnterRight(usize),
    Remove(usize),
    Undo,
    Redo,
    Work(usize),
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        4 => (0..ENTRIES.len()).prop_map(Step::Enter),
        4 => (0..ENTRIES.len()).prop_map(Step::EnterRight),
        2 => (0..NAMES.len()).prop_map(Step::Remove),
        2 => Just(Step::Undo),
        1 => Just(Step::Redo),
        1 => (0..NAMES.len()).prop_map(Step::Work),
    ]
}

/// Values of cells in order of their names; which of two cells in a circle carries the message is
/// open, so only values count.
fn values(notebook: &gaugebook::notebook::Notebook) -> Vec<String> {
    let has_value = |line: &String| line.ends_with(" Ok");
    shown(notebook).into_iter().filter(has_value).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn edits_come_to_the_same_as_opening_the_text(steps in prop::collection::vec(step(), 1..14)) {
        let mut notebook = open(SHOP);
        for step in &steps {
            match step {
                Step::Enter(entry) => drop(notebook.enter_statement(ENTRIES[*entry])),
                Step::EnterRight(entry) => drop(notebook.enter_right(ENTRIES[*entry])),
                Step::Remove(name) => drop(notebook.remove(NAMES[*name])),
                Step::Undo => drop(notebook.undo()),
                Step::Redo => drop(notebook.redo()),
                Step::Work(name) => drop(notebook.answer_expression(NAMES[*name])),
            }
            let fresh = open(&notebook.text());
            prop_assert_eq!(values(&notebook), values(&fresh), "after {:?} of {:?}\n{}", step, steps, notebook.text());
        }
    }
}
