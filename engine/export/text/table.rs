//! Tables of the notebook: a column head is a name with its unit, and says how its ± is meant. A
//! table that is wider than the page goes on below, its key column repeated.

use super::columns::{self, INDENT};
use super::digits::{Alignment, Figure};
use super::layout::{Layout, Paint, padded, width};
use super::section::{add_line, tag};
use super::sheet::{Sheet, ruled};
use crate::report::{Column, ColumnKind, RowKind, RowState, Shown, ShownKind, Table};

/// Blanks between columns, the one between cells apart: as many as leave the table in one piece.
const GAPS: [usize; 3] = [2, 1, 0];

/// A column ready to be set.
pub(super) struct Lane {
    head: String,
    cells: Vec<String>,
    width: usize,
    /// Whether its cells are text, which may be broken at blanks.
    text: bool,
}

impl Lane {
    /// A column of words.
    pub(super) fn of_words(layout: &Layout, head: &str, cells: Vec<String>) -> Lane {
        let widest = cells.iter().map(|cell| width(cell)).max().unwrap_or(0);
        let head = layout.show(head);
        Lane {
            width: widest.max(width(&head)),
            head,
            cells,
            text: true,
        }
    }

    /// A column of values, numbers on their decimal marker; `failed` for one without any.
    pub(super) fn of_values(
        layout: &Layout,
        (name, unit): (&str, &str),
        rows: &[Shown],
        kind: ColumnKind,
        failed: bool,
    ) -> Lane {
        let figures: Vec<Figure> = rows.iter().map(Figure::of).collect();
        let alignment = Alignment::of(layout, &figures);
        let meant = how_meant(rows, kind);
        let untagged = |shown: &Shown| Shown {
            tag: Some("95 %".to_owned()),
            ..shown.clone()
        };
        let cells: Vec<String> = rows
            .iter()
            .zip(&figures)
            .map(|(shown, figure)| match meant {
                Some(LIMITS) if kind == ColumnKind::WorkedOut => {
                    cell(layout, (kind, failed), &untagged(shown), figure, &alignment)
                }
                _ => cell(layout, (kind, failed), shown, figure, &alignment),
            })
            .collect();
        let head = layout.show(&head((name, unit), meant));
        let widest = cells.iter().map(|cell| width(cell)).max().unwrap_or(0);
        Lane {
            width: widest.max(width(&head)),
            head,
            cells,
            text: kind == ColumnKind::Text,
        }
    }

    /// The same under another head.
    pub(super) fn headed(mut self, head: String) -> Lane {
        let widest = self.cells.iter().map(|cell| width(cell)).max().unwrap_or(0);
        self.width = widest.max(width(&head));
        self.head = head;
        self
    }

    /// The same with words behind its values, one for each.
    pub(super) fn beside(mut self, words: &[String]) -> Lane {
        let widest = self.cells.iter().map(|cell| width(cell)).max().unwrap_or(0);
        for (cell, word) in self.cells.iter_mut().zip(words) {
            *cell = format!("{} {word}", padded(cell, widest));
        }
        let widest = self.cells.iter().map(|cell| width(cell)).max().unwrap_or(0);
        self.width = widest.max(width(&self.head));
        self
    }
}

pub(super) fn add(sheet: &mut Sheet, table: &Table) {
    let layout = sheet.layout;
    let mut title = format!("Table {}", table.name);
    if let Some(remark) = &table.remark {
        title = format!("{title}: {remark}");
    }
    let title = sheet.show(&title);
    sheet.painted_paragraph(&title, INDENT, INDENT + 2, Paint::Bold);
    let lanes: Vec<Lane> = table.columns.iter().map(|one| lane(&layout, one)).collect();
    add_lanes(sheet, lanes, table.rows);
}

/// A table as written: heads, and rows field by field.
pub(super) fn add_written(sheet: &mut Sheet, heads: &[String], rows: &[Vec<String>]) {
    let layout = sheet.layout;
    let lanes: Vec<Lane> = heads
        .iter()
        .enumerate()
        .map(|(number, head)| {
            let field = |row: &Vec<String>| row.get(number).map(|field| layout.show(field));
            let cells = rows.iter().map(|row| field(row).unwrap_or_default());
            Lane::of_words(&layout, head, cells.collect())
        })
        .collect();
    add_lanes(sheet, lanes, rows.len());
}

pub(super) fn add_lanes(sheet: &mut Sheet, mut lanes: Vec<Lane>, rows: usize) {
    let layout = sheet.layout;
    narrow(&layout, &mut lanes);
    let Some((key, others)) = lanes.split_first() else {
        return;
    };
    let whole = |gap: &usize| fitting(&layout, key, others, *gap) == others.len();
    let gap = GAPS.into_iter().find(whole).unwrap_or(GAPS[1]);
    let mut rest = others;
    loop {
        let fitting = fitting(&layout, key, rest, gap);
        let (now, later) = rest.split_at(fitting);
        add_block(sheet, (key, now), rows, gap);
        rest = later;
        if rest.is_empty() {
            return;
        }
    }
}

fn lane(layout: &Layout, column: &Column) -> Lane {
    let name = (column.heading.as_str(), column.shown_unit.as_str());
    let failed = column.state == RowState::Failed;
    Lane::of_values(layout, name, &column.rows, column.kind, failed)
}

/// Text gives way where a key and one column would not fit side by side.
fn narrow(layout: &Layout, lanes: &mut [Lane]) {
    let columns = layout.columns() - INDENT;
    let Some((key, others)) = lanes.split_first_mut() else {
        return;
    };
    if key.text {
        key.width = key.width.min(columns / 2);
    }
    let room = columns.saturating_sub(key.width + 1 + 2 * GAPS[1]);
    for lane in others.iter_mut().filter(|lane| lane.text) {
        lane.width = lane.width.min(room);
    }
}

/// The word for hard limits.
const LIMITS: &str = "limits";

/// How the ± of a column is meant, said in its head; nothing where no row has one.
pub(super) fn how_meant(rows: &[Shown], kind: ColumnKind) -> Option<&'static str> {
    let mut doubtful = rows
        .iter()
        .filter(|row| row.plus_minus.is_some())
        .peekable();
    doubtful.peek()?;
    match kind {
        ColumnKind::Text => None,
        ColumnKind::Given => Some("limit"),
        ColumnKind::WorkedOut if doubtful.all(|row| row.tag.is_none()) => Some(LIMITS),
        ColumnKind::WorkedOut => Some("at 95 %"),
    }
}

/// The name, the unit, and how a ± is meant.
fn head((name, unit): (&str, &str), meant: Option<&str>) -> String {
    let mut head = name.replace('_', " ");
    if !unit.is_empty() {
        head.push(' ');
        head.push_str(unit);
    }
    if let Some(meant) = meant {
        head.push_str(" ± ");
        head.push_str(meant);
    }
    head
}

fn cell(
    layout: &Layout,
    (kind, failed): (ColumnKind, bool),
    shown: &Shown,
    figure: &Figure,
    alignment: &Alignment,
) -> String {
    let set = alignment.set(layout, figure);
    let kind = match kind {
        ColumnKind::Given => RowKind::Given,
        ColumnKind::Text | ColumnKind::WorkedOut => RowKind::WorkedOut,
    };
    let failed = failed || shown.value == "failed";
    match tag(shown, kind) {
        _ if failed && shown.kind == ShownKind::Word => layout.paint(&set, Paint::Red),
        Some(tag) => format!("{set} {}", layout.show(&tag)),
        None => set,
    }
}

/// How many of the columns fit beside the key; at least one.
fn fitting(layout: &Layout, key: &Lane, lanes: &[Lane], gap: usize) -> usize {
    let mut room = layout.columns().saturating_sub(INDENT + key.width + gap);
    let mut count = 0;
    for lane in lanes {
        let Some(left) = room.checked_sub(1 + gap + lane.width) else {
            break;
        };
        room = left;
        count += 1;
    }
    count.max(1).min(lanes.len())
}

fn add_block(sheet: &mut Sheet, (key, lanes): (&Lane, &[Lane]), rows: usize, gap: usize) {
    let layout = sheet.layout;
    let all: Vec<&Lane> = std::iter::once(key).chain(lanes).collect();
    let last = all.len() - 1;
    let mut widths: Vec<usize> = all.iter().map(|lane| lane.width + gap).collect();
    let before: usize = widths[..last].iter().map(|width| width + 1).sum();
    let room = layout.columns().saturating_sub(INDENT + before);
    widths[last] = room.max(all[last].width);
    let head = all
        .iter()
        .zip(&widths)
        .map(|(lane, width)| ruled(&layout, &lane.head, *width))
        .collect();
    let mut lines = vec![head];
    for row in 0..rows {
        let cell = |lane: &&Lane| lane.cells.get(row).cloned().unwrap_or_default();
        lines.push(all.iter().map(cell).collect());
    }
    for (number, line) in columns::set(&lines, &widths).iter().enumerate() {
        add_line(sheet, line, number == 0);
    }
}
