//! A repair that says what it replaces mends the line.

use super::support::statements;

/// Lines whose first repair leaves nothing to complain about.
const MENDED: [&str; 44] = [
    "x = 1,200 psi",
    "x = $1,200.50",
    "x = f(0.1,200)",
    "x = 1,5 mm",
    "x = 1:12.4",
    "x = 7:30 min",
    "p = 40–60 psi",
    "p = start – stop",
    "t = –10 °C",
    "x = 1 200 psi",
    "x = € 350",
    "x = 350 €",
    "x = 240/8 h",
    "x = -3/5 in",
    "x = 1 3/2 in",
    "x = 1 1/2",
    "x = 1/8\"",
    "x = 5' 3 1/2\"",
    "x = 5 ft 3 in",
    "p = p₁ + 3",
    "on = 5 min",
    "table = 5 mm",
    "pump output = 60 cfm",
    "pump-output [cfm] = 60 cfm",
    "2nd = 60 cfm",
    "tank: 60 gal",
    "tank := 60 gal",
    "tank 60 gal  # big",
    "60 gal = tank",
    "check a = b",
    "x = 2**3",
    "x = a =< b",
    "x = f(held = 55 s)",
    "x = √2",
    "x = 0.25 in^2/min",
    "x = 140 ± 1 [psig]",
    "x = {1, 2} [1/ft]",
    "x = 2 * tank [gal] + 3",
    "x = (2 + 3) mm",
    "x = 3 bags per 8 h",
    "x = 60 gal to L",
    "x = tank []",
    "x = a + tank ± 1 gal",
    "g = guns[#6].bore",
];

#[test]
fn the_first_repair_mends_the_line() {
    for line in MENDED {
        let read = statements(line);
        let repair = read
            .iter()
            .flat_map(|statement| &statement.diagnostics)
            .find_map(|message| message.repairs.first());
        let Some((repair, span)) = repair.and_then(|one| Some((one, one.replaces?))) else {
            panic!("{line} has no repair that replaces a run");
        };
        let mut mended = line.to_string();
        mended.replace_range(span.range(), &repair.text);
        let left: Vec<_> = statements(&mended)
            .into_iter()
            .flat_map(|statement| statement.diagnostics)
            .collect();
        assert_eq!(left, vec![], "{line} became {mended}");
    }
}
