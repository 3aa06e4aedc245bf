//! Curves as SVG: direct labels at their ends, a dash of its own for each, a band for ±, a mark
//! where two cross, a title and one sentence for readers who do not see it. Colours come from the
//! text around it, so it prints and follows light and dark.

use super::ticks::{Ticks, ticks};
use crate::number::{Number, round_pair};
use maud::{Markup, html};

/// Curves over one axis.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chart {
    /// What it shows.
    pub title: String,
    /// What the axis is.
    pub axis: String,
    /// The unit of the axis; empty for plain numbers.
    pub axis_unit: String,
    /// The unit of the curves.
    pub unit: String,
    /// Places along the axis.
    pub places: Vec<f64>,
    /// The curves.
    pub curves: Vec<Curve>,
}

/// One curve.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Curve {
    /// Its name.
    pub name: String,
    /// Value and ± at each place; nothing where it has none.
    pub points: Vec<Option<(f64, f64)>>,
}

const WIDTH: f64 = 420.0;
const HEIGHT: f64 = 262.0;
const LEFT: f64 = 44.0;
const RIGHT: f64 = 318.0;
const TOP: f64 = 24.0;
const BOTTOM: f64 = 220.0;
/// Room for one label.
const LABEL: f64 = 14.0;

/// Dashes that tell curves apart.
const DASHES: [&str; 6] = ["", "8 4", "2 3", "12 4 2 4", "5 2", "1 5"];

/// A chart as a picture; nothing where there is nothing to draw.
pub fn chart(chart: &Chart, id: &str) -> Option<Markup> {
    let scale = Scale::of(chart)?;
    let labels = labels(chart, &scale);
    let title = format!("{id}-title");
    let words = format!("{id}-words");
    Some(html! {
        svg viewBox=(format!("0 0 {WIDTH} {HEIGHT}")) role="img" class="chart"
            aria-labelledby=(format!("{title} {words}")) {
            title id=(title) { (chart.title) }
            desc id=(words) { (chart_sentence(chart)) }
            (grid(chart, &scale))
            @for (number, curve) in chart.curves.iter().enumerate() {
                @for band in bands(curve, chart, &scale) {
                    path d=(band) class="band" fill="currentColor" fill-opacity="0.13" {}
                }
                @for line in lines(curve, chart, &scale) {
                    path d=(line) fill="none" stroke="currentColor" stroke-width="2"
                        stroke-dasharray=(DASHES[number % DASHES.len()]) {}
                }
            }
            @for (x, y, _, _) in crossings(chart) {
                circle cx=(at(scale.x(x))) cy=(at(scale.y(y))) r="4.5" fill="none"
                    stroke="currentColor" stroke-width="1.5" {}
            }
            @for (y, name) in labels {
                text x=(at(RIGHT + 8.0)) y=(at(y + 4.0)) font-size="12" fill="currentColor" {
                    (name)
                }
            }
        }
    })
}

fn grid(chart: &Chart, scale: &Scale) -> Markup {
    let axis = match chart.axis_unit.is_empty() {
        true => chart.axis.clone(),
        false => format!("{} {}", chart.axis, chart.axis_unit),
    };
    html! {
        g font-size="12" fill="currentColor" {
            @for (place, text) in &scale.down.places {
                line x1=(at(LEFT)) x2=(at(RIGHT)) y1=(at(scale.y(*place))) y2=(at(scale.y(*place)))
                    stroke="currentColor" stroke-opacity="0.18" {}
                text x=(at(LEFT - 8.0)) y=(at(scale.y(*place) + 4.0)) text-anchor="end" { (text) }
            }
            @for (place, text) in &scale.along.places {
                line x1=(at(scale.x(*place))) x2=(at(scale.x(*place))) y1=(at(BOTTOM)) y2=(at(BOTTOM + 5.0))
                    stroke="currentColor" stroke-opacity="0.5" {}
                text x=(at(scale.x(*place))) y=(at(BOTTOM + 20.0)) text-anchor="middle" { (text) }
            }
            line x1=(at(LEFT)) x2=(at(RIGHT)) y1=(at(BOTTOM)) y2=(at(BOTTOM)) stroke="currentColor"
                stroke-opacity="0.5" {}
            text x=(at(LEFT - 8.0)) y="14" text-anchor="start" { (chart.unit) }
            text x=(at(RIGHT)) y=(at(BOTTOM + 38.0)) text-anchor="end" { (axis) }
        }
    }
}

/// Where values lie in the picture.
struct Scale {
    along: Ticks,
    down: Ticks,
}

impl Scale {
    fn of(chart: &Chart) -> Option<Scale> {
        let along = ends(chart.places.iter().copied())?;
        let values = chart
            .curves
            .iter()
            .flat_map(|curve| &curve.points)
            .flatten();
        let down = ends(values.flat_map(|(value, amount)| [value - amount, value + amount]))?;
        Some(Scale {
            along: ticks(along.0, along.1, 5.0, false),
            down: ticks(down.0, down.1, 5.0, true),
        })
    }

    fn x(&self, place: f64) -> f64 {
        LEFT + (place - self.along.from) / (self.along.to - self.along.from) * (RIGHT - LEFT)
    }

    fn y(&self, value: f64) -> f64 {
        BOTTOM - (value - self.down.from) / (self.down.to - self.down.from) * (BOTTOM - TOP)
    }
}

fn ends(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    values
        .filter(|value| value.is_finite())
        .fold(None, |ends, value| match ends {
            None => Some((value, value)),
            Some((low, high)) => Some((f64::min(low, value), f64::max(high, value))),
        })
}

/// A coordinate to a tenth of a step.
fn at(place: f64) -> String {
    format!("{:.1}", place)
}

/// Runs of places where a curve has a value.
fn runs<'c>(curve: &'c Curve, chart: &'c Chart) -> Vec<Vec<(f64, f64, f64)>> {
    let mut runs: Vec<Vec<(f64, f64, f64)>> = vec![Vec::new()];
    for (place, point) in chart.places.iter().zip(&curve.points) {
        match (point, runs.last_mut()) {
            (Some((value, amount)), Some(run)) => run.push((*place, *value, *amount)),
            (None, Some(run)) if !run.is_empty() => runs.push(Vec::new()),
            _ => {}
        }
    }
    runs.retain(|run| !run.is_empty());
    runs
}

fn lines(curve: &Curve, chart: &Chart, scale: &Scale) -> Vec<String> {
    runs(curve, chart)
        .into_iter()
        .map(|run| {
            path(
                run.iter().map(|(x, y, _)| (scale.x(*x), scale.y(*y))),
                false,
            )
        })
        .collect()
}

fn bands(curve: &Curve, chart: &Chart, scale: &Scale) -> Vec<String> {
    runs(curve, chart)
        .into_iter()
        .filter(|run| run.iter().any(|(.., amount)| *amount > 0.0))
        .map(|run| {
            let above = run.iter().map(|(x, y, u)| (scale.x(*x), scale.y(y + u)));
            let below = run
                .iter()
                .rev()
                .map(|(x, y, u)| (scale.x(*x), scale.y(y - u)));
            path(above.chain(below), true)
        })
        .collect()
}

fn path(points: impl Iterator<Item = (f64, f64)>, closed: bool) -> String {
    let mut path = String::new();
    for (number, (x, y)) in points.enumerate() {
        let letter = if number == 0 { 'M' } else { 'L' };
        path.push_str(&format!("{letter}{} {}", at(x), at(y)));
    }
    if closed {
        path.push('Z');
    }
    path
}

/// The names at the ends of their curves, moved apart where they would meet.
fn labels(chart: &Chart, scale: &Scale) -> Vec<(f64, String)> {
    let mut labels: Vec<(f64, String)> = chart
        .curves
        .iter()
        .filter_map(|curve| {
            let (value, _) = curve.points.iter().rev().flatten().next()?;
            Some((scale.y(*value), short(&curve.name)))
        })
        .collect();
    labels.sort_by(|a, b| a.0.total_cmp(&b.0));
    for number in 1..labels.len() {
        let least = labels[number - 1].0 + LABEL;
        labels[number].0 = labels[number].0.max(least);
    }
    let over = labels.last().map_or(0.0, |(y, _)| (y - BOTTOM).max(0.0));
    for (y, _) in &mut labels {
        *y -= over;
    }
    labels
}

fn short(name: &str) -> String {
    let shown = name.replace('_', " ");
    match shown.char_indices().nth(15) {
        Some((end, _)) => format!("{}…", &shown[..end]),
        None => shown,
    }
}

/// Where curves cross: place, value, and the names of both.
fn crossings(chart: &Chart) -> Vec<(f64, f64, String, String)> {
    let mut found = Vec::new();
    for (number, first) in chart.curves.iter().enumerate() {
        for second in &chart.curves[number + 1..] {
            for at in 1..chart.places.len() {
                let pair = |curve: &Curve| {
                    let before = curve.points.get(at - 1).copied().flatten()?;
                    let here = curve.points.get(at).copied().flatten()?;
                    Some((before.0, here.0))
                };
                let (Some(a), Some(b)) = (pair(first), pair(second)) else {
                    continue;
                };
                let (before, here) = (a.0 - b.0, a.1 - b.1);
                if before == 0.0 || (before > 0.0) == (here > 0.0) {
                    continue;
                }
                let part = before / (before - here);
                let x = chart.places[at - 1] + part * (chart.places[at] - chart.places[at - 1]);
                let y = a.0 + part * (a.1 - a.0);
                found.push((x, y, first.name.clone(), second.name.clone()));
            }
        }
    }
    found
}

/// What a chart shows, in one sentence.
pub fn chart_sentence(chart: &Chart) -> String {
    let mut parts: Vec<String> = chart
        .curves
        .iter()
        .filter_map(|curve| course(curve, chart))
        .collect();
    let crossings = crossings(chart);
    for (x, _, first, second) in crossings.iter().take(3) {
        parts.push(format!(
            "{} and {} cross at {}",
            first.replace('_', " "),
            second.replace('_', " "),
            with_unit(*x, 0.0, &chart.axis_unit)
        ));
    }
    match parts.is_empty() {
        true => "No value to show.".to_owned(),
        false => format!("{}.", parts.join("; ")),
    }
}

/// “draw rises from 9.87 cfm free at 60 psig to 14.5 cfm free at 95 psig”
fn course(curve: &Curve, chart: &Chart) -> Option<String> {
    let run: Vec<(f64, f64, f64)> = runs(curve, chart).into_iter().flatten().collect();
    let (first, last) = (run.first()?, run.last()?);
    let rises = run.windows(2).all(|pair| pair[1].1 >= pair[0].1);
    let falls = run.windows(2).all(|pair| pair[1].1 <= pair[0].1);
    let verb = match (rises, falls) {
        (true, true) => {
            let stays = with_unit(first.1, first.2, &chart.unit);
            return Some(format!("{} stays at {stays}", curve.name.replace('_', " ")));
        }
        (true, false) => "rises",
        (false, true) => "falls",
        (false, false) => "goes up and down",
    };
    Some(format!(
        "{} {verb} from {} at {} to {} at {}",
        curve.name.replace('_', " "),
        with_unit(first.1, first.2, &chart.unit),
        with_unit(first.0, 0.0, &chart.axis_unit),
        with_unit(last.1, last.2, &chart.unit),
        with_unit(last.0, 0.0, &chart.axis_unit),
    ))
}

fn with_unit(value: f64, amount: f64, unit: &str) -> String {
    let number = |value: f64| Number::from_f64(value).unwrap_or(Number::ZERO);
    let text = match amount == 0.0 {
        true => number(value).shown(),
        false => {
            let (value, amount) = round_pair(number(value), number(amount));
            format!("{value} ± {amount}")
        }
    };
    let text = text.replace('-', "−");
    match unit.is_empty() {
        true => text,
        false => format!("{text} {unit}"),
    }
}
