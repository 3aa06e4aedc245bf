//! A forum post: the cells inside `[code]`, what comes out as a text table under them. Only `b`,
//! `i` and `code`, which every board has; nothing hangs on colour, tables or pictures.

use super::lines::{not_a_statement, statement_lines};
use super::table::result_lines;
use crate::export::html::{found_text, inline_text};
use crate::export::text::remark_texts;
use crate::notebook::Notebook;
use crate::report::{CheckLine, Options, Outcome, Remark, Report, report, studies};
use crate::source::Piece;

/// An introduction longer than this is left to the notebook.
const LONGEST_INTRODUCTION: usize = 200;

/// A notebook as a post in BBCode.
///
/// ```
/// use gaugebook::{export::paste, library::Library, notebook::{NoFiles, Notebook}, source::Document};
/// use std::rc::Rc;
/// let text = "# Half a tank\n\n```gaugebook\ntank = 60 gal\nhalf = tank / 2\n```\n";
/// let document = Document::new(text.to_owned());
/// let notebook = Notebook::open("shop.md", document, &NoFiles, Rc::new(Library::new()));
/// assert_eq!(
///     paste::post(&notebook),
///     "[b]Half a tank[/b] [i]Save this post as text and open it in gaugebook.[/i]\n\
///      [code]\ntank = 60 gal\nhalf = tank / 2\n[/code]\n\
///      [b]Comes out[/b]\n[code]\nhalf  30  gal\n[/code]\n"
/// );
/// ```
pub fn post(notebook: &Notebook) -> String {
    let report = report(notebook, Options::default());
    let title = report.title.as_deref().unwrap_or("A calculation");
    let mut introduction = introduction(notebook);
    introduction.push_str("Save this post as text and open it in gaugebook.");
    let mut lines = vec![prose(&format!(
        "[b]{}[/b] [i]{}[/i]",
        plain(title),
        plain(&introduction)
    ))];
    lines.push("[code]".to_owned());
    lines.extend(statement_lines(notebook).iter().map(|line| code(line)));
    lines.push("[/code]".to_owned());
    let studies = studies(notebook);
    let results = result_lines(&report, &studies);
    if !results.is_empty() {
        let uncertain = results.iter().any(|line| line.contains('±'));
        let level = if uncertain { " (± at 95 %)" } else { "" };
        lines.push(format!("[b]Comes out[/b]{level}"));
        lines.push("[code]".to_owned());
        lines.extend(results.iter().map(|line| prose(&code(line))));
        lines.push("[/code]".to_owned());
    }
    let remarks = closing(&report);
    if !remarks.is_empty() {
        lines.push(prose(&remarks));
    }
    let mut post = lines.join("\n");
    post.push('\n');
    post
}

/// The first paragraph of the notebook, if it is short.
fn introduction(notebook: &Notebook) -> String {
    let document = notebook.document();
    let Some(Piece::Prose(span)) = document.pieces().first().copied() else {
        return String::new();
    };
    let text = span.of(document.text());
    let paragraphs = text.split("\n\n").map(str::trim);
    let first = paragraphs
        .filter(|paragraph| !paragraph.is_empty() && !paragraph.starts_with('#'))
        .map(inline_text)
        .next();
    match first {
        Some(first) if first.chars().count() <= LONGEST_INTRODUCTION => format!("{first} "),
        _ => String::new(),
    }
}

/// Checks, defaults and cautions in one line of prose: boards wrap it.
fn closing(report: &Report) -> String {
    let mut parts: Vec<String> = report.checks.iter().filter_map(check).collect();
    let holding = report
        .checks
        .iter()
        .all(|check| check.outcome == Outcome::Holds);
    match report.checks.len() {
        0 => {}
        1 if holding => parts.push(format!(
            "[b]Holds[/b]: {}.",
            plain(&report.checks[0].condition)
        )),
        count if holding => parts.push(format!("[b]All {count} checks hold.[/b]")),
        _ => {}
    }
    let remarks = report.sections.iter().flat_map(|section| &section.remarks);
    for remark in remarks.chain(&report.check_remarks) {
        let texts = remark_texts(remark).into_iter().map(|text| plain(&text));
        match remark {
            Remark::TakenAs(_) | Remark::TakenAsAir { .. } => parts.extend(texts),
            Remark::Caution { text: Some(_), .. } => {
                parts.extend(texts.map(|text| format!("[i]{text}[/i]")));
            }
            Remark::Caution { .. } | Remark::Note { .. } => {}
        }
    }
    parts.join(" ")
}

/// A check that does not hold.
fn check(check: &CheckLine) -> Option<String> {
    let word = match check.outcome {
        Outcome::Holds => return None,
        Outcome::Fails => "Fails",
        Outcome::Open => "Too close to call",
        Outcome::Unknown(_) => "Without an answer",
    };
    let chance = check.chance.map(|chance| format!(" ({chance})"));
    let found = found_text(&check.outcome, &check.found, check.text.as_deref());
    let found = match found.is_empty() {
        true => String::new(),
        false => format!("; {found}"),
    };
    Some(format!(
        "[b]{word}[/b]{}: {}{}.",
        chance.unwrap_or_default(),
        plain(&check.condition),
        plain(&found)
    ))
}

/// A text of the notebook between tags: brackets in it would be tags.
fn plain(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    words.join(" ").replace('[', "(").replace(']', ")")
}

/// A line inside `[code]`: nothing in it may end the code.
fn code(line: &str) -> String {
    let lower = line.to_ascii_lowercase();
    let mut safe = String::with_capacity(line.len());
    let mut at = 0;
    for (found, tag) in lower.match_indices("[/code") {
        safe.push_str(&line[at..found]);
        safe.push_str("[ ");
        safe.push_str(&line[found + 1..found + tag.len()]);
        at = found + tag.len();
    }
    safe.push_str(&line[at..]);
    safe
}

fn prose(line: &str) -> String {
    not_a_statement(line)
}
