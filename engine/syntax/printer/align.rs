//! The columns of a table, one below the other.

use unicode_width::UnicodeWidthStr;

/// The rows with their fields padded to the widest of each column and joined by ` | `; nothing
/// trails the last field.
pub(in crate::syntax) fn align(rows: &[Vec<String>]) -> Vec<String> {
    let mut widths: Vec<usize> = Vec::new();
    for row in rows {
        for (column, field) in row.iter().enumerate() {
            match widths.get_mut(column) {
                Some(width) => *width = (*width).max(field.width()),
                None => widths.push(field.width()),
            }
        }
    }
    rows.iter().map(|row| joined(row, &widths)).collect()
}

fn joined(row: &[String], widths: &[usize]) -> String {
    let mut line = String::new();
    for (column, field) in row.iter().enumerate() {
        if column > 0 {
            line.push_str(" | ");
        }
        line.push_str(field);
        let width = widths.get(column).copied().unwrap_or(0);
        if column + 1 < row.len() {
            line.extend(std::iter::repeat_n(
                ' ',
                width.saturating_sub(field.width()),
            ));
        }
    }
    line
}
