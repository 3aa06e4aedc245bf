//! Nothing is forgotten: every published row of a finished topic is run by a recipe or listed, with
//! the reason, in a table of a file of recipes.

use super::recipes::{RECIPES, range};
use super::rows;
use std::collections::BTreeSet;

/// Topics whose chapters are written, one line each.
const FINISHED: &[&str] = &[
    "nozzle",
    "wear",
    "reaction",
    "feed",
    "wet",
    "media",
    "sieve",
    "fepa",
    "shot",
    "bead",
    "rate",
    "profile",
    "practice",
    "power",
    "motor",
    "wire",
    "starts",
    "noise",
    "dust",
    "breathing",
    "vessel",
    "hose",
    "cost",
    "trap",
];

/// The rows that a file of recipes names: behind `rows:`, or in the first field of a table.
fn named() -> BTreeSet<String> {
    let rows = rows::all();
    let known: BTreeSet<&str> = rows.iter().map(|row| row.id.as_str()).collect();
    let lists = RECIPES
        .iter()
        .flat_map(|text| text.lines())
        .filter_map(|line| match line.strip_prefix("rows:") {
            Some(ids) => Some(ids),
            None => line
                .strip_prefix("| ")
                .and_then(|row| row.split('|').next()),
        });
    lists
        .flat_map(str::split_whitespace)
        .filter(|id| known.contains(id.split("..").next().unwrap_or(id)))
        .flat_map(|id| range(id, &rows))
        .collect()
}

#[test]
fn every_row_of_a_finished_topic_is_run_or_listed() {
    let named = named();
    let forgotten: Vec<String> = rows::all()
        .into_iter()
        .filter(|row| FINISHED.contains(&row.topic.as_str()) && !named.contains(&row.id))
        .map(|row| format!("{} ({})", row.id, row.topic))
        .collect();
    assert!(forgotten.is_empty(), "{}", forgotten.join("\n"));
}
