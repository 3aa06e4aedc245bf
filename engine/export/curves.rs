//! Curves over one axis, for pictures of any kind: the courses of a plot, where two of them cross,
//! and both in one sentence.

use crate::notebook::StudyKind;
use crate::number::{Number, round_pair};
use crate::report::{StudyColumn, StudyTable};

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

/// What a study shows, in words.
pub fn caption(study: &StudyTable) -> String {
    let (axes, shows) = study.columns.split_at(study.axes.min(study.columns.len()));
    let list = |columns: &[StudyColumn]| {
        let names = columns.iter().map(|column| name(&column.label));
        names.collect::<Vec<String>>().join(", ")
    };
    let text = format!(
        "{} against {}",
        list(shows),
        list(axes).replace(", ", " and ")
    );
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => text,
    }
}

/// Whether a study is shown with one axis down and the other across.
pub fn is_cross(study: &StudyTable) -> bool {
    study.axes == 2 && study.columns.len() == 3
}

/// The pictures of a plot: curves of one unit together.
pub fn charts(study: &StudyTable) -> Vec<Chart> {
    let (StudyKind::Plot, Some(axis)) = (study.kind, study.columns.first()) else {
        return Vec::new();
    };
    let Some(places) = axis
        .points
        .iter()
        .map(|point| point.map(|(place, _)| place))
        .collect::<Option<Vec<f64>>>()
    else {
        return Vec::new();
    };
    let mut charts: Vec<Chart> = Vec::new();
    for column in &study.columns[1..] {
        let curve = Curve {
            name: column.label.clone(),
            points: column.points.clone(),
        };
        match charts.iter_mut().find(|chart| chart.unit == column.unit) {
            Some(known) => known.curves.push(curve),
            None => charts.push(Chart {
                title: caption(study),
                axis: name(&axis.label),
                axis_unit: axis.unit.clone(),
                unit: column.unit.clone(),
                places: places.clone(),
                curves: vec![curve],
            }),
        }
    }
    charts
}

/// Runs of places where a curve has a value.
pub fn runs<'c>(curve: &'c Curve, chart: &'c Chart) -> Vec<Vec<(f64, f64, f64)>> {
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

/// Where curves cross: place, value, and the names of both.
pub fn crossings(chart: &Chart) -> Vec<(f64, f64, String, String)> {
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

fn name(label: &str) -> String {
    label.replace('_', " ")
}
