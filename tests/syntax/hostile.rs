//! Input that is meant to harm: each must give its message at once, without a deep stack.

use std::time::{Duration, Instant};

use gaugebook::source::Code;
use gaugebook::syntax::{StatementKind, format, is_complete, parse, parse_entry};

use super::support::{lines, statements};

/// The codes of the messages of one statement, and that it took no time to speak of.
fn codes(text: &str) -> Vec<Code> {
    let start = Instant::now();
    let read = statements(text);
    let spent = start.elapsed();
    assert!(spent < Duration::from_secs(5), "{spent:?}");
    read.iter()
        .flat_map(|statement| &statement.diagnostics)
        .map(|message| message.code)
        .collect()
}

#[test]
fn deep_nesting_is_refused_once() {
    for opening in [
        "(",
        "{",
        "f(",
        "-",
        "not ",
        "if ",
        "2^",
        "1 a/(",
        "1 a/(1 ",
        "x ± (",
        "solve x for (",
        "(solve x for ",
        "if a then ",
        "if a then b else ",
        "readings(",
        "f(x: ",
        "a + (",
        "! ",
    ] {
        let text = format!("x = {}1", opening.repeat(10_000));
        assert_eq!(codes(&text).last(), Some(&Code::TooDeep), "{opening}");
    }
}

#[test]
fn deep_nesting_that_is_closed_is_refused_too() {
    for (opening, closing) in [("(", ")"), ("{", "}"), ("f(", ")"), ("a[", "].b")] {
        let text = format!("x = {}1{}", opening.repeat(10_000), closing.repeat(10_000));
        assert_eq!(codes(&text), vec![Code::TooDeep], "{opening}");
    }
    let unit = format!("x [{}m{}] = 1 m", "(".repeat(10_000), ")".repeat(10_000));
    assert_eq!(codes(&unit), vec![Code::TooDeep]);
    let keys = format!("x = a{}", "[1].b".repeat(10_000));
    assert_eq!(codes(&keys), vec![Code::TooDeep]);
}

#[test]
fn sixty_brackets_are_read() {
    let text = format!("x = {}1{}", "(".repeat(60), ")".repeat(60));
    assert_eq!(codes(&text), vec![]);
}

#[test]
fn long_rows_of_operators_are_refused_once() {
    for piece in ["1 + ", "a * ", "a or ", "- 1 - ", "a.b + "] {
        let text = format!("x = {}1", piece.repeat(100_000));
        assert_eq!(codes(&text), vec![Code::TooDeep], "{piece}");
    }
    let members = format!("x = a{}", ".b".repeat(100_000));
    assert_eq!(codes(&members), vec![Code::TooDeep]);
    let fits = format!("x = {}1", "1 + ".repeat(200));
    assert_eq!(codes(&fits), vec![]);
}

#[test]
fn a_line_of_a_million_signs_is_read_quickly() {
    for piece in ["1 ", "a ", "(", "1,200", "a = ", "\"", "1 a/(b/("] {
        let text = format!("x = {}", piece.repeat(1_000_000 / piece.len()));
        assert!((1..=11).contains(&codes(&text).len()), "{piece}");
    }
}

#[test]
fn rows_of_one_thing_are_read_quickly() {
    for piece in [
        "1", "a", ")", "[", "]", "{", "₁", "½ ", "# ", "#6 ", "1:12", "–", "±", "1±", "1/2",
        "1/2 a ", "a/(", "a =", "a = 1, ", "1 a ", "$", "^2", "1^2", "², ", "per ", "1 per ", "𝛼",
        "\u{a0}", "\t", "|", "| ", ", ", "<", "a < ", "!", "1 a/b", "[a/(b", "f(a=", "' ", "5' ",
        "1\" ", "(95 %)", "1 ± 1 (",
    ] {
        for head in [
            "",
            "x = ",
            "x = 1 ",
            "check ",
            "formula f(",
            "table a\n    ",
        ] {
            let text = format!("{head}{}", piece.repeat(50_000 / piece.len()));
            let start = Instant::now();
            let read = statements(&text);
            let spent = start.elapsed();
            assert!(spent < Duration::from_secs(3), "{head}{piece} {spent:?}");
            let messages = read.iter().map(|one| one.diagnostics.len()).max();
            assert!(messages <= Some(50), "{head}{piece}");
        }
    }
}

#[test]
fn a_column_of_a_hundred_thousand_numbers_is_read() {
    let text = format!("x = {{{}1}} mm", "2.5, ".repeat(100_000));
    assert_eq!(codes(&text), vec![]);
}

#[test]
fn many_broken_lines_are_broken_each_on_its_own() {
    let text = "x = (3 +\n".repeat(20_000);
    let read = statements(&text);
    assert_eq!(read.len(), 20_000);
    assert!(
        read.iter()
            .all(|one| matches!(one.kind, StatementKind::Broken(Some(_))))
    );
}

#[test]
fn hostile_entries_and_formats_end() {
    for text in [
        "(",
        "formula f(",
        "table",
        "\"",
        "x = (((\n(((",
        "\n\n",
        "trace a over 3 s\n\n",
    ] {
        parse_entry(text);
        is_complete(text);
        format(text, &lines(text), true);
    }
    let spans = [
        gaugebook::source::Span { start: 3, end: 2 },
        gaugebook::source::Span { start: 1, end: 900 },
    ];
    assert_eq!(parse("x = é", &spans, false), vec![]);
}
