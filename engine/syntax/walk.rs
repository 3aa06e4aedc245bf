//! One walk over a statement that shows every name, unit and literal in it, in the order of the
//! text as far as the tree keeps it.

use super::tree::{
    Axis, AxisValues, Cell, Clause, Expectation, Expr, ExprKind, FieldKind, Formula, Literal, Name,
    Path, PlusMinus, Solve, Statement, StatementKind, Trace, TraceLine, UnitExpr,
};
use crate::source::Span;

/// What a walker is shown. What it does not ask for is passed over.
pub(super) trait Walker<'t> {
    /// A cell, table or local by its name and the names behind its dots.
    fn cell(&mut self, _names: &[&'t str], _span: Span) {}
    /// A cell that is given other values: overridden, solved for, swept, fitted or traced.
    fn target(&mut self, _names: &[&'t str], _span: Span) {}
    /// A formula that is called.
    fn formula(&mut self, _name: &'t Name) {}
    /// A literal, before its unit and ±; `is_item` if it is a whole item of a column.
    fn literal(&mut self, _literal: &'t Literal, _is_item: bool) {}
    /// A minus that stands before a value, by its place.
    fn negative(&mut self, _start: u32) {}
    /// A unit; `in_bracket` if it stands in square brackets, where nothing else can be meant.
    fn unit(&mut self, _unit: &'t UnitExpr, _in_bracket: bool) {}
    /// A ±, before what is in it.
    fn plus_minus(&mut self, _plus_minus: &'t PlusMinus) {}
    /// The code of an example that gives an error.
    fn code(&mut self, _span: Span) {}
}

/// Walks a statement.
pub(super) fn walk<'t>(statement: &'t Statement, walker: &mut impl Walker<'t>) {
    match &statement.kind {
        StatementKind::Cell(cell) | StatementKind::Default(cell) => walk_cell(cell, walker),
        StatementKind::Formula(formula) => walk_formula(formula, walker),
        StatementKind::Table(table) => {
            for column in &table.head {
                bracket(column.unit.as_ref(), walker);
            }
            for field in table.rows.iter().flat_map(|row| &row.fields) {
                if let FieldKind::Quantity(value) = &field.kind {
                    walk_expr(value, walker);
                }
            }
        }
        StatementKind::Check(check) => walk_expr(&check.condition, walker),
        StatementKind::Unit(definition) => optional(definition.size.as_ref(), walker),
        StatementKind::Example(example) => {
            walk_expr(&example.subject, walker);
            match &example.expected {
                Expectation::Value(value) => walk_expr(value, walker),
                Expectation::Error(_, span) => walker.code(*span),
                Expectation::Limit(_) => {}
            }
            optional(example.within.as_ref(), walker);
        }
        StatementKind::Sweep(sweep) => {
            sweep.axes.iter().for_each(|one| axis(one, walker));
            sweep.show.iter().for_each(|one| walk_expr(one, walker));
        }
        StatementKind::Plot(plot) => {
            plot.show.iter().for_each(|one| walk_expr(one, walker));
            axis(&plot.axis, walker);
        }
        StatementKind::Fit(fit) => {
            fit.cells.iter().for_each(|cell| target(cell, walker));
            path(&fit.data, walker);
            walk_expr(&fit.model, walker);
        }
        StatementKind::Trace(trace) => walk_trace(trace, walker),
        StatementKind::Budget(cell) | StatementKind::Spread(cell) => path(cell, walker),
        StatementKind::Expression(value) => walk_expr(value, walker),
        StatementKind::Use(_) | StatementKind::Broken(_) => {}
    }
}

fn walk_cell<'t>(cell: &'t Cell, walker: &mut impl Walker<'t>) {
    if cell.column.is_some() {
        walker.cell(&[&*cell.name.text], cell.name.span);
    }
    bracket(cell.unit.as_ref(), walker);
    walk_expr(&cell.value, walker);
}

pub(super) fn walk_formula<'t>(formula: &'t Formula, walker: &mut impl Walker<'t>) {
    for parameter in &formula.parameters {
        bracket(parameter.unit.as_ref(), walker);
        optional(parameter.default.as_ref(), walker);
    }
    bracket(formula.unit.as_ref(), walker);
    for clause in &formula.clauses {
        match clause {
            Clause::Limit { condition, .. } => walk_expr(condition, walker),
            Clause::Caution { when, .. } => optional(when.as_ref(), walker),
            Clause::Source(_) => {}
        }
    }
    for local in &formula.locals {
        walk_cell(local, walker);
    }
    walk_expr(&formula.result, walker);
}

fn walk_trace<'t>(trace: &'t Trace, walker: &mut impl Walker<'t>) {
    walk_expr(&trace.over, walker);
    for line in &trace.lines {
        match line {
            TraceLine::Starts { name, unit, value } => {
                walker.target(&[&*name.text], name.span);
                bracket(unit.as_ref(), walker);
                walk_expr(value, walker);
            }
            TraceLine::Changes { name, rate } => {
                walker.target(&[&*name.text], name.span);
                walk_expr(rate, walker);
            }
            TraceLine::Turns { name, when, .. } => {
                walker.target(&[&*name.text], name.span);
                walk_expr(when, walker);
            }
            TraceLine::Stop(when) | TraceLine::Mark { when, .. } => walk_expr(when, walker),
            TraceLine::Show { names, every } => {
                names.iter().for_each(|name| path(name, walker));
                walk_expr(every, walker);
            }
        }
    }
}

fn bracket<'t>(unit: Option<&'t UnitExpr>, walker: &mut impl Walker<'t>) {
    if let Some(unit) = unit {
        walker.unit(unit, true);
    }
}

fn optional<'t>(value: Option<&'t Expr>, walker: &mut impl Walker<'t>) {
    if let Some(value) = value {
        walk_expr(value, walker);
    }
}

fn path<'t>(path: &'t Path, walker: &mut impl Walker<'t>) {
    walker.cell(&names_of(path), path.span);
}

fn target<'t>(path: &'t Path, walker: &mut impl Walker<'t>) {
    walker.target(&names_of(path), path.span);
}

fn names_of(path: &Path) -> Vec<&str> {
    path.names.iter().map(|name| &*name.text).collect()
}

fn axis<'t>(axis: &'t Axis, walker: &mut impl Walker<'t>) {
    target(&axis.cell, walker);
    match &axis.values {
        AxisValues::Over(column) => walk_expr(column, walker),
        AxisValues::Steps { from, to, by } => {
            [from, to, by]
                .into_iter()
                .for_each(|one| walk_expr(one, walker));
        }
    }
}

pub(super) fn walk_expr<'t>(whole: &'t Expr, walker: &mut impl Walker<'t>) {
    match &whole.kind {
        ExprKind::Literal(_) => literal(whole, false, walker),
        ExprKind::Text(_) | ExprKind::Switch(_) | ExprKind::Refused(None) => {}
        ExprKind::Name(_) | ExprKind::Member(..) | ExprKind::Keyed(..) => named(whole, walker),
        ExprKind::Call(name, arguments) => {
            walker.formula(name);
            arguments
                .iter()
                .for_each(|one| walk_expr(&one.value, walker));
        }
        ExprKind::Column(column) => {
            for item in &column.items {
                match item.kind {
                    ExprKind::Literal(_) => literal(item, true, walker),
                    _ => walk_expr(item, walker),
                }
            }
            if let Some(unit) = &column.unit {
                walker.unit(unit, false);
            }
            plus_minus(column.plus_minus.as_ref(), walker);
        }
        ExprKind::Readings(column, amount) => {
            walk_expr(column, walker);
            plus_minus(amount.as_deref(), walker);
        }
        ExprKind::Negative(inner) => {
            walker.negative(whole.span.start);
            walk_expr(inner, walker);
        }
        ExprKind::Bracketed(inner) | ExprKind::Not(inner) | ExprKind::Refused(Some(inner)) => {
            walk_expr(inner, walker)
        }
        ExprKind::Binary(_, left, right) => {
            walk_expr(left, walker);
            walk_expr(right, walker);
        }
        ExprKind::Comparison(operands, _) => operands.iter().for_each(|one| walk_expr(one, walker)),
        ExprKind::If(parts) => parts.iter().for_each(|part| walk_expr(part, walker)),
        ExprKind::In(inner, unit) => {
            walk_expr(inner, walker);
            walker.unit(unit, true);
        }
        ExprKind::With(inner, overrides) => {
            walk_expr(inner, walker);
            for one in overrides {
                target(&one.cell, walker);
                walk_expr(&one.value, walker);
            }
        }
        ExprKind::Solve(solve) => walk_solve(solve, walker),
    }
}

fn literal<'t>(whole: &'t Expr, is_item: bool, walker: &mut impl Walker<'t>) {
    let ExprKind::Literal(literal) = &whole.kind else {
        return;
    };
    if literal.negative {
        walker.negative(whole.span.start);
    }
    walker.literal(literal, is_item);
    if let Some(unit) = &literal.unit {
        walker.unit(unit, false);
    }
    plus_minus(literal.plus_minus.as_deref(), walker);
}

fn walk_solve<'t>(solve: &'t Solve, walker: &mut impl Walker<'t>) {
    target(&solve.unknown, walker);
    bracket(solve.unit.as_ref(), walker);
    walk_expr(&solve.left, walker);
    walk_expr(&solve.right, walker);
    if let Some((low, high)) = &solve.range {
        walk_expr(low, walker);
        walk_expr(high, walker);
    }
}

fn plus_minus<'t>(plus_minus: Option<&'t PlusMinus>, walker: &mut impl Walker<'t>) {
    if let Some(plus_minus) = plus_minus {
        walker.plus_minus(plus_minus);
        walk_expr(&plus_minus.amount, walker);
        optional(plus_minus.of.as_ref(), walker);
    }
}

/// A name with its members and keys: the keys are values of their own, the names go together.
fn named<'t>(whole: &'t Expr, walker: &mut impl Walker<'t>) {
    let mut names = Vec::new();
    let mut inner = whole;
    loop {
        match &inner.kind {
            ExprKind::Name(name) => {
                names.push(&**name);
                names.reverse();
                walker.cell(&names, whole.span);
                return;
            }
            ExprKind::Member(left, name) => {
                names.push(&*name.text);
                inner = left;
            }
            ExprKind::Keyed(left, keys, name) => {
                keys.iter().for_each(|key| walk_expr(key, walker));
                names.push(&*name.text);
                inner = left;
            }
            _ => return walk_expr(inner, walker),
        }
    }
}
