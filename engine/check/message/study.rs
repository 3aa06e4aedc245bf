//! Values that are sought, and cells that are given other values.

use crate::source::{Code, Diagnostic, Span};

/// A local `solve` without a range.
pub(in crate::check) fn root_needs_range(
    span: Span,
    name: &str,
    text: &str,
    unit: &str,
) -> Diagnostic {
    let amount = |number: u32| match unit {
        "1" => number.to_string(),
        unit => format!("{number} {unit}"),
    };
    Diagnostic::error(
        Code::Range,
        span,
        format!("where to look for {name} is not said"),
    )
    .label("no range behind it")
    .expected("a range in which there is one such value")
    .replace(
        span,
        format!("{text} from {} to {}", amount(1), amount(100)),
    )
}

/// A value of another kind for an overridden cell.
pub(in crate::check) fn override_of_other_shape(span: Span, is: &str, wanted: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Kind,
        span,
        format!("{is} for a cell that holds {wanted}"),
    )
    .label(format!("this is {is}"))
    .expected(format!(
        "{wanted}: only the value changes, not what the cell is"
    ))
}

/// A text or a column sought or swept.
pub(in crate::check) fn not_sought(span: Span, noun: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Kind,
        span,
        format!("{noun} cannot be sought or stepped through"),
    )
    .label(format!("this is {noun}"))
    .expected("a cell with one number")
}

/// A column among what a sweep shows.
pub(in crate::check) fn column_swept(span: Span, text: &str) -> Diagnostic {
    Diagnostic::error(Code::Kind, span, "a column in a sweep")
        .label(format!("`{text}` has many rows at every point"))
        .expected("one value a point")
        .replace(span, format!("max({text})"))
}
