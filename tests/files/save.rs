//! Saving replaces the text of a file and nothing else, or leaves it as it was.

use super::folder::Folder;
use gaugebook::files::save;
use std::fs;
use std::path::Path;

fn refused(path: &Path) -> String {
    save(path, b"new").expect_err("it cannot be saved").message
}

#[test]
fn a_text_takes_the_place_of_the_old_one_and_leaves_nothing_beside_it() {
    let folder = Folder::new();
    let path = folder.write("gun.md", "old and longer");
    save(&path, "new ±\r\n".as_bytes()).expect("saved");
    assert_eq!(folder.read("gun.md"), "new ±\r\n");
    assert_eq!(folder.names(), ["gun.md"]);
    save(&folder.file("fresh.md"), b"x").expect("saved");
    assert_eq!(folder.read("fresh.md"), "x");
}

#[test]
#[cfg(unix)]
fn rights_stay_as_they_were_and_new_files_get_the_usual_ones() {
    use std::os::unix::fs::PermissionsExt;
    let folder = Folder::new();
    let path = folder.write("gun.md", "old");
    let mode = |path: &Path| {
        fs::metadata(path)
            .expect("it is there")
            .permissions()
            .mode()
            & 0o777
    };
    fs::set_permissions(&path, fs::Permissions::from_mode(0o640)).expect("set");
    save(&path, b"new").expect("saved");
    assert_eq!(mode(&path), 0o640);
    let fresh = folder.file("fresh.md");
    save(&fresh, b"new").expect("saved");
    let usual = folder.write("usual.md", "x");
    assert_eq!(mode(&fresh), mode(&usual));
}

#[test]
#[cfg(unix)]
fn a_symbolic_link_stays_a_link() {
    let folder = Folder::new();
    folder.write("real.md", "old");
    std::os::unix::fs::symlink("real.md", folder.file("middle.md")).expect("a link");
    let link = folder.file("link.md");
    std::os::unix::fs::symlink(folder.file("middle.md"), &link).expect("a link");
    save(&link, b"new").expect("saved");
    assert_eq!(folder.read("real.md"), "new");
    assert!(
        fs::symlink_metadata(&link)
            .expect("there")
            .file_type()
            .is_symlink()
    );
    assert!(
        fs::symlink_metadata(folder.file("middle.md"))
            .expect("there")
            .file_type()
            .is_symlink()
    );
    let dangling = folder.file("dangling.md");
    std::os::unix::fs::symlink("not-yet.md", &dangling).expect("a link");
    save(&dangling, b"made").expect("saved");
    assert_eq!(folder.read("not-yet.md"), "made");
    let circle = folder.file("circle.md");
    std::os::unix::fs::symlink("circle.md", &circle).expect("a link");
    assert!(refused(&circle).ends_with("its links go in a circle"));
}

#[test]
fn a_write_protected_file_is_left_alone() {
    let folder = Folder::new();
    let path = folder.write("plate.md", "old");
    let mut rights = fs::metadata(&path).expect("there").permissions();
    rights.set_readonly(true);
    fs::set_permissions(&path, rights).expect("set");
    assert_eq!(
        refused(&path),
        format!("{} cannot be saved: it is write-protected", path.display())
    );
    assert_eq!(folder.read("plate.md"), "old");
    assert_eq!(folder.names(), ["plate.md"]);
}

#[test]
fn folders_and_missing_folders_have_their_words() {
    let folder = Folder::new();
    assert_eq!(
        refused(folder.path()),
        format!("{} is a folder", folder.path().display())
    );
    let path = folder.file("nowhere/gun.md");
    assert_eq!(
        refused(&path),
        format!(
            "{} cannot be saved: its folder is not there",
            path.display()
        )
    );
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_disk_is_said_in_words() {
    assert_eq!(
        refused(Path::new("/dev/full")),
        "/dev/full cannot be saved: the disk is full"
    );
}

#[test]
fn what_a_killed_process_left_beside_the_file_is_swept_away_once_it_is_old() {
    let folder = Folder::new();
    let path = folder.write("gun.md", "old");
    let left = folder.write(".gun.md.4711.saving", "half a te");
    folder.write(".gun.md.4712.saving", "somebody is saving just now");
    folder.write(".other.md.4711.saving", "of another notebook");
    let past = std::time::SystemTime::now() - std::time::Duration::from_secs(3600);
    for name in [".gun.md.4711.saving", ".other.md.4711.saving"] {
        let file = fs::OpenOptions::new()
            .write(true)
            .open(folder.file(name))
            .expect("opens");
        file.set_modified(past).expect("set");
    }
    save(&path, b"new").expect("saved");
    assert!(!left.exists());
    assert_eq!(
        folder.names(),
        [".gun.md.4712.saving", ".other.md.4711.saving", "gun.md"]
    );
}
