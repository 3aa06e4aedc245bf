//! Two kinds of quantity where one was expected, and numbers that cannot have the unit they got.

use super::{Doing, Operand, Pair, Side, Target, bracketless};
use crate::source::{Code, Diagnostic, Span};
use crate::units::Class;

/// What is known beside the two values themselves.
#[derive(Default)]
pub(in crate::check) struct Beside {
    /// Both are money.
    pub(in crate::check) currencies: bool,
    /// The second is a percentage.
    pub(in crate::check) percent: bool,
    /// What is easily mistaken about one of the units.
    pub(in crate::check) hint: Option<String>,
    /// The unit that a number without one would have here.
    pub(in crate::check) step: Option<String>,
}

/// Two kinds of quantity.
pub(in crate::check) fn unlike_dimensions(doing: Doing, pair: &Pair, beside: Beside) -> Diagnostic {
    let [a, b] = pair.operands();
    if beside.currencies {
        return two_currencies(pair);
    }
    if beside.percent && matches!(doing, Doing::Plus | Doing::Minus) {
        return percent_of_something(doing, pair);
    }
    if let Some(mixed) = mixed_number(doing, pair) {
        return fraction_behind_minus(pair, mixed);
    }
    let message = doing.clause(&a.kind, &b.kind);
    let expected = beside
        .hint
        .unwrap_or_else(|| "two values of one kind".to_owned());
    let diagnostic = Diagnostic::error(Code::Dimension, pair.span(), message)
        .label("{0} and {1}")
        .expected(expected);
    let diagnostic = pair.with_values(diagnostic);
    let sides = [(Side::Left, a), (Side::Right, b)];
    sides
        .into_iter()
        .fold(diagnostic, |diagnostic, (side, one)| {
            let unit = match (&one.force, &beside.step) {
                (Some(force), _) => Some(force),
                (None, step) if one.is_bare_number() => step.as_ref(),
                _ => None,
            };
            match unit.and_then(|unit| one.with_unit(unit)) {
                Some(retyped) => pair.mend(diagnostic, side, &retyped),
                None => diagnostic,
            }
        })
}

/// `1-1/2 in`, which means one and a half.
fn mixed_number(doing: Doing, pair: &Pair) -> Option<String> {
    let is_whole = |text: &str| !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    let [a, b] = pair.operands();
    let fraction = b.text.split_whitespace().next()?;
    let (up, down) = fraction.split_once('/')?;
    let is_fraction = is_whole(&a.text) && is_whole(up) && is_whole(down);
    (doing == Doing::Minus && is_fraction).then(|| format!("{} {}", a.text, b.text))
}

fn fraction_behind_minus(pair: &Pair, mixed: String) -> Diagnostic {
    let [a, b] = pair.operands();
    Diagnostic::error(
        Code::Dimension,
        pair.span(),
        format!("{} minus {}", a.kind, b.kind),
    )
    .label(format!(
        "read as {} − ({}): {} has no unit",
        a.text, b.text, a.text
    ))
    .expected("two values of one kind, or one number written with a blank")
    .replace(pair.span(), mixed)
}

fn two_currencies(pair: &Pair) -> Diagnostic {
    let [a, b] = pair.operands();
    let message = format!("two currencies: {} and {}", a.unit, b.unit);
    let diagnostic = Diagnostic::error(Code::Currency, pair.span(), message)
        .label("{0} and {1}")
        .expected(exchange(&a.unit, &b.unit));
    pair.mend(
        pair.with_values(diagnostic),
        Side::Right,
        &format!("{} * rate", b.factor()),
    )
}

fn exchange(to: &str, from: &str) -> String {
    format!(
        "one currency; no rate of exchange is built in: make a cell such as `rate = 1.35 {to}/{from}`"
    )
}

/// `x + 8 %`
pub(in crate::check) fn percent_of_something(doing: Doing, pair: &Pair) -> Diagnostic {
    let [a, b] = pair.operands();
    let sign = if doing == Doing::Minus { "-" } else { "+" };
    let share = bracketless(&b.text);
    Diagnostic::error(
        Code::Percent,
        pair.span(),
        format!("a percentage beside {}", a.kind),
    )
    .label(format!("{} of what?", b.text))
    .expected("two values of one kind, or a factor")
    .replace(pair.span(), format!("{} * (1 {sign} {share})", a.factor()))
}

/// A value under a bracket, or given to a parameter, of another dimension.
pub(in crate::check) fn wrong_dimension(
    operand: &Operand,
    expected: &str,
    unit: &str,
    target: &Target,
    beside: Beside,
) -> Diagnostic {
    if beside.currencies {
        let message = format!("two currencies: {} and {unit}", operand.unit);
        let diagnostic = Diagnostic::error(Code::Currency, operand.span, message)
            .label(format!("{{0}} is {}", operand.kind))
            .expected(exchange(unit, &operand.unit))
            .replace(operand.span, format!("{} * rate", operand.factor()));
        return operand.with_value(diagnostic);
    }
    let bare = operand.is_bare_number();
    let message = target.clause(&operand.kind, expected, unit);
    let mut diagnostic = Diagnostic::error(Code::Dimension, operand.span, message)
        .label(match bare {
            true => "{0} has no unit".to_owned(),
            false => format!("{{0}} is {}", operand.kind),
        })
        .expected(match (beside.hint, bare) {
            (Some(hint), false) => hint,
            _ if unit == "1" || expected.starts_with("a value in ") => expected.to_owned(),
            _ => format!("{expected}, such as a value in `{unit}`"),
        });
    diagnostic = operand.with_value(diagnostic);
    let retyped = match &operand.force {
        Some(force) => operand.with_unit(force),
        None if bare => operand.with_unit(unit),
        None => None,
    };
    match (retyped, &operand.force) {
        (Some(retyped), _) => diagnostic.replace(operand.span, retyped),
        (None, Some(force)) => diagnostic.expected(format!(
            "{expected}: {} counts a mass, with its weight it is `{force}`",
            operand.unit
        )),
        (None, None) => diagnostic,
    }
}

/// `x^(2 m)`
pub(in crate::check) fn exponent_with_unit(operand: &Operand) -> Diagnostic {
    let diagnostic = Diagnostic::error(Code::Dimension, operand.span, "an exponent with a unit")
        .label(format!("{{0}} is {}", operand.kind))
        .expected("a plain number");
    operand.with_value(diagnostic)
}

/// A power of something with a unit must be known while checking.
pub(in crate::check) fn power_must_be_written(span: Span, base: &Operand) -> Diagnostic {
    Diagnostic::error(
        Code::Dimension,
        span,
        format!("a power of {} that is not written out", base.kind),
    )
    .label(format!(
        "`{}` has a unit, which this power would change",
        bracketless(&base.text)
    ))
    .expected("a whole number, a half, a third or a quarter as the power, or a base without unit")
}

/// A plain number was expected.
pub(in crate::check) fn not_plain(operand: &Operand, expected: &str) -> Diagnostic {
    let message = format!("{} where a plain number was expected", operand.kind);
    let diagnostic = Diagnostic::error(Code::Dimension, operand.span, message)
        .label(format!("{{0}} is {}", operand.kind))
        .expected(expected);
    operand.with_value(diagnostic)
}

/// An angle was expected.
pub(in crate::check) fn not_an_angle(operand: &Operand) -> Diagnostic {
    let message = format!("{} where an angle was expected", operand.kind);
    let diagnostic = Diagnostic::error(Code::Dimension, operand.span, message)
        .label(format!("{{0}} is {}", operand.kind))
        .expected("an angle, such as `30 deg` or `0.5 rad`");
    let diagnostic = operand.with_value(diagnostic);
    let units = if operand.is_bare_number() {
        &["rad", "deg"][..]
    } else {
        &[]
    };
    units.iter().fold(diagnostic, |diagnostic, unit| {
        match operand.with_unit(unit) {
            Some(retyped) => diagnostic.replace(operand.span, retyped),
            None => diagnostic,
        }
    })
}

/// Rounding of something with a unit; `call` is the place of the whole call.
pub(in crate::check) fn needs_step(
    operand: &Operand,
    function: &str,
    unit: &str,
    call: Span,
) -> Diagnostic {
    let point = operand
        .reference
        .is_some_and(|is| is.row().class == Class::Point);
    let step = if point {
        "a step behind it, as a difference"
    } else {
        "a step behind it"
    };
    Diagnostic::error(
        Code::Step,
        operand.span,
        format!("{} rounded without a step", operand.kind),
    )
    .label("to a multiple of what?")
    .expected(step)
    .replace(call, format!("{function}({}, 1 {unit})", operand.text))
}

/// A unit with too many words or too high a power.
pub(in crate::check) fn unit_too_large(span: Span) -> Diagnostic {
    Diagnostic::error(
        Code::Dimension,
        span,
        "a unit with too many words or too high a power",
    )
    .label("no quantity of a shop has it")
    .expected("fewer factors, or steps in cells of their own with a head")
}

/// A number that cannot be held.
pub(in crate::check) fn number_out_of_range(span: Span, text: &str) -> Diagnostic {
    Diagnostic::error(Code::Range, span, "a number too large or too small to hold")
        .label(format!("`{text}`"))
        .expected("a size between 1e-300 and 1e300")
}
