//! Cells that take the place of a default of the handbook.

use super::Operand;
use crate::source::{Code, Diagnostic, Span};
use crate::units::Reference;

/// A cell that replaces a default with something of another kind.
pub(in crate::check) fn default_of_other_kind(
    name: &str,
    operand: &Operand,
    model: &Operand,
) -> Diagnostic {
    let bare = operand.is_bare_number();
    let message = format!("{} as the handbook's `{name}`", operand.kind);
    let diagnostic = Diagnostic::error(Code::Dimension, operand.span, message)
        .label(match bare {
            true => "{0} has no unit".to_owned(),
            false => format!("{{0}} is {}", operand.kind),
        })
        .expected(format!(
            "{}, as formulas of the handbook count on it; or another name",
            model.noun
        ));
    let diagnostic = operand.with_value(diagnostic);
    match operand.with_unit(&model.unit).filter(|_| bare) {
        Some(retyped) => diagnostic.replace(operand.span, retyped),
        None if name == "atmosphere" && operand.kind == "a length" => {
            let call = format!("altitude_pressure({})", operand.text);
            diagnostic.replace(operand.span, call)
        }
        None => diagnostic.repair(format!("my_{name} = {}", operand.text)),
    }
}

/// A cell that replaces a default with something that is no number.
pub(in crate::check) fn default_of_no_number(
    name: &str,
    span: Span,
    noun: &str,
    model: &Operand,
) -> Diagnostic {
    Diagnostic::error(
        Code::Kind,
        span,
        format!("{noun} as the handbook's `{name}`"),
    )
    .label(format!("this is {noun}"))
    .expected(format!(
        "{}, as formulas of the handbook count on it; or another name",
        model.noun
    ))
}

/// A cell that replaces a default but counts from another reference.
pub(in crate::check) fn default_of_other_reference(
    name: &str,
    operand: &Operand,
    wanted: Reference,
) -> Diagnostic {
    let barometer = name == "atmosphere";
    let message = format!("{} as the handbook's `{name}`", operand.noun);
    let mut diagnostic = Diagnostic::error(Code::Reference, operand.span, message)
        .label(match operand.is_literal() {
            true => operand.noun.clone(),
            false => format!("{{0}} is {}", operand.noun),
        })
        .expected(match barometer {
            true => "an absolute pressure, measured at the shop: weather reports give it reduced \
                     to sea level, which is too high by 1 inHg for each 1000 ft"
                .to_owned(),
            false => format!(
                "{}, as formulas of the handbook count on it",
                wanted.row().noun
            ),
        });
    diagnostic = operand.with_value(diagnostic);
    let call = operand.converted(wanted).filter(|_| !barometer);
    let gauge = operand.reference == Some(Reference::Gauge);
    let retyped = operand.retyped(wanted).filter(|_| !(barometer && gauge));
    for offer in [retyped, call].into_iter().flatten() {
        diagnostic = diagnostic.replace(operand.span, offer);
    }
    match barometer {
        true => diagnostic.repair_with("altitude_pressure(5280 ft)", "from the height of the shop"),
        false => diagnostic,
    }
}

/// A cell that takes the place of a default.
pub(in crate::check) fn replaces_default(span: Span, name: &str, was: &str) -> Diagnostic {
    Diagnostic::note(
        Code::Replaces,
        span,
        format!("{name} takes the place of the handbook's {was}"),
    )
    .label("everywhere in this notebook, in formulas of the handbook too")
}
