//! Trials as an interval and bars: the answer first, then how often each run of values came, then
//! whether ± may be quoted instead.

use super::layout::{Paint, padded, padded_before, width};
use super::sheet::{Sheet, ruled};
use crate::number::{Number, round_pair};
use crate::report::OfCell;
use crate::study::{Bin, Spread, SpreadTrouble};

/// Blanks before each line.
const INDENT: usize = 2;

pub(super) fn add(sheet: &mut Sheet, of: &OfCell<Spread, SpreadTrouble>) {
    match &of.outcome {
        Ok(spread) => add_spread(sheet, &of.name, spread),
        Err(why) => {
            let text = format!("Trials: {} {}", of.name, none(*why));
            let text = sheet.show(&text);
            sheet.paragraph(&text, 2, 4);
        }
    }
}

/// Why there are no trials, as the end of a sentence.
fn none(why: SpreadTrouble) -> &'static str {
    match why {
        SpreadTrouble::NoValue => "has no value yet: mend it first",
        SpreadTrouble::Exact => "has no ±: nothing it rests on has one",
        SpreadTrouble::NoNumber => "is no single number: give one of its rows a cell",
        SpreadTrouble::Unsupported => {
            "rests on a sweep, a solve or a question about ±, which trials cannot redraw"
        }
        SpreadTrouble::NoTrial => "came to no value in any trial",
        SpreadTrouble::Stopped => "was stopped before there was an interval",
    }
}

fn add_spread(sheet: &mut Sheet, name: &str, spread: &Spread) {
    sheet.gap();
    let half = (spread.high - spread.low) / 2.0;
    let [low, high, median] = [spread.low, spread.high, spread.median].map(|one| beside(one, half));
    let unit = match spread.unit.is_empty() {
        true => String::new(),
        false => format!(" {}", spread.unit),
    };
    let title = format!(
        "{name}: {median}, from {low} to {high}{unit} (95 % of {} trials, seed {})",
        spread.trials, spread.seed
    );
    let title = sheet.show(&sheet.layout.number(&title));
    sheet.painted_paragraph(&title, INDENT, INDENT + 2, Paint::Bold);
    add_bars(sheet, spread);
    let text = sheet.show(&sheet.layout.number(&verdict(spread, &unit)));
    sheet.paragraph(&text, INDENT, INDENT + 2);
    if let Some(text) = without(spread) {
        sheet.paragraph(&text, INDENT, INDENT + 2);
    }
}

fn number(value: f64) -> Number {
    Number::from_f64(value).unwrap_or(Number::ZERO)
}

/// A value to the last of two digits of `half`.
fn beside(value: f64, half: f64) -> String {
    match value.is_finite() && half.is_finite() {
        true => round_pair(number(value), number(half)).0,
        false if value.is_finite() => number(value).shown_with(3),
        false => "no bound".to_owned(),
    }
}

fn add_bars(sheet: &mut Sheet, spread: &Spread) {
    let layout = sheet.layout;
    let names: Vec<String> = spread.bins.iter().map(words).collect();
    let names: Vec<String> = names
        .iter()
        .map(|name| layout.show(&layout.number(name)))
        .collect();
    let head = match spread.unit.as_str() {
        "" => name_head(),
        unit => layout.show(unit),
    };
    let wide = names
        .iter()
        .map(|name| width(name))
        .max()
        .unwrap_or(0)
        .max(width(&head));
    let bars = layout.columns().saturating_sub(INDENT + wide + 12).max(8);
    let room = layout.columns() - INDENT - wide - 1;
    let line = format!(
        "{} {}",
        ruled(&layout, &head, wide),
        ruled(&layout, "share", room)
    );
    let line = sheet.paint(&line, Paint::Bold);
    sheet.line(&format!("{:INDENT$}{line}", ""));
    let most = spread.bins.iter().map(|bin| bin.share).fold(0.0, f64::max);
    let sign = if layout.unicode { "▪" } else { "#" };
    for (bin, name) in spread.bins.iter().zip(&names) {
        let count = match most > 0.0 {
            true => (bin.share / most * bars as f64).round() as usize,
            false => 0,
        };
        let share = padded_before(&format!("{:.1} %", bin.share * 100.0), 7);
        sheet.line(&format!(
            "{:INDENT$}{} {share}  {}",
            "",
            padded(name, wide),
            sign.repeat(count)
        ));
    }
}

fn name_head() -> String {
    "value".to_owned()
}

fn words(bin: &Bin) -> String {
    let edge = |value: f64| number(value).shown_with(6);
    match (bin.from, bin.to) {
        (Some(from), Some(to)) => format!("{} to {}", edge(from), edge(to)),
        (None, Some(to)) => format!("below {}", edge(to)),
        (Some(from), None) => format!("above {}", edge(from)),
        (None, None) => "all".to_owned(),
    }
}

/// Whether first order agrees with the trials (JCGM 101, 8).
fn verdict(spread: &Spread, unit: &str) -> String {
    let (low, high) = spread.first_order;
    let first = spread.shown.line();
    let off = |end: f64, trial: f64| (trial - end).abs();
    let (below, above) = (off(low, spread.low), off(high, spread.high));
    let allowed = number(spread.allowed).shown_with(2);
    let settled = match spread.settled {
        true => "",
        false => " The interval had not settled when the trials ended.",
    };
    if !below.is_finite() || !above.is_finite() {
        return format!(
            "First order gave {first}; the trials have no bound. Quote the interval.{settled}"
        );
    }
    let both = spread.allowed.max(below.max(above) / 100.0);
    let apart = |value: f64| beside(value, both.max(f64::MIN_POSITIVE));
    match below <= spread.allowed && above <= spread.allowed {
        true => format!(
            "First order gave {first} and agrees to {allowed}{unit} (JCGM 101, 8): the ± may be quoted.{settled}"
        ),
        false => format!(
            "First order gave {first} and does not agree: its ends lie {}{unit} {} and {}{unit} {} (allowed: {allowed}{unit}, JCGM 101, 8). Quote the interval.{settled}",
            apart(below),
            side(low, spread.low),
            apart(above),
            side(high, spread.high),
        ),
    }
}

fn side(end: f64, trial: f64) -> &'static str {
    match end < trial {
        true => "too low",
        false => "too high",
    }
}

fn without(spread: &Spread) -> Option<String> {
    let mut parts = Vec::new();
    if spread.missing > 0 {
        parts.push(format!(
            "{} trials have no value and are left out",
            spread.missing
        ));
    }
    let (up, down) = spread.unbounded;
    if up > 0 {
        parts.push(format!(
            "{up} go beyond all bounds upwards and are counted there"
        ));
    }
    if down > 0 {
        parts.push(format!(
            "{down} go beyond all bounds downwards and are counted there"
        ));
    }
    (!parts.is_empty()).then(|| format!("{}.", parts.join("; ")))
}
