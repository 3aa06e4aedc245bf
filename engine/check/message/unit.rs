//! Unit words and how they are joined: unknown, with several meanings, units and cells at once,
//! divisions in a row.

use crate::source::{Code, Diagnostic, Span};

/// A word that is a unit and a cell too; `whole` is the literal up to it, `cell` and `unit` its two
/// spellings.
pub(in crate::check) fn unit_or_cell(
    span: Span,
    word: &str,
    whole: Span,
    (cell, unit): (String, String),
) -> Diagnostic {
    let mut diagnostic = Diagnostic::error(
        Code::UnitOrCell,
        span,
        format!("`{word}` is a unit and a cell too"),
    )
    .label("which of them?")
    .expected("blanks around the sign for the cell, `per` or a blank for the unit");
    for (text, remark) in [(cell, "with the cell"), (unit, "with the unit")] {
        diagnostic = diagnostic.replace(whole, text);
        if let Some(repair) = diagnostic.repairs.last_mut() {
            repair.remark = remark.to_owned();
        }
    }
    diagnostic
}

/// A unit name with several meanings.
pub(in crate::check) fn ambiguous_unit(
    word: &str,
    span: Span,
    reads: &str,
    offers: &[(String, String)],
) -> Diagnostic {
    let diagnostic = Diagnostic::error(
        Code::AmbiguousUnit,
        span,
        format!("`{word}` is not read as a unit"),
    )
    .label(reads)
    .expected("a name with one meaning");
    offers.iter().fold(diagnostic, |diagnostic, (text, what)| {
        // A table, a line of its own: another unit in its place would be another size.
        if what.contains("table") || what.contains("line of its own") {
            return diagnostic.repair_with(text.clone(), what.clone());
        }
        let mut diagnostic = diagnostic.replace(span, text.clone());
        if let Some(repair) = diagnostic.repairs.last_mut() {
            repair.remark = what.clone();
        }
        diagnostic
    })
}

/// No unit of that name.
pub(in crate::check) fn unknown_unit(
    word: &str,
    span: Span,
    nearest: Option<String>,
    variants: &[String],
) -> Diagnostic {
    let diagnostic =
        Diagnostic::error(Code::UnknownUnit, span, format!("no unit is called {word}"))
            .label("neither in the table of units nor defined here");
    let nearest = nearest.filter(|_| variants.is_empty());
    let diagnostic = variants
        .iter()
        .chain(&nearest)
        .fold(diagnostic, |diagnostic, variant| {
            diagnostic.replace(span, variant.clone())
        });
    match diagnostic.repairs.is_empty() {
        true => diagnostic.expected(format!("a unit; to make one of your own: `unit {word}`")),
        false => diagnostic,
    }
}

/// `a / b / c`
pub(in crate::check) fn second_solidus(span: Span, texts: &[String; 3]) -> Diagnostic {
    let [a, b, c] = texts;
    let below = super::bracketless(b);
    // What stands in brackets is a product or it keeps them.
    let below = if below.contains([' ']) && below.contains(['+', '-']) {
        b.as_str()
    } else {
        below
    };
    Diagnostic::warning(Code::Solidus, span, "two divisions in a row")
        .label(format!("read from left to right: ({a} / {b}) / {c}"))
        .expected("brackets, so that a reader sees it")
        .replace(span, format!("{a} / ({below} * {c})"))
        .replace(span, format!("{a} / ({b} / {c})"))
}

/// `kJ/kg/K`, `kJ/kg K`; `as_read` and `all_below` are its two readings.
pub(in crate::check) fn solidus_in_unit(
    span: Span,
    text: &str,
    as_read: &str,
    all_below: &str,
) -> Diagnostic {
    let diagnostic =
        Diagnostic::warning(Code::Solidus, span, "a unit with more behind its division")
            .label(format!("`{text}` is read as {as_read}"))
            .expected("one division, with brackets around what is below the line")
            .replace(span, as_read);
    match as_read == all_below {
        true => diagnostic,
        false => diagnostic.replace(span, all_below),
    }
}

/// `lb ft torque` of something that is none.
pub(in crate::check) fn no_torque(span: Span, unit: &str, force: Option<String>) -> Diagnostic {
    let diagnostic = Diagnostic::error(Code::Dimension, span, format!("`{unit}` is no torque"))
        .label("a force times a length would be one")
        .expected("`N m torque` or `lbf ft torque`");
    match force {
        Some(force) => diagnostic.replace(span, format!("{force} torque")),
        None => diagnostic,
    }
}

/// `psig abs`
pub(in crate::check) fn two_references(span: Span, text: &str, own: bool) -> Diagnostic {
    let message = match own {
        true => format!("`{text}` says two things at once"),
        false => format!("`{text}` says what does not belong to it"),
    };
    Diagnostic::error(Code::Reference, span, message)
        .label("what a value counts from is said once")
        .expected(
            "`gauge` or `abs` behind a pressure; `free`, `actual`, `standard`, `normal` or `anr` \
             behind a volume or flow",
        )
}

/// `psig/min`
pub(in crate::check) fn reference_inside(
    span: Span,
    word: &str,
    bare: &str,
    whole: Option<String>,
) -> Diagnostic {
    let diagnostic = Diagnostic::error(
        Code::Point,
        span,
        format!("`{word}` inside a compound unit"),
    )
    .label("per step of a scale: a difference is meant")
    .expected(format!("`{bare}`"));
    match whole {
        Some(whole) => diagnostic.replace(span, whole),
        None => diagnostic,
    }
}
