//! A Markdown document: the prose as written, the cells in their fences, and behind each what came
//! of them as tables.

use super::lines::statement_lines;
use super::table::{study_cells, table_cells};
use crate::export::curves::caption;
use crate::export::flow::{Part, Results, flow};
use crate::export::html::{
    condition_text, found_text, outcome_word, shown_name, signed, unit_and_tag,
};
use crate::export::text::remark_texts;
use crate::notebook::Notebook;
use crate::report::{CheckLine, Item, Options, Remark, Row, RowKind, report, studies};
use pulldown_cmark::{Event, Options as Dialect, Parser, Tag};

/// A notebook as a Markdown document.
///
/// ```
/// use gaugebook::{export::paste, library::Library, notebook::{NoFiles, Notebook}, source::Document};
/// use std::rc::Rc;
/// let text = "# Half\n\nOf a tank.\n\n```gaugebook\ntank = 60 gal\nhalf = tank / 2\n```\n";
/// let document = Document::new(text.to_owned());
/// let notebook = Notebook::open("shop.md", document, &NoFiles, Rc::new(Library::new()));
/// let made = paste::markdown(&notebook);
/// assert!(made.starts_with("# Half\n\nOf a tank.\n\n```gaugebook\ntank = 60 gal\n"));
/// assert!(made.contains("| half | 30 gal |"));
/// ```
pub fn markdown(notebook: &Notebook) -> String {
    let report = report(notebook, Options::default());
    let studies = studies(notebook);
    let document = notebook.document();
    let mut blocks: Vec<String> = Vec::new();
    if let Some(title) = &report.title {
        blocks.push(format!("# {}", escaped(title)));
    }
    for part in flow(notebook, &report, &studies) {
        match part {
            Part::Prose(text) => blocks.push(safe_prose(text).trim().to_owned()),
            Part::Block(results) if results.block.loose => {
                blocks.extend(results.loose_prose.iter().map(|line| escaped(line)));
                blocks.push(format!(
                    "```gaugebook\n{}\n```",
                    statement_lines(notebook).join("\n")
                ));
                blocks.extend(result_blocks(&results));
            }
            Part::Block(results) => {
                let written = results.block.span.of(document.text());
                blocks.push(written.trim_end_matches(['\n', '\r']).to_owned());
                blocks.extend(result_blocks(&results));
            }
            Part::Remarks(remarks) => blocks.extend(remark_blocks(&remarks)),
        }
    }
    blocks.retain(|block| !block.is_empty());
    let mut text = blocks.join("\n\n");
    text.push('\n');
    text
}

fn result_blocks(results: &Results<'_>) -> Vec<String> {
    let mut blocks = Vec::new();
    let rows = |kind: RowKind| {
        let rows = results.items.iter().filter_map(|item| match item {
            Item::Cell(row) if row.kind == kind => Some(&**row),
            _ => None,
        });
        rows.collect::<Vec<&Row>>()
    };
    blocks.extend(rows_table(&rows(RowKind::WorkedOut)));
    for item in &results.items {
        if let Item::Table(table) = item {
            blocks.push(grid(&table_cells(table)));
        }
    }
    for study in &results.studies {
        if study.state.word().is_none() {
            blocks.push(escaped(&format!("{}:", caption(study))));
            blocks.push(grid(&study_cells(study)));
        }
    }
    blocks.extend(checks_table(&results.checks));
    blocks
}

/// Worked-out cells; the ± stands with its value.
fn rows_table(rows: &[&Row]) -> Option<String> {
    if rows.is_empty() {
        return None;
    }
    let uncertain = rows.iter().any(|row| row.shown.plus_minus.is_some());
    let head = if uncertain {
        "value ± at 95 %"
    } else {
        "value"
    };
    let mut cells = vec![vec!["worked out".to_owned(), head.to_owned()]];
    for row in rows {
        let mut value = signed(&row.shown.value);
        if let Some(amount) = &row.shown.plus_minus {
            value.push_str(&format!(" ± {amount}"));
        }
        let unit = unit_and_tag(&row.shown, row.kind);
        cells.push(vec![
            shown_name(&row.name),
            format!("{value} {unit}").trim_end().to_owned(),
        ]);
    }
    Some(grid(&cells))
}

fn checks_table(checks: &[&CheckLine]) -> Option<String> {
    if checks.is_empty() {
        return None;
    }
    let mut cells = vec![vec![
        "check".to_owned(),
        "condition".to_owned(),
        "chance".to_owned(),
    ]];
    for check in checks {
        let found = found_text(&check.outcome, &check.found, check.text.as_deref());
        let mut condition = condition_text(&check.condition);
        if !found.is_empty() {
            condition.push_str(&format!("; {found}"));
        }
        let chance = check
            .chance
            .map(|chance| chance.to_string())
            .unwrap_or_default();
        cells.push(vec![outcome_word(&check.outcome), condition, chance]);
    }
    Some(grid(&cells))
}

fn remark_blocks(remarks: &[&Remark]) -> Vec<String> {
    let texts = remarks.iter().flat_map(|remark| remark_texts(remark));
    texts.map(|text| format!("> {}", escaped(&text))).collect()
}

/// A table of Markdown, its first line the head.
fn grid(cells: &[Vec<String>]) -> String {
    let line = |cells: &[String]| {
        let cells: Vec<String> = cells.iter().map(|cell| escaped(cell)).collect();
        format!("| {} |", cells.join(" | "))
    };
    let mut lines: Vec<String> = cells.iter().map(|cells| line(cells)).collect();
    let rule = vec!["---"; cells.first().map_or(0, Vec::len)];
    lines.insert(1.min(lines.len()), format!("| {} |", rule.join(" | ")));
    lines.join("\n")
}

/// A text of the notebook with whatever Markdown or HTML would read as a sign written plainly.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len() + 8);
    for sign in text.chars() {
        match sign {
            '<' => safe.push_str("&lt;"),
            '&' => safe.push_str("&amp;"),
            '\\' | '`' | '*' | '_' | '[' | ']' | '|' | '#' | '!' | '~' => {
                safe.push('\\');
                safe.push(sign);
            }
            '\n' | '\r' => safe.push(' '),
            other => safe.push(other),
        }
    }
    safe
}

/// Prose as written, except that HTML in it is text, pictures are not fetched, and links go only
/// where links may go.
fn safe_prose(text: &str) -> String {
    let mut safe = text.to_owned();
    // What stood inside a link that is none any more is looked at again.
    for _ in 0..MOST_PASSES {
        let places = unsafe_places(&safe);
        if places.is_empty() {
            return safe;
        }
        safe = defused(&safe, &places);
    }
    escaped_lines(text)
}

/// After so many passes prose is shown as the signs it is made of.
const MOST_PASSES: usize = 8;

fn escaped_lines(text: &str) -> String {
    text.lines()
        .map(escaped)
        .collect::<Vec<String>>()
        .join("\n")
}

/// Where signs stand that make HTML, pictures or foreign links.
fn unsafe_places(text: &str) -> Vec<usize> {
    let mut places: Vec<usize> = Vec::new();
    for (event, range) in Parser::new_ext(text, Dialect::empty()).into_offset_iter() {
        match event {
            Event::Html(_) | Event::InlineHtml(_) => {
                let own = text.get(range.clone()).unwrap_or("");
                places.extend(own.match_indices('<').map(|(at, _)| range.start + at));
            }
            Event::Start(Tag::Image { .. }) => places.extend([range.start, range.start + 1]),
            Event::Start(Tag::Link { dest_url, .. }) if !is_plain_link(&dest_url) => {
                places.push(range.start);
            }
            _ => {}
        }
    }
    places.extend(unsafe_definitions(text));
    places.sort_unstable();
    places.dedup();
    places
}

/// A text with these signs written so that they are signs.
fn defused(text: &str, places: &[usize]) -> String {
    let mut safe = String::with_capacity(text.len() + 16);
    let mut at = 0;
    for &place in places {
        safe.push_str(text.get(at..place).unwrap_or(""));
        at = place;
        match text.as_bytes().get(place) {
            Some(b'<') => {
                safe.push_str("&lt;");
                at += 1;
            }
            Some(b'[' | b'!') => safe.push('\\'),
            _ => {}
        }
    }
    safe.push_str(text.get(at..).unwrap_or(""));
    safe
}

/// Where targets of links are defined on lines of their own and lead elsewhere.
fn unsafe_definitions(text: &str) -> Vec<usize> {
    let mut places = Vec::new();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let inner = line.trim_start_matches([' ', '>', '\t']);
        let target = inner
            .strip_prefix('[')
            .and_then(|rest| rest.split_once("]:"))
            .map(|(_, target)| target.trim().trim_start_matches('<'));
        if target.is_some_and(|target| !is_plain_link(target)) {
            places.push(start + line.len() - inner.len());
        }
        start += line.len();
    }
    places
}

fn is_plain_link(target: &str) -> bool {
    let lower = target.to_ascii_lowercase();
    ["https://", "http://", "mailto:"]
        .iter()
        .any(|scheme| lower.starts_with(scheme))
}
