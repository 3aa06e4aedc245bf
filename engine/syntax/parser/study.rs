//! Studies of one line: sweeps, plots, fits, budgets and spreads.

use super::expression::{list, shown, sum};
use super::input::{Parsed, Tokens};
use super::{fault, operand, scenario};
use crate::source::{Code, Diagnostic};
use crate::syntax::token::{Kind, Reserved};
use crate::syntax::tree::{Axis, AxisValues, Fit, Plot, StatementKind, Sweep};

/// `sweep name: axes show columns`
pub(super) fn sweep(input: Tokens<'_>) -> Parsed<'_, StatementKind> {
    let start = input.token().span;
    let inner = input.after();
    let (input, name) = if inner.kind_at(1) == Kind::Colon {
        let (input, name) = operand::name(inner, "a name for the sweep")?;
        (input.after(), Some(name))
    } else {
        (inner, None)
    };
    let (input, axes) = list(input, axis)?;
    if axes.len() > 2 {
        return Err(fault::fault(
            Diagnostic::error(
                Code::Syntax,
                input.span_from(start),
                format!("a sweep over {} cells", axes.len()),
            )
            .expected("one or two"),
        ));
    }
    let (input, _) = fault::demand_word(input, Reserved::Show, "`,` and another cell, or `show`")?;
    let (input, show) = list(input, shown)?;
    Ok((input, StatementKind::Sweep(Sweep { name, axes, show })))
}

/// `cell from a to b by step`, `cell over column`
fn axis(input: Tokens<'_>) -> Parsed<'_, Axis> {
    let (input, cell) = operand::path(input, "a cell")?;
    if input.kind() == Kind::Reserved(Reserved::Over) {
        let (input, column) = sum(input.after())?;
        let values = AxisValues::Over(column);
        return Ok((input, Axis { cell, values }));
    }
    let (input, _) = fault::demand_word(
        input,
        Reserved::From,
        "`from … to … by …`, or `over` and a column",
    )?;
    let (input, (from, to)) = scenario::range(input)?;
    let (input, _) =
        fault::demand_word(input, Reserved::By, "`by` and the distance of two values")?;
    let (input, by) = sum(input)?;
    let values = AxisValues::Steps { from, to, by };
    Ok((input, Axis { cell, values }))
}

/// `plot curves against axis`
pub(super) fn plot(input: Tokens<'_>) -> Parsed<'_, StatementKind> {
    let (input, show) = list(input.after(), shown)?;
    let (input, _) = fault::demand_word(
        input,
        Reserved::Against,
        "`,` and another curve, or `against`",
    )?;
    let (input, axis) = axis(input)?;
    Ok((input, StatementKind::Plot(Box::new(Plot { show, axis }))))
}

/// `fit cells to data = model`
pub(super) fn fit(input: Tokens<'_>) -> Parsed<'_, StatementKind> {
    let (input, cells) = list(input.after(), |input| operand::path(input, "a cell"))?;
    let (input, _) = fault::demand_word(input, Reserved::To, "`,` and another cell, or `to`")?;
    let (input, data) = operand::path(input, "the measured column")?;
    let (input, model) = scenario::set_to(input)?;
    Ok((input, StatementKind::Fit(Fit { cells, data, model })))
}

/// `budget cell`
pub(super) fn budget(input: Tokens<'_>) -> Parsed<'_, StatementKind> {
    let (input, cell) = operand::path(input.after(), "a cell")?;
    Ok((input, StatementKind::Budget(cell)))
}

/// `spread cell`
pub(super) fn spread(input: Tokens<'_>) -> Parsed<'_, StatementKind> {
    let (input, cell) = operand::path(input.after(), "a cell")?;
    Ok((input, StatementKind::Spread(cell)))
}
