//! Lines that are read, each with its canonical spelling, and the trees behind some of them.

use gaugebook::syntax::{ExprKind, StatementKind, parse_entry, print_expr};

use super::support::{messages, statements, told};

/// Lines that are canonical as they stand.
const CANONICAL: [&str; 66] = [
    "gauge_error = 0 psi ± 2 % of 200 psi",
    "tank = 80 gal ± 1 gal  # nameplate, checked by filling",
    "start = 140 psig + gauge_error",
    "held = readings({54.6, 55.3, 55.1} s) ± 0.3 s",
    "draw [cfm free] = bleed_down(tank, start, stop, held)",
    "check draw <= 0.6 * pump_output \"the pump would run more than six minutes in ten\"",
    "guns.duty [%] = guns.draw / pump_output",
    "x = guns[\"small\"].bore + guns[choice].draw",
    "x = big[2 mm, 60 psig].draw",
    "x = 140 ± 1 psig",
    "x = 21.7 ± 1.2 cfm free (95 %)",
    "x = 55.00 ± 0.90 s (95 %, dof = 2.0)",
    "x = 5 psi ± 1 psi (k = 2, dof = 18)",
    "x = 5 psi ± 1 psi (dof = 5)",
    "x = 5 psi ± 1 psi (step)",
    "x = 81 °F ± 2 °F (u_shaped)",
    "x = 5 psi ± tolerance (triangular)",
    "x = 5 psi ± shop.tolerance",
    "x = 5 psi ± (a + b) (k = 1)",
    "x = 60 gal/min",
    "x = 60 gal/t",
    "x = 60 gal / t",
    "x = 60 gal / 55 s",
    "x = 9.81 m/s²",
    "x = 3.5 ft lbf",
    "x = 18 kW/(100 cfm)",
    "x = 5 kJ/(kg K)",
    "x = 12 per h",
    "x = 3 bags per shift",
    "x = 5 N m torque",
    "x = 5 inH2O abs",
    "x = 0.25 in2 + 0.25 in²",
    "x [s K^(1/2)/m] = 0.04 s K^(1/2)/m",
    "x [1] = 5",
    "x [1/ft] = 5 per ft",
    "x [per h] = 12 per h",
    "x = tank * fall / held [L/min]",
    "x = (tank [L]) + 3 L",
    "x = $ 350 + $ 0.14/kWh * 3 kWh + $ 62 per bag * 2 bags",
    "x = 350 USD - -$ 5",
    "x = 1/8 in + 1 1/2 in + 3/4 hp + 1/3 cup",
    "x = {1/8, 1 1/2, -3/4, 2} in",
    "x = {2, 3, 4} mm ± 0.1 mm (k = 1)",
    "x = 1½ * 3",
    "x = 1 - 1/2 in",
    "x = 1.2e-3 m",
    "x = -10 °C",
    "x = -2^2",
    "x = (-2)^2^-3",
    "x = -(a + b) * -c",
    "x = a + b * c - d / e / f",
    "x = a and b or not c and d",
    "x = 40 psig <= p < 90 psig",
    "x = if a < b then 3 else if c then 4 else 5",
    "x = true == off_line or false",
    "x = f() + g(1, held: 55 s)",
    "x = draw with bore = 3.2 mm, shop.working = 80 psig",
    "x = (draw with bore = bore * 1.1) - draw",
    "x = solve tank for hold_time = 10 min from 20 gal to 500 gal",
    "x = solve p [psig] for regulator - drop(p) = p from 60 psig to 94 psig",
    "sweep big: bore from 2 mm to 6 mm by 0.5 mm, p over {60, 90} psig show draw, duty [%]",
    "plot draw, pump_output against bore from 2 mm to 6 mm by 0.1 mm",
    "fit leak, pump_k to log.pressure = model_pressure",
    "example bleed_down(60 gal, 125 psig, 95 psig, 55 s) gives 17.86 cfm free within 0.5 %",
    "unit bag, bags = 50 lb",
    "use \"my-shop.md\" as shop",
];

#[test]
fn canonical_lines_print_as_they_are() {
    for line in CANONICAL {
        assert_eq!(told(line), format!("{line}\n"));
    }
}

/// Lines as people type and paste them, with their canonical spelling.
const SPELLED: [(&str, &str); 44] = [
    ("x=5psi", "x = 5 psi"),
    ("x = 60gal", "x = 60 gal"),
    ("x = 20°C", "x = 20 °C"),
    ("x = 20ºC", "x = 20 °C"),
    ("x = 20 ℃", "x = 20 °C"),
    ("x = 55%", "x = 55 %"),
    ("x = .5 in", "x = 0.5 in"),
    ("x = 5.", "x = 5"),
    ("x = 1_200_000", "x = 1200000"),
    ("x = 1E+3 m", "x = 1e3 m"),
    ("x = 1.2e−3 m", "x = 1.2e-3 m"),
    ("x = a − b × c ÷ d · e", "x = a - b * c / d * e"),
    ("x = a ≤ b", "x = a <= b"),
    ("x = a ≥ b and a ≠ c", "x = a >= b and a != c"),
    ("x = 5 +/- 1 psi", "x = 5 ± 1 psi"),
    ("x = 5±1psi", "x = 5 ± 1 psi"),
    ("x = 5 psi ± 1 psi(k = 1)", "x = 5 psi ± 1 psi (k = 1)"),
    ("x = 5 psi ± tol(k=2)", "x = 5 psi ± tol (k = 2)"),
    ("x = ½ in", "x = 1/2 in"),
    ("x = 1½ in", "x = 1 1/2 in"),
    ("x = 1 ½ in", "x = 1 1/2 in"),
    ("x = ⅛ in ± 1/64 in", "x = 1/8 in ± 1/64 in"),
    ("x = {½, 1½} in", "x = {1/2, 1 1/2} in"),
    ("x = 9.81 m/s^2", "x = 9.81 m/s²"),
    ("x = 9.81 m/s²", "x = 9.81 m/s²"),
    ("x = 5 kJ/(kg·K)", "x = 5 kJ/(kg*K)"),
    ("x = 5 N·m torque", "x = 5 N*m torque"),
    ("x = a [ L / min ]", "x = a [L/min]"),
    ("x = a [in^2]", "x = a [in²]"),
    ("x = bore² + bore⁻¹", "x = bore^2 + bore^-1"),
    ("x = 10²", "x = 10^2"),
    ("x = $350", "x = $ 350"),
    ("x = 5$", "x = $ 5"),
    ("x = -$5/h", "x = -$ 5/h"),
    ("x = - 10 °C", "x = -10 °C"),
    ("x = “big – gun”", "x = \"big – gun\""),
    ("x = «a “b” c»", "x = \"a “b” c\""),
    ("x\u{a0}=\u{2009}5\u{202f}psi", "x = 5 psi"),
    ("\tx\t=\t5 psi", "x = 5 psi"),
    ("x = 5 µm + 5 μm", "x = 5 μm + 5 μm"),
    ("x = e\u{301} + é", "x = é + é"),
    ("x = a#6 + 3", ""),
    ("x = 5   ## much", "x = 5  # much"),
    ("x = 5 #", "x = 5"),
];

#[test]
fn pasted_lines_are_read_as_typed_ones() {
    for (line, spelling) in SPELLED {
        if spelling.is_empty() {
            assert_ne!(messages(line), "", "{line}");
        } else {
            assert_eq!(told(line), format!("{spelling}\n"), "{line}");
        }
    }
}

/// What the value of a line is, read with parentheses around each operation.
fn grouped(line: &str) -> String {
    fn group(expr: &gaugebook::syntax::Expr) -> String {
        match &expr.kind {
            ExprKind::Binary(sign, left, right) => {
                format!("({sign:?} {} {})", group(left), group(right))
            }
            ExprKind::Negative(inner) => format!("(minus {})", group(inner)),
            ExprKind::Not(inner) => format!("(not {})", group(inner)),
            ExprKind::Comparison(operands, signs) => {
                let operands: Vec<String> = operands.iter().map(group).collect();
                format!("({signs:?} {})", operands.join(" "))
            }
            _ => print_expr(expr),
        }
    }
    match parse_entry(line).kind {
        StatementKind::Expression(value) => group(&value),
        other => format!("{other:?}"),
    }
}

#[test]
fn operators_bind_as_in_mathematics() {
    for (line, reading) in [
        ("-2^2", "(minus (Power 2 2))"),
        ("-2 psi", "-2 psi"),
        ("a - -2", "(Minus a -2)"),
        ("2^3^4", "(Power 2 (Power 3 4))"),
        ("2^-3^2", "(Power 2 (minus (Power 3 2)))"),
        ("a - b - c", "(Minus (Minus a b) c)"),
        ("a / b * c", "(Times (Over a b) c)"),
        ("60 gal/55 s", "(Over 60 gal 55 s)"),
        ("60 gal/min*t", "60 gal/min*t"),
        ("60 gal/hold(3)", "(Over 60 gal hold(3))"),
        ("60 gal/guns.bore", "(Over 60 gal guns.bore)"),
        ("60 gal/(t + 3 s)", "(Over 60 gal (t + 3 s))"),
        ("60 gal/(t)", "60 gal/(t)"),
        ("60 gal/t^n", "(Over 60 gal (Power t n))"),
        ("60 gal/2", "(Over 60 gal 2)"),
        ("60 gal /t", "(Over 60 gal t)"),
        ("6/2/3 in", "(Over (Over 6 2) 3 in)"),
        ("5 ± 1/2", "5 ± 1/2"),
        ("not a and b", "(And (not a) b)"),
        ("not a == b", "(not ([Equal] a b))"),
        ("a or b and c", "(Or a (And b c))"),
        ("1 < a + 2 <= b", "([Less, LessOrEqual] 1 (Plus a 2) b)"),
        ("x²", "(Power x 2)"),
        ("-x²", "(minus (Power x 2))"),
    ] {
        assert_eq!(grouped(line), reading, "{line}");
    }
}

#[test]
fn a_refused_literal_keeps_the_reading_that_its_readings_share() {
    for (line, reading) in [
        ("x = 0.25 in^2", Some("0.25 in²")),
        ("x = 140 [psig]", Some("140 psig")),
        ("x = 1:12.4", Some("72.4 s")),
        ("x = 1,200 psi", Some("1200 psi")),
        ("x = 40–60 psi", Some("60 psi")),
        ("x = 240/8 h", None),
        ("x = pi mm", None),
    ] {
        let StatementKind::Cell(cell) = &statements(line)[0].kind else {
            panic!("{line} is no cell");
        };
        let ExprKind::Refused(kept) = &cell.value.kind else {
            panic!("{line} is not refused");
        };
        assert_eq!(
            kept.as_deref().map(print_expr).as_deref(),
            reading,
            "{line}"
        );
    }
}

#[test]
fn places_cover_what_they_name() {
    let text = "é = 5 psi + f(tank)  # why ";
    let statement = &statements(text)[0];
    assert_eq!(statement.span.of(text), "é = 5 psi + f(tank)  # why");
    assert_eq!(statement.remark.map(|span| span.of(text)), Some("why"));
    let StatementKind::Cell(cell) = &statement.kind else {
        panic!("no cell");
    };
    assert_eq!(cell.name.span.of(text), "é");
    assert_eq!(cell.value.span.of(text), "5 psi + f(tank)");
}
