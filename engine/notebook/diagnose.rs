//! Words for what went wrong while working out, and values for messages that name them.

use super::Notebook;
use super::names::View;
use super::shown::{Precision, Shown, ShownKind};
use crate::check::{CellId, Checker, FormulaDefinition, ScopeId, Stop, Typed};
use crate::exact::{self, Failure, Mishap, Outcome, Value};
use crate::number::Trouble;
use crate::plan::{self, Operation, Plan};
use crate::source::{Code, Diagnostic, Inside, Severity, Span};
use crate::syntax::{self, StatementKind};
use std::rc::Rc;

/// An expression worked out beside the cells.
#[derive(Clone, Debug)]
pub struct Worked {
    /// Its type.
    pub typed: Typed,
    /// Its value.
    pub value: Value,
    /// Its plan.
    pub plan: Rc<Plan>,
    /// What running it gave beside the value.
    pub outcome: Outcome,
}

/// A place and what to call it.
pub(super) struct Place {
    pub(super) span: Span,
    pub(super) text: String,
    pub(super) inside: Vec<Inside>,
}

impl Notebook {
    /// The message for a failure.
    pub(super) fn explain(
        &self,
        cell: CellId,
        plan: &Plan,
        failure: &Failure,
        outcome: &Outcome,
    ) -> Diagnostic {
        let text = self.text_of(self.cell(cell).statement);
        let diagnostic = explained(plan, failure, text);
        lead_with_limit(diagnostic, plan, outcome)
    }

    /// The first row of a column that has no value though the others have: an error of a computed
    /// column, a note of a study, whose rows are tries.
    pub(super) fn broken_row(
        &self,
        cell: CellId,
        plan: &Plan,
        outcome: &Outcome,
    ) -> Option<Diagnostic> {
        let Value::Column(rows) = &outcome.value else {
            return None;
        };
        let failure = |row: &Value| {
            row.failure()
                .filter(|failure| !matches!(failure.mishap, Mishap::Waits(_)))
                .cloned()
        };
        let (row, failure) = rows
            .iter()
            .enumerate()
            .find_map(|(row, value)| Some((row, failure(value)?)))?;
        let mut diagnostic = self.explain(cell, plan, &failure, outcome);
        diagnostic.message = format!("row {}: {}", row + 1, diagnostic.message);
        if matches!(self.cell(cell).role, super::Role::StudyColumn(_)) {
            diagnostic.severity = Severity::Note;
        }
        Some(diagnostic)
    }

    /// A message with the values it names, and with what its repairs would give.
    pub(super) fn completed(&self, cell: CellId, diagnostic: &Diagnostic) -> Diagnostic {
        let part = self.cell(cell).part;
        self.completed_in(part, diagnostic.clone())
    }

    /// The same for a statement that is no cell of this notebook.
    pub fn completed_in(&self, part: u16, diagnostic: Diagnostic) -> Diagnostic {
        let worth_it = matches!(
            diagnostic.code,
            Code::Point | Code::Reference | Code::Dimension
        );
        if diagnostic.values.is_empty() && !worth_it {
            return diagnostic;
        }
        let mut diagnostic = diagnostic.with_values(|expression| self.value_text(part, expression));
        if worth_it {
            for repair in &mut diagnostic.repairs {
                if repair.remark.is_empty()
                    && repair.text.contains('(')
                    && let Some(worth) = self.value_text(part, &repair.text)
                {
                    repair.remark = format!("would be {worth}");
                }
            }
        }
        diagnostic
    }

    fn value_text(&self, part: u16, expression: &str) -> Option<String> {
        let worked = self.work_expression(part, expression).ok()?;
        let shown = self.shown_value(&worked.value, Some(&worked.typed.ty), Precision::Table);
        (shown.kind == ShownKind::Number).then(|| shown.line())
    }

    /// Works an expression out beside the cells, with nothing kept.
    pub fn work_expression(&self, part: u16, text: &str) -> Result<Worked, Vec<Diagnostic>> {
        let statement = syntax::parse_entry(text);
        let broken = statement
            .diagnostics
            .iter()
            .any(|one| one.severity == Severity::Error);
        match &statement.kind {
            StatementKind::Expression(expr) if !broken => self.work_tree(part, text, expr),
            _ if broken => Err(statement.diagnostics),
            _ => Err(vec![
                Diagnostic::error(
                    Code::Syntax,
                    statement.span,
                    "a statement where a value was expected",
                )
                .expected("an expression, such as `draw * 10 min`"),
            ]),
        }
    }

    fn work_tree(
        &self,
        part: u16,
        text: &str,
        expr: &syntax::Expr,
    ) -> Result<Worked, Vec<Diagnostic>> {
        let view = View {
            names: &self.names,
            cells: &self.cells,
            statements: &self.statements,
            library: &self.library,
            parts: &self.parts,
        };
        let mut registry = self.registry.borrow_mut();
        let mut cache = self.cache.borrow_mut();
        let mut checker = Checker::new(
            &view,
            &mut registry,
            &mut cache,
            ScopeId::of(part),
            (u32::MAX, 0),
            text,
        );
        let typed = checker.value(expr);
        let mut found = std::mem::take(&mut checker.found);
        drop((registry, cache));
        let typed = match typed {
            Ok(typed) => typed,
            Err(Stop::Waits(cell)) => return Err(vec![self.waits_message(expr.span, cell)]),
            Err(Stop::Failed | Stop::Needs(_)) => {
                return Err(found
                    .diagnostics
                    .into_iter()
                    .map(|one| self.completed_in(part, one))
                    .collect());
            }
        };
        if found
            .diagnostics
            .iter()
            .any(|one| one.severity == Severity::Error)
        {
            return Err(found.diagnostics);
        }
        let plan = Rc::new(plan::compile(&typed.node));
        let mut sources = self.sources.clone();
        let outcome = exact::run(&plan, &self.world(), &mut sources);
        if let Some(failure) = outcome.value.failure() {
            found.diagnostics.push(match failure.mishap {
                Mishap::Waits(cell) => self.waits_message(expr.span, cell),
                _ => self.completed_in(
                    part,
                    lead_with_limit(explained(&plan, failure, text), &plan, &outcome),
                ),
            });
            return Err(found.diagnostics);
        }
        Ok(Worked {
            typed,
            value: outcome.value.clone(),
            plan,
            outcome,
        })
    }

    /// Works a cell out once more with nothing kept: which limits it keeps, which cautions it asks
    /// for. Nothing for a cell that could not be checked.
    pub fn outcome(&self, cell: CellId) -> Option<Outcome> {
        let plan = self.cell(cell).plan.as_ref()?;
        let mut sources = self.sources.clone();
        Some(exact::run(plan, &self.world(), &mut sources))
    }

    /// A line that waits for a cell.
    pub fn waits_message(&self, span: Span, cell: CellId) -> Diagnostic {
        let record = self.cell(cell);
        let line = self
            .line_of(record.statement)
            .filter(|_| !self.statement(record.statement).is_added());
        let mend = match line {
            Some(line) => format!("has no value: mend line {line}"),
            None => "has no value: mend it first".to_owned(),
        };
        Diagnostic::error(Code::Waits, span, format!("this waits for {}", record.name)).label(mend)
    }

    /// A value as a sentence would name it.
    pub fn shown_line(&self, shown: &Shown) -> String {
        shown.line()
    }
}

/// Where no value exists outside a formula's limit, the limit's text is what is said first.
fn lead_with_limit(diagnostic: Diagnostic, plan: &Plan, outcome: &Outcome) -> Diagnostic {
    let Some(index) = outcome.broken.first() else {
        return diagnostic;
    };
    let limit = &plan.limits[*index];
    let cause = diagnostic.message.clone();
    let mut led = Diagnostic {
        message: limit.text.to_string(),
        code: Code::Limit,
        ..diagnostic
    };
    led.span = plan.place(limit.site);
    led.label = format!("outside the range of {}: {cause}", limit.formula.name());
    led.values.clear();
    led
}

/// The message for a failure in a plan whose statement reads `text`.
fn explained(plan: &Plan, failure: &Failure, text: &str) -> Diagnostic {
    let place = place_of(plan, failure.site, text);
    let operands = operands_of(plan, failure.site, text);
    let mut diagnostic = worded(&failure.mishap, &place, &operands);
    diagnostic.inside = place.inside;
    diagnostic
}

pub(super) fn place_of(plan: &Plan, site: u32, text: &str) -> Place {
    let span = plan.place(site);
    let mut inside = Vec::new();
    let mut at = Some(site);
    let mut own: Option<(Rc<FormulaDefinition>, Span)> = None;
    while let Some(index) = at {
        let Some(found) = plan.sites.get(index as usize) else {
            break;
        };
        at = found
            .call
            .as_ref()
            .map(|(definition, outer)| {
                let (line, body) = definition.line(found.span);
                inside.insert(
                    0,
                    Inside {
                        formula: definition.name().to_owned(),
                        path: definition.path.to_string(),
                        line,
                        text: body.to_owned(),
                    },
                );
                own.get_or_insert((definition.clone(), found.span));
                *outer
            })
            .filter(|outer| *outer < index);
    }
    let words = match own {
        Some((definition, span)) => definition.snippet(span).to_owned(),
        None => span.of(text).to_owned(),
    };
    Place {
        span,
        text: words,
        inside,
    }
}

/// The operands of the step at a site, as written.
pub(super) fn operands_of(plan: &Plan, site: u32, text: &str) -> Vec<String> {
    let Some(step) = plan.steps.iter().find(|step| step.site == site) else {
        return Vec::new();
    };
    let registers: Vec<plan::Register> = match &step.operation {
        Operation::Unary(_, x) | Operation::WholePower(x, _) => vec![*x],
        Operation::Binary(_, x, y) => vec![*x, *y],
        Operation::Interpolate(at, points, _) => vec![*at, *points],
        Operation::Size(_, sizes, wanted) => vec![*sizes, *wanted],
        Operation::Reduce(_, column, _) => vec![*column],
        Operation::Uncertain(step) => vec![step.value, step.amount],
        Operation::Describe(_, parts) => parts.to_vec(),
        Operation::Row(column, _) => vec![*column],
        _ => Vec::new(),
    };
    registers
        .into_iter()
        .filter_map(|register| plan.steps.get(register as usize))
        .map(|step| place_of(plan, step.site, text).text)
        .collect()
}

/// The words for a mishap.
fn worded(mishap: &Mishap, place: &Place, operands: &[String]) -> Diagnostic {
    let span = place.span;
    let error = |code, message: &str| Diagnostic::error(code, span, message);
    let operand = |index: usize| operands.get(index).map_or("", String::as_str);
    match mishap {
        Mishap::Number(trouble) => number_trouble(*trouble, place, operands),
        Mishap::Gap(Some(row)) => error(Code::Gap, "an empty field was used")
            .label(format!(
                "row {row} of `{}` has no value",
                if operands.is_empty() {
                    &place.text
                } else {
                    &operands[0]
                }
            ))
            .expected("a value there, or a reduction that leaves gaps out")
            .repair("skip_gaps: true"),
        Mishap::Gap(None) => error(Code::Gap, "an empty field was used")
            .label(format!("`{}` has no value", place.text))
            .expected("a value there"),
        Mishap::Lengths(first, second) => error(Code::Lengths, "two columns of different lengths")
            .label(format!("{first} rows and {second} rows"))
            .expected("columns of one length, or a single value beside a column"),
        Mishap::NoKey(key) => error(Code::Key, "no row has this key")
            .label(format!("{key} is not in the first column"))
            .expected("a key as it stands in the table"),
        Mishap::KeyTwice(key) => error(Code::Key, "several rows have this key")
            .label(format!("{key} stands there more than once"))
            .expected("a key that is there once"),
        Mishap::NotRising(row) => error(Code::Outside, "points that do not rise")
            .label(format!(
                "row {row} of `{}` is not above the row before it",
                operand(1)
            ))
            .expected("points in rising order, each once"),
        Mishap::Outside => error(Code::Outside, "a value outside the table")
            .label("{0}, but the points go from {1} to {2}")
            .value(operand(0), operand(0))
            .value(format!("min({})", operand(1)), "the first")
            .value(format!("max({})", operand(1)), "the last")
            .expected("a value between the ends: nothing is drawn beyond them"),
        Mishap::NoSize(above) => {
            let (end, function) = if *above {
                ("largest", "max")
            } else {
                ("smallest", "min")
            };
            error(Code::Outside, "no listed size serves")
                .label(format!("{{0}} is wanted; the {end} listed is {{1}}"))
                .value(operand(1), operand(1))
                .value(format!("{function}({})", operand(0)), "another")
                .expected("a size on the list")
        }
        Mishap::NoRoot => error(Code::NoRoot, "no value in this range meets the target")
            .label("the two sides do not meet between the ends")
            .expected("a wider range, or a target that can be met"),
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
        Mishap::AmountUncertain => error(Code::PlusMinus, "an uncertain amount behind ±")
            .label(format!("`{}` has a ± itself", operand(1)))
            .expected("an exact amount")
            .repair(format!("value({})", operand(1))),
        Mishap::AmountNegative => error(Code::PlusMinus, "an amount below zero behind ±")
            .label(format!("`{}`", operand(1)))
            .expected("an amount above zero: ± goes both ways"),
        Mishap::StepAway => error(Code::Step, "a step that does not lead to the end")
            .label("zero, or away from it")
            .expected("a step with the sign of the way from the first value to the last"),
        Mishap::TooManyPoints(count) => error(Code::Range, "more points than can be read")
            .label(match *count {
                usize::MAX => "more points than can be counted".to_owned(),
                count => format!("{count} points"),
            })
            .expected(
                "at most 10000 to be shown: a larger step; or one value of the whole, by name",
            )
            .repair("max(s.draw)"),
        Mishap::PointsWithout(count) => error(Code::Gap, "points without a value")
            .label(format!("{count} of them"))
            .expected("a range in which every point has a value"),
        Mishap::Stopped => error(Code::Stopped, "stopped before it was done")
            .expected("time: start it again, or take fewer points"),
        Mishap::OneReading => error(Code::PlusMinus, "a single reading")
            .label("one reading has no scatter")
            .expected("at least two readings, or a ± of its own"),
        Mishap::TooSteep => error(Code::Domain, "no ± can go through here")
            .label(format!(
                "`{}` is infinitely steep at this value: any ± would become infinite",
                place.text
            ))
            .expected("a value away from the end of what it takes, or one without ±")
            .repair(format!("value({})", operand(0))),
        Mishap::Undescribed(crate::check::Description::Coverage) => {
            error(Code::Domain, "a coverage factor of hard limits")
                .label(format!(
                    "the ± of `{}` are limits: all of it lies between them",
                    operand(0)
                ))
                .expected("a value whose ± has a level, or `expanded_uncertainty`")
        }
        Mishap::Undescribed(_) => error(Code::Domain, "degrees of freedom without end")
            .label(format!("no ± of `{}` comes from readings", operand(0)))
            .expected("a value with `readings(…)` in it, or a tag with `dof`"),
        Mishap::NoRows => {
            error(Code::Gap, "a column without values").expected("at least one value")
        }
        Mishap::Equality => error(Code::Equality, "equality between uncertain values")
            .label("two values with a ± are never quite equal")
            .expected("whether they agree within their ±")
            .repair("compatible(a, b)"),
        Mishap::Kind => error(Code::Kind, "a value of another kind than was expected")
            .label(format!("`{}`", place.text)),
        Mishap::Waits(_) => error(Code::Waits, "this waits for another cell"),
    }
}

fn number_trouble(trouble: Trouble, place: &Place, operands: &[String]) -> Diagnostic {
    let span = place.span;
    match trouble {
        Trouble::Zero => {
            let below = operands
                .get(1)
                .cloned()
                .unwrap_or_else(|| place.text.clone());
            let diagnostic = Diagnostic::error(Code::Zero, span, "division by zero");
            if below.trim().is_empty() {
                return diagnostic;
            }
            diagnostic
                .label(format!("`{below}` is {{0}}"))
                .value(below, "zero")
                .expected("something other than zero below the line")
        }
        Trouble::Overflow => Diagnostic::error(Code::Range, span, "a number too large to hold")
            .label(format!("`{}`", place.text))
            .expected("a size below 1e1000"),
        Trouble::Underflow => Diagnostic::error(Code::Range, span, "a number too small to hold")
            .label(format!("`{}`", place.text))
            .expected("a size above 1e-1000, or zero"),
        Trouble::Domain => {
            let diagnostic =
                Diagnostic::error(Code::Domain, span, format!("`{}` has no value", place.text));
            match operands.first() {
                Some(first) => diagnostic
                    .label(format!("`{first}` is {{0}}"))
                    .value(first.clone(), "outside what it takes")
                    .expected("a root of something not below zero, a logarithm of something above it, a sine between −1 and 1"),
                None => diagnostic,
            }
        }
    }
}
