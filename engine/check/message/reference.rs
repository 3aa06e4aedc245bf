//! Values that count from different zeros, where one was expected: gauge and absolute, free and
//! standard, active and apparent.

use super::air::room_against_air;
use super::{Doing, Operand, Pair, Side, Target, called};
use crate::source::{Code, Diagnostic, Span};
use crate::units::{Class, Reference};

/// Two references where one was expected.
pub(in crate::check) fn unlike_references(doing: Doing, pair: &Pair) -> Diagnostic {
    let [a, b] = pair.operands();
    if let (Some(x), Some(y)) = (a.reference, b.reference)
        && (x == Reference::Room) != (y == Reference::Room)
    {
        return room_against_air(doing, pair);
    }
    let message = doing.clause(&a.noun, &b.noun);
    let diagnostic = Diagnostic::error(Code::Reference, pair.span(), message)
        .label(pair.label())
        .expected(one_reference(a, b));
    let diagnostic = pair.with_values(diagnostic);
    if doing == Doing::PlusMinus {
        return diagnostic;
    }
    reference_repairs(diagnostic, pair)
}

/// What is wanted of two values of one dimension.
fn one_reference(a: &Operand, b: &Operand) -> &'static str {
    let any = |wanted: &[Reference]| {
        [a, b]
            .iter()
            .any(|one| one.reference.is_some_and(|is| wanted.contains(&is)))
    };
    use Reference::*;
    if any(&[Apparent, Reactive]) {
        "one kind of power; a power factor such as `0.85 W/VA` leads from apparent to active power"
    } else if any(&[Free, Actual, Standard, Normal, Anr]) {
        "one state of air on both sides: nothing is converted unasked"
    } else if any(&[SoundA, SoundC, SoundPressure, SoundPower]) {
        "levels of one kind: none of them leads to another"
    } else if any(&[Points, Share]) {
        "two ratios, or two differences of ratios"
    } else {
        "both counted from the same zero: nothing is converted unasked"
    }
}

/// Each side taken to the other's reference, likeliest first: a typed number is retyped, anything
/// else is converted.
fn reference_repairs(diagnostic: Diagnostic, pair: &Pair) -> Diagnostic {
    let [a, b] = pair.operands();
    let (Some(x), Some(y)) = (a.reference, b.reference) else {
        return diagnostic;
    };
    let offers = [
        (Side::Right, b.retyped(x)),
        (Side::Left, a.retyped(y)),
        (Side::Right, b.converted(x)),
        (Side::Left, a.converted(y)),
    ];
    let offers = offers
        .into_iter()
        .filter_map(|(side, text)| Some((side, text?)));
    offers.take(2).fold(diagnostic, |diagnostic, (side, text)| {
        pair.mend(diagnostic, side, &text)
    })
}

/// A reading and a pressure or temperature that counts from true zero.
pub(in crate::check) fn point_and_total(doing: Doing, pair: &Pair) -> Diagnostic {
    let [a, b] = pair.operands();
    let is_point = |one: &Operand| {
        one.reference
            .is_some_and(|reference| reference.row().class == Class::Point)
    };
    let (side, point) = if is_point(a) {
        (Side::Left, a)
    } else {
        (Side::Right, b)
    };
    let message = doing.clause(&a.noun, &b.noun);
    let diagnostic = Diagnostic::error(Code::Reference, pair.span(), message)
        .label(pair.label())
        .expected(one_reference(a, b));
    let diagnostic = pair.with_values(diagnostic);
    let call = called("absolute", &point.text);
    match doing {
        // `start + atmosphere` means the absolute pressure itself.
        Doing::Plus => diagnostic.replace(pair.span(), call),
        _ => pair.mend(diagnostic, side, &call),
    }
}

/// A value under a bracket, or given to a parameter, that counts from another reference.
pub(in crate::check) fn wrong_reference(
    operand: &Operand,
    wanted: Reference,
    unit: &str,
    target: &Target,
) -> Diagnostic {
    let message = target.clause(&operand.noun, wanted.row().noun, unit);
    let mut diagnostic = Diagnostic::error(Code::Reference, operand.span, message)
        .label(match operand.is_literal() {
            true => operand.noun.clone(),
            false => format!("{{0}} is {}", operand.noun),
        })
        .expected(expected_reference(operand, wanted, unit));
    diagnostic = operand.with_value(diagnostic);
    // A field of a table takes no calls.
    let converted = operand
        .converted(wanted)
        .filter(|_| !matches!(target, Target::Field));
    let offers = [operand.retyped(wanted), converted];
    for offer in offers.into_iter().flatten() {
        diagnostic = diagnostic.replace(operand.span, offer);
    }
    if operand.reference == Some(Reference::Room) && is_air(wanted) {
        return diagnostic.repair_with(
            format!("free_volume({}, start, stop)", operand.text),
            "the free air it gives",
        );
    }
    if (operand.reference, wanted) == (Some(Reference::Difference), Reference::Absolute)
        && !operand.is_literal()
    {
        return diagnostic.repair_with(
            format!("{} + atmosphere", operand.text),
            "if it was counted from the air outside",
        );
    }
    if is_power(wanted) && operand.reference == Some(Reference::Apparent) && operand.is_simple() {
        return diagnostic.repair_with(
            format!("{} * 0.85 W/VA", operand.text),
            "with its power factor",
        );
    }
    kept_as_it_is(diagnostic, operand, target)
}

/// Under a bracket a value may as well stay what it is.
fn kept_as_it_is(diagnostic: Diagnostic, operand: &Operand, target: &Target) -> Diagnostic {
    match (target, operand.reference, diagnostic.repairs.is_empty()) {
        (Target::Bracket, Some(_), true) => {
            diagnostic.repair_with(format!("[{}]", operand.unit), "shows it as what it is")
        }
        _ => diagnostic,
    }
}

fn expected_reference(operand: &Operand, wanted: Reference, unit: &str) -> String {
    match (operand.reference, wanted) {
        (Some(Reference::Interval), Reference::Thermometer) => {
            format!(
                "{unit}: {}; this one can be added to a reading",
                what_it_is(wanted)
            )
        }
        (Some(Reference::Difference), Reference::Gauge) if !operand.is_literal() => {
            format!(
                "{unit}: {}; this one can be added to a reading",
                what_it_is(wanted)
            )
        }
        _ => format!("{unit}: {}", what_it_is(wanted)),
    }
}

fn is_air(reference: Reference) -> bool {
    use Reference::*;
    matches!(reference, Free | Actual | Standard | Normal | Anr)
}

fn is_power(reference: Reference) -> bool {
    matches!(
        reference,
        Reference::Active | Reference::Apparent | Reference::Reactive
    )
}

/// The reference in the words of the shop.
fn what_it_is(reference: Reference) -> &'static str {
    match reference {
        Reference::Gauge => "what the dial shows, counted from the air outside",
        Reference::Absolute => "counted from empty space; the dial shows less by the air outside",
        Reference::Difference => "a rise or fall between two pressures",
        Reference::Thermometer => "what the thermometer shows",
        Reference::Thermodynamic => "counted from absolute zero",
        Reference::Interval => "a rise or fall between two temperatures",
        Reference::Room => "the room in a vessel",
        Reference::Free => "air as it stands in this shop",
        Reference::Actual => "air as it is in the line, at its pressure",
        Reference::Standard => "air counted at the standard state",
        Reference::Normal => "air counted at the normal state",
        Reference::Anr => "air counted at the ANR state of ISO 8778",
        Reference::Active => "the part that does work or heats; a power factor leads to it",
        Reference::Apparent => "volts times amperes",
        Reference::Reactive => "the part that swings to and fro",
        Reference::Gain => "the difference of two levels",
        Reference::SoundA => "a level measured at a place, A-weighted",
        Reference::SoundC => "a level measured at a place, C-weighted",
        Reference::SoundPressure => "a level measured at a place, unweighted",
        Reference::SoundPower => "what a source gives off in all",
        Reference::Share => "a part of a whole",
        Reference::Points => "a difference of two percentages",
    }
}

/// A percentage where points were asked for, or the reverse.
pub(in crate::check) fn share_and_points(operand: &Operand, points: bool) -> Diagnostic {
    let (message, expected, repair) = if points {
        (
            "a ratio shown in percentage points",
            "`%` for a part of something; points are for the difference of two percentages",
            "[%]",
        )
    } else {
        (
            "percentage points shown as a ratio",
            "`pp` for the difference of two percentages; `%` is for a part of something",
            "[pp]",
        )
    };
    let diagnostic = Diagnostic::error(Code::Reference, operand.span, message)
        .label(format!("{{0}} is {}", operand.noun))
        .expected(expected)
        .repair(repair);
    operand.with_value(diagnostic)
}

/// A conversion of something it does not take; `call` is the place of the whole call.
pub(in crate::check) fn conversion_of(
    operand: &Operand,
    function: &str,
    takes: &str,
    call: Span,
) -> Diagnostic {
    let made = match function {
        "absolute" => &[Reference::Absolute, Reference::Thermodynamic][..],
        "gauge" => &[Reference::Gauge],
        "thermometer" => &[Reference::Thermometer],
        _ => &[Reference::Difference],
    };
    let message = format!("`{function}` of {}", operand.noun);
    let diagnostic = Diagnostic::error(Code::Reference, operand.span, message).expected(takes);
    let diagnostic = operand.with_value(diagnostic);
    if operand.reference.is_some_and(|is| made.contains(&is)) {
        return diagnostic
            .label("{0} is that already")
            .replace(call, super::bracketless(&operand.text));
    }
    let diagnostic = diagnostic.label(format!("{{0}} is {}", operand.noun));
    let wanted = match function {
        "gauge" => Reference::Absolute,
        "thermometer" => Reference::Thermodynamic,
        _ => Reference::Gauge,
    };
    match operand.retyped(wanted) {
        Some(retyped) if wanted != Reference::Thermodynamic => {
            diagnostic.replace(operand.span, retyped)
        }
        _ => diagnostic,
    }
}
