//! The rows of the check files, as data.

use std::collections::BTreeMap;

/// One row of a check file.
#[derive(Clone, Debug)]
pub struct Row {
    pub id: String,
    pub topic: String,
    pub inputs: BTreeMap<String, String>,
    pub expected: String,
    pub tolerance: f64,
    pub source: String,
}

/// All rows of both files.
pub fn all() -> Vec<Row> {
    let mut rows = air();
    rows.extend(read(include_str!("../reference/blast-checks.csv")));
    rows
}

/// The rows about compressed air.
pub fn air() -> Vec<Row> {
    read(include_str!("../reference/air-checks.csv"))
}

fn read(text: &str) -> Vec<Row> {
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let head = reader.headers().expect("a head line").clone();
    let column = |name: &str| {
        head.iter()
            .position(|one| one == name)
            .expect("the column is there")
    };
    let (id, topic, inputs) = (column("id"), column("topic"), column("inputs"));
    let (expected, tolerance, source) = (column("expected"), column("tolerance"), column("source"));
    reader
        .records()
        .map(|record| {
            let record = record.expect("a well-formed row");
            Row {
                id: record[id].to_owned(),
                topic: record[topic].to_owned(),
                inputs: inputs_of(&record[inputs]),
                expected: record[expected].to_owned(),
                tolerance: record[tolerance].parse().unwrap_or(0.0),
                source: record[source].to_owned(),
            }
        })
        .collect()
}

fn inputs_of(text: &str) -> BTreeMap<String, String> {
    text.split(';')
        .filter_map(|part| part.split_once('='))
        .map(|(name, value)| (name.trim().to_owned(), value.trim().to_owned()))
        .collect()
}
