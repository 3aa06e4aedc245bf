//! Reads the tables of `tests/reference`: CSV with a comment as first line, then a head line.

use std::collections::HashMap;
use std::ops::Index;

/// One row, its fields by the names in the head line.
pub struct Row(HashMap<String, String>);

impl Index<&str> for Row {
    type Output = str;

    fn index(&self, name: &str) -> &str {
        self.0
            .get(name)
            .unwrap_or_else(|| panic!("the table has no column {name}"))
    }
}

/// All rows of a table, by the name of its file.
pub fn rows(file: &str) -> Vec<Row> {
    let path = format!("{}/tests/reference/{file}", env!("CARGO_MANIFEST_DIR"));
    let mut reader = csv::ReaderBuilder::new()
        .comment(Some(b'#'))
        .from_path(&path)
        .unwrap_or_else(|trouble| panic!("{path}: {trouble}"));
    reader
        .deserialize()
        .map(|row| Row(row.unwrap_or_else(|trouble| panic!("{path}: {trouble}"))))
        .collect()
}

/// The rows of some groups of a table.
pub fn rows_of(file: &str, groups: &[&str]) -> Vec<Row> {
    let mut rows = rows(file);
    rows.retain(|row| groups.contains(&&row["group"]));
    assert!(!rows.is_empty(), "{file} has none of {groups:?}");
    rows
}
