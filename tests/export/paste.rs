//! Posts and Markdown documents open again as the same notebook, whatever a forum did to them: the
//! same values, the same ±, the same checks, or a message at the very place.

use super::script::open;
use gaugebook::export::paste::{markdown, post};
use gaugebook::notebook::{Notebook, Precision, Role};
use gaugebook::report::{self, Options};
use std::collections::BTreeMap;

const CABINET: &str = include_str!("cabinet.md");
const HOLD: &str = include_str!("hold.md");

/// What a notebook says: cells with value, ± and degrees of freedom, and its checks.
type Said = BTreeMap<String, String>;

fn said(notebook: &Notebook) -> Said {
    let mut said = Said::new();
    for (id, cell) in notebook.cells() {
        let unnamed = matches!(cell.role, Role::Handbook | Role::Check | Role::Study);
        if cell.part == 0 && !unnamed && !cell.name.is_empty() {
            let shown = notebook.shown_with(id, None, Precision::Full);
            said.insert(cell.name.to_string(), plain_blanks(&shown.line()));
        }
    }
    let checks = report::report(notebook, Options::default()).checks;
    for (number, check) in checks.into_iter().enumerate() {
        let text = plain_blanks(check.text.as_deref().unwrap_or(""));
        let outcome = format!("{:?} {:?} {text}", check.outcome, check.chance);
        said.insert(format!("check {number}"), outcome);
    }
    said
}

/// Texts in quotes are never touched, so a forum's blanks stay in them.
fn plain_blanks(text: &str) -> String {
    let plain = text.replace('\u{a0}', " ");
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The texts of lines that carry an error.
fn refused(notebook: &Notebook) -> Vec<String> {
    let messages = report::report(notebook, Options::default()).messages;
    let errors = messages.iter().filter(|message| message.is_error());
    errors.map(|message| message.text.clone()).collect()
}

/// Holds what came back to what went out: each the same, or refused where it stands.
fn same_or_refused(before: &Notebook, text: &str, about: &str) -> usize {
    let after = open(text);
    let (wanted, found) = (said(before), said(&after));
    let refused = refused(&after);
    let mut lost = 0;
    for (name, value) in &wanted {
        match found.get(name) {
            Some(own) if own == value => {}
            Some(own) if own.contains("failed") || own.contains("Unknown") => lost += 1,
            own => {
                // A lost check is told by its word, a lost cell by its name.
                let first = name.split([' ', '.']).next().unwrap_or("");
                let told = refused.iter().any(|line| line.contains(first));
                assert!(
                    told,
                    "{about}: {name} was {value}, is {own:?}\n{refused:?}\n{text}"
                );
                lost += 1;
            }
        }
    }
    assert!(
        lost == 0 || !refused.is_empty(),
        "{about}: nothing is told\n{text}"
    );
    lost
}

type Mangling = (&'static str, fn(&str) -> String);

fn lines(text: &str, change: impl Fn(&str) -> String) -> String {
    let mut changed: String = text.lines().map(|line| change(line) + "\n").collect();
    if !text.ends_with('\n') {
        changed.pop();
    }
    changed
}

/// Breaks lines that are longer than a board has room for, at a blank.
fn wrapped(text: &str, width: usize) -> String {
    lines(text, |line| {
        let mut out = String::new();
        let mut count = 0;
        for word in line.split(' ') {
            let long = word.chars().count();
            if count > 0 && count + 1 + long > width {
                out.push('\n');
                count = 0;
            } else if count > 0 || !out.is_empty() {
                out.push(' ');
                count += 1;
            }
            out.push_str(word);
            count += long;
        }
        out
    })
}

fn smart_quotes(text: &str) -> String {
    let mut open = false;
    let changed = text.chars().map(|sign| match sign {
        '"' => {
            open = !open;
            if open { '“' } else { '”' }
        }
        '\'' => '’',
        other => other,
    });
    changed.collect()
}

const MANGLINGS: &[Mangling] = &[
    ("nothing", |text| text.to_owned()),
    ("smart quotes", smart_quotes),
    ("blank lines lost", |text| {
        text.lines()
            .filter(|line| !line.trim().is_empty())
            .map(|line| format!("{line}\n"))
            .collect()
    }),
    ("blank lines doubled", |text| text.replace('\n', "\n\n")),
    ("quoted", |text| lines(text, |line| format!("> {line}"))),
    ("quoted without a blank", |text| {
        lines(text, |line| format!(">{line}"))
    }),
    ("quoted twice", |text| {
        lines(text, |line| format!("> > {line}"))
    }),
    ("non-breaking blanks", |text| text.replace(' ', "\u{a0}")),
    ("doubled blanks made non-breaking", |text| {
        text.replace("  ", "\u{a0} ")
    }),
    ("thin and invisible blanks", |text| {
        text.replace(" ±", "\u{2009}±").replace("= ", "=\u{200b} ")
    }),
    ("indentation lost", |text| {
        lines(text, |line| line.trim_start().to_owned())
    }),
    ("indented", |text| {
        lines(text, |line| {
            if line.is_empty() {
                String::new()
            } else {
                format!("  {line}")
            }
        })
    }),
    ("blanks at the ends", |text| {
        lines(text, |line| format!("{line}   "))
    }),
    ("other line ends", |text| text.replace('\n', "\r\n")),
    ("entities", |text| {
        text.replace('&', "&amp;")
            .replace('<', "&lt;")
            .replace('>', "&gt;")
            .replace('"', "&quot;")
            .replace('±', "&plusmn;")
            .replace('°', "&deg;")
            .replace('²', "&sup2;")
            .replace('·', "&middot;")
            .replace('−', "&minus;")
    }),
    ("entities by number", |text| {
        text.replace('"', "&#34;")
            .replace('±', "&#177;")
            .replace('°', "&#xB0;")
            .replace('<', "&#60;")
    }),
    ("entities twice", |text| {
        text.replace('±', "&amp;plusmn;")
            .replace('°', "&amp;deg;")
            .replace('"', "&amp;quot;")
    }),
    ("wrapped at 80", |text| wrapped(text, 80)),
    ("wrapped at 72", |text| wrapped(text, 72)),
    ("signs of typesetters", |text| {
        text.replace(" - ", " − ")
            .replace(" * ", " × ")
            .replace("<=", "≤")
            .replace(">=", "≥")
    }),
    ("pasted behind an introduction", |text| {
        format!("Somebody wrote:\n\n{text}\nWhat do you think? check the valve first.\n")
    }),
    ("tags without the code", |text| {
        text.replace("[code]", "").replace("[/code]", "")
    }),
    ("tags in capitals", |text| {
        text.replace("[code]", "[CODE]")
            .replace("[/code]", "[/CODE]")
    }),
];

#[test]
fn a_post_opens_again_as_the_same_notebook() {
    for (name, text) in [("cabinet", CABINET), ("hold", HOLD)] {
        let notebook = open(text);
        assert!(
            refused(&notebook).is_empty(),
            "{name}: {:?}",
            refused(&notebook)
        );
        let made = post(&notebook);
        assert_eq!(same_or_refused(&notebook, &made, name), 0, "{made}");
        for (mangling, change) in MANGLINGS {
            let about = format!("post of {name}, {mangling}");
            let lost = same_or_refused(&notebook, &change(&made), &about);
            // What has no body on lines of its own survives everything.
            assert!(
                lost == 0 || name == "cabinet",
                "{about}: {lost} refused\n{}",
                change(&made)
            );
        }
        // All of it at once.
        let all = MANGLINGS[1..]
            .iter()
            .filter(|(name, _)| !name.contains("entities") && !name.contains("quoted"));
        let all = all.fold(made.clone(), |text, (_, change)| change(&text));
        same_or_refused(&notebook, &all, "everything at once");
    }
}

#[test]
fn a_markdown_document_opens_again_as_the_same_notebook() {
    for (name, text) in [("cabinet", CABINET), ("hold", HOLD)] {
        let notebook = open(text);
        let made = markdown(&notebook);
        assert_eq!(same_or_refused(&notebook, &made, name), 0, "{made}");
        for (mangling, change) in MANGLINGS {
            same_or_refused(
                &notebook,
                &change(&made),
                &format!("Markdown of {name}, {mangling}"),
            );
        }
    }
}

#[test]
fn the_demo_notebooks_go_out_and_come_back() {
    for file in super::demo_notebooks() {
        let text = std::fs::read_to_string(&file).expect("the notebook is there");
        let notebook = open(&text);
        for (kind, made) in [("post", post(&notebook)), ("markdown", markdown(&notebook))] {
            same_or_refused(&notebook, &made, &format!("{kind} of {}", file.display()));
        }
    }
}

#[test]
fn a_post_as_it_is_written() {
    insta::assert_snapshot!(post(&open(HOLD)), @r#"
    [b]How long can I blast before the pressure is gone?[/b] [i]Invented shop. Save this post as text and open it in gaugebook.[/i]
    [code]
    tank = 44 gal ± 0.5 gal  # with pipework
    start = 118 psig ± 1 psi
    lowest = 68 psig ± 1 psi  # below this the media stops
    draw = 9.4 ± 0.4 cfm free (95 %)
    pump = 6.3 ± 0.3 cfm free (95 %)
    room = 21 °C ± 1 K
    blast [min] = hold_time(tank, pump, draw, start, lowest)
    wait [min] = recover_time(tank, pump, 0 cfm, lowest, start)
    check blast >= 6 min "one panel takes six minutes"
    check wait <= 5 min
    [/code]
    [b]Comes out[/b] (± at 95 %)
    [code]
    blast  6.5   ± 1.1   min
    wait   3.18  ± 0.19  min
    [/code]
    [b]Too close to call[/b] (80 %): blast >= 6 min; 6.5 ± 1.1 min; if it fails: one panel takes six minutes. Taken as: atmosphere 14.696 psia (handbook value: set it for your shop).
    "#);
}
