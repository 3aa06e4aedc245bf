//! Every verb with its exit status.

use super::{QUIET, SHOP, call, call_with};
use crate::files::folder::Folder;

#[test]
fn run_prints_the_report_and_tells_by_its_status_whether_all_is_well() {
    let folder = Folder::new();
    folder.write("quiet.md", QUIET);
    folder.write("shop.md", SHOP);
    let run = call(&folder, &["run", "quiet.md"]);
    assert_eq!((run.status, run.err.as_str()), (Some(0), ""));
    assert!(run.out.contains("half"), "{}", run.out);
    let run = call(&folder, &["run", "shop.md"]);
    assert_eq!((run.status, run.err.as_str()), (Some(1), ""));
    assert!(run.out.starts_with("An invented shop\n"), "{}", run.out);
    assert!(run.out.contains("the tank fills too fast"), "{}", run.out);
}

#[test]
fn run_reads_what_is_piped_in() {
    let folder = Folder::new();
    let run = call_with(
        &folder,
        &["run", "-"],
        "A post.\ntank = 60 gal\nhalf = tank / 2\n",
    );
    assert_eq!((run.status, run.err.as_str()), (Some(0), ""));
    assert!(run.out.contains("30 "), "{}", run.out);
}

#[test]
fn run_with_set_works_with_another_value_and_leaves_the_file() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    let run = call(
        &folder,
        &[
            "run",
            "shop.md",
            "--set",
            "held=100 s",
            "--set",
            "tank = 80 gal",
        ],
    );
    assert_eq!(run.status, Some(0), "{run:?}");
    assert!(run.out.contains("48 "), "{}", run.out);
    assert_eq!(folder.read("shop.md"), SHOP);
    // A default of the handbook can be set as well as a cell.
    let run = call(
        &folder,
        &["run", "shop.md", "--set", "atmosphere=12.2 psia"],
    );
    assert_eq!(run.status, Some(1), "{run:?}");
}

#[test]
fn set_of_an_unknown_cell_is_wrong_usage() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    let run = call(&folder, &["run", "shop.md", "--set", "tnak=80 gal"]);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert_eq!(
        run.err,
        "error: no cell is called tnak (unknown-name)\n  | tnak = 80 gal\n  | ^^^^\n  repair    tank\n"
    );
    let run = call(&folder, &["run", "shop.md", "--set", "tank"]);
    assert_eq!((run.status, run.out.as_str()), (Some(2), ""));
    assert!(
        run.err.starts_with("error: this sets nothing"),
        "{}",
        run.err
    );
}

#[test]
fn set_of_a_value_that_does_not_fit_says_so() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    let run = call(&folder, &["run", "shop.md", "--set", "tank=80 psi"]);
    assert_eq!((run.status, run.out.as_str()), (Some(1), ""));
    assert_eq!(
        run.err,
        "error: this does not fit tank, which is room in a vessel (dimension)\n  | tank = 80 psi\n  |        ^^^^^^ a difference between two pressures\n  expected  a value like 60 ± 1 gal\n"
    );
    let run = call(&folder, &["run", "shop.md", "--set", "tank=(80 gal"]);
    assert_eq!((run.status, run.out.as_str()), (Some(1), ""));
    assert!(run.err.starts_with("error: "), "{}", run.err);
    // A value that begins with a minus is a value, not an option.
    let run = call(&folder, &["run", "shop.md", "--set", "-3=4"]);
    assert_eq!(run.status, Some(2), "{run:?}");
    assert!(run.err.contains("no cell is called -3"), "{}", run.err);
}

#[test]
fn run_json_is_one_object_and_nothing_else() {
    let folder = Folder::new();
    folder.write("shop.md", SHOP);
    let run = call(&folder, &["run", "--json", "shop.md"]);
    assert_eq!((run.status, run.err.as_str()), (Some(1), ""));
    let json: serde_json::Value = serde_json::from_str(&run.out).expect("JSON");
    assert_eq!(json["title"], "An invented shop");
    assert_eq!(json["checks"][1]["outcome"], "fails");
}

#[test]
fn check_is_silent_where_all_is_well_and_names_what_fails() {
    let folder = Folder::new();
    folder.write("quiet.md", QUIET);
    folder.write("shop.md", SHOP);
    folder.write("bad.md", "```gaugebook\nx = 1 gal + 1 s\n```\n");
    let check = call(&folder, &["check", "quiet.md"]);
    assert_eq!(
        (check.status, check.out.as_str(), check.err.as_str()),
        (Some(0), "", "")
    );
    let check = call(&folder, &["check", "quiet.md", "shop.md"]);
    assert_eq!((check.status, check.err.as_str()), (Some(1), ""));
    assert!(check.out.starts_with("shop.md:8: fails"), "{}", check.out);
    assert!(check.out.contains("held >= 90 s"), "{}", check.out);
    let check = call(&folder, &["check", "bad.md", "nowhere.md"]);
    assert_eq!((check.status, check.out.as_str()), (Some(2), ""));
    assert!(
        check.err.starts_with("bad.md:2:5: error: "),
        "{}",
        check.err
    );
    assert!(
        check
            .err
            .contains("error: there is no file nowhere.md (file)\n"),
        "{}",
        check.err
    );
}

#[test]
fn test_prints_the_examples_that_do_not_hold() {
    let folder = Folder::new();
    folder.write(
        "good.md",
        "```gaugebook\nexample 1 gal + 1 gal gives 2 gal\n```\n",
    );
    folder.write(
        "bad.md",
        "```gaugebook\nexample 1 gal + 1 gal gives 2 gal\nexample 60 gal / 2 gives 31 gal\nexample 1 gal + 1 s gives 2 gal\n```\n",
    );
    let test = call(&folder, &["test", "good.md"]);
    assert_eq!(
        (test.status, test.out.as_str(), test.err.as_str()),
        (Some(0), "", "")
    );
    let test = call(&folder, &["test", "good.md", "bad.md"]);
    assert_eq!(test.status, Some(1), "{test:?}");
    assert!(
        test.out
            .starts_with("bad.md:3: example 60 gal / 2 gives 31 gal\n  found     30"),
        "{}",
        test.out
    );
    assert!(
        test.out.ends_with("bad.md: 2 of 3 examples do not hold\n"),
        "{}",
        test.out
    );
    let test = call(&folder, &["test", "-"]);
    assert_eq!((test.status, test.out.as_str()), (Some(0), ""));
    assert_eq!(test.err, "note: standard input has no examples\n");
}

#[test]
fn format_replaces_only_what_differs_and_check_only_names_it() {
    let folder = Folder::new();
    let rough = "Prose  stays.\r\n\r\n```gaugebook\r\ntank=60gal   # plate\r\n```\r\n";
    let fine = "Prose  stays.\r\n\r\n```gaugebook\r\ntank = 60 gal  # plate\r\n```\r\n";
    folder.write("rough.md", rough);
    folder.write("fine.md", fine);
    let format = call(&folder, &["format", "--check", "rough.md", "fine.md"]);
    assert_eq!(
        (format.status, format.out.as_str()),
        (Some(1), "rough.md\n")
    );
    assert_eq!(folder.read("rough.md"), rough);
    let format = call_with(&folder, &["format", "-"], rough);
    assert_eq!((format.status, format.out.as_str()), (Some(0), fine));
    let format = call(&folder, &["format", "rough.md", "fine.md"]);
    assert_eq!(
        (format.status, format.out.as_str(), format.err.as_str()),
        (Some(0), "", "")
    );
    assert_eq!(folder.read("rough.md"), fine);
    assert_eq!(folder.read("fine.md"), fine);
    let format = call(&folder, &["format", "--check", "rough.md", "fine.md"]);
    assert_eq!((format.status, format.out.as_str()), (Some(0), ""));
}

#[test]
fn library_lists_the_handbook_and_looks_words_up() {
    let folder = Folder::new();
    let library = call(&folder, &["library"]);
    assert_eq!((library.status, library.err.as_str()), (Some(0), ""));
    assert!(library.out.contains("bleed_down"), "{}", library.out);
    for (word, found) in [
        ("tank-tests", "Tank tests"),
        ("bleed_down", "stop < start"),
        ("psi", "pound per square inch"),
        ("leak", "leak_rate"),
        ("unknown-name", "No cell or formula has this name"),
    ] {
        let library = call(&folder, &["library", word]);
        assert_eq!(
            (library.status, library.err.as_str()),
            (Some(0), ""),
            "{word}"
        );
        assert!(library.out.contains(found), "{word}: {}", library.out);
    }
    let library = call(&folder, &["library", "xxxxxxxxxxxx"]);
    assert_eq!((library.status, library.out.as_str()), (Some(2), ""));
    assert!(library.err.contains("xxxxxxxxxxxx"), "{}", library.err);
}

#[test]
fn completions_are_made_for_each_shell() {
    let folder = Folder::new();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let completions = call(&folder, &["completions", shell]);
        assert_eq!(
            (completions.status, completions.err.as_str()),
            (Some(0), ""),
            "{shell}"
        );
        for verb in gaugebook::cli::verb::VERBS {
            assert!(completions.out.contains(verb.name), "{shell} {}", verb.name);
        }
    }
}

#[test]
fn help_is_there_for_the_program_and_for_every_verb() {
    let folder = Folder::new();
    let help = call(&folder, &["--help"]);
    assert_eq!((help.status, help.err.as_str()), (Some(0), ""));
    for verb in gaugebook::cli::verb::VERBS {
        assert!(
            help.out.contains(&format!("\n  {} ", verb.name)),
            "{}",
            help.out
        );
        let own = call(&folder, &[verb.name, "--help"]);
        assert_eq!(
            (own.status, own.err.as_str()),
            (Some(0), ""),
            "{}",
            verb.name
        );
        assert!(own.out.contains("Examples:\n  gaugebook "), "{}", own.out);
        for argument in verb.arguments {
            assert!(
                own.out.contains(argument.about),
                "{} {}",
                verb.name,
                argument.name
            );
        }
    }
    assert!(help.out.contains("Exit status: 0"), "{}", help.out);
    let version = call(&folder, &["--version"]);
    assert_eq!(
        (version.status, version.out.as_str()),
        (Some(0), "gaugebook 0.1.0\n")
    );
}

#[test]
fn wrong_usage_has_status_two_and_says_what_is_meant() {
    let folder = Folder::new();
    folder.write("gun.md", QUIET);
    for (words, said) in [
        (
            vec!["rnu", "gun.md"],
            "error: no verb is called rnu\n  repair    gaugebook run\n",
        ),
        (
            vec!["gun.md"],
            "error: no verb is called gun.md\n  repair    gaugebook run gun.md\n",
        ),
        (vec!["run"], "error: "),
        (vec!["run", "gun.md", "--width", "30"], "error: "),
        (vec!["run", "gun.md", "--widht", "60"], "error: "),
        (vec!["completions", "csh"], "error: "),
        (vec!["run", "gun.md", "other.md"], "error: "),
    ] {
        let called = call(&folder, &words);
        assert_eq!(
            (called.status, called.out.as_str()),
            (Some(2), ""),
            "{words:?}"
        );
        assert!(called.err.starts_with(said), "{words:?}: {}", called.err);
    }
}

#[test]
#[cfg(unix)]
fn names_that_are_no_utf_8_are_files_all_the_same() {
    use std::os::unix::ffi::OsStrExt;
    let folder = Folder::new();
    let name = std::ffi::OsStr::from_bytes(b"gun-\xff.md");
    std::fs::write(folder.path().join(name), QUIET).expect("written");
    let run = super::called(super::program(folder.path()).arg("run").arg(name), b"");
    assert_eq!((run.status, run.err.as_str()), (Some(0), ""));
}
