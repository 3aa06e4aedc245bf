//! The report as one HTML file: the prose of the document with the results where it speaks of
//! them, checks, pictures, cautions, then worked lines and sources. It prints, loads nothing and
//! runs nothing.

use super::flow::{Part, Results, flow};
use super::html::{
    Frame, Working, checks_table, ended, frame, notebook_table, prose, remarks_list, rows_table,
    shown_name, study, worked,
};
use crate::notebook::{CellState, Notebook, Role};
use crate::report::{Counts, Item, Options, Report, RowKind, StudyTable, report, studies, why};
use maud::{Markup, html};

const STYLE: &str = include_str!("style.css");

/// A notebook as a report.
///
/// ```
/// use gaugebook::{export, library::Library, notebook::{NoFiles, Notebook}, source::Document};
/// use std::rc::Rc;
/// let text = "# Half a <tank>\n\n```gaugebook\ntank = 60 gal\nhalf = tank / 2\n```\n";
/// let document = Document::new(text.to_owned());
/// let notebook = Notebook::open("shop.md", document, &NoFiles, Rc::new(Library::new()));
/// let page = export::report::report_page(&notebook);
/// assert!(page.contains("<h1>Half a &lt;tank&gt;</h1>"));
/// ```
pub fn report_page(notebook: &Notebook) -> String {
    let report = report(notebook, Options { sources: true });
    let title = report.title.clone().unwrap_or_else(|| report.path.clone());
    let studies = studies(notebook);
    let body = html! {
        main {
            header {
                h1 { (title) }
                p class="counts" { (counts_text(&report.counts)) }
            }
            (document(notebook, &report, &studies))
            (errors(&report))
            (worked_lines(notebook))
            (sources(&report))
        }
    };
    frame(Frame {
        title: &title,
        style: STYLE,
        script: "",
        body,
    })
}

/// What was counted, for people who read the top only.
pub fn counts_text(counts: &Counts) -> String {
    let part = |count: usize, one: &str, many: &str| match count {
        0 => None,
        1 => Some(format!("1 {one}")),
        _ => Some(format!("{count} {many}")),
    };
    let cells = [
        part(counts.given, "given", "given"),
        part(counts.worked_out, "worked out", "worked out"),
        part(counts.tables, "table", "tables"),
        part(counts.failed, "failed", "failed"),
        part(counts.waiting, "waiting", "waiting"),
    ];
    let checks = [
        part(counts.holds, "holds", "hold"),
        part(counts.fails, "fails", "fail"),
        part(counts.open, "too close to call", "too close to call"),
        part(counts.unknown, "without an answer", "without an answer"),
    ];
    let join =
        |parts: [Option<String>; 4]| parts.into_iter().flatten().collect::<Vec<_>>().join(", ");
    let cells: Vec<String> = cells.into_iter().flatten().collect();
    let mut text = cells.join(", ");
    let checks = join(checks);
    if !checks.is_empty() {
        let separator = if text.is_empty() { "" } else { "; " };
        text.push_str(&format!("{separator}checks: {checks}"));
    }
    text
}

fn document(notebook: &Notebook, report: &Report, studies: &[StudyTable]) -> Markup {
    html! {
        @for (number, part) in flow(notebook, report, studies).iter().enumerate() {
            @match part {
                Part::Prose(text) => { (prose(text, 0)) }
                Part::Block(results) => { (block(results, number)) }
                Part::Remarks(remarks) => { (remarks_list(remarks)) }
            }
        }
    }
}

/// The results of one block.
fn block(results: &Results<'_>, number: usize) -> Markup {
    html! {
        @for line in &results.loose_prose { p { (line) } }
        (items_tables(&results.items))
        @for (at, one) in results.studies.iter().enumerate() {
            (study(one, &format!("picture-{number}-{at}")))
        }
        (checks_table(&results.checks))
    }
}

/// Cells and tables in their order: cells between two tables stand together.
fn items_tables(items: &[&Item]) -> Markup {
    let mut groups: Vec<Vec<&Item>> = Vec::new();
    for item in items {
        let table = matches!(item, Item::Table(_));
        match groups.last_mut() {
            Some(last) if !table && !matches!(last[0], Item::Table(_)) => last.push(item),
            _ => groups.push(vec![item]),
        }
    }
    html! {
        @for group in groups {
            @if let [Item::Table(table)] = group[..] {
                (notebook_table(table))
            } @else {
                @let rows = |kind: RowKind| group.iter().filter_map(|item| match item {
                    Item::Cell(row) if row.kind == kind => Some(&**row),
                    _ => None,
                }).collect::<Vec<_>>();
                (rows_table(&rows(RowKind::Given), RowKind::Given))
                (rows_table(&rows(RowKind::WorkedOut), RowKind::WorkedOut))
            }
        }
    }
}

/// Mistakes of the notebook: a report says what is missing in it.
fn errors(report: &Report) -> Markup {
    let errors: Vec<_> = report
        .messages
        .iter()
        .filter(|message| !message.is_note())
        .collect();
    html! {
        @if !errors.is_empty() {
            section class="errors" {
                h2 { "To be mended" }
                ul {
                    @for message in errors {
                        li {
                            @if let Some((line, _)) = message.place { "Line " (line) ": " }
                            (message.diagnostic.message)
                            @if !message.diagnostic.label.is_empty() { " (" (message.diagnostic.label) ")" }
                        }
                    }
                }
            }
        }
    }
}

fn worked_lines(notebook: &Notebook) -> Markup {
    let cells = notebook.cells().filter(|(_, cell)| {
        let own = cell.part == 0 && cell.state == CellState::Ok;
        own && matches!(cell.role, Role::WorkedOut | Role::ComputedColumn)
    });
    let mut lines: Vec<(usize, Markup)> = cells
        .filter_map(|(id, cell)| {
            let line = notebook.line_of(cell.statement).unwrap_or(usize::MAX);
            Some((line, worked(&why(notebook, id), Working::Numbers)?))
        })
        .collect();
    lines.sort_by_key(|(line, _)| *line);
    html! {
        @if !lines.is_empty() {
            section class="working" {
                h2 { "Worked lines" }
                @for (_, line) in lines { (line) }
            }
        }
    }
}

fn sources(report: &Report) -> Markup {
    html! {
        @if !report.sources.is_empty() {
            section class="sources" {
                h2 { "Sources" }
                ul {
                    @for line in &report.sources {
                        li { (shown_name(&line.formulas.join(", "))) ": " (ended(&line.text)) }
                    }
                }
            }
        }
    }
}
