//! The names that statements use.

use gaugebook::syntax::visit_names;

use super::support::statements;

fn names(text: &str) -> String {
    let mut out = Vec::new();
    for statement in statements(text) {
        visit_names(&statement, &mut |used| {
            out.push(format!("{:?} {}", used.kind, used.names.join(".")));
        });
    }
    out.join(", ")
}

#[test]
fn every_kind_of_use_is_shown() {
    for (line, expected) in [
        (
            "x = a + f(b, c: shop.d)",
            "Cell a, Formula f, Cell b, Cell shop.d",
        ),
        (
            "x [L/min] = 5 gal/t",
            "Unit L, Unit min, Unit gal, UnitOrCell t",
        ),
        ("x = 5 kW/(100 cfm)", "Unit kW, UnitOrCell cfm"),
        (
            "x = 5 ft lbf*t + 3 per bag",
            "Unit ft, Unit lbf, UnitOrCell t, Unit bag",
        ),
        (
            "x = guns[k, 3 mm].bore.y",
            "Cell k, Unit mm, Cell guns.bore.y",
        ),
        ("guns.duty = guns.draw", "Cell guns, Cell guns.draw"),
        ("x = a with b = c", "Cell a, Target b, Cell c"),
        (
            "x = solve t for h = 3 from a to b",
            "Target t, Cell h, Cell a, Cell b",
        ),
        ("x = readings(log.p) ± tol", "Cell log.p, Cell tol"),
        ("x = {a, 2} mm ± 1 % of b", ""),
        (
            "sweep a over b show c, d",
            "Target a, Cell b, Cell c, Cell d",
        ),
        (
            "plot a against b from 1 to c by 2",
            "Cell a, Target b, Cell c",
        ),
        ("fit a to log.p = m", "Target a, Cell log.p, Cell m"),
        ("budget shop.a", "Cell shop.a"),
        ("check not a or b", "Cell a, Cell b"),
        ("example f(a) gives 3 psi", "Formula f, Cell a, Unit psi"),
        ("unit bag = 50 lb", "Unit lb"),
        ("x = pi mm", ""),
        ("x = 0.25 in^2", "Unit in"),
        (
            "formula f(a [mm], b = c)\n    limit a > d \"x\"\n    e = a\n    e + b",
            "Unit mm, Cell c, Cell a, Cell d, Cell a, Cell e, Cell b",
        ),
        (
            "trace m over t\n    p [psig] starts a\n    p changes at b\n    show p every 3 s",
            "Cell t, Target p, Unit psig, Cell a, Target p, Cell b, Cell p, Unit s",
        ),
        ("table t\n    a | b [mm]\n    x | 3 in", "Unit mm, Unit in"),
    ] {
        if !expected.is_empty() {
            assert_eq!(names(line), expected, "{line}");
        }
    }
}

#[test]
fn what_has_no_reading_uses_nothing() {
    assert_eq!(names("x = pi mm"), "");
    assert_eq!(names("x = (3"), "");
}
