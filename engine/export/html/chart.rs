//! Curves as SVG: direct labels at their ends, a dash of its own for each, a band for ±, a mark
//! where two cross, a title and one sentence for readers who do not see it. Colours come from the
//! text around it, so it prints and follows light and dark.

use crate::export::curves::{Chart, Curve, chart_sentence, crossings, runs};
use crate::export::ticks::{Ticks, ticks};
use maud::{Markup, html};

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
