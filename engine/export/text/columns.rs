//! Columns side by side: cells and widths go in, lines come out. The last column wraps.

use comfy_table::{ColumnConstraint, ContentArrangement, Table, Width, presets};

/// Blanks before the first column.
pub(super) const INDENT: usize = 2;

/// Rows set in columns of these widths with one blank between them. A cell that is wider than its
/// column is broken at its blanks; lines of text in a cell stay lines.
pub(super) fn set(rows: &[Vec<String>], widths: &[usize]) -> Vec<String> {
    let mut table = Table::new();
    table
        .load_style(presets::NOTHING)
        .set_content_arrangement(ContentArrangement::Dynamic);
    for row in rows {
        table.add_row(row.iter().map(String::as_str));
    }
    let last = widths.len().saturating_sub(1);
    let mut whole = 0;
    for (number, width) in widths.iter().enumerate() {
        let gap = u16::from(number < last);
        let width = u16::try_from((*width).max(1)).unwrap_or(u16::MAX - 1) + gap;
        whole += usize::from(width);
        if let Some(column) = table.column_mut(number) {
            column.set_padding((0, gap));
            column.set_constraint(ColumnConstraint::Absolute(Width::Fixed(width)));
        }
    }
    table.set_width(u16::try_from(whole).unwrap_or(u16::MAX));
    table
        .lines()
        .map(|line| format!("{:INDENT$}{}", "", line.trim_end()))
        .collect()
}
