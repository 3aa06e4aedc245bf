//! A plot in signs: each curve has its own and its name at its end, the unit stands above its axis,
//! what the curves do and where they cross is said in a sentence below.

use super::layout::{Layout, Paint, padded, padded_before, width};
use super::sheet::Sheet;
use super::study::name;
use crate::export::curves::{Chart, Curve, chart_sentence, charts, runs};
use crate::export::ticks::{Ticks, ticks};
use crate::report::StudyTable;

/// Signs that tell curves apart, and the one where they meet.
const SIGNS: [char; 6] = ['*', '=', 'o', '+', '~', 'x'];
const BOTH: char = '#';
/// Blanks before a picture.
const INDENT: usize = 2;
/// About so many lines a picture has.
const LINES: usize = 12;
/// Most signs of a name at the end of its curve.
const LONGEST_NAME: usize = 16;

/// Adds a plot: one picture for each unit. Gives whether there was anything to draw.
pub(super) fn add(sheet: &mut Sheet, study: &StudyTable) -> bool {
    let charts = charts(study);
    for chart in &charts {
        add_chart(sheet, chart);
    }
    !charts.is_empty()
}

/// A curve ready to be drawn: its sign and its name.
struct Drawn<'c> {
    sign: char,
    name: String,
    curve: &'c Curve,
}

fn add_chart(sheet: &mut Sheet, chart: &Chart) {
    let layout = sheet.layout;
    let Some(field) = Field::of(&layout, chart) else {
        sheet.paragraph("no value to show", 4, 4);
        return;
    };
    let drawn: Vec<Drawn<'_>> = (chart.curves.iter().enumerate())
        .map(|(number, curve)| Drawn {
            sign: SIGNS[number % SIGNS.len()],
            name: shortened(&name(&curve.name)),
            curve,
        })
        .collect();
    let mut signs = vec![vec![' '; field.columns]; field.lines];
    for one in &drawn {
        field.draw(chart, one, &mut signs);
    }
    let names = field.names(&drawn);
    if !chart.unit.is_empty() {
        let unit = layout.show(&chart.unit);
        sheet.line(&format!(
            "{:INDENT$}{} {unit}",
            "",
            " ".repeat(field.margin)
        ));
    }
    let [wall, notch] = if layout.unicode {
        ["│", "┤"]
    } else {
        ["|", "+"]
    };
    for (number, line) in signs.iter().enumerate() {
        let label = field.label(number);
        let edge = if label.is_empty() { wall } else { notch };
        let label = padded_before(&layout.show(label), field.margin);
        let text: String = line.iter().collect();
        let own = layout.show(&names[number]);
        sheet.line(&format!("{:INDENT$}{label} {edge}{text} {own}", ""));
    }
    add_axis(sheet, chart, &field);
    add_legend(sheet, chart, &drawn, &signs);
}

fn add_axis(sheet: &mut Sheet, chart: &Chart, field: &Field) {
    let layout = sheet.layout;
    let [corner, floor, notch] = if layout.unicode {
        ["└", "─", "┬"]
    } else {
        ["+", "-", "+"]
    };
    let mut axis: Vec<&str> = vec![floor; field.columns];
    let mut labels = String::new();
    for (place, label) in &field.along.places {
        let column = field.column(*place);
        axis[column.min(field.columns - 1)] = notch;
        let label = layout.show(label);
        let start = column.saturating_sub(width(&label) / 2);
        let free = width(&labels) + usize::from(!labels.is_empty());
        if start >= free {
            labels = format!("{}{label}", padded(&labels, start));
        }
    }
    let before = " ".repeat(field.margin);
    sheet.line(&format!("{:INDENT$}{before} {corner}{}", "", axis.concat()));
    let unit = match chart.axis_unit.is_empty() {
        true => chart.axis.clone(),
        false => format!("{} {}", chart.axis, chart.axis_unit),
    };
    let unit = layout.show(&unit);
    let room = layout.columns() - INDENT - field.margin - 2;
    match width(&labels) + 2 + width(&unit) <= room {
        true => sheet.line(&format!("{:INDENT$}{before}  {labels}  {unit}", "")),
        false => {
            sheet.line(&format!("{:INDENT$}{before}  {labels}", ""));
            let blanks = room.saturating_sub(width(&unit));
            sheet.line(&format!("{:INDENT$}{before}  {:blanks$}{unit}", "", ""));
        }
    }
}

fn add_legend(sheet: &mut Sheet, chart: &Chart, drawn: &[Drawn<'_>], signs: &[Vec<char>]) {
    let mut parts: Vec<String> = (drawn.iter())
        .map(|one| {
            format!(
                "{}\u{a0}{}",
                one.sign,
                name(&one.curve.name).replace(' ', "\u{a0}")
            )
        })
        .collect();
    if signs.iter().flatten().any(|sign| *sign == BOTH) {
        parts.push(format!("{BOTH}\u{a0}where\u{a0}they\u{a0}meet"));
    }
    let legend = sheet.show(&parts.join("   "));
    sheet.painted_paragraph(&legend, 2, 2, Paint::Bold);
    let words = sheet.show(&chart_sentence(chart));
    sheet.paragraph(&words, 2, 4);
}

fn shortened(name: &str) -> String {
    match name.char_indices().nth(LONGEST_NAME) {
        Some((end, _)) => format!("{}…", &name[..end]),
        None => name.to_owned(),
    }
}

/// Where values lie in the picture.
struct Field {
    along: Ticks,
    down: Ticks,
    columns: usize,
    lines: usize,
    /// Columns of the numbers before the axis.
    margin: usize,
}

impl Field {
    fn of(layout: &Layout, chart: &Chart) -> Option<Field> {
        let points = chart
            .curves
            .iter()
            .flat_map(|curve| &curve.points)
            .flatten();
        let down = ends(points.map(|(value, _)| *value))?;
        let along = ends(chart.places.iter().copied())?;
        let down = ticks(down.0, down.1, 4.0, true);
        let steps = down.places.len().saturating_sub(1).max(1);
        let margin = down.places.iter().map(|(_, label)| width(label)).max()?;
        let longest = (chart.curves.iter())
            .map(|curve| width(&shortened(&name(&curve.name))))
            .max()?;
        let room = layout
            .columns()
            .saturating_sub(INDENT + margin + 2 + longest + 2);
        Some(Field {
            along: ticks(along.0, along.1, 5.0, false),
            lines: steps * (LINES / steps).max(1) + 1,
            columns: room.max(20),
            margin,
            down,
        })
    }

    fn column(&self, place: f64) -> usize {
        let part = (place - self.along.from) / (self.along.to - self.along.from);
        (part * (self.columns - 1) as f64).round() as usize
    }

    fn line(&self, value: f64) -> usize {
        let part = (self.down.to - value) / (self.down.to - self.down.from);
        (part * (self.lines - 1) as f64).round() as usize
    }

    /// The number at a line, if one stands there.
    fn label(&self, line: usize) -> &str {
        let at = |(place, _): &&(f64, String)| self.line(*place) == line;
        self.down
            .places
            .iter()
            .find(at)
            .map_or("", |(_, label)| label)
    }

    /// A curve, steep parts without holes.
    fn draw(&self, chart: &Chart, one: &Drawn<'_>, signs: &mut [Vec<char>]) {
        for run in runs(one.curve, chart) {
            let mut before: Option<usize> = None;
            for column in 0..self.columns {
                let part = column as f64 / (self.columns - 1) as f64;
                let place = self.along.from + part * (self.along.to - self.along.from);
                let Some(value) = between(&run, place) else {
                    before = None;
                    continue;
                };
                let line = self.line(value).min(self.lines - 1);
                let (top, bottom) = match before {
                    Some(last) if last > line + 1 => (line, last - 1),
                    Some(last) if last + 1 < line => (last + 1, line),
                    _ => (line, line),
                };
                for line in signs.iter_mut().take(bottom + 1).skip(top) {
                    let sign = &mut line[column];
                    *sign = match *sign {
                        ' ' => one.sign,
                        same if same == one.sign => same,
                        _ => BOTH,
                    };
                }
                before = Some(line);
            }
        }
    }

    /// The name of each curve at the line it ends on, moved where two would meet.
    fn names(&self, drawn: &[Drawn<'_>]) -> Vec<String> {
        let mut names = vec![String::new(); self.lines];
        for one in drawn {
            let Some((value, _)) = one.curve.points.iter().rev().flatten().next() else {
                continue;
            };
            let line = self.line(*value).min(self.lines - 1);
            let near = (0..self.lines)
                .filter(|at| names[*at].is_empty())
                .min_by_key(|at| at.abs_diff(line));
            if let Some(near) = near {
                names[near] = one.name.clone();
            }
        }
        names
    }
}

/// The value of a curve at a place; nothing outside of it.
fn between(run: &[(f64, f64, f64)], place: f64) -> Option<f64> {
    let slack = 1e-9 * place.abs().max(1.0);
    if let [(x, y, _)] = run {
        return ((place - x).abs() <= slack).then_some(*y);
    }
    run.windows(2).find_map(|pair| {
        let ((x, y, _), (to, end, _)) = (pair[0], pair[1]);
        let (low, high) = (x.min(to), x.max(to));
        let within = place >= low - slack && place <= high + slack;
        within.then(|| match to == x {
            true => y,
            false => y + (end - y) * ((place - x) / (to - x)).clamp(0.0, 1.0),
        })
    })
}

fn ends(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    values
        .filter(|value| value.is_finite())
        .fold(None, |ends, value| match ends {
            None => Some((value, value)),
            Some((low, high)) => Some((f64::min(low, value), f64::max(high, value))),
        })
}
