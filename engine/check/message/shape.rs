//! Text, switches and columns where something else was expected, and columns that do not fit.

use super::{Doing, Target};
use crate::source::{Code, Diagnostic, Span};

/// Text beside a number, a switch beside text.
pub(in crate::check) fn unlike_kinds(
    doing: Doing,
    first: &str,
    second: &str,
    span: Span,
) -> Diagnostic {
    Diagnostic::error(Code::Kind, span, doing.clause(first, second))
        .label(format!("this is {second}"))
        .expected(format!("{first}, like the other"))
}

/// A text or a switch where a unit was told.
pub(in crate::check) fn not_a_quantity(
    span: Span,
    noun: &str,
    target: &Target,
    unit: &str,
) -> Diagnostic {
    let message = target.clause(noun, &format!("a value in {unit}"), unit);
    Diagnostic::error(Code::Kind, span, message)
        .label(format!("this is {noun}"))
        .expected(format!("a number, with a unit such as `{unit}`"))
}

/// Something that is no number where one was expected; `place` says where.
pub(in crate::check) fn no_number(span: Span, text: &str, noun: &str, place: &str) -> Diagnostic {
    Diagnostic::error(Code::Kind, span, format!("{noun} {place}"))
        .label(format!("`{text}` is {noun}"))
        .expected("a number, with its unit")
}

/// Something that is no condition where one was expected.
pub(in crate::check) fn no_condition(span: Span, text: &str, noun: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Kind,
        span,
        format!("{noun} where a condition was expected"),
    )
    .label(format!("`{text}` is {noun}"))
    .expected("a comparison such as `draw <= pump`, or a switch")
}

/// A single value where a column was expected.
pub(in crate::check) fn needs_column(span: Span, text: &str, noun: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Kind,
        span,
        "a single value where a column was expected",
    )
    .label(format!("`{text}` is {noun}"))
    .expected("several values, as in `{1, 2, 3} mm`, or a table's column")
}

/// A unit behind the column and at an item too.
pub(in crate::check) fn unit_twice(span: Span, text: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Bracket,
        span,
        "an item of a column whose unit stands behind the column",
    )
    .label(format!("`{text}`"))
    .expected("plain numbers inside, or a unit at every item and none behind")
}

/// A column as an item of a column.
pub(in crate::check) fn column_in_column(span: Span) -> Diagnostic {
    Diagnostic::error(Code::Kind, span, "a column as an item of a column")
        .label("a column has one value in each row")
        .expected("single values")
}
