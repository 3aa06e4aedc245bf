//! What a condition compares, with the values of it.

use super::reading::Reading;
use crate::exact::Value;
use crate::notebook::{Notebook, Precision, Shown, ShownKind, StatementId};
use crate::syntax::{self, BinaryOperator, Expr, ExprKind, NameKind, StatementKind};

/// What the condition of a check compares, as written: all but literals.
pub fn compared(notebook: &Notebook, id: StatementId) -> Vec<String> {
    let tree = notebook.tree(id);
    match &tree.kind {
        StatementKind::Check(check) => {
            Operands::of(&Reading::of(notebook), id, &check.condition).texts
        }
        _ => Vec::new(),
    }
}

/// What a condition compares, literals left out.
pub(super) struct Operands {
    part: u16,
    texts: Vec<String>,
}

impl Operands {
    pub(super) fn of(reading: &Reading<'_>, id: StatementId, condition: &Expr) -> Operands {
        let text = reading.notebook.text_of(id);
        let mut compared = Vec::new();
        collect_compared(condition, &mut compared);
        let mut texts: Vec<String> = Vec::new();
        for expr in compared.into_iter().filter(|expr| names_something(expr)) {
            let own = expr.span.of(text).to_owned();
            if !own.is_empty() && !texts.contains(&own) {
                texts.push(own);
            }
        }
        Operands {
            part: reading.notebook.statement(id).part,
            texts,
        }
    }

    /// Their values, of one row where they are columns.
    pub(super) fn shown(&self, reading: &Reading<'_>, row: Option<usize>) -> Vec<Shown> {
        let shown = self.texts.iter().filter_map(|text| {
            let worth = worth(reading, self.part, text, row)?;
            (worth.kind == ShownKind::Number).then_some(worth)
        });
        shown.collect()
    }
}

/// What an operand is worth: a cell as its table shows it.
fn worth(reading: &Reading<'_>, part: u16, text: &str, row: Option<usize>) -> Option<Shown> {
    let notebook = reading.notebook;
    if let Some(cell) = notebook.find(text).filter(|_| part == 0) {
        let column = matches!(notebook.value(cell), Value::Column(_));
        return Some(notebook.shown(cell, row.filter(|_| column)));
    }
    let worked = notebook.work_expression(part, text).ok()?;
    let value = match row {
        Some(row) => worked.value.row(row),
        None => worked.value.clone(),
    };
    Some(notebook.shown_value(&value, Some(&worked.typed.ty), Precision::Table))
}

fn collect_compared<'t>(condition: &'t Expr, compared: &mut Vec<&'t Expr>) {
    match &condition.kind {
        ExprKind::Comparison(operands, _) => compared.extend(operands),
        ExprKind::Bracketed(inner) | ExprKind::Not(inner) => collect_compared(inner, compared),
        ExprKind::Binary(BinaryOperator::And | BinaryOperator::Or, left, right) => {
            collect_compared(left, compared);
            collect_compared(right, compared);
        }
        ExprKind::Call(_, arguments) => {
            compared.extend(arguments.iter().map(|argument| &argument.value));
        }
        _ => {}
    }
}

fn names_something(expr: &Expr) -> bool {
    let mut named = false;
    syntax::visit_expr_names(expr, &mut |used| {
        named |= matches!(used.kind, NameKind::Cell | NameKind::Formula);
    });
    named
}
