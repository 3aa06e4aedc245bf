//! `gaugebook export`: each kind on the output, in a file, tables in a folder, and what is refused.

use super::{call, call_with};
use crate::files::folder::Folder;
use gaugebook::export::KINDS;

const GUN: &str = "# A gun\n\n```gaugebook\nbore = 3 mm ± 0.1 mm\narea = pi / 4 * bore^2\ntable runs\n    run | held [s]\n    one | 40\n    two | 42.5\nsweep bore over {2, 3} mm show area\n```\n";

#[test]
fn every_kind_goes_to_the_output_or_to_a_file() {
    let folder = Folder::new();
    folder.write("gun.md", GUN);
    for kind in KINDS.iter().filter(|kind| kind.name != "csv") {
        let shown = call(&folder, &["export", "gun.md", "--as", kind.name]);
        assert_eq!(
            (shown.status, shown.err.as_str()),
            (Some(0), ""),
            "{}",
            kind.name
        );
        assert!(
            shown.out.ends_with('\n') || kind.ending == "html",
            "{}",
            kind.name
        );
        assert!(shown.out.contains("area"), "{}", kind.name);
        let output = format!("out.{}", kind.ending);
        let written = call(
            &folder,
            &["export", "gun.md", "--as", kind.name, "-o", &output],
        );
        assert_eq!(
            (written.status, written.out.as_str(), written.err.as_str()),
            (Some(0), "", "")
        );
        assert_eq!(folder.read(&output), shown.out, "{}", kind.name);
    }
    let piped = call_with(&folder, &["export", "-", "--as", "post"], GUN);
    assert!(piped.out.starts_with("[b]A gun[/b]"), "{}", piped.out);
}

#[test]
fn tables_go_into_a_folder_or_one_to_the_output() {
    let folder = Folder::new();
    folder.write("gun.md", GUN);
    let one = call(
        &folder,
        &["export", "gun.md", "--as", "csv", "--table", "runs"],
    );
    assert_eq!(
        (one.status, one.out.as_str()),
        (Some(0), "run,held [s]\none,40\ntwo,42.5\n")
    );
    let all = call(
        &folder,
        &["export", "gun.md", "--as", "csv", "-o", "tables/gun"],
    );
    assert_eq!(
        (all.status, all.out.as_str(), all.err.as_str()),
        (Some(0), "", "")
    );
    assert_eq!(folder.read("tables/gun/runs.csv"), one.out);
    let sweep = folder.read("tables/gun/study_1.csv");
    assert!(
        sweep.starts_with("bore [mm],area [mm²]\n2,3.14159265358979\n"),
        "{sweep}"
    );
    let cells = folder.read("tables/gun/cells.csv");
    assert!(
        cells.starts_with("section,name,kind,value,expanded,unit\n,bore,given,3,0.1,mm\n"),
        "{cells}"
    );
    // And back.
    folder.write(
        "back.md",
        "```gaugebook\ntable log from \"tables/gun/runs.csv\"\nlong = max(log.held)\n```\n",
    );
    let back = call(&folder, &["run", "back.md"]);
    assert!(
        back.out.contains("long") && back.out.contains("42.5"),
        "{}{}",
        back.out,
        back.err
    );
}

#[test]
fn what_cannot_be_exported_is_said() {
    let folder = Folder::new();
    folder.write("gun.md", GUN);
    let cases: [(&[&str], i32, &str); 6] = [
        (
            &["export", "gun.md", "--as", "csv"],
            2,
            "error: several tables and one output (argument)\n  expected  --table and one of cells, runs, study_1; or -o and a folder for all\n            of them\n",
        ),
        (
            &["export", "gun.md", "--as", "csv", "--table", "run"],
            2,
            "error: no table is called run (argument)\n  repair    --table runs\n",
        ),
        (
            &["export", "gun.md", "--as", "csv", "--table", "elsewhere"],
            2,
            "error: no table is called elsewhere (argument)\n  expected  one of cells, runs, study_1\n",
        ),
        (
            &["export", "nowhere.md", "--as", "post"],
            2,
            "error: there is no file nowhere.md (file)",
        ),
        (
            &["export", "gun.md", "--as", "post", "-o", "nowhere/gun.txt"],
            2,
            "error: nowhere/gun.txt cannot be saved: its folder is not there",
        ),
        (
            &["export", "gun.md", "--as", "pamphlet"],
            2,
            "error: invalid value 'pamphlet' for '--as <kind>'",
        ),
    ];
    for (words, status, said) in cases {
        let called = call(&folder, words);
        assert_eq!(called.status, Some(status), "{words:?}");
        assert!(called.err.starts_with(said), "{words:?}: {}", called.err);
        assert_eq!(called.out, "");
    }
    // A notebook with a mistake is exported all the same; the mistake is not hidden.
    folder.write(
        "broken.md",
        "```gaugebook\ntank = 60 gal\nhalf = tnak / 2\nbudget tank\n```\n",
    );
    let broken = call(
        &folder,
        &["export", "broken.md", "--as", "page", "-o", "broken.html"],
    );
    assert_eq!(broken.status, Some(1));
    assert_eq!(
        broken.err,
        "broken.md:4: warning: not on the page: `budget tank`, it is worked out in the program\n\
         broken.md: 1 error: `gaugebook check` tells where\n"
    );
    assert!(
        folder
            .read("broken.html")
            .contains("Not on this page, but in the notebook:")
    );
}
