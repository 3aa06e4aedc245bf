//! Sweeps and plots: a table of the points, a cross table where there are two axes and one value,
//! a picture for a plot.

use super::chart::chart;
use super::values::{in_column, shown_name, signed};
use crate::export::curves::{caption, charts, is_cross};
use crate::notebook::StudyKind;
use crate::report::{RowKind, Shown, StudyColumn, StudyTable};
use maud::{Markup, html};

/// A study as it stands in a report.
pub fn study(study: &StudyTable, id: &str) -> Markup {
    if let Some(word) = study.state.word() {
        return html! { p class="note" { code { (study.statement) } ": " (word) } };
    }
    html! {
        figure class="study" {
            figcaption { (caption(study)) }
            @for (number, chart_of) in charts(study).iter().enumerate() {
                @if let Some(picture) = chart(chart_of, &format!("{id}-{number}")) { (picture) }
            }
            div class="scroll" {
                @if is_cross(study) { (cross_table(study)) } @else { (point_table(study)) }
            }
        }
    }
}

fn head(column: &StudyColumn) -> Markup {
    html! {
        th scope="col" class="number" {
            (shown_name(&column.label))
            @if !column.unit.is_empty() { " " span class="unit" { (column.unit) } }
        }
    }
}

fn point_table(study: &StudyTable) -> Markup {
    let rows = study.columns.first().map_or(0, |column| column.rows.len());
    // A plot has many points; every one of them is in the picture.
    let step = match study.kind {
        StudyKind::Plot => rows.div_ceil(12).max(1),
        _ => 1,
    };
    html! {
        table class="grid" {
            thead { tr { @for column in &study.columns { (head(column)) } } }
            tbody {
                @for row in (0..rows).step_by(step) {
                    tr {
                        @for (number, column) in study.columns.iter().enumerate() {
                            @let text = column.rows.get(row).map(|shown| in_column(shown, RowKind::WorkedOut));
                            @let text = text.unwrap_or_default();
                            @if number < study.axes {
                                th scope="row" class="number" { (text) }
                            } @else {
                                td class="number" { (text) }
                            }
                        }
                    }
                }
            }
        }
    }
}

fn cross_table(study: &StudyTable) -> Markup {
    let [down, across, values] = &study.columns[..] else {
        return html! {};
    };
    let text = |shown: &Shown| signed(&in_column(shown, RowKind::WorkedOut));
    let count = across
        .rows
        .iter()
        .skip(1)
        .position(|one| Some(one) == across.rows.first())
        .map_or(across.rows.len(), |at| at + 1)
        .max(1);
    html! {
        table class="grid" {
            thead {
                tr {
                    th scope="col" class="number" { (shown_name(&down.label)) " " span class="unit" { (down.unit) } }
                    th scope="colgroup" colspan=(count) class="number" {
                        (shown_name(&values.label)) " " span class="unit" { (values.unit) }
                        " at " (shown_name(&across.label)) " " span class="unit" { (across.unit) }
                    }
                }
                tr {
                    td {}
                    @for one in across.rows.iter().take(count) { th scope="col" class="number" { (text(one)) } }
                }
            }
            tbody {
                @for (start, line) in values.rows.chunks(count).enumerate() {
                    tr {
                        th scope="row" class="number" {
                            @if let Some(one) = down.rows.get(start * count) { (text(one)) }
                        }
                        @for value in line { td class="number" { (text(value)) } }
                    }
                }
            }
        }
    }
}
