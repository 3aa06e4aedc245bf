//! Values that are sought, and what this version reads but does not work out.

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

/// A scenario or a study inside an expression.
pub(in crate::check) fn not_yet(span: Span, what: &str) -> Diagnostic {
    Diagnostic::error(Code::NotYet, span, format!("{what} is not worked out yet"))
        .label("read and kept, but this version has no value for it")
        .expected("a value, a formula or a table; the next versions bring the studies")
}
