//! Flows and volumes of air: the state that a product leaves open, room against free air, and
//! pressures without a reference beside them.

use super::{Doing, Operand, Pair, bracketless};
use crate::source::{Code, Diagnostic, Span};
use crate::units::Reference;

/// `tank / draw`, `draw * 10 min <= tank`
pub(in crate::check) fn room_against_air(doing: Doing, pair: &Pair) -> Diagnostic {
    let [a, b] = pair.operands();
    let room = if a.reference == Some(Reference::Room) {
        a
    } else {
        b
    };
    let message = doing.clause(&a.noun, &b.noun);
    let mut diagnostic = Diagnostic::error(Code::Reference, pair.span(), message)
        .label(pair.label())
        .expected("the air that leaves the vessel between two pressures, not the room in it");
    diagnostic = pair.with_values(diagnostic);
    if doing == Doing::Over && a.reference == Some(Reference::Room) {
        diagnostic = diagnostic
            .repair_with(
                "hold_time(tank, pump, draw, start, stop)",
                "how long a receiver lasts",
            )
            .repair_with(
                "run_time(tank, pump, draw, cut_in, cut_out)",
                "how long the pump runs",
            );
    }
    let room = bracketless(room.text.trim_start_matches('-'));
    diagnostic.repair_with(
        format!("free_volume({room}, start, stop)"),
        "the free air it gives",
    )
}

/// A flow or volume whose state has to be said first. `unit` is the one it is likely to be
/// shown in, `states` what it may be called there; `room_rate` is the room of a vessel per time.
pub(in crate::check) fn say_which(
    operand: &Operand,
    unit: &str,
    states: &[(String, Reference)],
    (volume, room_rate): (bool, bool),
) -> Diagnostic {
    let thing = if volume { "volume" } else { "flow" };
    let message = format!("a {thing} that does not say which air it is");
    let mut diagnostic = Diagnostic::error(Code::SayWhich, operand.span, message)
        .label(match room_rate {
            true => "room of a vessel per time, at the pressure in the line",
            false => "from a product: free air, line air, standard air?",
        })
        .expected(format!(
            "its state told, here or under the head of its cell: `[{unit}]`"
        ));
    for (unit, state) in states {
        let text = format!("({} [{unit}])", bracketless(&operand.text));
        diagnostic = diagnostic.replace(operand.span, text);
        if let Some(repair) = diagnostic.repairs.last_mut() {
            repair.remark = state.row().counts.to_owned();
        }
    }
    diagnostic
}

/// The room of a vessel per time called free air: the forgotten pressure ratio.
pub(in crate::check) fn room_rate(
    span: Span,
    text: &str,
    unit: &str,
    wanted: Reference,
) -> Diagnostic {
    let noun = wanted.row().noun;
    Diagnostic::error(
        Code::Reference,
        span,
        format!("the room of a vessel per time called {noun}"),
    )
    .label("how fast room is emptied, at the pressure in the line")
    .expected(format!(
        "for `{unit}`, multiply by (start − stop)/atmosphere, or `bleed_down`"
    ))
    .repair_with(
        format!("{} * (start - stop) / atmosphere", bracketless(text)),
        "a timed fall",
    )
    .repair_with(
        "bleed_down(tank, start, stop, held)",
        "the same as a formula",
    )
}

/// A ratio to one state where another is named.
pub(in crate::check) fn mixed_states(
    span: Span,
    made_with: &str,
    made: Reference,
    told: Reference,
    unit: Option<&str>,
) -> Diagnostic {
    let function = match told {
        Reference::Standard => "standard_air",
        Reference::Normal => "normal_air",
        Reference::Anr => "anr_air",
        _ => "free_air",
    };
    let diagnostic = Diagnostic::warning(
        Code::MixedStates,
        span,
        format!("made with {made_with}, but called {}", told.row().noun),
    )
    .label("the two states differ, so the figure is off by their ratio")
    .expected(format!("{}, and `{function}` of it", made.row().noun));
    match unit {
        Some(unit) => diagnostic.repair_with(format!("[{unit}]"), "what it was made as"),
        None => diagnostic,
    }
}

/// Two bare pressures divided.
pub(in crate::check) fn bare_ratio(pair: &Pair) -> Diagnostic {
    let [a, b] = pair.operands();
    let mut diagnostic = Diagnostic::note(
        Code::BarePressure,
        pair.span(),
        "the ratio of two pressures typed without gauge or absolute",
    )
    .label("if these are gauge readings, the ratio is wrong")
    .expected("`psia` for absolute pressures, `absolute(…)` of readings in `psig`");
    let retyped = |reference| Some((a.retyped(reference)?, b.retyped(reference)?));
    if let Some((left, right)) = retyped(Reference::Absolute) {
        diagnostic = pair.mend_both(diagnostic, &left, &right);
    }
    if let Some((left, right)) = retyped(Reference::Gauge) {
        let calls = (format!("absolute({left})"), format!("absolute({right})"));
        diagnostic = pair.mend_both(diagnostic, &calls.0, &calls.1);
    }
    diagnostic
}

/// A bare pressure multiplied with a flow or volume.
pub(in crate::check) fn bare_pressure(operand: &Operand) -> Diagnostic {
    let mut diagnostic = Diagnostic::note(
        Code::BarePressure,
        operand.span,
        format!("{} is a difference, not a reading", operand.text),
    )
    .label("multiplied with a flow or a volume");
    let reading = operand
        .retyped(Reference::Gauge)
        .map(|retyped| format!("absolute({retyped})"));
    let offers = [
        (reading, "if it is a reading"),
        (
            operand.retyped(Reference::Absolute),
            "if it counts from empty space",
        ),
    ];
    for (text, remark) in offers {
        let Some(text) = text else { continue };
        diagnostic = diagnostic.replace(operand.span, text);
        if let Some(repair) = diagnostic.repairs.last_mut() {
            repair.remark = remark.to_owned();
        }
    }
    match diagnostic.repairs.is_empty() {
        true => diagnostic.expected(format!(
            "a fall between two pressures; a reading is typed in `{}`, an absolute pressure in `{}`",
            operand.respelling(Reference::Gauge).unwrap_or("psig"),
            operand.respelling(Reference::Absolute).unwrap_or("psia"),
        )),
        false => diagnostic.expected("a fall between two pressures, else what it counts from"),
    }
}

/// A conversion of air that needs the state it is in.
pub(in crate::check) fn state_not_given(call: Span, function: &str, text: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Argument,
        call,
        format!("`{function}` needs the pressure and temperature of the line"),
    )
    .label("air in a line is described by both")
    .expected("the two by name")
    .replace(
        call,
        format!("{function}({text}, pressure: 90 psig, temperature: 80 °F)"),
    )
}

/// A conversion of a flow that does not say what it is.
pub(in crate::check) fn state_of_open(operand: &Operand, function: &str) -> Diagnostic {
    let message = format!("`{function}` of {}", operand.noun);
    let mut diagnostic = Diagnostic::error(Code::Reference, operand.span, message)
        .label(format!("{{0}} is {}", operand.noun))
        .expected("a flow or volume that says which air it is");
    diagnostic = operand.with_value(diagnostic);
    if operand.reference == Some(Reference::Room) {
        return diagnostic.repair_with(
            format!("free_volume({}, start, stop)", operand.text),
            "the free air it gives",
        );
    }
    for reference in [Reference::Standard, Reference::Normal] {
        if let Some(retyped) = operand.retyped(reference) {
            diagnostic = diagnostic.replace(operand.span, retyped);
        }
    }
    diagnostic
}

/// A value of another notebook that counts from that notebook's own air; `other` names the default
/// that differs, `name` the cell over there.
pub(in crate::check) fn used_state(operand: &Operand, name: &str, other: &str) -> Diagnostic {
    let (call, unit) = match operand.reference {
        Some(Reference::Gauge) => {
            let unit = operand.respelling(Reference::Absolute).unwrap_or("psia");
            (format!("absolute({name})"), unit)
        }
        Some(Reference::Actual) => {
            let unit = operand.respelling(Reference::Standard).unwrap_or("scfm");
            (
                format!("standard_air({name}, pressure: 90 psig, temperature: 80 °F)"),
                unit,
            )
        }
        _ => {
            let unit = operand.respelling(Reference::Standard).unwrap_or("scfm");
            (format!("standard_air({name})"), unit)
        }
    };
    let message = format!(
        "{} of another notebook, which has another air",
        operand.noun
    );
    let diagnostic = Diagnostic::error(Code::UsedState, operand.span, message)
        .label(format!(
            "`{}` rests on {other}, which differs from ours",
            operand.text
        ))
        .expected("a value that is the same in both; over there, a cell such as this one");
    diagnostic.repair(format!("{name}_there [{unit}] = {call}"))
}
