//! Words for what went wrong while working out: a failure and the plan it arose in go in, a
//! message at the place in the text comes out.

use crate::check::{Binary, Description, FormulaDefinition, Reduction, Unary};
use crate::exact::{Failure, Mishap, Outcome};
use crate::number::Trouble;
use crate::plan::{self, Operation, Plan};
use crate::source::{Code, Diagnostic, Inside, Span, nearest};
use std::rc::Rc;

/// A place, the step that failed there, and what it worked with, as written.
pub(super) struct Place<'p> {
    pub(super) span: Span,
    /// The place itself, where it is not inside a formula's body: only there a repair can be put.
    own: Option<Span>,
    pub(super) text: String,
    pub(super) inside: Vec<Inside>,
    operation: Option<&'p Operation>,
    pub(super) operands: Vec<String>,
}

impl Place<'_> {
    fn operand(&self, index: usize) -> &str {
        self.operands.get(index).map_or("", String::as_str)
    }

    /// Offers a repair for the whole place.
    fn mend(&self, diagnostic: Diagnostic, text: String) -> Diagnostic {
        match self.own {
            Some(span) => diagnostic.replace(span, text),
            None => diagnostic.repair(text),
        }
    }
}

/// The message for a failure in a plan whose statement reads `text`.
pub(super) fn explained(
    plan: &Plan,
    failure: &Failure,
    text: &str,
    outcome: &Outcome,
) -> Diagnostic {
    let place = place_of(plan, failure.site, text);
    let mut diagnostic = worded(&failure.mishap, &place);
    diagnostic.inside.clone_from(&place.inside);
    lead_with_limit(diagnostic, plan, outcome)
}

/// Where no value exists outside a formula's limit, the limit's text is what is said first.
fn lead_with_limit(diagnostic: Diagnostic, plan: &Plan, outcome: &Outcome) -> Diagnostic {
    let Some(limit) = outcome
        .broken
        .first()
        .and_then(|index| plan.limits.get(*index))
    else {
        return diagnostic;
    };
    let cause = diagnostic.message.clone();
    let mut led = Diagnostic {
        message: limit.text.to_string(),
        code: Code::Limit,
        ..diagnostic
    };
    led.span = plan.place(limit.site);
    led.label = format!("outside the range of {}: {cause}", limit.formula.name());
    led.expected = "values inside that range".to_owned();
    led.values.clear();
    led.repairs.clear();
    led
}

pub(super) fn place_of<'p>(plan: &'p Plan, site: u32, text: &str) -> Place<'p> {
    let (words, inside) = written_at(plan, site, text);
    let step = plan.steps.iter().find(|step| step.site == site);
    let operation = step.map(|step| &step.operation);
    let registers = operation.map(read_by).unwrap_or_default();
    let operands = registers
        .into_iter()
        .filter_map(|register| plan.steps.get(register as usize))
        .map(|step| written_at(plan, step.site, text).0)
        .collect();
    let span = plan.place(site);
    Place {
        span,
        own: inside.is_empty().then_some(span),
        text: words,
        inside,
        operation,
        operands,
    }
}

/// What is written at a site, and the bodies around it, outermost first.
fn written_at(plan: &Plan, site: u32, text: &str) -> (String, Vec<Inside>) {
    let mut inside = Vec::new();
    let mut own: Option<(Rc<FormulaDefinition>, Span)> = None;
    let mut at = Some(site);
    while let Some(index) = at
        && let Some(found) = plan.sites.get(index as usize)
    {
        at = found
            .call
            .as_ref()
            .map(|(definition, outer)| {
                let (line, body) = definition.line(found.span);
                let around = Inside {
                    formula: definition.name().to_owned(),
                    path: definition.path.to_string(),
                    line,
                    text: body.to_owned(),
                };
                inside.insert(0, around);
                own.get_or_insert((definition.clone(), found.span));
                *outer
            })
            .filter(|outer| *outer < index);
    }
    let words = match &own {
        Some((definition, span)) => definition.snippet(*span),
        None => plan
            .sites
            .get(site as usize)
            .map_or("", |found| found.span.of(text)),
    };
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    (words, inside)
}

/// The registers whose values a message may name.
fn read_by(operation: &Operation) -> Vec<plan::Register> {
    match operation {
        Operation::Unary(_, x) | Operation::WholePower(x, _) => vec![*x],
        Operation::Binary(_, x, y) | Operation::Compare(_, x, y) => vec![*x, *y],
        Operation::Interpolate(at, points, _) => vec![*at, *points],
        Operation::Size(_, sizes, wanted) => vec![*sizes, *wanted],
        Operation::Reduce(_, column, _) | Operation::Row(column, _) => vec![*column],
        Operation::Uncertain(step) => vec![step.value, step.amount],
        Operation::Describe(_, parts) => parts.to_vec(),
        _ => Vec::new(),
    }
}

/// The words for a mishap.
fn worded(mishap: &Mishap, place: &Place<'_>) -> Diagnostic {
    match mishap {
        Mishap::Number(trouble) => number_trouble(*trouble, place),
        Mishap::Gap(row) => gap(*row, place),
        Mishap::Lengths(first, second) => lengths(*first, *second, place),
        Mishap::NoKey(key, keys) => no_key(key, keys, place),
        Mishap::KeyTwice(key) => {
            Diagnostic::error(Code::Key, place.span, "several rows have this key")
                .label(format!("{key} stands there more than once"))
                .expected("a key that is there once")
        }
        Mishap::NotRising(_) | Mishap::Outside | Mishap::NoSize(_) => outside(mishap, place),
        Mishap::NoRoot | Mishap::Several(_) | Mishap::Independent | Mishap::Jump => {
            no_root(mishap, place)
        }
        Mishap::AmountUncertain | Mishap::AmountNegative | Mishap::OneReading => {
            amount(mishap, place)
        }
        Mishap::StepAway
        | Mishap::TooManyPoints(_)
        | Mishap::PointsWithout(_)
        | Mishap::Stopped => points(mishap, place),
        Mishap::NoRows => Diagnostic::error(Code::Gap, place.span, "a column without values")
            .label("every field of it is empty")
            .expected("at least one value"),
        Mishap::Equality => equality(place),
        Mishap::Undescribed(what) => undescribed(*what, place),
        Mishap::TooSteep => too_steep(place),
        Mishap::Kind => Diagnostic::error(
            Code::Kind,
            place.span,
            "a value of another kind than was expected",
        )
        .label(format!("`{}`", place.text)),
        Mishap::Waits(_) => {
            Diagnostic::error(Code::Waits, place.span, "this waits for another cell")
                .label("a cell it reads has no value")
        }
    }
}

fn gap(row: Option<usize>, place: &Place<'_>) -> Diagnostic {
    let (column, is_column) = match (place.operands.first(), place.operation) {
        (Some(column), Some(Operation::Reduce(..))) => (column, true),
        (_, Some(Operation::Row(..))) => (&place.text, true),
        _ => (&place.text, false),
    };
    let label = match (row, is_column) {
        (Some(row), true) => format!("row {row} of `{column}` has no value"),
        (Some(row), false) => format!("`{column}` meets it in row {row}"),
        (None, _) => format!("`{column}` has no value"),
    };
    let diagnostic =
        Diagnostic::error(Code::Gap, place.span, "an empty field was used").label(label);
    match place.operation {
        Some(Operation::Reduce(reduction, ..)) => {
            let text = format!("{}({column}, skip_gaps: true)", reduction_name(*reduction));
            place.mend(
                diagnostic.expected("a value there, or the gaps left out"),
                text,
            )
        }
        _ => diagnostic.expected("a value there"),
    }
}

fn reduction_name(reduction: Reduction) -> &'static str {
    match reduction {
        Reduction::Minimum => "min",
        Reduction::Maximum => "max",
        Reduction::Sum => "sum",
        Reduction::Mean => "mean",
        Reduction::Count => "count",
    }
}

fn lengths(first: usize, second: usize, place: &Place<'_>) -> Diagnostic {
    let rows = |count: usize| match count {
        1 => "1 row".to_owned(),
        count => format!("{count} rows"),
    };
    Diagnostic::error(
        Code::Lengths,
        place.span,
        "two columns of different lengths",
    )
    .label(format!("{} and {}", rows(first), rows(second)))
    .expected("columns of one length, or a single value beside a column")
}

fn no_key(key: &str, keys: &[String], place: &Place<'_>) -> Diagnostic {
    let diagnostic = Diagnostic::error(Code::Key, place.span, "no row has this key")
        .label(format!("{key} is not among the keys"));
    let known: Vec<&str> = keys.iter().take(6).map(String::as_str).collect();
    let more = if keys.len() > known.len() { " …" } else { "" };
    let diagnostic = diagnostic.expected(match known[..] {
        [] => "a row with it; the table has none".to_owned(),
        _ => format!("one of {}{more}", known.join(", ")),
    });
    match nearest(key, keys.iter().map(String::as_str)) {
        Some(near) if place.text.contains(key) => {
            place.mend(diagnostic, place.text.replace(key, near))
        }
        _ => diagnostic,
    }
}

fn outside(mishap: &Mishap, place: &Place<'_>) -> Diagnostic {
    let error = |message: &str| Diagnostic::error(Code::Outside, place.span, message);
    match mishap {
        Mishap::NotRising(row) => error("points that do not rise")
            .label(format!(
                "row {row} of `{}` is not above the row before it",
                place.operand(1)
            ))
            .expected("points in rising order, each once"),
        Mishap::NoSize(above) => {
            let (end, function) = if *above {
                ("largest", "max")
            } else {
                ("smallest", "min")
            };
            error("no listed size serves")
                .label(format!("{{0}} is wanted; the {end} listed is {{1}}"))
                .value(place.operand(1), place.operand(1))
                .value(format!("{function}({})", place.operand(0)), "another")
                .expected("a size on the list")
        }
        _ => error("a value outside the table")
            .label("{0}, but the points go from {1} to {2}")
            .value(place.operand(0), place.operand(0))
            .value(format!("min({})", place.operand(1)), "the first")
            .value(format!("max({})", place.operand(1)), "the last")
            .expected("a value between the ends: nothing is drawn beyond them"),
    }
}

fn no_root(mishap: &Mishap, place: &Place<'_>) -> Diagnostic {
    let error = |code, message: &str| Diagnostic::error(code, place.span, message);
    match mishap {
        Mishap::Several(found) => error(Code::Several, "several values meet the target")
            .label(format!("at {}", found.join(", ")))
            .expected("a range with one of them in it"),
        Mishap::Independent => error(
            Code::Independent,
            "the target does not depend on the value sought",
        )
        .label("the two sides do not change with it")
        .expected("a value that moves the target"),
        Mishap::Jump => error(Code::NoRoot, "no value in this range meets the target")
            .label("the difference jumps over zero without being zero")
            .expected("a range in which it goes through zero"),
        _ => error(Code::NoRoot, "no value in this range meets the target")
            .label("the two sides do not meet between the ends")
            .expected("a wider range, or a target that can be met"),
    }
}

/// Axes that lead nowhere or have too many points.
fn points(mishap: &Mishap, place: &Place<'_>) -> Diagnostic {
    let error = |code, message: &str| Diagnostic::error(code, place.span, message);
    match mishap {
        Mishap::StepAway => error(Code::Step, "a step that does not lead to the end")
            .label("zero, or away from it")
            .expected("a step with the sign of the way from the first value to the last"),
        Mishap::TooManyPoints(count) => {
            let diagnostic = error(Code::Range, "more points than can be read")
                .label(match *count {
                    usize::MAX => "more points than can be counted".to_owned(),
                    count => format!("{count} points"),
                })
                .expected("at most 10000 to be shown: a larger step, or one value of the whole");
            let is_name = place
                .text
                .chars()
                .all(|c| c.is_alphanumeric() || "._".contains(c));
            match is_name && !place.text.is_empty() {
                true => place.mend(diagnostic, format!("max({})", place.text)),
                false => diagnostic,
            }
        }
        Mishap::PointsWithout(count) => error(Code::Gap, "points without a value")
            .label(format!("{count} of them"))
            .expected("a range in which every point has a value"),
        _ => error(Code::Stopped, "stopped before it was done")
            .label("not worked out to the end")
            .expected("time: start it again, or take fewer points"),
    }
}

fn amount(mishap: &Mishap, place: &Place<'_>) -> Diagnostic {
    let error = |message: &str| Diagnostic::error(Code::PlusMinus, place.span, message);
    let (value, by) = (place.operand(0), place.operand(1));
    match mishap {
        Mishap::AmountUncertain => place.mend(
            error("an uncertain amount behind ±")
                .label(format!("`{by}` has a ± itself"))
                .expected("an exact amount"),
            format!("{} ± (value({by}))", value_before(value, place)),
        ),
        Mishap::AmountNegative => error("an amount below zero behind ±")
            .label(format!("`{by}` is {{0}}"))
            .value(by, "below zero")
            .expected("an amount above zero: ± goes both ways"),
        _ => error("a single reading")
            .label("one reading has no scatter")
            .expected("at least two readings, or a ± of its own"),
    }
}

/// What stands before the `±`, as written: a literal's own text holds all of it.
fn value_before<'t>(value: &'t str, place: &'t Place<'_>) -> &'t str {
    let before = place.text.split(['±']).next().unwrap_or(value);
    before.trim_end_matches("+/-").trim_end()
}

fn equality(place: &Place<'_>) -> Diagnostic {
    let diagnostic = Diagnostic::error(
        Code::Equality,
        place.span,
        "equality between uncertain values",
    )
    .label("two values with a ± are never quite equal")
    .expected("whether they agree within their ±");
    let (a, b) = (place.operand(0), place.operand(1));
    match a.is_empty() || b.is_empty() {
        true => diagnostic,
        false => place.mend(diagnostic, format!("compatible({a}, {b})")),
    }
}

fn too_steep(place: &Place<'_>) -> Diagnostic {
    let diagnostic = Diagnostic::error(Code::Domain, place.span, "no ± can go through here")
        .label(format!(
            "`{}` is infinitely steep at this value: any ± would become infinite",
            place.text
        ))
        .expected("a value away from the end of what it takes, or one without ±");
    let operand = place.operand(0);
    match operand.is_empty() || !place.text.contains(operand) {
        true => diagnostic,
        false => place.mend(
            diagnostic,
            place
                .text
                .replacen(operand, &format!("value({operand})"), 1),
        ),
    }
}

fn undescribed(what: Description, place: &Place<'_>) -> Diagnostic {
    let of = place.operand(0);
    let (message, label, expected) = match what {
        Description::Coverage => (
            "a coverage factor of hard limits",
            format!("the ± of `{of}` are limits: all of it lies between them"),
            "a value whose ± has a level, or `expanded_uncertainty`",
        ),
        _ => (
            "degrees of freedom without end",
            format!("no ± of `{of}` comes from readings"),
            "a value with `readings(…)` in it, or a tag with `dof`",
        ),
    };
    Diagnostic::error(Code::Domain, place.span, message)
        .label(label)
        .expected(expected)
}

fn number_trouble(trouble: Trouble, place: &Place<'_>) -> Diagnostic {
    let span = place.span;
    match trouble {
        Trouble::Zero => divided_by_zero(place),
        Trouble::Overflow => Diagnostic::error(Code::Range, span, "a number too large to hold")
            .label(format!("`{}`", place.text))
            .expected("a size up to 1e300, which is far beyond any shop"),
        Trouble::Underflow => Diagnostic::error(Code::Range, span, "a number too small to hold")
            .label(format!("`{}`", place.text))
            .expected("a size down to 1e-300, or zero"),
        Trouble::Domain => {
            let message = format!("`{}` has no value", place.text);
            let diagnostic =
                Diagnostic::error(Code::Domain, span, message).expected(domain_of(place.operation));
            with_operand(diagnostic, place.operand(0), "outside what it takes")
        }
    }
}

fn divided_by_zero(place: &Place<'_>) -> Diagnostic {
    let power = matches!(place.operation, Some(Operation::WholePower(..)));
    let step = matches!(
        place.operation,
        Some(Operation::Binary(function, ..))
            if matches!(function.row().function, Binary::Round | Binary::Floor | Binary::Ceil)
    );
    let (message, expected, below) = match (power, step) {
        (true, _) => (
            "a power below zero of zero",
            "something other than zero under the power",
            place.operand(0),
        ),
        (_, true) => (
            "rounding to multiples of zero",
            "a step other than zero",
            place.operand(1),
        ),
        _ => (
            "division by zero",
            "something other than zero below the line",
            place.operand(1),
        ),
    };
    let diagnostic = Diagnostic::error(Code::Zero, place.span, message).expected(expected);
    with_operand(diagnostic, below, "zero")
}

/// “`held` is 0 s”; a number as typed needs no value beside it.
fn with_operand(diagnostic: Diagnostic, text: &str, otherwise: &str) -> Diagnostic {
    let typed = text
        .trim_start_matches(['-', '('])
        .starts_with(|c: char| c.is_ascii_digit());
    let plain = typed && !text.contains(" + ") && !text.contains(" - ");
    match (text.is_empty(), plain) {
        (true, _) => diagnostic,
        (false, true) => diagnostic.label(format!("`{text}` is {otherwise}")),
        (false, false) => diagnostic
            .label(format!("`{text}` is {{0}}"))
            .value(text, otherwise),
    }
}

/// What a function takes.
fn domain_of(operation: Option<&Operation>) -> &'static str {
    match operation {
        Some(Operation::Unary(function, _)) => match function.row().function {
            Unary::SquareRoot => "something not below zero under the root",
            Unary::Ln | Unary::Log10 => "something above zero in a logarithm",
            Unary::Asin | Unary::Acos => "a number between −1 and 1",
            Unary::Tan => "an angle that is no right angle",
            _ => "a value that the function takes",
        },
        Some(Operation::Binary(function, ..)) if function.row().function == Binary::Power => {
            "a base above zero, or a whole number as the power"
        }
        Some(Operation::Binary(function, ..)) if function.row().function == Binary::Atan2 => {
            "a rise and a run that are not both zero"
        }
        _ => "a value that the function takes",
    }
}
