//! Messages with the values they name, and expressions worked out beside the cells.

use super::Notebook;
use super::mishap::explained;
use super::names::View;
use super::shown::{Precision, Shown, ShownKind};
use crate::check::{CellId, Checker, ScopeId, Stop, Typed};
use crate::exact::{self, Failure, Mishap, Outcome, Value};
use crate::plan::{self, Plan};
use crate::source::{Code, Diagnostic, Severity, Span};
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
        explained(plan, failure, text, outcome)
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
        let worked = self.worked(part, expression).ok()?;
        let shown = self.shown_value(&worked.value, Some(&worked.typed.ty), Precision::Table);
        (shown.kind == ShownKind::Number).then(|| shown.line())
    }

    /// Works an expression out beside the cells, with nothing kept.
    pub fn work_expression(&self, part: u16, text: &str) -> Result<Worked, Vec<Diagnostic>> {
        let complete = |one| self.completed_in(part, one);
        self.worked(part, text)
            .map_err(|found| found.into_iter().map(complete).collect())
    }

    /// The same, with messages that do not know yet what the expressions in them are worth.
    fn worked(&self, part: u16, text: &str) -> Result<Worked, Vec<Diagnostic>> {
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
                return Err(found.diagnostics);
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
                _ => explained(&plan, failure, text, &outcome),
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
