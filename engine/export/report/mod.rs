//! The report as one HTML file: the prose of the document with the results where it speaks of
//! them, checks, pictures, cautions, then worked lines and sources. It prints, loads nothing and
//! runs nothing.

use super::html::{
    Frame, Working, checks_table, ended, frame, notebook_table, prose, remarks_list, rows_table,
    shown_name, study, worked,
};
use crate::notebook::{CellState, Notebook, Role};
use crate::report::{
    CheckLine, Counts, Item, Options, Report, RowKind, Section, StudyTable, report, studies, why,
};
use crate::source::{Piece, Span};
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
    let mut flow = Flow {
        notebook,
        studies: studies(notebook),
        said: vec![false; report.sections.len()],
        report: &report,
        checks: 0,
        pictures: 0,
    };
    let body = html! {
        main {
            header {
                h1 { (title) }
                p class="counts" { (counts_text(&report.counts)) }
            }
            (flow.document())
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

/// Walks through the document.
struct Flow<'r> {
    notebook: &'r Notebook,
    report: &'r Report,
    studies: Vec<StudyTable>,
    /// Sections whose remarks were said.
    said: Vec<bool>,
    /// Checks shown so far.
    checks: usize,
    pictures: usize,
}

impl Flow<'_> {
    fn document(&mut self) -> Markup {
        let document = self.notebook.document();
        let mut parts: Vec<Markup> = Vec::new();
        let title = document
            .headings()
            .iter()
            .find(|heading| heading.level == 1);
        let title = title.map(|heading| heading.span);
        for piece in document.pieces() {
            match piece {
                Piece::Prose(span) => self.prose(span, title, &mut parts),
                Piece::Block(number) => parts.push(self.block(number)),
            }
        }
        parts.push(self.remarks_before(u32::MAX));
        html! { @for part in parts { (part) } }
    }

    /// Prose, cut at its headings so that remarks end their section.
    fn prose(&mut self, span: Span, title: Option<Span>, parts: &mut Vec<Markup>) {
        let document = self.notebook.document();
        let text = document.text();
        let mut at = span.start;
        for heading in document.headings() {
            let own = heading.span;
            if own.start < span.start || own.start >= span.end {
                continue;
            }
            parts.push(prose(
                Span {
                    start: at,
                    end: own.start,
                }
                .of(text),
                0,
            ));
            parts.push(self.remarks_before(own.start));
            at = match title {
                Some(title) if title == own => own.end,
                _ => own.start,
            };
        }
        parts.push(prose(
            Span {
                start: at,
                end: span.end,
            }
            .of(text),
            0,
        ));
    }

    /// What is to be said of sections that end before a place.
    fn remarks_before(&mut self, place: u32) -> Markup {
        let lines = self
            .notebook
            .document()
            .line_column(place.min(self.notebook.document().text().len() as u32) as usize)
            .0;
        let mut parts = Vec::new();
        for (number, section) in self.report.sections.iter().enumerate() {
            let begun = first_line(section).is_none_or(|first| first <= lines);
            if !self.said[number] && (begun || place == u32::MAX) {
                self.said[number] = true;
                parts.push(remarks_list(&section.remarks));
            }
        }
        html! {
            @for part in parts { (part) }
            @if place == u32::MAX { (remarks_list(&self.report.check_remarks)) }
        }
    }

    /// The results of one block.
    fn block(&mut self, number: usize) -> Markup {
        let document = self.notebook.document();
        let Some(block) = document.blocks().get(number) else {
            return html! {};
        };
        let first = document.line_column(block.span.start as usize).0;
        let last = match number + 1 == document.blocks().len() {
            // What was typed in the shell belongs to the last block.
            true => usize::MAX,
            false => document
                .line_column(block.span.end as usize)
                .0
                .saturating_sub(1),
        };
        let within = |line: Option<usize>| match line {
            Some(line) => (first..=last).contains(&line),
            None => last == usize::MAX,
        };
        let loose = block.loose.then(|| self.loose_prose());
        let items = self
            .report
            .sections
            .iter()
            .flat_map(|section| &section.items);
        let items: Vec<&Item> = items
            .filter(|item| match item {
                Item::Cell(row) => within(row.line),
                Item::Table(table) => within(table.line),
            })
            .collect();
        let checks: Vec<&CheckLine> = self
            .report
            .checks
            .iter()
            .filter(|check| within(check.line))
            .collect();
        self.checks += checks.len();
        let studies: Vec<Markup> = self
            .studies
            .iter()
            .filter(|one| within(one.line))
            .enumerate()
            .map(|(at, one)| study(one, &format!("picture-{}-{at}", self.pictures)))
            .collect();
        self.pictures += 1;
        html! {
            @if let Some(loose) = loose { (loose) }
            (items_tables(&items))
            @for one in studies { (one) }
            (checks_table(&checks))
        }
    }

    /// The lines of a document without fences that are no statements.
    fn loose_prose(&self) -> Markup {
        let text = self.notebook.document().text();
        let taken: Vec<Span> = self
            .notebook
            .statements()
            .iter()
            .filter(|record| record.part == 0 && !record.is_handbook() && !record.is_added())
            .map(|record| record.span)
            .collect();
        let blocks = self.notebook.document().blocks();
        let lines: Vec<&str> = blocks
            .iter()
            .flat_map(|block| &block.lines)
            .filter(|line| {
                !taken
                    .iter()
                    .any(|span| span.start < line.end && line.start < span.end)
            })
            .map(|line| line.of(text).trim())
            .filter(|line| !line.is_empty())
            .collect();
        html! { @for line in lines { p { (line) } } }
    }
}

fn first_line(section: &Section) -> Option<usize> {
    section
        .items
        .iter()
        .filter_map(|item| match item {
            Item::Cell(row) => row.line,
            Item::Table(table) => table.line,
        })
        .min()
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
