//! What leaves a value standing but is worth saying: limits, close calls, a ± that only seems
//! precise, and one that first order gives only roughly.

use super::Notebook;
use super::cell::Role;
use super::mishap::place_of;
use super::shown::Precision;
use crate::check::CellId;
use crate::exact::{Doubt, Followed, Outcome, Seeming, Value};
use crate::number::Number;
use crate::plan::{Operation, Plan};
use crate::source::{Code, Diagnostic, Severity, Span};
use std::rc::Rc;

/// A second order that moves the standard uncertainty by more than this is worth saying.
const WORTH_SAYING: f64 = 0.05;

impl Notebook {
    /// What is worth saying about a run.
    pub(super) fn remarks(&self, cell: CellId, plan: &Plan, outcome: &Outcome) -> Vec<Diagnostic> {
        let mut said = self.limits(cell, plan, outcome);
        let text = self.text_of(self.cell(cell).statement);
        for (seeming, site) in &outcome.seeming {
            said.push(seems(*seeming, plan, *site, text));
        }
        said.extend(self.close_call(cell, plan, outcome));
        said
    }

    fn limits(&self, cell: CellId, plan: &Plan, outcome: &Outcome) -> Vec<Diagnostic> {
        let mut said: Vec<Diagnostic> = Vec::new();
        let broken = outcome
            .broken
            .iter()
            .map(|index| (index, Severity::Warning));
        let near = outcome.near.iter().map(|index| (index, Severity::Note));
        for (index, severity) in broken.chain(near) {
            let limit = &plan.limits[*index];
            let name = limit.formula.name();
            let place = plan.place(limit.site);
            let mut remark = Diagnostic::new(severity, Code::Limit, place, limit.text.to_string());
            remark = match severity {
                Severity::Note => self.offering_spread(
                    remark.label(format!(
                        "{name}: its limit lies within three standard uncertainties"
                    )),
                    cell,
                ),
                _ => remark
                    .label(format!("outside the range of {name}"))
                    .expected("values inside that range; the result is shown all the same"),
            };
            // A formula that calls another with the same limit says it once.
            if !said
                .iter()
                .any(|one| one.message == remark.message && one.span == remark.span)
            {
                said.push(remark);
            }
        }
        said
    }

    /// A switch, or an exact value, that an uncertain one decided within three standard
    /// uncertainties. Checks say so themselves.
    fn close_call(&self, cell: CellId, plan: &Plan, outcome: &Outcome) -> Option<Diagnostic> {
        if self.cell(cell).role == Role::Check {
            return None;
        }
        let span = plan
            .steps
            .get(plan.result as usize)
            .map_or(Span::default(), |step| plan.place(step.site));
        let note = |message: &str| Diagnostic::note(Code::NearThreshold, span, message);
        if let Some(doubt) = closest(&outcome.value) {
            let percent = |share: f64| (share * 100.0).round().clamp(0.0, 100.0);
            let (low, high) = (percent(doubt.low), percent(doubt.high));
            let chance = match low == high {
                true => format!("it holds with a chance of {low} %"),
                false => format!("it holds with a chance of {low} to {high} %"),
            };
            return Some(
                note("a comparison closer than three standard uncertainties")
                    .label(format!("decided on the value alone; {chance}")),
            );
        }
        if outcome.doubtful && !outcome.value.is_uncertain() {
            return Some(
                note("a choice closer than three standard uncertainties")
                    .label("decided on the value alone"),
            );
        }
        None
    }

    /// A note where first order gives a cell's ± only roughly.
    pub(super) fn roughness(&self, id: CellId) -> Option<Diagnostic> {
        let cell = self.cell(id);
        if !matches!(cell.role, Role::WorkedOut | Role::ComputedColumn)
            || closest(self.value(id)).is_some()
        {
            return None;
        }
        let followed = self.followed(id)?;
        let plan = cell.plan.clone()?;
        let text = self.text_of(cell.statement);
        let reasons = self.reasons(&followed, &plan, text);
        if reasons.is_empty() {
            return None;
        }
        let span = plan
            .steps
            .get(plan.result as usize)
            .map_or(Span::default(), |step| plan.place(step.site));
        let name = &cell.name;
        let note = Diagnostic::note(
            Code::SecondOrder,
            span,
            format!("this ± of {name} is rough"),
        );
        Some(self.offering_spread(note.label(reasons.join("; ")), id))
    }

    /// Why first order is rough, in clauses.
    fn reasons(&self, followed: &Followed, plan: &Rc<Plan>, text: &str) -> Vec<String> {
        let mut reasons = Vec::new();
        let words = |site: u32| place_of(plan, site, text).text;
        if let Some(site) = followed.corners.first() {
            reasons.push(format!(
                "`{}` turns a corner within three standard uncertainties",
                words(*site)
            ));
        }
        if followed.doubtful && holds_amount(&followed.value) {
            reasons.push("another branch lies within three standard uncertainties".to_owned());
        }
        reasons.extend(self.bends(followed, plan, text));
        reasons
    }

    /// The clause about a curve that is not straight enough.
    fn bends(&self, followed: &Followed, plan: &Rc<Plan>, text: &str) -> Option<String> {
        let rows: Vec<&Value> = match &followed.value {
            Value::Column(items) => items.iter().collect(),
            one => vec![one],
        };
        let several = rows.len() > 1;
        let mut worst: Option<(f64, String)> = None;
        for (row, value) in rows.into_iter().enumerate() {
            let Value::Uncertain(uncertain) = value else {
                continue;
            };
            let Some(order) = uncertain.second_order(&self.sources) else {
                continue;
            };
            let change = order.change();
            let by = self.sources_of(order.most.into_iter().flat_map(|(one, other)| [one, other]));
            let clause = if change.abs() > WORTH_SAYING {
                let moves = match change.is_finite() {
                    true => format!(
                        "the second order moves its standard uncertainty by {:.0} %",
                        change * 100.0
                    ),
                    false => "first order sees no doubt in it at all".to_owned(),
                };
                match followed.divisors.first() {
                    Some(site) => {
                        let below = place_of(plan, *site, text).operands.pop();
                        let below = below.unwrap_or_default();
                        format!("it divides by `{below}`, which is small beside its own ±; {moves}")
                    }
                    None => format!("it bends with {by}; {moves}"),
                }
            } else if !order.turning.is_empty() {
                let names = self.sources_of(order.turning.iter().copied());
                format!("it turns round within three standard uncertainties of {names}")
            } else {
                continue;
            };
            let clause = match several {
                true => format!("row {}: {clause}", row + 1),
                false => clause,
            };
            if worst
                .as_ref()
                .is_none_or(|(least, _)| change.abs() > *least)
            {
                worst = Some((change.abs(), clause));
            }
        }
        worst.map(|(_, clause)| clause)
    }

    fn sources_of(&self, ids: impl Iterator<Item = crate::exact::SourceId>) -> String {
        let mut names: Vec<String> = Vec::new();
        for name in ids.filter_map(|id| self.source_words(id)) {
            if !names.contains(&name.cell) {
                names.push(name.cell);
            }
        }
        match &names[..] {
            [] => "its sources".to_owned(),
            [one] => one.clone(),
            [first, .., last] if names.len() == 2 => format!("{first} and {last}"),
            _ => names.join(", "),
        }
    }

    fn offering_spread(&self, note: Diagnostic, id: CellId) -> Diagnostic {
        let cell = self.cell(id);
        if cell.name.is_empty() {
            return note;
        }
        let remark = match self.value(id) {
            Value::Uncertain(_) => {
                let shown = self.shown_with(id, None, Precision::Table);
                format!("an interval by trials; until then {}", shown.line())
            }
            _ => "an interval by trials".to_owned(),
        };
        note.repair_with(format!("spread {}", cell.name), remark)
    }
}

/// A condition that was decided within three standard uncertainties; of a column the least certain
/// row.
fn closest(value: &Value) -> Option<&Doubt> {
    match value {
        Value::Doubtful(doubt) if doubt.near => Some(doubt),
        Value::Column(items) => items.iter().filter_map(closest).min_by(|one, other| {
            let margin = |doubt: &Doubt| (doubt.low - 0.5).abs();
            margin(one).total_cmp(&margin(other))
        }),
        _ => None,
    }
}

fn holds_amount(value: &Value) -> bool {
    match value {
        Value::Uncertain(_) => true,
        Value::Column(items) => items.iter().any(holds_amount),
        _ => false,
    }
}

/// The words for a ± that may say less than it seems to.
fn seems(seeming: Seeming, plan: &Plan, site: u32, text: &str) -> Diagnostic {
    let place = place_of(plan, site, text);
    let value = match place.text.split_once('±') {
        Some((before, _)) => before.trim().to_owned(),
        None => place
            .text
            .split_once("+/-")
            .map_or(place.text.as_str(), |(before, _)| before)
            .trim()
            .to_owned(),
    };
    let note = |message: String| {
        let mut note = Diagnostic::note(Code::SeemsPrecise, place.span, message);
        note.inside = place.inside.clone();
        note
    };
    match seeming {
        Seeming::FewDigits => {
            let digit = last_digit_of(plan, site);
            let half = digit
                .and_then(|digit| digit.over(Number::from(2)).ok())
                .map_or_else(|| "half of it".to_owned(), Number::shown);
            note(format!("{value} has fewer digits than its ± implies"))
                .label(format!("its last digit alone leaves ± {half}"))
                .expected("all the digits that were read, zeros too, or a wider ±")
        }
        Seeming::NoDoubt => note("a ± of zero says that there is no doubt at all".to_owned())
            .label("`± 0` adds nothing")
            .expected("a ± above zero, or none: a value without one is exact")
            .replace(place.span, value),
        Seeming::WiderThanValue => note(format!("this ± is wider than {value} itself"))
            .label("it may as well be nothing, or the other way round")
            .expected("a smaller ±; if this is an error about zero, write the value as 0"),
        Seeming::OneRepeat => note("two readings are one repeat only".to_owned())
            .label("with one degree of freedom the factor for 95 % is 12.7")
            .expected("a third reading: it brings the factor down to 4.3"),
        Seeming::NoScatter => note("the readings are all alike".to_owned())
            .label("their scatter comes out as 0, as if nothing were in doubt")
            .expected("the width of one digit of the dial or watch behind them: `± … (step)`"),
        Seeming::Dropped => Diagnostic::note(
            Code::PlusMinus,
            place.span,
            "the ± is lost in rounding up or down",
        )
        .label("a multiple of a step moves by whole steps or not at all"),
    }
}

fn last_digit_of(plan: &Plan, site: u32) -> Option<Number> {
    plan.steps.iter().find_map(|step| match &step.operation {
        Operation::Uncertain(uncertain) if step.site == site => {
            uncertain.written.as_ref()?.last_digit
        }
        _ => None,
    })
}
