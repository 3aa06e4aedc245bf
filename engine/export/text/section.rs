//! Sections: a head in its rule, the cells given, the cells worked out, remarks beside or below
//! them, then tables and what is to be said. The columns of all sections begin at the same places.

use super::columns::{self, INDENT};
use super::digits::{Alignment, Figure};
use super::layout::{Layout, Paint, padded, width};
use super::places::{LEAST_REMARK, Measures, Plan};
use super::sheet::{Sheet, ruled};
use super::{remarks, study, table};
use crate::report::{Row, RowKind, RowState, Section, Shown};

/// Blanks before what stands below a cell.
const BELOW: usize = 6;

/// The head words of the two groups, each long and short.
const GIVEN: [&str; 3] = ["given", "value ± limit", "value"];
const WORKED_OUT: [&str; 3] = ["worked out", "value ± at 95 %", "value"];

/// A cell ready to be set.
pub(super) struct Line {
    pub(super) name: String,
    pub(super) figure: Figure,
    pub(super) unit: String,
    pub(super) remark: String,
    failed: bool,
}

/// A section ready to be set.
pub(super) struct Prepared {
    given: Vec<Line>,
    worked_out: Vec<Line>,
    pub(super) alignment: Alignment,
}

pub(super) fn add_all(sheet: &mut Sheet, sections: &[Section]) {
    let prepared: Vec<Prepared> = sections
        .iter()
        .map(|section| Prepared::of(&sheet.layout, section))
        .collect();
    let mut measures = Measures::default();
    for one in &prepared {
        measures.widen(&sheet.layout, one);
    }
    let plan = Plan::of(&sheet.layout, measures);
    for (section, prepared) in sections.iter().zip(&prepared) {
        sheet.gap();
        if let Some(heading) = &section.heading {
            let heading = sheet.show(heading);
            sheet.painted_paragraph(&heading, 0, 2, Paint::Bold);
        }
        add_group(sheet, plan, prepared, RowKind::Given);
        add_group(sheet, plan, prepared, RowKind::WorkedOut);
        for one in section.tables() {
            table::add(sheet, one);
        }
        for one in &section.studies {
            study::add(sheet, one);
        }
        remarks::add(sheet, &section.remarks);
    }
}

/// The bracket behind a unit: what deviates from the head of its group.
pub(super) fn tag(shown: &Shown, kind: RowKind) -> Option<String> {
    shown.plus_minus.as_ref()?;
    match (kind, shown.tag.as_deref()) {
        (RowKind::Given, tag) => tag.map(|tag| format!("({tag})")),
        (RowKind::WorkedOut, None) => Some("(limits)".to_owned()),
        (RowKind::WorkedOut, Some("95 %")) => None,
        (RowKind::WorkedOut, Some(tag)) => Some(format!("({tag})")),
    }
}

impl Line {
    fn of(layout: &Layout, row: &Row) -> Line {
        let unit = &row.shown.unit;
        let unit = match (tag(&row.shown, row.kind), unit.is_empty()) {
            (Some(tag), true) => tag,
            (Some(tag), false) => format!("{unit} {tag}"),
            (None, _) => unit.clone(),
        };
        let mut figure = Figure::of(&row.shown);
        let mut unit = layout.show(&unit);
        if let Figure::Word(word) = &mut figure {
            let braces = row.shown.kind == crate::report::ShownKind::Number;
            *word = layout.show(&if braces {
                layout.number(word)
            } else {
                word.clone()
            });
            if !unit.is_empty() {
                word.push(' ');
                word.push_str(&unit);
            }
            unit = String::new();
        }
        Line {
            name: layout.show(&row.name.replace('_', " ")),
            figure,
            unit,
            remark: layout.show(row.remark.as_deref().unwrap_or("")),
            failed: row.state == RowState::Failed,
        }
    }
}

impl Prepared {
    fn of(layout: &Layout, section: &Section) -> Prepared {
        let lines = |kind| {
            section
                .rows(kind)
                .map(|row| Line::of(layout, row))
                .collect()
        };
        let (given, worked_out): (Vec<Line>, Vec<Line>) =
            (lines(RowKind::Given), lines(RowKind::WorkedOut));
        let all = given.iter().chain(&worked_out).map(|line| &line.figure);
        Prepared {
            alignment: Alignment::of(layout, all),
            given,
            worked_out,
        }
    }

    pub(super) fn group(&self, kind: RowKind) -> &[Line] {
        match kind {
            RowKind::Given => &self.given,
            RowKind::WorkedOut => &self.worked_out,
        }
    }

    /// The heads of a group: of the name, and of the value as long or as short as can be.
    pub(super) fn heads(&self, kind: RowKind) -> (&'static str, &'static str) {
        let [name, long, short] = match kind {
            RowKind::Given => GIVEN,
            RowKind::WorkedOut => WORKED_OUT,
        };
        let amounts = self
            .group(kind)
            .iter()
            .any(|line| matches!(&line.figure, Figure::Number(number) if number.1.is_some()));
        (name, if amounts { long } else { short })
    }

    fn has_remarks(&self) -> bool {
        let mut all = self.given.iter().chain(&self.worked_out);
        all.any(|line| !line.remark.is_empty())
    }
}

fn add_group(sheet: &mut Sheet, plan: Plan, prepared: &Prepared, kind: RowKind) {
    if prepared.group(kind).is_empty() {
        return;
    }
    match plan {
        Plan::Beside(measures) if prepared.has_remarks() => {
            add_beside(sheet, measures, prepared, kind);
        }
        Plan::Beside(measures) | Plan::Below(measures) => {
            add_below(sheet, measures, prepared, kind);
        }
        Plan::Stacked => add_stacked(sheet, prepared, kind),
    }
}

/// Value and unit as one cell of the table, so that a word may take the room of both.
fn middle(layout: &Layout, measures: &Measures, prepared: &Prepared, line: &Line) -> String {
    let set = prepared.alignment.set(layout, &line.figure);
    match (&line.figure, line.failed) {
        (Figure::Word(_), true) => layout.paint(&set, Paint::Red),
        (Figure::Word(_), false) => set,
        _ => format!("{} {}", padded(&set, measures.value), line.unit),
    }
}

fn heads(layout: &Layout, measures: &Measures, prepared: &Prepared, kind: RowKind) -> [String; 2] {
    let (name, value) = prepared.heads(kind);
    let name = ruled(layout, name, measures.name);
    let value = layout.show(value);
    let middle = match measures.unit {
        0 => ruled(layout, &value, measures.value),
        unit => format!(
            "{} {}",
            ruled(layout, &value, measures.value),
            ruled(layout, "unit", unit)
        ),
    };
    [name, middle]
}

fn add_beside(sheet: &mut Sheet, measures: Measures, prepared: &Prepared, kind: RowKind) {
    let layout = sheet.layout;
    let columns = layout.columns();
    let room = columns - measures.whole() - 1;
    // A long word takes from the remarks rather than being broken.
    let middle_width = measures
        .middle()
        .max(measures.word)
        .min(measures.middle() + room - LEAST_REMARK);
    let room = room + measures.middle() - middle_width;
    let measures = Measures {
        unit: match measures.unit {
            0 => 0,
            unit => unit + middle_width - measures.middle(),
        },
        value: match measures.unit {
            0 => middle_width,
            _ => measures.value,
        },
        ..measures
    };
    let [name, head] = heads(&layout, &measures, prepared, kind);
    let mut rows = vec![vec![name, head, ruled(&layout, "remark", room)]];
    for line in prepared.group(kind) {
        rows.push(vec![
            line.name.clone(),
            middle(&layout, &measures, prepared, line),
            line.remark.clone(),
        ]);
    }
    let widths = [measures.name, measures.middle(), room];
    for (number, line) in columns::set(&rows, &widths).iter().enumerate() {
        add_line(sheet, line, number == 0);
    }
}

/// A line of a table, the head in bold.
pub(super) fn add_line(sheet: &mut Sheet, line: &str, is_head: bool) {
    match is_head {
        true => {
            let bold = sheet.paint(line.trim_start(), Paint::Bold);
            sheet.line(&format!("{:INDENT$}{bold}", ""));
        }
        false => sheet.line(line),
    }
}

fn add_below(sheet: &mut Sheet, measures: Measures, prepared: &Prepared, kind: RowKind) {
    let layout = sheet.layout;
    let room = layout.columns() - INDENT - measures.name - 1;
    let [name, head] = heads(&layout, &measures, prepared, kind);
    let head = match measures.unit {
        0 => ruled(&layout, head.trim_end_matches(['─', '-', ' ']), room),
        _ => {
            let more = room - width(&head);
            format!("{head}{}", ruled(&layout, "", more))
        }
    };
    let widths = [measures.name, room];
    for line in columns::set(&[vec![name, head]], &widths) {
        add_line(sheet, &line, true);
    }
    for line in prepared.group(kind) {
        let row = vec![
            line.name.clone(),
            middle(&layout, &measures, prepared, line),
        ];
        for set in columns::set(&[row], &widths) {
            sheet.line(&set);
        }
        if !line.remark.is_empty() {
            sheet.paragraph(&line.remark, BELOW, BELOW);
        }
    }
}

fn add_stacked(sheet: &mut Sheet, prepared: &Prepared, kind: RowKind) {
    let layout = sheet.layout;
    let (name, value) = prepared.heads(kind);
    let head = format!("{name}, {}", layout.show(value));
    sheet.rule(&head, INDENT);
    for line in prepared.group(kind) {
        sheet.paragraph(&line.name, INDENT, INDENT + 2);
        let set = prepared.alignment.set(&layout, &line.figure);
        match &line.figure {
            Figure::Word(_) if line.failed => {
                sheet.painted_paragraph(&set, BELOW, BELOW + 2, Paint::Red);
            }
            Figure::Word(_) => sheet.paragraph(&set, BELOW, BELOW + 2),
            _ => sheet.line(&format!("{:BELOW$}{set} {}", "", line.unit)),
        }
        if !line.remark.is_empty() {
            sheet.paragraph(&line.remark, BELOW, BELOW);
        }
    }
}
