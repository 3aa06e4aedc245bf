//! The worked line of a cell: formula, numbers put in, result, limits, source.

use super::checks::condition_text;
use super::math::math;
use super::values::{shown_name, value_line};
use crate::report::{Kept, Step, Why, WhyFormula, Written};
use maud::{Markup, html};

/// How much of a worked line is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Working {
    /// With the numbers put in, and the result.
    Numbers,
    /// The formulas alone: the numbers may change.
    Formulas,
}

/// A cell worked out; nothing for one that is given.
pub fn worked(why: &Why, working: Working) -> Option<Markup> {
    if why.given || (why.step.is_none() && why.formulas.is_empty()) {
        return None;
    }
    Some(html! {
        section class="worked" {
            h4 { (shown_name(&why.name)) }
            @if let Some(step) = &why.step { (line(step, working)) }
            @for formula in &why.formulas { (formula_block(formula, working)) }
            @if working == Working::Numbers {
                p class="result" { "Result: " (value_line(&why.result)) }
            }
        }
    })
}

fn line(step: &Step, working: Working) -> Markup {
    let with_equals = |first: Option<Written>, second: &Written| {
        let parts = first.into_iter().chain([equals(), second.clone()]);
        math(&Written::Run(parts.collect()))
    };
    let numbers = working == Working::Numbers && step.numbers != step.written;
    html! {
        div class="line" { (with_equals(Some(Written::Word(step.name.clone())), &step.written)) }
        @if numbers {
            div class="line numbers" {
                (with_equals(None, &step.numbers))
                @if let Some(value) = &step.value { (with_equals(None, &Written::Word(value_line(value)))) }
            }
        }
    }
}

fn equals() -> Written {
    Written::Word("=".to_owned())
}

fn formula_block(formula: &WhyFormula, working: Working) -> Markup {
    html! {
        div class="formula" {
            @for step in &formula.steps { (line(step, working)) }
            @if !formula.assumed.is_empty() {
                p class="with" {
                    "with "
                    @for (number, one) in formula.assumed.iter().enumerate() {
                        @if number > 0 { ", " }
                        (shown_name(&one.parameter)) " = " (shown_name(&one.argument))
                    }
                }
            }
            @for limit in &formula.limits {
                p class="limit" {
                    "Limit: " (condition_text(&limit.condition))
                    @if working == Working::Numbers { " (" (kept(limit.kept)) ")" }
                }
            }
            p class="source" { "Source of " (shown_name(&formula.name)) ": " (formula.source) }
        }
    }
}

fn kept(kept: Kept) -> &'static str {
    match kept {
        Kept::Yes => "kept",
        Kept::Close => "kept, close to its edge",
        Kept::No => "not kept",
        Kept::Unknown => "not known",
    }
}
