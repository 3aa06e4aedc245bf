//! Laws: what is printed reads as the same tree, what is formatted says the same and stays so,
//! and nothing that can be typed stops the program.

use gaugebook::source::Severity;
use gaugebook::syntax::{Statement, StatementKind, format, parse, print_expr, print_statement};
use proptest::prelude::*;

use super::support::{lines, statements, without_places};
use super::trees::expression;

fn the_expression(text: &str) -> gaugebook::syntax::Expr {
    let read = statements(text);
    let [statement] = read.as_slice() else {
        panic!("{text} is {} statements", read.len());
    };
    assert_eq!(statement.diagnostics, vec![], "{text}");
    match &statement.kind {
        StatementKind::Cell(cell) => cell.value.clone(),
        other => panic!("{text} is {other:?}"),
    }
}

fn has_error(statement: &Statement) -> bool {
    statement
        .diagnostics
        .iter()
        .any(|message| message.severity == Severity::Error)
}

/// Pieces of lines, right and wrong, that people type.
fn piece() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec![
        "tank", "start", " ", " ", " ", "\n", "\n    ", "60", "1/8", "1,200", "1:12.4", "½", "²",
        "gal", "psig", "°C", "%", "per", "/", "*", "·", "-", "−", "–", "+", "±", "+/-", "^", "(",
        ")", "[", "]", "{", "}", "|", ",", ":", ".", "=", "==", "<=", "≤", "<>", "**", "\"", "“",
        "”", "#", "#6", "# ", "'", "$", "€", "\t", "if", "then", "else", "not", "and", "or",
        "with", "solve", "for", "from", "to", "by", "over", "show", "gives", "within", "of", "on",
        "true", "formula", "table", "trace", "check", "use", "unit", "default", "example", "sweep",
        "plot", "fit", "budget", "spread", "limit", "source", "caution", "when", "starts", "turns",
        "stop", "readings", "f(", "p₁", "free", "k", "(95 %)", "\u{a0}", "é", "\u{301}", "🙂", "_",
        "e",
    ])
}

fn typed() -> impl Strategy<Value = String> {
    prop::collection::vec(piece(), 0..40).prop_map(|pieces| pieces.concat())
}

/// A block in canonical spelling, without texts and comments, whose blanks are their own.
const BLOCK: &str = "\
tank = 80 gal ± 1 gal
start [psig] = 140 ± 1 psig (k = 2, dof = 18) + gauge_error
held = readings({54.6, 55.3, -55.1} s) ± 0.3 s
draw [cfm free] = bleed_down(tank, start, stop, held: 55 s) / (18 kW/(100 cfm))
check not draw <= 0.6 * pump_output - -2^2 and guns[choice, 3 mm].bore > 1/8 in
x = if a < b then (solve p [psig] for a - f(p) = p from 1 psig to 2 psig) else $ 5/h
sweep big: bore from 2 mm to 6 mm by 0.5 mm, p over {60, 90} psig show draw, duty [%]

formula half(a [mm] = 3 mm, b) [mm²]
    limit = a * 1 mm
    c = a +
        b
    c / 2 [in²]

table guns
    gun   | bore [mm] | draw [cfm free]
    small | 2.4       | 7.5 ± 0.5
    big   | 1 1/2 in  | -

trace morning over 20 min
    pressure [psig] starts 140 psig
    pump turns off when pressure >= cut_out
    pressure changes at -(a - b) * 3 / tank
    show pressure, shop.pump every 30 s
";

fn stretched() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec![" ", " ", "  ", "\t", " \u{a0} ", "\u{2009}"])
}

fn printed() -> impl Strategy<Value = String> {
    expression().prop_map(|tree| print_expr(&tree))
}

proptest! {
    #![proptest_config(ProptestConfig {
        failure_persistence: None,
        ..ProptestConfig::with_cases(600)
    })]

    #[test]
    fn what_is_printed_reads_as_it_was(printed in printed()) {
        let once = the_expression(&format!("x = {printed}"));
        prop_assert_eq!(&print_expr(&once), &printed);
        let twice = the_expression(&format!("x = {}", print_expr(&once)));
        prop_assert_eq!(without_places(&once), without_places(&twice));
    }

    #[test]
    fn a_printed_line_is_its_own_format(printed in printed()) {
        let line = format!("x = {printed}");
        prop_assert_eq!(format(&line, &lines(&line), false).join("\n"), line);
    }

    #[test]
    fn anything_typed_is_read_and_formatted_once(text in typed(), loose in any::<bool>()) {
        let spans = lines(&text);
        let before = parse(&text, &spans, loose);
        for statement in &before {
            prop_assert!(!matches!(statement.kind, StatementKind::Broken(_)) || has_error(statement));
            for message in &statement.diagnostics {
                prop_assert!(text.get(message.span.range()).is_some(), "{:?}", message);
            }
        }
        let once = format(&text, &spans, loose);
        prop_assert_eq!(once.len(), spans.len());
        let joined = once.join("\n");
        let after = parse(&joined, &lines(&joined), loose);
        prop_assert_eq!(before.len(), after.len());
        for (before, after) in before.iter().zip(&after) {
            if !has_error(before) {
                prop_assert_eq!(print_statement(before, &text), print_statement(after, &joined));
            }
        }
        let twice = format(&joined, &lines(&joined), loose).join("\n");
        prop_assert_eq!(twice, joined);
    }

    #[test]
    fn a_statement_without_errors_reads_as_it_is_printed(text in typed()) {
        for statement in statements(&text) {
            if has_error(&statement) {
                continue;
            }
            let printed = print_statement(&statement, &text);
            let again = statements(&printed);
            prop_assert_eq!(again.len(), 1, "{}", printed);
            prop_assert_eq!(
                without_places(&statement.kind),
                without_places(&again[0].kind),
                "{}",
                printed
            );
        }
    }

    #[test]
    fn a_stretched_block_is_formatted_back(blanks in prop::collection::vec(stretched(), 400)) {
        let mut blanks = blanks.into_iter().cycle();
        let stretched: Vec<String> = BLOCK
            .lines()
            .map(|line| {
                let content = line.trim_start();
                let (indent, _) = line.split_at(line.len() - content.len());
                let parts: Vec<&str> = content.split(' ').collect();
                let mut out = format!("  {indent}");
                for (index, part) in parts.iter().enumerate() {
                    if index > 0 {
                        out.push_str(blanks.next().unwrap_or(" "));
                    }
                    out.push_str(part);
                }
                out
            })
            .collect();
        let text = stretched.join("\n");
        prop_assert_eq!(format(&text, &lines(&text), false).join("\n"), BLOCK.trim_end());
    }

    #[test]
    fn any_characters_are_read(text in "\\PC{0,60}") {
        let _ = parse(&text, &lines(&text), false);
        let _ = parse(&text, &lines(&text), true);
        let _ = gaugebook::syntax::parse_entry(&text);
        let _ = gaugebook::syntax::is_complete(&text);
    }
}
