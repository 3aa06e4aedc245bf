//! Documents without fences. The post is laid out as boards show it; its shop is invented.

use gaugebook::source::{Document, Piece};

fn lines(document: &Document) -> Vec<&str> {
    let [block] = document.blocks() else {
        panic!("one block was expected");
    };
    assert!(block.loose);
    block
        .lines
        .iter()
        .map(|line| line.of(document.text()))
        .collect()
}

fn read(text: &str) -> Document {
    Document::new(text.to_owned())
}

const POST: &str = "\
[b]How long can I blast?[/b] [i]Invented shop.[/i]
[code]
tank = 44 gal ± 0.5 gal  # with pipework

check blast >= 6 min  \"one panel takes six minutes\"
[/code]
[b]Comes out[/b] (± at 95 %) [code]
blast   6.5  ± 1.1   min
[/code]
[i]Caution: stay under its plate pressure.[/i]
";

#[test]
fn a_post_loses_its_tags_and_keeps_its_lines() {
    let document = read(POST);
    assert_eq!(
        lines(&document),
        [
            "How long can I blast?[/b] [i]Invented shop.",
            "tank = 44 gal ± 0.5 gal  # with pipework",
            "",
            "check blast >= 6 min  \"one panel takes six minutes\"",
            "Comes out[/b] (± at 95 %) ",
            "blast   6.5  ± 1.1   min",
            "Caution: stay under its plate pressure.",
        ]
    );
    assert_eq!(document.pieces(), [Piece::Block(0)]);
    assert_eq!(document.diagnostics(), []);
    assert_eq!(document.title(), None);
}

#[test]
fn a_new_line_goes_into_the_code_of_a_post() {
    let document = read(POST);
    let (at, inserted) = document.insertion("wait = 3 min");
    assert_eq!(inserted, "wait = 3 min\n");
    assert!(document.text()[..at].ends_with("six minutes\"\n"));
    assert!(document.text()[at..].starts_with("[/code]\n[b]Comes out"));
    assert_eq!(read("").insertion("a = 1"), (0, "a = 1\n".to_owned()));
    assert_eq!(
        read("a = 1").insertion("b = 2"),
        (5, "\nb = 2\n".to_owned())
    );
    assert_eq!(
        read("> a = 1\n\n").insertion("b = 2"),
        (9, "> b = 2\n".to_owned())
    );
}

#[test]
fn quotes_and_tags_come_off_a_line() {
    for (line, wanted) in [
        ("> a = 1", "a = 1"),
        (">a = 1", "a = 1"),
        ("> > a = 1", "a = 1"),
        (">> a = 1", "a = 1"),
        (">   a = 1", "  a = 1"),
        ("    > b", "    > b"),
        ("[code]a = 1[/code]", "a = 1"),
        ("> [CODE]a = 1 [/CODE]", "a = 1 "),
        ("[quote=Sam][code] a = 1", " a = 1"),
        ("a [L/min] = b [s]", "a [L/min] = b [s]"),
        ("    [L/min]", "    [L/min]"),
        ("a = b [b]", "a = b [b]"),
        ("a = b[/b]", "a = b"),
    ] {
        assert_eq!(lines(&read(&format!("{line}\n"))), [wanted], "{line:?}");
    }
}

#[test]
fn lines_of_nothing_but_tags_are_left_out() {
    assert_eq!(lines(&read("[code]\r\na = 1\r\n[/code]\r\n")), ["a = 1"]);
    assert_eq!(
        lines(&read(
            "> [quote=\"Sam\"] [code]\n> a = 1\n> [/code][/quote]"
        )),
        ["a = 1"]
    );
    assert_eq!(lines(&read("")), [""; 0]);
    assert_eq!(lines(&read("\n\n")), ["", ""]);
}

#[test]
fn a_rule_under_statements_makes_no_heading() {
    let document = read("# Shop\n\ntank = 60 gal\n-----\nduty = 2\n====\n");
    assert_eq!(document.headings().len(), 1);
    assert_eq!(document.title(), Some("Shop"));
    assert_eq!(document.heading_at(0), Some(0));
    assert_eq!(read("a\n").heading_at(1), None);
    let quoted = read("> ## The *long* gun\n>\n> a = 1\n#no\n    # no\n");
    let [heading] = quoted.headings() else {
        panic!("one heading was expected");
    };
    assert_eq!((heading.level, heading.text.as_str()), (2, "The long gun"));
    assert_eq!(heading.span.of(quoted.text()), "## The *long* gun");
}
