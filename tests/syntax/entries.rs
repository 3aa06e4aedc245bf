//! What is typed line by line, and what stands in prose without fences.

use gaugebook::syntax::{is_complete, parse, parse_entry, print_statement};

use super::support::{lines, message_text};

#[test]
fn an_entry_is_complete_when_nothing_is_open() {
    for (entry, complete) in [
        ("tank = 60 gal", true),
        ("", true),
        ("x = f(3", false),
        ("x = f(3\n4)", true),
        ("x = \"abc", false),
        ("x = \"abc\n  def\"", true),
        ("x = )", true),
        ("formula f(x)", false),
        ("formula f(x,", false),
        ("formula f(x)\n    y = 2 * x", false),
        ("formula f(x)\n    source \"a\"", false),
        ("formula f(x)\n    x * (2", false),
        ("formula f(x)\n    x * 2", true),
        ("formula f(x)\nx * 2", true),
        ("formula f(x)\n    y = 2 * x\n", true),
        ("formula = 3", true),
        ("table guns", false),
        ("table guns\n    gun | bore [mm]", false),
        ("table guns\n    gun | bore [mm]\n", true),
        ("table guns from \"a.csv\"", true),
        ("trace m over 3 s", false),
        ("trace m over 3 s\n    stop when p < 3 psig\n\n", true),
    ] {
        assert_eq!(is_complete(entry), complete, "{entry:?}");
    }
}

fn entry(text: &str) -> String {
    let statement = parse_entry(text);
    let mut out = print_statement(&statement, text);
    for message in &statement.diagnostics {
        out.push('\n');
        out.push_str(message_text(message, text).trim_end());
    }
    out
}

#[test]
fn an_entry_is_a_statement_or_an_expression() {
    assert_eq!(entry("tank = 60 gal # big"), "tank = 60 gal  # big");
    assert_eq!(entry("  draw with bore=3 mm"), "draw with bore = 3 mm");
    assert_eq!(entry("formula f(x)\r\nx*2\r\n"), "formula f(x)\n    x * 2");
    assert_eq!(
        entry("a = 3\nb = 4"),
        "a = 3\nerror syntax ‹b = 4›: a second statement in one entry\n  expected  one at a time"
    );
    assert_eq!(
        entry(" "),
        "\nerror syntax ‹›: nothing was typed\n  expected  a statement or an expression"
    );
}

#[test]
fn prose_without_fences_holds_statements_that_look_like_some() {
    let post = "\
I have a tank question. Check the valve first!
check the valve first
use a good hose, unit prices are high
table of contents
tank = 60 gal
  and this is indented prose
draw [cfm free] = 16 cfm
check draw <= 16 cfm  \"too much\"

The formula is simple = not a cell
formula half(x)
    x / 2
    x / 3

budget draw
budget for the year
fit as a fiddle
plot twist
use \"shop.md\"
default currency = \"CAD\"
unit bag = 50 lb
trace of dust
x = (3 +

  more prose)
";
    let read = parse(post, &lines(post), true);
    let told: Vec<String> = read
        .iter()
        .map(|statement| print_statement(statement, post).replace('\n', " ~ "))
        .collect();
    assert_eq!(
        told,
        [
            "tank = 60 gal and ?",
            "draw [cfm free] = 16 cfm",
            "check draw <= 16 cfm \"too much\"",
            "formula half(x) ~     x / 3",
            "budget draw",
            "use \"shop.md\"",
            "default currency = \"CAD\"",
            "unit bag = 50 lb",
            "x = (3 +",
        ]
    );
}
