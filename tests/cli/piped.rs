//! The shell with its lines from a pipe.

use super::{SHOP, call_with, called, program};
use crate::files::folder::Folder;

#[test]
fn answers_come_one_by_one_and_a_bad_line_does_not_stop_the_rest() {
    let folder = Folder::new();
    let shell = call_with(
        &folder,
        &[],
        "tank = 60 gal ± 1 gal\nheld = 55 s\n\n# a remark\nbad)\ntank / held [gal/min]\n2 + 3\n",
    );
    assert_eq!(shell.status, Some(1));
    assert!(
        shell
            .out
            .starts_with("  tank is 60 ± 1 gal\n  held is 55 s\n  65.5"),
        "{}",
        shell.out
    );
    assert!(shell.out.ends_with("\n  5\n"), "{}", shell.out);
    assert!(shell.err.starts_with("standard input:5:"), "{}", shell.err);
    let shell = call_with(&folder, &[], "2 + 3\n");
    assert_eq!(
        (shell.status, shell.out.as_str(), shell.err.as_str()),
        (Some(0), "  5\n", "")
    );
}

#[test]
fn entries_of_several_lines_end_where_a_reader_would_end_them() {
    let folder = Folder::new();
    let input = "x = (1 +\n  2)\ntable guns\n    gun | bore [mm]\n    small | 2.4\n    large | 4\nformula twice(a)\n    2 * a\ntwice(x)\nmax(guns.bore)";
    let shell = call_with(&folder, &[], input);
    assert_eq!(
        (shell.status, shell.err.as_str()),
        (Some(0), ""),
        "{shell:?}"
    );
    assert!(shell.out.starts_with("  x is 3\n"), "{}", shell.out);
    assert!(shell.out.ends_with("  6\n  4 mm\n"), "{}", shell.out);
}

#[test]
fn an_entry_that_is_not_finished_at_the_end_is_reported() {
    let folder = Folder::new();
    let shell = call_with(&folder, &[], "x = (1 +\n");
    assert_eq!((shell.status, shell.out.as_str()), (Some(1), ""));
    assert!(shell.err.starts_with("standard input:1:"), "{}", shell.err);
}

#[test]
fn lines_that_are_no_text_are_named_and_passed_over() {
    let folder = Folder::new();
    let shell = call_with(&folder, &[], b"x = 1\n\xff\xfe = 2\r\ny = x + 1\r\n");
    assert_eq!(
        (shell.status, shell.out.as_str()),
        (Some(1), "  x is 1\n  y is 2\n")
    );
    assert!(
        shell
            .err
            .starts_with("standard input:2:1: error: this line is not UTF-8 text (encoding)\n"),
        "{}",
        shell.err
    );
}

#[test]
fn a_notebook_can_be_opened_changed_and_saved() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    let shell = call_with(
        &folder,
        &[],
        "open shop.md\ntank = 62 gal ± 1 gal\nsave\nquit\nnever read\n",
    );
    assert_eq!(
        (shell.status, shell.err.as_str()),
        (Some(0), ""),
        "{shell:?}"
    );
    assert_eq!(folder.read("shop.md"), SHOP.replace("60 gal", "62 gal"));
    assert!(shell.out.contains("saved; 1 line of shop.md differs, the other 8 are untouched\n  line 4   was  tank  = 60 gal ± 1 gal  # plate\n           now  tank  = 62 gal ± 1 gal  # plate\n"), "{}", shell.out);
    // Nothing is kept or offered for lines that stand in a script.
    assert_eq!(folder.names(), ["shop.md"]);
}

#[test]
fn what_a_script_forgot_to_save_is_said() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    let shell = call_with(&folder, &[], "open shop.md\ntank = 62 gal\n");
    assert_eq!(shell.status, Some(0));
    assert_eq!(
        shell.err,
        "warning: shop.md is as it was: nothing was saved (file)\n  repair    save   before the input ends\n"
    );
    assert_eq!(folder.read("shop.md"), SHOP);
}

#[test]
fn without_utf_8_answers_are_ascii() {
    let folder = Folder::new();
    let mut command = program(folder.path());
    let shell = called(
        command.env("LC_ALL", "C"),
        "tank = 60 gal ± 1 gal\nair = 20 °C\nbad ± )\n".as_bytes(),
    );
    assert!(shell.out.is_ascii() && shell.err.is_ascii(), "{shell:?}");
    assert!(
        shell
            .out
            .starts_with("  tank is 60 +/- 1 gal\n  air is 20 degC\n"),
        "{}",
        shell.out
    );
}
