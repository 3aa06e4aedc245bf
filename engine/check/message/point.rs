//! Readings on a scale and levels used like amounts: added, scaled, divided, counted by hand.

use super::{Operand, Pair, Side, bracketless, called};
use crate::source::{Code, Diagnostic, Span};
use crate::units::{Class, Reference};

/// Two readings added.
pub(in crate::check) fn points_added(pair: &Pair) -> Diagnostic {
    let [a, b] = pair.operands();
    let message = format!("{} added to {}", another(&b.noun), a.noun);
    let diagnostic = Diagnostic::error(Code::Point, pair.span(), message)
        .label("{0} + {1}: two places on a scale have no sum")
        .expected("a reading and a difference");
    let mut diagnostic = pair.with_values(diagnostic);
    let step = b
        .reference
        .and_then(|reference| b.retyped(reference.step()));
    if let Some(step) = step {
        diagnostic = pair.mend(diagnostic, Side::Right, &step);
    }
    convert_both(diagnostic, pair)
}

/// The calls that make amounts of two readings.
fn convert_both(diagnostic: Diagnostic, pair: &Pair) -> Diagnostic {
    let [a, b] = pair.operands();
    converters(a)
        .iter()
        .fold(diagnostic, |diagnostic, function| {
            let calls = [a, b].map(|one| called(function, &one.text));
            pair.mend_both(diagnostic, &calls[0], &calls[1])
        })
}

fn another(noun: &str) -> String {
    noun.strip_prefix("a ")
        .map_or_else(|| noun.to_owned(), |rest| format!("another {rest}"))
}

fn one(noun: &str) -> String {
    noun.strip_prefix("a ")
        .map_or_else(|| noun.to_owned(), |rest| format!("one {rest}"))
}

/// The functions that make an amount of a reading.
fn converters(operand: &Operand) -> &'static [&'static str] {
    match operand.reference {
        Some(Reference::Gauge) => &["absolute", "overpressure"],
        Some(Reference::Thermometer) => &["absolute"],
        _ => &[],
    }
}

fn is_level(operand: &Operand) -> bool {
    operand
        .reference
        .is_some_and(|reference| reference.row().class == Class::Level)
}

/// One reading divided by another.
pub(in crate::check) fn points_divided(pair: &Pair) -> Diagnostic {
    let [a, b] = pair.operands();
    let code = if is_level(a) {
        Code::Level
    } else {
        Code::Point
    };
    let message = match is_level(a) {
        true => "one sound level divided by another".to_owned(),
        false => format!("{} divided by {}", one(&a.noun), another(&b.noun)),
    };
    let diagnostic = Diagnostic::error(code, pair.span(), message)
        .label(format!("{{0}} / {{1}}{}", a.counted()))
        .expected(match a.reference {
            Some(Reference::Gauge) => "two absolute pressures, or two differences",
            Some(Reference::Thermometer) => "two temperatures counted from absolute zero",
            _ => "a difference of the two: levels are logarithms already",
        });
    let diagnostic = convert_both(pair.with_values(diagnostic), pair);
    match is_level(a) {
        true => diagnostic.replace(pair.span(), format!("({} - {})", a.text, b.text)),
        false => diagnostic,
    }
}

/// A reading or a level scaled, multiplied or raised to a power.
pub(in crate::check) fn point_scaled(operand: &Operand, how: &str) -> Diagnostic {
    let level = is_level(operand);
    let code = if level { Code::Level } else { Code::Point };
    let message = format!("{how} {}", operand.noun);
    let diagnostic = Diagnostic::error(code, operand.span, message)
        .label(match operand.counts {
            Some(counts) if !level => {
                format!("{{0}} is {counts}: twice the number is not twice as much")
            }
            _ => "{0} is a logarithm: twice the number is not twice as loud".to_owned(),
        })
        .expected(match operand.reference {
            Some(Reference::Gauge) => "an absolute pressure, or a difference",
            Some(Reference::Thermometer) => {
                "a temperature counted from absolute zero, or a difference"
            }
            _ => "a gain in dB, or a function for levels",
        });
    let diagnostic = operand.with_value(diagnostic);
    if level {
        let text = bracketless(&operand.text);
        return diagnostic
            .repair_with(
                format!("combined_level({{{text}, {text}}})"),
                "two such sources at once",
            )
            .repair_with(format!("{text} - 3 dB"), "half the sound energy");
    }
    converters(operand)
        .iter()
        .fold(diagnostic, |diagnostic, function| {
            diagnostic.replace(operand.span, called(function, &operand.text))
        })
}

/// `+ 273.15 K` on a reading.
pub(in crate::check) fn zero_of_scale(pair: &Pair, point: &Operand, step: &Operand) -> Diagnostic {
    Diagnostic::error(
        Code::Point,
        pair.span(),
        format!("{} added by hand to {}", step.text, point.noun),
    )
    .label("this would move the reading, not count it from absolute zero")
    .expected("a temperature counted from absolute zero")
    .replace(pair.span(), called("absolute", &point.text))
}

/// `+ 14.7 psi` on a gauge reading.
pub(in crate::check) fn atmosphere_by_hand(
    pair: &Pair,
    point: &Operand,
    step: &Operand,
) -> Diagnostic {
    Diagnostic::note(
        Code::BarePressure,
        pair.span(),
        format!("{} added to {}", step.text, point.noun),
    )
    .label("the result is still a gauge reading, that much higher")
    .expected("for the pressure counted from empty space, the shop's own atmosphere")
    .replace(pair.span(), called("absolute", &point.text))
}

/// Two levels added.
pub(in crate::check) fn levels_added(pair: &Pair) -> Diagnostic {
    let [a, b] = pair.operands();
    let diagnostic = Diagnostic::error(
        Code::Level,
        pair.span(),
        "two sound levels added like amounts",
    )
    .label("{0} + {1}: levels are logarithms")
    .expected("the level of both sources together, or a gain in dB");
    pair.with_values(diagnostic)
        .repair_with(
            format!("combined_level({{{}, {}}})", a.text, b.text),
            "two sources at once",
        )
        .repair_with(format!("{} + 3 dB", a.text), "that much louder")
}

/// Levels summed up or averaged.
pub(in crate::check) fn levels_totalled(span: Span, texts: &[String], mean: bool) -> Diagnostic {
    let (how, function) = if mean {
        ("averaged", "mean_level")
    } else {
        ("added", "combined_level")
    };
    let all = match texts {
        [column] => column.clone(),
        several => format!("{{{}}}", several.join(", ")),
    };
    Diagnostic::error(
        Code::Level,
        span,
        format!("sound levels {how} like amounts"),
    )
    .label("levels are logarithms")
    .expected("their energies added")
    .repair(format!("{function}({all})"))
}

/// `abs` of a reading; `call` is the place of the whole call.
pub(in crate::check) fn abs_of_point(operand: &Operand, call: Span) -> Diagnostic {
    let text = bracketless(&operand.text);
    let mut diagnostic = Diagnostic::error(
        Code::Point,
        operand.span,
        format!("`abs` of {}", operand.noun),
    )
    .label("without its sign, or counted from true zero?")
    .expected("one of the two");
    diagnostic = with_remark(
        diagnostic.replace(call, format!("absolute({text})")),
        "counted from true zero",
    );
    match operand.reference {
        Some(Reference::Gauge) => with_remark(
            diagnostic.replace(call, format!("abs(overpressure({text}))")),
            "the size of the reading",
        ),
        Some(Reference::Thermometer) => with_remark(
            diagnostic.replace(call, format!("abs({text} - 0 °C)")),
            "how far from freezing",
        ),
        _ => diagnostic,
    }
}

fn with_remark(mut diagnostic: Diagnostic, remark: &str) -> Diagnostic {
    if let Some(repair) = diagnostic.repairs.last_mut() {
        repair.remark = remark.to_owned();
    }
    diagnostic
}

/// A reading where a step was expected.
pub(in crate::check) fn step_is_point(operand: &Operand) -> Diagnostic {
    let diagnostic = Diagnostic::error(
        Code::Point,
        operand.span,
        format!("{} as a step", operand.noun),
    )
    .label("a place on a scale")
    .expected("a difference");
    let retyped = operand.reference.and_then(|is| operand.retyped(is.step()));
    match retyped {
        Some(step) => diagnostic.replace(operand.span, step),
        None => diagnostic,
    }
}
