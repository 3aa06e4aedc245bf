//! The ripple of an edit: was beside now, and by how much; then what flipped.

use super::answer;
use super::checks;
use super::columns::{self, INDENT};
use super::digits::{Alignment, Figure};
use super::layout::{Layout, width};
use super::section::add_line;
use super::sheet::{Sheet, ruled};
use crate::report::{By, Change, Rippled, RowState, Shown};

/// Blanks before what stands below a name.
const BELOW: usize = 6;

/// What an edit moved, as the shell shows it.
pub fn ripple(rippled: &Rippled, layout: Layout) -> String {
    let mut sheet = Sheet::new(layout);
    for sentence in &rippled.sentences {
        answer::add(&mut sheet, sentence);
    }
    if let Some(defined) = &rippled.defined {
        let text = sheet.show(&format!("{defined} is known"));
        sheet.paragraph(&text, 2, 4);
    }
    if let Some(check) = &rippled.check {
        checks::add_answer(&mut sheet, check);
    }
    if !rippled.changes.is_empty() {
        add_changes(&mut sheet, &rippled.changes);
    }
    for flip in &rippled.flips {
        let was = checks::had(&flip.was.0, flip.was.1);
        let now = checks::said(&layout, &flip.now.0, flip.now.1);
        let condition = layout.show(&flip.condition);
        let text = format!("flipped: {condition} {was}, now {now}");
        sheet.paragraph(&text, 2, 4);
    }
    add_broken(&mut sheet, &rippled.broken);
    sheet.finish()
}

/// Cells without a value, those that wait behind those that carry a mistake.
fn add_broken(sheet: &mut Sheet, broken: &[(String, RowState)]) {
    if broken.is_empty() {
        return;
    }
    let mut groups: Vec<(Option<String>, Vec<&str>)> = Vec::new();
    for (name, state) in broken {
        let waits = match state {
            RowState::Waits(_) => state.word(),
            RowState::Ok | RowState::Failed => None,
        };
        match groups.iter_mut().find(|(known, _)| *known == waits) {
            Some((_, names)) => names.push(name),
            None => groups.push((waits, vec![name])),
        }
    }
    groups.sort_by_key(|(waits, _)| waits.is_some());
    let parts: Vec<String> = groups
        .iter()
        .map(|(waits, names)| match (waits, names.len()) {
            (None, _) => names.join(", "),
            (Some(waits), 1) => format!("{} {waits}", names[0]),
            (Some(waits), _) => format!(
                "{} {}",
                names.join(", "),
                waits.replacen("waits", "wait", 1)
            ),
        })
        .collect();
    let text = sheet.show(&format!("no value now: {}", parts.join("; ")));
    sheet.paragraph(&text, 2, 4);
}

/// A change ready to be set.
struct Line {
    name: String,
    was: String,
    now: String,
    unit: String,
    by: String,
}

fn add_changes(sheet: &mut Sheet, changes: &[Change]) {
    let layout = sheet.layout;
    let lines = lines(sheet, changes);
    let title = format!("{} changed", changes.len());
    let units = lines.iter().any(|line| !line.unit.is_empty());
    let mut heads = vec![title.as_str(), "was", "now"];
    if units {
        heads.push("unit");
    }
    let cells = |line: &Line| {
        let mut cells = vec![line.name.clone(), line.was.clone(), line.now.clone()];
        if units {
            cells.push(line.unit.clone());
        }
        cells
    };
    let mut rows: Vec<Vec<String>> = lines.iter().map(cells).collect();
    let below = Table::of(&layout, &heads, &rows);
    heads.push("by");
    for (row, line) in rows.iter_mut().zip(&lines) {
        row.push(line.by.clone());
    }
    let beside = Table::of(&layout, &heads, &rows);
    match (beside, below) {
        (Some(table), _) => table.add(sheet, &[]),
        (None, Some(table)) => {
            let by: Vec<&str> = lines.iter().map(|line| line.by.as_str()).collect();
            table.add(sheet, &by);
        }
        (None, None) => add_stacked(sheet, &title, &lines),
    }
}

/// Rows in columns that fit the page, the head first.
struct Table {
    rows: Vec<Vec<String>>,
    widths: Vec<usize>,
}

impl Table {
    /// Nothing where the columns do not fit.
    fn of(layout: &Layout, heads: &[&str], rows: &[Vec<String>]) -> Option<Table> {
        let widest = |column: usize| {
            let cells = rows.iter().map(|row| width(&row[column]));
            cells.max().unwrap_or(0).max(width(heads[column]))
        };
        let widths: Vec<usize> = (0..heads.len()).map(widest).collect();
        let all = INDENT + widths.iter().map(|width| width + 1).sum::<usize>() - 1;
        let left = layout.columns().checked_sub(all)?;
        let more = (left / heads.len()).min(2);
        let mut widths: Vec<usize> = widths.iter().map(|width| width + more).collect();
        let last = widths.len() - 1;
        let before: usize = widths[..last].iter().map(|width| width + 1).sum();
        widths[last] = layout.columns().saturating_sub(INDENT + before);
        let head = heads
            .iter()
            .zip(&widths)
            .map(|(head, width)| ruled(layout, head, *width))
            .collect();
        let rows = std::iter::once(head).chain(rows.iter().cloned()).collect();
        layout.is_side_by_side().then_some(Table { rows, widths })
    }

    /// The rows, each with what stands below it.
    fn add(&self, sheet: &mut Sheet, below: &[&str]) {
        for (number, row) in self.rows.iter().enumerate() {
            for line in columns::set(std::slice::from_ref(row), &self.widths) {
                add_line(sheet, &line, number == 0);
            }
            let by = number.checked_sub(1).and_then(|number| below.get(number));
            if let Some(by) = by.filter(|by| !by.is_empty()) {
                sheet.line(&format!("{:BELOW$}by {by}", ""));
            }
        }
    }
}

fn add_stacked(sheet: &mut Sheet, title: &str, lines: &[Line]) {
    sheet.rule(title, INDENT);
    for line in lines {
        sheet.paragraph(&line.name, INDENT, INDENT + 2);
        let unit = match line.unit.is_empty() {
            true => String::new(),
            false => format!(" {}", line.unit),
        };
        if !line.was.trim().is_empty() {
            sheet.line(&format!("{:BELOW$}was {}{unit}", "", line.was.trim_end()));
        }
        sheet.line(&format!("{:BELOW$}now {}{unit}", "", line.now.trim_end()));
        if !line.by.is_empty() {
            sheet.line(&format!("{:BELOW$}by  {}", "", line.by));
        }
    }
}

fn lines(sheet: &Sheet, changes: &[Change]) -> Vec<Line> {
    let layout = sheet.layout;
    let figure = |shown: &Shown, now: &Shown| match shown.unit == now.unit {
        true => Figure::of(shown),
        // A value that changed its unit says both.
        false => Figure::Word(shown.line()),
    };
    let figures: Vec<(Option<Figure>, Figure)> = changes
        .iter()
        .map(|change| {
            let was = change.was.as_ref().map(|was| figure(was, &change.now));
            (was, Figure::of(&change.now))
        })
        .collect();
    let all = figures
        .iter()
        .flat_map(|(was, now)| was.iter().chain(std::iter::once(now)));
    let alignment = Alignment::of(&layout, all);
    changes
        .iter()
        .zip(&figures)
        .map(|(change, (was, now))| Line {
            name: layout.show(&name(&change.name)),
            was: match was {
                Some(was) => alignment.set(&layout, was),
                None => "no value".to_owned(),
            },
            now: alignment.set(&layout, now),
            unit: layout.show(&change.now.unit),
            by: change
                .by
                .as_ref()
                .map(|by| self::by(&layout, by))
                .unwrap_or_default(),
        })
        .collect()
}

/// A cell as tables name it; a row of a column as one types it.
fn name(name: &str) -> String {
    match name.contains('.') {
        true => name.to_owned(),
        false => name.replace('_', " "),
    }
}

fn by(layout: &Layout, by: &By) -> String {
    let mut text = layout.number(&by.amount);
    if let Some(unit) = &by.unit {
        text.push(' ');
        text.push_str(unit);
    }
    if let Some(percent) = &by.percent {
        text.push_str(", ");
        text.push_str(&layout.number(percent));
        text.push_str(" %");
    }
    layout.show(&text)
}
