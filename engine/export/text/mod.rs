//! Reports as text for a terminal, a pipe or a log: the same characters and columns for all of
//! them, colour apart. Given and worked-out cells stand in tables whose head sits in its rule,
//! numbers on their decimal marker; what is printed pastes back as a literal.
//!
//! [`Layout`] says how wide, with which signs and colours; each function gives whole lines, each
//! with its line end.

mod answer;
mod budget;
mod checks;
mod columns;
mod digits;
mod fraction;
mod help;
mod layout;
mod listing;
mod messages;
mod page;
mod places;
mod plot;
mod remarks;
mod ripple;
mod section;
mod sheet;
mod spread;
mod study;
mod table;
mod why;

pub use answer::sentence;
pub use checks::check_line;
pub use help::help;
pub use layout::Layout;
pub use listing::contents;
pub use messages::{message, messages};
pub use page::page;
pub use remarks::texts as remark_texts;
pub use ripple::ripple;
pub use study::study;
pub use why::why;

use crate::report::{Counts, Report, SourceLine};
use layout::{Paint, TIE};
use sheet::Sheet;

/// A whole report for standard output: title, counts, sections, checks, sources.
///
/// ```
/// use gaugebook::{export::text::{self, Layout}, library::Library};
/// use gaugebook::{notebook::{NoFiles, Notebook}, report, source::Document};
/// use std::rc::Rc;
/// let text = "```gaugebook\ntank = 60 gal ± 1 gal\nhalf = tank / 2\n```\n";
/// let document = Document::new(text.to_owned());
/// let notebook = Notebook::open("shop.md", document, &NoFiles, Rc::new(Library::new()));
/// let report = report::report(&notebook, report::Options::default());
/// assert_eq!(
///     text::report(&report, Layout::plain(60)),
///     "1 given, 1 worked out\n\n\
///      \x20 given ────── value ± limit ─── unit ──────────────────────\n\
///      \x20 tank         60    ± 1         gal\n\
///      \x20 worked out ─ value ± at 95 % ─ unit ──────────────────────\n\
///      \x20 half         30.00 ± 0.50      gal (limits)\n"
/// );
/// ```
pub fn report(report: &Report, layout: Layout) -> String {
    let mut sheet = Sheet::new(layout);
    if let Some(title) = &report.title {
        let title = sheet.show(title);
        sheet.painted_paragraph(&title, 0, 2, Paint::Bold);
    }
    if let Some(counts) = counts(&sheet, &report.counts) {
        sheet.paragraph(&counts, 0, 2);
    }
    remarks::add(&mut sheet, &report.remarks);
    section::add_all(&mut sheet, &report.sections);
    checks::add_all(&mut sheet, &report.checks, &report.check_remarks);
    add_sources(&mut sheet, &report.sources);
    sheet.finish()
}

/// What is to be said beside an answer.
pub fn remarks(remarks: &[crate::report::Remark], layout: Layout) -> String {
    let mut sheet = Sheet::new(layout);
    remarks::add(&mut sheet, remarks);
    sheet.finish()
}

/// The line for people who read the top only; nothing where there is nothing to count.
pub fn summary(counts: &Counts, layout: Layout) -> String {
    let mut sheet = Sheet::new(layout);
    let text = self::counts(&sheet, counts).unwrap_or_else(|| "nothing in it yet".to_owned());
    sheet.paragraph(&text, 2, 4);
    sheet.finish()
}

fn counts(sheet: &Sheet, counts: &Counts) -> Option<String> {
    let mut cells = Vec::new();
    let mut add = |count: usize, word: &str| {
        if count > 0 {
            cells.push(format!("{count}{TIE}{word}"));
        }
    };
    add(counts.given, "given");
    add(counts.worked_out, "worked out");
    add(
        counts.tables,
        if counts.tables == 1 {
            "table"
        } else {
            "tables"
        },
    );
    if counts.failed > 0 {
        let word = sheet.paint("failed", Paint::Red);
        cells.push(format!("{} {word}", counts.failed));
    }
    if counts.waiting > 0 {
        cells.push(format!("{} waiting", counts.waiting));
    }
    let checks: Vec<String> = [
        (counts.holds, "holds", "hold", None),
        (counts.fails, "fails", "fail", Some(Paint::Red)),
        (
            counts.open,
            "too close to call",
            "too close to call",
            Some(Paint::Yellow),
        ),
        (
            counts.unknown,
            "without an answer",
            "without an answer",
            None,
        ),
    ]
    .into_iter()
    .filter(|(count, ..)| *count > 0)
    .map(|(count, one, many, paint)| {
        let word = if count == 1 { one } else { many };
        match paint {
            Some(paint) => format!(
                "{count}{TIE}{}",
                sheet.paint(&word.replace(' ', TIE), paint)
            ),
            None => format!("{count}{TIE}{word}"),
        }
    })
    .collect();
    let mut parts = Vec::new();
    if !cells.is_empty() {
        parts.push(cells.join(", "));
    }
    if !checks.is_empty() {
        parts.push(format!("checks: {}", checks.join(", ")));
    }
    (!parts.is_empty()).then(|| parts.join("; "))
}

fn add_sources(sheet: &mut Sheet, sources: &[SourceLine]) {
    if sources.is_empty() {
        return;
    }
    sheet.gap();
    sheet.rule("Sources", 0);
    for line in sources {
        let text = format!(
            "{}: {}.",
            line.formulas.join(", "),
            line.text.trim_end_matches('.')
        );
        let text = sheet.show(&text);
        sheet.paragraph(&text, 2, 4);
    }
}
