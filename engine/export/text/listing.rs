//! Lists for whoever looks something up: names with what they are for, the handbook's contents,
//! hits of a search.

use super::layout::{Layout, padded, width};
use super::sheet::Sheet;
use crate::assist::{ChapterListed, Contents, Hit};
use crate::source::wrap;

/// Columns of the words that begin the rows of a page.
const LABEL: usize = 10;

/// The handbook's contents: each chapter with the names it defines.
pub fn contents(contents: &Contents, layout: Layout) -> String {
    let mut sheet = Sheet::new(layout);
    for chapter in &contents.chapters {
        sheet.gap();
        add_title(&mut sheet, chapter);
        let about = sheet.show(&chapter.about);
        sheet.paragraph(&about, 2, 2);
        let names = |kind: &str| {
            let own = chapter.entries.iter().filter(|entry| entry.kind == kind);
            own.map(|entry| entry.name.clone()).collect::<Vec<String>>()
        };
        for (kind, label) in [
            ("formula", "formulas"),
            ("table", "tables"),
            ("unit", "units"),
            ("default", "defaults"),
        ] {
            let names = names(kind);
            if !names.is_empty() {
                row(&mut sheet, label, &names.join(", "));
            }
        }
    }
    sheet.finish()
}

fn add_title(sheet: &mut Sheet, chapter: &ChapterListed) {
    let title = sheet.show(&format!("{} ({})", chapter.title, chapter.topic));
    sheet.rule(&title, 0);
}

pub(super) fn add_chapter(sheet: &mut Sheet, chapter: &ChapterListed) {
    let title = sheet.show(&chapter.title);
    sheet.rule(&title, 0);
    let about = sheet.show(&chapter.about);
    sheet.paragraph(&about, 2, 2);
    let hits: Vec<(String, String, String)> = chapter
        .entries
        .iter()
        .map(|entry| {
            let about = match entry.kind {
                "formula" => entry.about.clone(),
                kind => format!("{kind}: {}", entry.about),
            };
            (entry.name.clone(), about, String::new())
        })
        .collect();
    one_a_line(sheet, &hits);
}

pub(super) fn add_hits(sheet: &mut Sheet, hits: &[Hit]) {
    let lines: Vec<(String, String, String)> = hits
        .iter()
        .map(|hit| {
            let about = match hit.kind {
                "formula" => hit.about.clone(),
                kind => format!("{kind}: {}", hit.about),
            };
            (hit.name.clone(), about, format!("“{}”", hit.chapter))
        })
        .collect();
    one_a_line(sheet, &lines);
}

/// Two columns: what can be typed, and what it means.
pub(super) fn pairs(sheet: &mut Sheet, pairs: &[(String, String)]) {
    let columns = sheet.layout.columns();
    let shown: Vec<(String, String)> = pairs
        .iter()
        .map(|(left, right)| (sheet.show(left), sheet.show(right)))
        .collect();
    let widest = shown.iter().map(|(left, _)| width(left)).max().unwrap_or(0);
    let beside = 2 + widest + 2;
    for (left, right) in &shown {
        if beside + 24 > columns {
            sheet.paragraph(left, 2, 6);
            sheet.paragraph(right, 6, 6);
            continue;
        }
        let room = columns - beside;
        for (number, line) in wrap(right, room, room).iter().enumerate() {
            let left = if number == 0 { left.as_str() } else { "" };
            sheet.line(&format!("  {}{line}", padded(left, widest + 2)));
        }
    }
}

/// Name, what it is for as far as one line holds it, chapter.
fn one_a_line(sheet: &mut Sheet, lines: &[(String, String, String)]) {
    let columns = sheet.layout.columns();
    let widest = |part: fn(&(String, String, String)) -> &String| {
        lines
            .iter()
            .map(|line| width(part(line)))
            .max()
            .unwrap_or(0)
    };
    let name = widest(|line| &line.0) + 2;
    let chapter = match widest(|line| &line.2) {
        0 => 0,
        chapter => chapter + 2,
    };
    let room = columns.saturating_sub(2 + name + chapter);
    if room < 24 {
        for (name, about, chapter) in lines {
            let name = sheet.show(&format!("{name}  {chapter}"));
            sheet.paragraph(name.trim_end(), 2, 4);
            let about = cut(&sheet.layout, about, columns - 6);
            sheet.paragraph(&about, 6, 6);
        }
        return;
    }
    for (own, about, chapter) in lines {
        let about = padded(&cut(&sheet.layout, about, room), room + 2);
        let chapter = sheet.show(chapter);
        sheet.line(&format!(
            "  {}{about}{chapter}",
            padded(&sheet.show(own), name)
        ));
    }
}

/// A sentence as far as one line holds it: up to a clause, or to a word.
fn cut(layout: &Layout, text: &str, room: usize) -> String {
    let text = layout.show(text);
    if width(&text) <= room {
        return text;
    }
    let mut clauses = text.match_indices([',', ':', ';']).map(|(at, _)| at);
    let clause = clauses.rfind(|at| text[at + 1..].starts_with(' ') && width(&text[..*at]) <= room);
    if let Some(at) = clause.filter(|at| width(&text[..*at]) * 2 >= room) {
        return text[..at].to_owned();
    }
    let mark = layout.show("…");
    let mut words = text.match_indices(' ').map(|(at, _)| at);
    let word = words.rfind(|at| width(&text[..*at]) + 1 + width(&mark) <= room);
    format!("{} {mark}", &text[..word.unwrap_or(0)])
}

/// A label, and text that hangs beside it.
pub(super) fn row(sheet: &mut Sheet, label: &str, text: &str) {
    let text = sheet.show(text);
    let start = format!("{}{text}", padded(label, LABEL));
    sheet.paragraph(&start, 2, 2 + LABEL);
}

/// The same where the label is not repeated.
pub(super) fn rows(sheet: &mut Sheet, label: &str, texts: &[String]) {
    for (number, text) in texts.iter().enumerate() {
        row(sheet, if number == 0 { label } else { "" }, text);
    }
}
