//! Files that cannot be read each have their words.

use super::folder::Folder;
use gaugebook::files::{read, read_document};
use gaugebook::source::MOST_BYTES;

fn refusal(path: &std::path::Path) -> (String, String, Vec<String>) {
    let refusal = *read_document(path).expect_err("it cannot be read");
    let repairs = refusal.repairs.into_iter().map(|repair| repair.text);
    (refusal.message, refusal.expected, repairs.collect())
}

#[test]
fn a_folder_is_no_notebook() {
    let folder = Folder::new();
    let (message, expected, _) = refusal(folder.path());
    assert_eq!(message, format!("{} is a folder", folder.path().display()));
    assert_eq!(
        expected,
        "a notebook in it, with its name behind the folder's"
    );
}

#[test]
fn a_missing_file_is_named_with_the_nearest_that_is_there() {
    let folder = Folder::new();
    folder.write("compressor.md", "x");
    folder.write("gun.md", "x");
    let (message, _, repairs) = refusal(&folder.file("compresor.md"));
    assert_eq!(
        message,
        format!("there is no file {}", folder.file("compresor.md").display())
    );
    assert_eq!(
        repairs,
        [folder.file("compressor.md").display().to_string()]
    );
    let (_, _, repairs) = refusal(&folder.file("gun"));
    assert_eq!(repairs, [folder.file("gun.md").display().to_string()]);
    let (_, expected, repairs) = refusal(&folder.file("nowhere/gun.md"));
    assert_eq!(
        expected,
        format!(
            "a folder that exists: {} does not",
            folder.file("nowhere").display()
        )
    );
    assert!(repairs.is_empty());
}

#[test]
fn what_is_not_utf_8_is_refused_with_its_place() {
    let folder = Folder::new();
    let path = folder.write("latin.md", b"tank = 60 gal \xb1 1 gal\n");
    let (message, expected, _) = refusal(&path);
    let told = "this file is not UTF-8 text: no character at line 1, column 15";
    assert_eq!(message, format!("{}: {told}", path.display()));
    assert_eq!(expected, "a text file saved as UTF-8");
}

#[test]
fn a_file_that_is_too_large_is_not_read_into_memory() {
    let folder = Folder::new();
    let path = folder.write("large.md", "");
    let file = std::fs::OpenOptions::new()
        .write(true)
        .open(&path)
        .expect("the file opens");
    // A hole: it takes no room on the disk.
    file.set_len(100_000_000_000).expect("a long file");
    let (message, expected, _) = refusal(&path);
    assert_eq!(message, format!("{} is 100000 MB long", path.display()));
    assert_eq!(expected, format!("at most {} MB", MOST_BYTES / 1_000_000));
}

#[test]
#[cfg(target_os = "linux")]
fn a_device_that_never_ends_is_refused_too() {
    let refused = read(std::path::Path::new("/dev/zero")).expect_err("too long");
    assert_eq!(refused.message, "/dev/zero is too long");
}

#[test]
fn one_document_has_one_name_however_it_is_reached() {
    use gaugebook::notebook::Files;
    let folder = Folder::new();
    std::fs::create_dir(folder.file("shop")).expect("a folder");
    let gun = folder.write("gun.md", "");
    folder.write("shop/tank.md", "");
    let beside = gaugebook::files::Beside::new(&gun.display().to_string());
    let (tank, _) = beside
        .read("shop/../shop/./tank.md", &gun.display().to_string())
        .expect("tank.md");
    assert_eq!(tank, folder.file("shop/tank.md").display().to_string());
    let (back, _) = beside.read("../gun.md", &tank).expect("gun.md");
    assert_eq!(back, gun.display().to_string());
}
