//! The lines of a document that a message is about, with its place underlined. Takes any span,
//! also one that does not fit the text, and hands only whole, visible, short lines to the crate
//! that sets gutter and carets. What stands around the excerpt is drawn in `render`.

use super::visible::{ShownLine, show_line};
use super::wrap::wrap;
use super::{Lines, Span};
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use unicode_width::UnicodeWidthStr;

/// More lines than this of one place are not shown.
const MOST_LINES: usize = 3;

/// Below this room a label does not stand beside its carets but under them.
const LEAST_ROOM_BESIDE: usize = 24;

/// What is shown of a text, and where.
pub(super) struct Excerpt {
    /// The column of the bar between line numbers and source.
    pub bar: usize,
    /// The finished lines without line ends; empty where there is nothing to underline.
    pub rows: Vec<Row>,
}

/// One line of an excerpt.
pub(super) enum Row {
    /// A line of the document.
    Source(String),
    /// Carets, and the text beside them.
    Carets {
        before: String,
        carets: String,
        behind: String,
    },
    /// More of the text beside the carets.
    Label(String),
}

/// How an excerpt is drawn.
#[derive(Clone, Copy)]
pub(super) struct Drawing {
    /// The number of the text's first line, or none to leave numbers out.
    pub first_line: Option<usize>,
    /// Columns of a whole line, gutter included.
    pub width: usize,
    /// Whether other than ASCII characters can be shown.
    pub unicode: bool,
}

/// Draws the lines of a span, with a label at the last caret.
pub(super) fn draw(
    text: &str,
    lines: &Lines,
    span: Span,
    label: &str,
    drawing: Drawing,
) -> Excerpt {
    let first = lines.line_at(span.start as usize);
    let number = drawing
        .first_line
        .map_or(1, |number| number.saturating_add(first))
        .min(usize::MAX - MOST_LINES);
    let bar = match drawing.first_line {
        Some(_) => number.to_string().len() + 1,
        None => 2,
    };
    let room = drawing.width.saturating_sub(bar + 2).max(20);
    let shown = shown_lines(text, lines, span, room, drawing.unicode);
    if shown.iter().all(|line| line.text.trim().is_empty()) {
        let rows = Vec::new();
        return Excerpt { bar, rows };
    }
    let mut excerpt = set_carets(&shown, number, drawing.first_line.is_some());
    place_label(&mut excerpt, label, drawing.width);
    excerpt
}

/// The lines of a span as they are shown, each with the part of the span that is in it.
fn shown_lines(
    text: &str,
    lines: &Lines,
    span: Span,
    room: usize,
    unicode: bool,
) -> Vec<ShownLine> {
    let (start, end) = (span.start as usize, span.end as usize);
    let first = lines.line_at(start);
    let last = lines.line_at(end.saturating_sub(1).max(start));
    (first..=last)
        .take(MOST_LINES)
        .map(|line| {
            let whole = lines.span(text, line);
            let written = whole.of(text);
            let in_line = |at: usize| at.clamp(whole.start as usize, whole.end as usize);
            let start = in_line(start) - whole.start as usize;
            let end = in_line(end) - whole.start as usize;
            let (start, end) = without_blanks(written, start, end);
            show_part(written, start, end, room, unicode)
        })
        .collect()
}

/// A run of a line without the blanks at its ends, unless it is all blank.
fn without_blanks(line: &str, start: usize, end: usize) -> (usize, usize) {
    let run = line.get(start..end).unwrap_or_default();
    let words = run.trim();
    if words.is_empty() {
        return (start, end);
    }
    let start = start + run.len() - run.trim_start().len();
    (start, start + words.len())
}

/// Shows a line, cut around the underlined run where it is wider than the room for it.
fn show_part(line: &str, start: usize, end: usize, room: usize, unicode: bool) -> ShownLine {
    let reach = 4 * room;
    let before = line.get(..start).unwrap_or_default();
    let from = before.char_indices().rev().take(reach).last();
    let from = from.map_or(start, |(at, _)| at);
    let behind = line.get(start..).unwrap_or_default();
    let to = behind.char_indices().nth(reach);
    let to = to.map_or(line.len(), |(at, _)| start + at);
    let part = line.get(from..to).unwrap_or_default();
    let shown = show_line(part, start - from, end.min(to) - from, unicode);
    cut(&shown, room, (from > 0, to < line.len()), unicode)
}

/// Cuts a shown line to a width. `already` says whether text is missing before it and behind it.
fn cut(shown: &ShownLine, room: usize, already: (bool, bool), unicode: bool) -> ShownLine {
    let mark = if unicode { "…" } else { "..." };
    let start = shown.text[..shown.start].width();
    let end = shown.text[..shown.end].width().max(start + 1);
    // A caret may stand behind the last character.
    let total = shown.text.width().max(end);
    if total <= room && already == (false, false) {
        return ShownLine {
            text: shown.text.clone(),
            ..*shown
        };
    }
    let inner = room - 2 * mark.width();
    let left = match () {
        _ if !already.0 && end <= inner => 0,
        _ if !already.1 && total - start <= inner => total - inner.min(total),
        _ => start - (inner.saturating_sub(end - start) / 2).min(start),
    };
    let (from, to) = bytes_of_columns(&shown.text, left, left + inner);
    let before = if from > 0 || already.0 { mark } else { "" };
    let behind = if to < shown.text.len() || already.1 {
        mark
    } else {
        ""
    };
    let moved = |at: usize| at.clamp(from, to) - from + before.len();
    ShownLine {
        text: format!("{before}{}{behind}", &shown.text[from..to]),
        start: moved(shown.start),
        end: moved(shown.end),
    }
}

/// The bytes of the characters that lie wholly between two columns.
fn bytes_of_columns(text: &str, left: usize, right: usize) -> (usize, usize) {
    let mut column = 0;
    let mut from = None;
    let mut to = 0;
    for (at, character) in text.char_indices() {
        let width = unicode_width::UnicodeWidthChar::width(character).unwrap_or(0);
        if column >= left && column + width <= right {
            from = from.or(Some(at));
            to = at + character.len_utf8();
        }
        column += width;
    }
    let from = from.unwrap_or(to);
    (from, to)
}

/// Sets numbers, gutter and carets.
fn set_carets(shown: &[ShownLine], number: usize, numbered: bool) -> Excerpt {
    let mut source = String::new();
    let mut marked = Vec::new();
    for (index, line) in shown.iter().enumerate() {
        if index > 0 {
            source.push('\n');
        }
        let is_last = index + 1 == shown.len();
        if line.end > line.start || (is_last && marked.is_empty()) {
            marked.push(source.len() + line.start..source.len() + line.end);
        }
        source.push_str(&line.text);
    }
    let snippet = Snippet::source(source)
        .line_start(number)
        .fold(false)
        .annotations(
            marked
                .into_iter()
                .map(|run| AnnotationKind::Primary.span(run)),
        );
    let group = Group::with_level(Level::ERROR).element(snippet);
    // Lines are cut already: a terminal wide enough keeps the crate from cutting them again.
    let drawn = Renderer::plain().term_width(100_000).render(&[group]);
    // The first line holds nothing but the bar.
    let bar = drawn.find('|').unwrap_or(2);
    let rows = drawn
        .lines()
        .skip(1)
        .map(|row| read_row(row, bar, numbered));
    Excerpt {
        bar,
        rows: rows.collect(),
    }
}

/// Tells a line of the document from one of carets.
fn read_row(row: &str, bar: usize, numbered: bool) -> Row {
    let gutter = row.get(..bar).unwrap_or_default();
    let behind_gutter = row.get(bar..).unwrap_or_default();
    if !gutter.trim().is_empty() {
        let gutter = if numbered { gutter } else { &" ".repeat(bar) };
        return Row::Source(format!("{gutter}{behind_gutter}").trim_end().to_owned());
    }
    let carets = row.trim_end();
    let start = carets.find('^').unwrap_or(carets.len());
    let (before, carets) = carets.split_at(start);
    Row::Carets {
        before: before.to_owned(),
        carets: carets.to_owned(),
        behind: String::new(),
    }
}

/// Puts a label beside the last carets if there is room, else below them.
fn place_label(excerpt: &mut Excerpt, label: &str, width: usize) {
    let bar = excerpt.bar;
    let last = excerpt
        .rows
        .iter()
        .rposition(|row| matches!(row, Row::Carets { .. }));
    let Some((
        last,
        Row::Carets {
            before,
            carets,
            behind,
        },
    )) = last.and_then(|last| Some((last, excerpt.rows.get_mut(last)?)))
    else {
        return;
    };
    if label.is_empty() {
        return;
    }
    let caret_column = before.len();
    let beside = caret_column + carets.len() + 1;
    let room = width.saturating_sub(beside);
    let mut below = Vec::new();
    let column;
    if label.width() <= room || room >= LEAST_ROOM_BESIDE {
        column = beside;
        below = wrap(label, room, room);
        *behind = format!(" {}", below.remove(0));
    } else {
        let rightmost = width.saturating_sub(label.width());
        column = caret_column.min(rightmost).max(bar + 2);
        let room = width.saturating_sub(column);
        below.extend(wrap(label, room, room));
    }
    let pad = column.saturating_sub(bar + 1);
    let below = below
        .into_iter()
        .map(|line| Row::Label(format!("{:bar$}|{:pad$}{line}", "", "")));
    let after: Vec<Row> = excerpt.rows.split_off(last + 1);
    excerpt.rows.extend(below);
    excerpt.rows.extend(after);
}
