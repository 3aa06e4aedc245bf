//! Editing a cell changes that cell's text and nothing else, byte for byte.

use super::open;

fn edited(text: &str, lines: &[&str]) -> String {
    let mut notebook = open(text);
    for line in lines {
        if let Err(refused) = notebook.enter_right(line) {
            panic!("{line} is refused: {:?}", refused.diagnostics);
        }
    }
    notebook.text()
}

#[test]
fn nothing_changes_where_nothing_was_edited() {
    for text in [
        "",
        "no cells\n",
        "```gaugebook\ntank = 60 gal\n",
        "\u{feff}# Shop\r\n\r\n```gaugebook\r\n\ttank  =  60 gal\t# plate\r\n```\r\n",
        "> ```gaugebook\n> tank = 60 gal\n> ```\n",
        "tank = 60 gal\nsome prose\n[code]\nhose = 3/8 in\n[/code]",
    ] {
        assert_eq!(open(text).text(), text);
        assert!(!open(text).is_edited());
    }
}

#[test]
fn a_cell_keeps_its_blanks_its_remark_and_the_line_ends_around_it() {
    let text = "\u{feff}# Shop\r\n\r\nProse.  \r\n```gaugebook\r\n\ttank   =  60 gal\t  # plate\r\n\tstart\t= 126 psig\r\n```\r\nmore\r\n";
    let wanted = text.replace("60 gal", "62 gal ± 1 gal");
    assert_eq!(edited(text, &["tank = 62 gal ± 1 gal"]), wanted);
    let wanted = text.replace("60 gal\t  # plate", "61 gal\t  # weighed");
    assert_eq!(edited(text, &["tank = 61 gal  # weighed"]), wanted);
}

#[test]
fn a_head_bracket_stays_unless_a_new_one_is_given() {
    let headed = |unit: &str, value: &str| format!("```gaugebook\ntank [{unit}] = {value}\n```\n");
    let text = headed("gal", "60 gal");
    assert_eq!(edited(&text, &["tank = 62 gal"]), headed("gal", "62 gal"));
    assert_eq!(edited(&text, &["tank [L] = 230 L"]), headed("L", "230 L"));
    let plain = "```gaugebook\ntank = 60 gal\n```\n";
    assert_eq!(edited(plain, &["tank [L] = 60 gal"]), headed("L", "60 gal"));
}

#[test]
fn a_cell_of_several_lines_in_a_quote_keeps_its_marks() {
    let text =
        "> ```gaugebook\r\n>   sum = (1 +\r\n>       2)  # both\r\n>   next = 4\r\n> ```\r\n";
    assert_eq!(
        edited(text, &["sum = 5"]),
        "> ```gaugebook\r\n>   sum = 5  # both\r\n>   next = 4\r\n> ```\r\n"
    );
    assert_eq!(
        edited(text, &["sum = (5 +\n    6)"]),
        "> ```gaugebook\r\n>   sum = (5 +\r\n>       6)  # both\r\n>   next = 4\r\n> ```\r\n"
    );
}

#[test]
fn a_table_typed_anew_stands_as_the_old_one_did() {
    let text = "- list\n\n  ```gaugebook\n  table guns\n      gun | bore [mm]\n      small | 2.4\n  after = 1\n  ```\n";
    let typed = "table guns\n    gun | bore [mm]\n    small | 2.6\n    large | 4";
    assert_eq!(
        edited(text, &[typed]),
        "- list\n\n  ```gaugebook\n  table guns\n      gun | bore [mm]\n      small | 2.6\n      large | 4\n  after = 1\n  ```\n"
    );
}

#[test]
fn new_statements_go_to_the_end_of_the_last_block() {
    let text =
        "```gaugebook\ntank = 60 gal\n```\nmiddle\n> ```gaugebook\n> hose = 3/8 in\n> ```\nend";
    assert_eq!(
        edited(
            text,
            &[
                "held = 55 s",
                "table guns\n    gun | bore [mm]\n    small | 2.4"
            ]
        ),
        "```gaugebook\ntank = 60 gal\n```\nmiddle\n> ```gaugebook\n> hose = 3/8 in\n> held = 55 s\n> table guns\n>     gun | bore [mm]\n>     small | 2.4\n> ```\nend"
    );
    assert_eq!(edited("only prose", &[]), "only prose");
}

#[test]
fn a_removed_cell_takes_its_lines_along_and_no_others() {
    let text = "```gaugebook\na = 1  # one\n\nb = (2 +\n  3)\nc = 4\n```\n";
    let mut notebook = open(text);
    notebook.remove("b").expect("b is there");
    assert_eq!(
        notebook.text(),
        "```gaugebook\na = 1  # one\n\nc = 4\n```\n"
    );
    notebook.undo().expect("a step back");
    assert_eq!(notebook.text(), text);
}

#[test]
fn a_cell_set_back_to_what_it_was_is_no_edit() {
    let text = "```gaugebook\ntank = 60 gal\n```\n";
    let mut notebook = open(text);
    notebook.enter_right("tank = 62 gal").expect("taken");
    assert!(notebook.is_edited());
    notebook.enter_right("tank = 60 gal").expect("taken");
    assert!(!notebook.is_edited());
    assert_eq!(notebook.text(), text);
}
