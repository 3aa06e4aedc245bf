//! Traces: the head, and the lines that say how values start, change, switch and stop.

use super::expression::{condition, list, shown, sum};
use super::input::{Parsed, Tokens};
use super::{fault, operand, unit};
use crate::syntax::token::{Kind, Reserved};
use crate::syntax::tree::{Expr, Name, TraceLine};

const LINES: &str = "`starts`, `changes at`, `turns on when` or `turns off when` behind a name";

/// `trace name over time`
pub(in crate::syntax) fn head(input: Tokens<'_>) -> Parsed<'_, (Name, Expr)> {
    let (input, name) = operand::name(input.after(), "a name for the trace")?;
    let (input, _) = fault::demand_word(input, Reserved::Over, "`over` and how long")?;
    let (input, over) = sum(input)?;
    Ok((input, (name, over)))
}

/// Whether this is a line of a trace, for a trace that lost its indentation.
pub(in crate::syntax) fn looks_like_line(input: Tokens<'_>) -> bool {
    let second = input.token_at(1);
    let word = input.text(second);
    match input.kind() {
        Kind::Reserved(Reserved::Show) => true,
        Kind::Word => {
            matches!(word, "starts" | "changes" | "turns" | "when")
                || input.is_word("mark")
                || second.kind == Kind::OpenSquare
        }
        _ => false,
    }
}

/// One line of a trace.
pub(in crate::syntax) fn trace_line(input: Tokens<'_>) -> Parsed<'_, TraceLine> {
    let behind = input.text(input.token_at(1));
    if input.kind() == Kind::Reserved(Reserved::Show) {
        return show(input.after());
    }
    if input.is_word("stop") && behind == "when" {
        let (input, when) = condition(input.skip(2))?;
        return Ok((input, TraceLine::Stop(when)));
    }
    if input.is_word("mark") && !matches!(behind, "starts" | "changes" | "turns") {
        let (input, name) = operand::name(input.after(), "a name for the moment")?;
        let (input, when) = when(input)?;
        return Ok((input, TraceLine::Mark { name, when }));
    }
    let (input, name) = operand::name(input, "a name")?;
    let (input, unit) = unit::optional_bracket(input)?;
    if input.is_word("starts") {
        let (input, value) = sum(input.after())?;
        return Ok((input, TraceLine::Starts { name, unit, value }));
    }
    if unit.is_some() {
        return Err(fault::unexpected(input, "`starts` and the first value"));
    }
    if input.is_word("changes") {
        let input = word(input.after(), "at", "`at` and the rate")?;
        let (input, rate) = shown(input)?;
        return Ok((input, TraceLine::Changes { name, rate }));
    }
    if input.is_word("turns") {
        return turns(input.after(), name);
    }
    Err(fault::unexpected(input, LINES))
}

fn turns(input: Tokens<'_>, name: Name) -> Parsed<'_, TraceLine> {
    let on = match input.kind() {
        Kind::Reserved(Reserved::On) => true,
        Kind::Reserved(Reserved::Off) => false,
        _ => return Err(fault::unexpected(input, "`on` or `off`")),
    };
    let (input, when) = when(input.after())?;
    Ok((input, TraceLine::Turns { name, on, when }))
}

fn show(input: Tokens<'_>) -> Parsed<'_, TraceLine> {
    let (input, names) = list(input, |input| operand::path(input, "a name"))?;
    let input = word(
        input,
        "every",
        "`,` and another name, or `every` and how often",
    )?;
    let (input, every) = sum(input)?;
    Ok((input, TraceLine::Show { names, every }))
}

fn when(input: Tokens<'_>) -> Parsed<'_, Expr> {
    let input = word(input, "when", "`when` and a condition")?;
    condition(input)
}

fn word<'t>(
    input: Tokens<'t>,
    wanted: &str,
    expected: &str,
) -> Result<Tokens<'t>, nom::Err<super::input::Problem>> {
    if input.is_word(wanted) {
        Ok(input.after())
    } else {
        Err(fault::unexpected(input, expected))
    }
}
