//! Examples: an expression and what it must give.

use super::statement::{StatementId, Tag};
use super::{Notebook, Precision};
use crate::exact::Value;
use crate::number::Number;
use crate::source::{Diagnostic, Severity};
use crate::syntax::{self, Example, Expectation, ExprKind, StatementKind};

/// An example that was tried.
#[derive(Clone, Debug)]
pub struct Tried {
    /// The statement.
    pub statement: StatementId,
    /// The example as written.
    pub text: String,
    /// How it went.
    pub outcome: ExampleOutcome,
}

/// How an example went.
#[derive(Clone, Debug, PartialEq)]
pub enum ExampleOutcome {
    /// As it says.
    Holds,
    /// Otherwise: what it gives.
    Fails(String),
    /// It could not be read or worked out.
    Broken(Vec<Diagnostic>),
}

impl Notebook {
    /// Tries every example of the notebook itself, in order.
    pub fn try_examples(&self) -> Vec<Tried> {
        (0..self.statements.len() as u32)
            .map(StatementId)
            .filter(|id| {
                let record = self.statement(*id);
                record.tag == Tag::Example && record.part == 0 && !record.removed
            })
            .map(|id| {
                let tree = self.tree(id);
                let text = self.text_of(id);
                let outcome = match &tree.kind {
                    StatementKind::Example(example) => self.try_example(0, text, example),
                    _ => ExampleOutcome::Broken(tree.diagnostics.clone()),
                };
                Tried {
                    statement: id,
                    text: tree.span.of(text).to_owned(),
                    outcome,
                }
            })
            .collect()
    }

    /// Tries one example whose spans point into `text`.
    pub fn try_example(&self, part: u16, text: &str, example: &Example) -> ExampleOutcome {
        let subject = example.subject.span.of(text);
        let worked = self.work_expression(part, subject);
        match &example.expected {
            Expectation::Error(code, _) => match worked {
                Ok(worked) => ExampleOutcome::Fails(
                    self.shown_value(&worked.value, Some(&worked.typed.ty), Precision::Table)
                        .line(),
                ),
                Err(diagnostics) => {
                    let first = diagnostics
                        .iter()
                        .find(|one| one.severity == Severity::Error);
                    match first {
                        Some(found) if found.code.name() == &**code => ExampleOutcome::Holds,
                        Some(found) => ExampleOutcome::Fails(format!("error {}", found.code)),
                        None => ExampleOutcome::Broken(diagnostics),
                    }
                }
            },
            Expectation::Limit(wanted) => match worked {
                Ok(worked) => {
                    let broken = worked
                        .outcome
                        .broken
                        .iter()
                        .map(|index| &worked.plan.limits[*index]);
                    match broken.clone().any(|limit| *limit.text == *wanted.value) {
                        true => ExampleOutcome::Holds,
                        false => ExampleOutcome::Fails("no limit is broken".to_owned()),
                    }
                }
                Err(diagnostics) => {
                    match diagnostics.iter().any(|one| one.message == *wanted.value) {
                        true => ExampleOutcome::Holds,
                        false => ExampleOutcome::Broken(diagnostics),
                    }
                }
            },
            Expectation::Value(expected) => match worked {
                Ok(worked) => self.compare_example(part, text, example, expected, &worked),
                Err(diagnostics) => ExampleOutcome::Broken(diagnostics),
            },
        }
    }

    fn compare_example(
        &self,
        part: u16,
        text: &str,
        example: &Example,
        expected: &syntax::Expr,
        worked: &super::Worked,
    ) -> ExampleOutcome {
        let shown = self
            .shown_value(&worked.value, Some(&worked.typed.ty), Precision::Digits(8))
            .line();
        let wanted = match self.work_expression(part, expected.span.of(text)) {
            Ok(wanted) => wanted,
            Err(diagnostics) => return ExampleOutcome::Broken(diagnostics),
        };
        let holds = match (&worked.value, &wanted.value) {
            (Value::Text(a), Value::Text(b)) => a == b,
            (a, b) if a.holds().is_some() || b.holds().is_some() => a.holds() == b.holds(),
            _ => {
                // The result in the unit of the literal, whatever it is shown in.
                let unit = Self::unit_written(expected);
                let subject = example.subject.span.of(text);
                let converted = match unit {
                    Some(unit) => self.work_expression(part, &format!("({subject}) [{unit}]")),
                    None => Ok(worked.clone()),
                };
                match converted {
                    Ok(converted) => {
                        let within = example.within.as_ref().and_then(|within| {
                            self.work_expression(part, within.span.of(text)).ok()
                        });
                        close(&converted.value, &wanted.value, expected, within.as_ref())
                    }
                    Err(diagnostics) => return ExampleOutcome::Broken(diagnostics),
                }
            }
        };
        if holds {
            ExampleOutcome::Holds
        } else {
            ExampleOutcome::Fails(shown)
        }
    }

    /// The unit of a literal as written, for a bracket.
    fn unit_written(expected: &syntax::Expr) -> Option<String> {
        match &expected.kind {
            ExprKind::Literal(literal) => literal.unit.as_ref().map(syntax::print_unit),
            ExprKind::Column(column) => column.unit.as_ref().map(syntax::print_unit),
            _ => None,
        }
    }
}

/// Whether a result rounds to the digits written, or lies within a share of the value.
fn close(
    value: &Value,
    wanted: &Value,
    expected: &syntax::Expr,
    within: Option<&super::Worked>,
) -> bool {
    match (value, wanted) {
        (Value::Column(rows), Value::Column(others)) => {
            rows.len() == others.len()
                && rows
                    .iter()
                    .zip(others.iter())
                    .enumerate()
                    .all(|(row, (a, b))| {
                        let item = match &expected.kind {
                            ExprKind::Column(column) => column.items.get(row),
                            _ => None,
                        };
                        close(a, b, item.unwrap_or(expected), within)
                    })
        }
        _ => {
            let (Some(number), Some(target)) = (value.number(), wanted.number()) else {
                return false;
            };
            match within.and_then(|within| within.value.number().map(|amount| (amount, within))) {
                Some((amount, within)) => near(number, target, amount, within),
                None => rounds_to(number, target, expected),
            }
        }
    }
}

fn near(number: Number, target: Number, amount: Number, within: &super::Worked) -> bool {
    let share = within.typed.ty.as_quantity().is_some_and(|quantity| {
        // A percentage is a share of the target; anything else an amount in its own unit.
        quantity.unit.words().len() <= 1
    });
    let allowed = if share {
        target
            .magnitude()
            .times(amount)
            .ok()
            .and_then(|part| part.over(Number::from(100)).ok())
    } else {
        Some(amount)
    };
    match (number.minus(target), allowed) {
        (Ok(off), Some(allowed)) => off.magnitude().compare(allowed).is_le(),
        _ => false,
    }
}

fn rounds_to(number: Number, target: Number, expected: &syntax::Expr) -> bool {
    let ExprKind::Literal(literal) = &expected.kind else {
        return number.equals(target);
    };
    if literal.number.fraction.is_some() {
        return number.equals(target);
    }
    let places = decimal_places(&literal.number.digits);
    let Ok(step) = Number::ONE.shifted(-places) else {
        return number.equals(target);
    };
    match number.round_to(step) {
        Ok(rounded) => rounded.equals(target) || number.equals(target),
        Err(_) => false,
    }
}

/// Digits behind the point, less the exponent.
fn decimal_places(digits: &str) -> i32 {
    let (mantissa, exponent) = match digits.split_once(['e', 'E']) {
        Some((mantissa, exponent)) => (mantissa, exponent.parse::<i32>().unwrap_or(0)),
        None => (digits, 0),
    };
    let behind = mantissa.split_once('.').map_or(0, |(_, behind)| {
        behind.chars().filter(char::is_ascii_digit).count()
    });
    behind as i32 - exponent
}
