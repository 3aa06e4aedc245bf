//! `±`: where it cannot stand, and where it has two readings.

use super::Operand;
use crate::source::{Code, Diagnostic, Span};

/// `±` in a body.
pub(in crate::check) fn plus_minus_in_body(span: Span) -> Diagnostic {
    Diagnostic::error(Code::PlusMinus, span, "a ± in the body of a formula")
        .label("it would be a new doubt at every call")
        .expected("a parameter's default, or a cell given to the formula")
}

/// `100 psig ± 1 %`; `whole` is the place of all of it.
pub(in crate::check) fn relative_point(whole: Span, operand: &Operand, amount: &str) -> Diagnostic {
    let step = operand
        .reference
        .and_then(|reference| operand.respelling(reference.step()))
        .unwrap_or(&operand.unit)
        .to_owned();
    let text = &operand.text;
    let diagnostic = Diagnostic::error(
        Code::Relative,
        whole,
        format!("a relative ± on {}", operand.noun),
    )
    .label("a share of what? A reading has no size of its own")
    .expected("an amount, or a share of a span");
    let diagnostic = offer(diagnostic, whole, format!("{text} ± 1 {step}"), "an amount");
    let span = operand.with_unit(&step).filter(|_| !text.starts_with('{'));
    let span = span.unwrap_or_else(|| format!("200 {step}"));
    offer(
        diagnostic,
        whole,
        format!("{text} ± {amount} of {span}"),
        "a share of this span",
    )
}

fn offer(diagnostic: Diagnostic, span: Span, text: String, remark: &str) -> Diagnostic {
    let mut diagnostic = diagnostic.replace(span, text);
    if let Some(repair) = diagnostic.repairs.last_mut() {
        repair.remark = remark.to_owned();
    }
    diagnostic
}

/// `12 % ± 2 %`
pub(in crate::check) fn relative_percent(whole: Span, value: &str, amount: &str) -> Diagnostic {
    let diagnostic = Diagnostic::error(
        Code::Relative,
        whole,
        "a percentage behind the ± of a percentage",
    )
    .label(format!("{amount} of {value}, or percentage points?"))
    .expected("one of the two");
    both_readings(diagnostic, whole, value, amount)
}

/// `140 ± 1 %`
pub(in crate::check) fn relative_bare(whole: Span, value: &str, amount: &str) -> Diagnostic {
    let diagnostic = Diagnostic::error(
        Code::Relative,
        whole,
        "a percentage behind the ± of a number without a unit",
    )
    .label("is the value a percentage too, or the ± a share of it?")
    .expected("one of the two");
    let points = amount.replace('%', "pp");
    let diagnostic = offer(
        diagnostic,
        whole,
        format!("{value} % ± {points}"),
        "both percentages",
    );
    offer(
        diagnostic,
        whole,
        format!("{value} ± {amount} of {value}"),
        "a share of the value",
    )
}

fn both_readings(diagnostic: Diagnostic, whole: Span, value: &str, amount: &str) -> Diagnostic {
    let points = amount.replace('%', "pp");
    let diagnostic = offer(
        diagnostic,
        whole,
        format!("{value} ± {points}"),
        "percentage points",
    );
    offer(
        diagnostic,
        whole,
        format!("{value} ± {amount} of {value}"),
        "a share of the value",
    )
}

/// A tag with a value that means nothing.
pub(in crate::check) fn tag_value(span: Span, what: &str, expected: &str) -> Diagnostic {
    Diagnostic::error(
        Code::PlusMinus,
        span,
        format!("{what} of this ± means nothing"),
    )
    .label("no scatter has it")
    .expected(format!("a number {expected}"))
}
