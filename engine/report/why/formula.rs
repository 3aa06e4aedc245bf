//! The formulas that a cell calls: body, limits, source and cautions of each.

use super::spelled::{Spelled, argument_for};
use super::written::Writer;
use super::{Step, bare, worth};
use crate::check::{CellId, FormulaDefinition};
use crate::notebook::Notebook;
use crate::report::remark::said_cautions;
use crate::report::source::source_of;
use crate::syntax::{Argument, Clause, Expr, ExprKind};
use std::rc::Rc;

/// More formulas of one line are left to `help`.
const MOST_FORMULAS: usize = 6;

/// A formula that was called.
#[derive(Clone, Debug)]
pub struct WhyFormula {
    /// Its name.
    pub name: String,
    /// Parameters whose argument has another name.
    pub assumed: Vec<Assumed>,
    /// The result, then the locals in the order written.
    pub steps: Vec<Step>,
    /// Its limits.
    pub limits: Vec<WhyLimit>,
    /// Where it comes from.
    pub source: String,
    /// The cautions that this call asks for.
    pub cautions: Vec<String>,
}

/// A parameter and what stands for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Assumed {
    /// The parameter.
    pub parameter: String,
    /// The argument as written.
    pub argument: String,
}

/// A limit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WhyLimit {
    /// The condition as written in the formula.
    pub condition: String,
    /// What is said outside.
    pub text: String,
    /// Whether it is kept.
    pub kept: Kept,
}

/// Whether a limit is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kept {
    /// It is.
    Yes,
    /// It is, within three standard uncertainties of the edge.
    Close,
    /// It is not.
    No,
    /// The call could not be worked out.
    Unknown,
}

/// The formulas called in a cell's line.
pub(super) fn formulas<'n>(
    notebook: &'n Notebook,
    cell: CellId,
    around: &Spelled<'n>,
    value: &Expr,
) -> Vec<WhyFormula> {
    let kept = Keeping::of(notebook, cell);
    let cautions = said_cautions(notebook, cell);
    let mut found = Vec::new();
    let mut calls = Vec::new();
    collect_calls(value, &mut calls);
    for (name, arguments) in calls {
        if let Some(definition) = definition(notebook, cell, name) {
            add(
                &mut found,
                (notebook, cell),
                definition,
                around,
                arguments,
                &kept,
                &cautions,
            );
        }
    }
    found
}

fn definition<'n>(
    notebook: &'n Notebook,
    cell: CellId,
    name: &str,
) -> Option<&'n Rc<FormulaDefinition>> {
    let called = &notebook.cell(cell).formulas;
    called
        .iter()
        .map(|formula| &formula.definition)
        .find(|definition| definition.name() == name)
}

/// Adds a formula, and the one it does nothing but call.
fn add<'n>(
    found: &mut Vec<WhyFormula>,
    (notebook, cell): (&'n Notebook, CellId),
    definition: &'n FormulaDefinition,
    around: &Spelled<'n>,
    arguments: &[Argument],
    kept: &Keeping,
    cautions: &[(String, String)],
) {
    if found.len() >= MOST_FORMULAS {
        return;
    }
    let body = around.body(definition, arguments);
    let assumed = assumed(definition, around, arguments);
    let own = cautions
        .iter()
        .filter(|(name, _)| name == definition.name());
    let mut texts: Vec<String> = own.map(|(_, text)| text.clone()).collect();
    texts.dedup();
    found.push(WhyFormula {
        name: definition.name().to_owned(),
        assumed,
        steps: steps(definition, &body),
        limits: kept.limits(definition),
        source: source_of(definition),
        cautions: texts,
    });
    if let ExprKind::Call(name, inner) = &bare(&definition.tree.result).kind
        && let Some(next) = self::definition(notebook, cell, &name.text)
    {
        add(found, (notebook, cell), next, &body, inner, kept, cautions);
    }
}

/// Parameters whose argument is a name or an expression of its own.
fn assumed(
    definition: &FormulaDefinition,
    around: &Spelled<'_>,
    arguments: &[Argument],
) -> Vec<Assumed> {
    let mut assumed = Vec::new();
    for (number, parameter) in definition.tree.parameters.iter().enumerate() {
        let name = &*parameter.name.text;
        let Some(argument) = argument_for(arguments, number, name) else {
            continue;
        };
        let text = around.snippet(argument.value.span);
        let words: Vec<&str> = text.split_whitespace().collect();
        let text = words.join(" ");
        if text != name && !matches!(argument.value.kind, ExprKind::Literal(_)) {
            assumed.push(Assumed {
                parameter: name.to_owned(),
                argument: text,
            });
        }
    }
    assumed
}

fn steps(definition: &FormulaDefinition, body: &Spelled<'_>) -> Vec<Step> {
    let tree = &definition.tree;
    let names = Writer::names();
    let numbers = Writer::numbers(body);
    let result = Step {
        name: definition.name().to_owned(),
        written: names.write_whole(&tree.result),
        numbers: numbers.write_whole(&tree.result),
        value: None,
    };
    let locals = tree.locals.iter().map(|local| {
        let value = body.spell(&local.value).and_then(|text| {
            let text = match &local.unit {
                Some(unit) => format!("({text}) [{}]", crate::syntax::print_unit(unit)),
                None => text,
            };
            worth(body, &text)
        });
        Step {
            name: local.name.text.to_string(),
            written: names.write_whole(&local.value),
            numbers: numbers.write_whole(&local.value),
            value,
        }
    });
    std::iter::once(result).chain(locals).collect()
}

/// Calls of formulas, outermost first; those of built-in functions are looked into.
fn collect_calls<'t>(expr: &'t Expr, calls: &mut Vec<(&'t str, &'t [Argument])>) {
    match &expr.kind {
        ExprKind::Call(name, arguments) => {
            if !crate::check::is_native(&name.text) {
                calls.push((&name.text, arguments));
            }
            for argument in arguments {
                collect_calls(&argument.value, calls);
            }
        }
        ExprKind::Bracketed(inner)
        | ExprKind::In(inner, _)
        | ExprKind::Negative(inner)
        | ExprKind::Not(inner) => collect_calls(inner, calls),
        ExprKind::Binary(_, left, right) => {
            collect_calls(left, calls);
            collect_calls(right, calls);
        }
        ExprKind::Comparison(operands, _) => {
            operands.iter().for_each(|one| collect_calls(one, calls));
        }
        ExprKind::If(parts) => parts.iter().for_each(|one| collect_calls(one, calls)),
        ExprKind::Column(column) => {
            column
                .items
                .iter()
                .for_each(|one| collect_calls(one, calls));
        }
        _ => {}
    }
}

/// Which limits a cell's value keeps.
struct Keeping {
    /// Formula, text, and how it went; empty where the cell could not be worked out.
    limits: Vec<(u32, String, Kept)>,
}

impl Keeping {
    fn of(notebook: &Notebook, cell: CellId) -> Keeping {
        let plan = notebook.cell(cell).plan.as_ref();
        let (Some(plan), Some(outcome)) = (plan, notebook.outcome(cell)) else {
            return Keeping { limits: Vec::new() };
        };
        let limits = plan.limits.iter().enumerate().map(|(index, limit)| {
            let kept = if outcome.broken.contains(&index) {
                Kept::No
            } else if outcome.near.contains(&index) {
                Kept::Close
            } else {
                Kept::Yes
            };
            (limit.formula.id, limit.text.to_string(), kept)
        });
        Keeping {
            limits: limits.collect(),
        }
    }

    /// The limits of a formula, the worst of several calls each.
    fn limits(&self, definition: &FormulaDefinition) -> Vec<WhyLimit> {
        let clauses = definition.tree.clauses.iter();
        let limits = clauses.filter_map(|clause| match clause {
            Clause::Limit { condition, text } => Some((condition, text)),
            _ => None,
        });
        limits
            .map(|(condition, text)| {
                let words = definition.snippet(condition.span).split_whitespace();
                WhyLimit {
                    condition: words.collect::<Vec<&str>>().join(" "),
                    text: text.value.to_string(),
                    kept: self.kept(definition.id, &text.value),
                }
            })
            .collect()
    }

    fn kept(&self, formula: u32, text: &str) -> Kept {
        let of_formula = self
            .limits
            .iter()
            .filter(|(id, own, _)| *id == formula && own == text)
            .map(|(.., kept)| *kept);
        let mut worst = Kept::Unknown;
        for kept in of_formula {
            worst = match (worst, kept) {
                (Kept::No, _) | (_, Kept::No) => Kept::No,
                (Kept::Close, _) | (_, Kept::Close) => Kept::Close,
                _ => Kept::Yes,
            };
        }
        worst
    }
}
