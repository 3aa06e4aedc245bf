//! The layers: `engine/lib.rs` lists its modules in groups, and a module uses only groups above
//! its own. This test reads the groups and every path in the code. It also holds every file to a
//! header, and the tree to having nothing left open.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Each module of `lib.rs` with the number of its group.
fn groups() -> BTreeMap<String, usize> {
    let text = fs::read_to_string(root().join("engine/lib.rs")).expect("engine/lib.rs is there");
    let mut groups = BTreeMap::new();
    let mut group = 0;
    let mut blank = false;
    for line in text.lines() {
        if line.trim().is_empty() {
            blank = true;
            continue;
        }
        let module = line
            .strip_prefix("pub mod ")
            .and_then(|rest| rest.strip_suffix(';'));
        if let Some(module) = module {
            if blank {
                group += 1;
            }
            groups.insert(module.to_owned(), group);
        }
        blank = false;
    }
    groups
}

fn rust_files(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).expect("the folder can be read") {
        let path = entry.expect("the entry can be read").path();
        if path.is_dir() {
            rust_files(&path, files);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
}

fn engine_files() -> Vec<(String, String)> {
    let engine = root().join("engine");
    let mut files = Vec::new();
    rust_files(&engine, &mut files);
    files.sort();
    files
        .into_iter()
        .map(|path| {
            let name = path
                .strip_prefix(&engine)
                .expect("below engine")
                .to_string_lossy()
                .into_owned();
            let text = fs::read_to_string(&path).expect("the file is text");
            (name, text)
        })
        .collect()
}

/// Code without comments; documentation may point anywhere.
fn code(text: &str) -> String {
    text.lines()
        .filter(|line| !line.trim_start().starts_with("//"))
        .collect::<Vec<_>>()
        .join("\n")
}

/// The modules that `crate::…` paths name, those inside `use crate::{…}` included.
fn used_modules(text: &str) -> Vec<String> {
    let code = code(text);
    let mut used = Vec::new();
    for (at, _) in code.match_indices("crate::") {
        let rest = &code[at + "crate::".len()..];
        match rest.strip_prefix('{') {
            None => used.push(word(rest)),
            Some(list) => {
                let mut depth = 0;
                let mut begins = true;
                for (index, sign) in list.char_indices() {
                    match sign {
                        '{' => depth += 1,
                        '}' if depth == 0 => break,
                        '}' => depth -= 1,
                        ',' if depth == 0 => begins = true,
                        sign if begins && depth == 0 && sign.is_alphabetic() => {
                            used.push(word(&list[index..]));
                            begins = false;
                        }
                        _ => {}
                    }
                }
            }
        }
    }
    used
}

fn word(text: &str) -> String {
    text.chars()
        .take_while(|sign| sign.is_alphanumeric() || *sign == '_')
        .collect()
}

#[test]
fn modules_use_only_the_layers_above_their_own() {
    let groups = groups();
    assert!(groups.len() >= 10, "lib.rs lists the modules: {groups:?}");
    let mut wrong = Vec::new();
    for (name, text) in engine_files() {
        let own = name.split(['/', '.']).next().unwrap_or_default();
        let Some(layer) = groups.get(own) else {
            continue;
        };
        for used in used_modules(&text) {
            if let Some(other) = groups.get(&used)
                && used != own
                && other >= layer
            {
                wrong.push(format!(
                    "engine/{name} uses {used}, which is not above {own}"
                ));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "paths that point sideways or down:\n{}",
        wrong.join("\n")
    );
}

#[test]
fn the_reader_of_paths_sees_nested_lists() {
    let text = "use crate::{number::{Number, Trouble}, units};\nfn f() { crate::source::Span::new(0, 1); }";
    assert_eq!(used_modules(text), ["number", "units", "source"]);
}

#[test]
fn every_module_is_in_a_layer() {
    let groups = groups();
    for entry in fs::read_dir(root().join("engine")).expect("engine can be read") {
        let path = entry.expect("the entry can be read").path();
        let name = path
            .file_stem()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        assert!(
            groups.contains_key(&name) || name == "lib" || name == "main",
            "engine/{name} is in no group of lib.rs"
        );
    }
}

#[test]
fn every_file_says_what_it_is_for() {
    for (name, text) in engine_files() {
        assert!(text.starts_with("//! "), "engine/{name} has no header");
    }
}

#[test]
fn nothing_is_left_open() {
    for (name, text) in engine_files() {
        let code = code(&text);
        for word in ["todo!(", "unimplemented!(", "dbg!(", "unsafe "] {
            assert!(!code.contains(word), "engine/{name} contains {word}");
        }
    }
}

#[test]
fn every_chapter_is_in_the_program() {
    let embedded: Vec<&str> = gaugebook::library::CHAPTERS
        .iter()
        .map(|chapter| chapter.path)
        .collect();
    for entry in fs::read_dir(root().join("stdlib")).expect("stdlib can be read") {
        let name = entry
            .expect("the entry can be read")
            .file_name()
            .to_string_lossy()
            .into_owned();
        let path = format!("stdlib/{name}");
        // The list of all formulas is written from the chapters and is none itself.
        if name == "index.md" {
            continue;
        }
        assert!(embedded.contains(&path.as_str()), "{path} is not embedded");
    }
}
