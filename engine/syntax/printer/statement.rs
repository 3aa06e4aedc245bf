//! Statements as text, a body indented by four blanks. What could not be read is given as it
//! stands in the document.

use super::expression::{
    print_expr, push_condition, push_list, push_path, push_sum, push_text, push_value,
};
use super::quantity::push_unit;
use crate::syntax::tree::{
    Axis, AxisValues, Cell, Clause, Example, Expectation, Expr, ExprKind, FieldKind, Formula, Name,
    Path, Statement, StatementKind, Table, Text, Trace, TraceLine, UnitDefinition, UnitExpr,
};

/// A statement in canonical spelling, on several lines where it has a body, its remark behind it.
/// `text` is the document; comments inside the statement are not in the tree, so not here.
pub fn print_statement(statement: &Statement, text: &str) -> String {
    let mut out = String::new();
    match &statement.kind {
        StatementKind::Broken(_) => return statement.span.of(text).to_string(),
        StatementKind::Cell(cell) => push_cell(&mut out, cell),
        StatementKind::Default(cell) => {
            out.push_str("default ");
            push_cell(&mut out, cell);
        }
        StatementKind::Formula(formula) => push_formula(&mut out, formula),
        StatementKind::Table(table) => push_table(&mut out, table),
        StatementKind::Check(check) => {
            out.push_str("check ");
            push_condition(&mut out, &check.condition);
            push_optional_text(&mut out, check.text.as_ref());
        }
        StatementKind::Use(used) => {
            out.push_str("use ");
            push_text(&mut out, &used.path.value);
            if let Some(name) = &used.name {
                out.push_str(" as ");
                out.push_str(&name.text);
            }
        }
        StatementKind::Unit(definition) => push_definition(&mut out, definition),
        StatementKind::Example(example) => push_example(&mut out, example),
        StatementKind::Sweep(sweep) => {
            out.push_str("sweep ");
            if let Some(name) = &sweep.name {
                out.push_str(&name.text);
                out.push_str(": ");
            }
            for (index, axis) in sweep.axes.iter().enumerate() {
                out.push_str(if index > 0 { ", " } else { "" });
                push_axis(&mut out, axis);
            }
            out.push_str(" show ");
            push_list(&mut out, &sweep.show);
        }
        StatementKind::Plot(plot) => {
            out.push_str("plot ");
            push_list(&mut out, &plot.show);
            out.push_str(" against ");
            push_axis(&mut out, &plot.axis);
        }
        StatementKind::Fit(fit) => {
            out.push_str("fit ");
            push_paths(&mut out, &fit.cells);
            out.push_str(" to ");
            push_path(&mut out, &fit.data);
            out.push_str(" = ");
            push_sum(&mut out, &fit.model);
        }
        StatementKind::Trace(trace) => push_trace(&mut out, trace),
        StatementKind::Budget(cell) => {
            out.push_str("budget ");
            push_path(&mut out, cell);
        }
        StatementKind::Spread(cell) => {
            out.push_str("spread ");
            push_path(&mut out, cell);
        }
        StatementKind::Expression(value) => push_value(&mut out, value),
    }
    if let Some(remark) = statement.remark {
        out.push_str("  # ");
        out.push_str(remark.of(text));
    }
    out
}

fn push_cell(out: &mut String, cell: &Cell) {
    out.push_str(&cell.name.text);
    if let Some(column) = &cell.column {
        out.push('.');
        out.push_str(&column.text);
    }
    push_head(out, cell.unit.as_ref());
    out.push_str(" = ");
    push_value(out, &cell.value);
}

/// ` [unit]`, if there is one.
fn push_head(out: &mut String, unit: Option<&UnitExpr>) {
    if let Some(unit) = unit {
        out.push_str(" [");
        push_unit(out, unit);
        out.push(']');
    }
}

fn push_optional_text(out: &mut String, text: Option<&Text>) {
    if let Some(text) = text {
        out.push(' ');
        push_text(out, &text.value);
    }
}

fn push_paths(out: &mut String, paths: &[Path]) {
    for (index, path) in paths.iter().enumerate() {
        out.push_str(if index > 0 { ", " } else { "" });
        push_path(out, path);
    }
}

fn push_names(out: &mut String, names: &[Name]) {
    let names: Vec<&str> = names.iter().map(|name| &*name.text).collect();
    out.push_str(&names.join(", "));
}

fn push_definition(out: &mut String, definition: &UnitDefinition) {
    out.push_str("unit ");
    push_names(out, &definition.names);
    if let Some(size) = &definition.size {
        out.push_str(" = ");
        push_value(out, size);
    }
}

fn push_example(out: &mut String, example: &Example) {
    out.push_str("example ");
    push_value(out, &example.subject);
    out.push_str(" gives ");
    match &example.expected {
        Expectation::Value(value) => push_value(out, value),
        Expectation::Limit(text) => {
            out.push_str("limit ");
            push_text(out, &text.value);
        }
        Expectation::Error(code, _) => {
            out.push_str("error ");
            out.push_str(code);
        }
    }
    if let Some(within) = &example.within {
        out.push_str(" within ");
        push_value(out, within);
    }
}

fn push_axis(out: &mut String, axis: &Axis) {
    push_path(out, &axis.cell);
    match &axis.values {
        AxisValues::Over(column) => push_word_and_sum(out, " over ", column),
        AxisValues::Steps { from, to, by } => {
            push_word_and_sum(out, " from ", from);
            push_word_and_sum(out, " to ", to);
            push_word_and_sum(out, " by ", by);
        }
    }
}

fn push_word_and_sum(out: &mut String, word: &str, sum: &Expr) {
    out.push_str(word);
    push_sum(out, sum);
}

/// What begins each line of a body.
const INDENT: &str = "\n    ";

fn push_formula(out: &mut String, formula: &Formula) {
    out.push_str("formula ");
    out.push_str(&formula.name.text);
    out.push('(');
    for (index, parameter) in formula.parameters.iter().enumerate() {
        out.push_str(if index > 0 { ", " } else { "" });
        out.push_str(&parameter.name.text);
        push_head(out, parameter.unit.as_ref());
        if let Some(default) = &parameter.default {
            push_word_and_sum(out, " = ", default);
        }
    }
    out.push(')');
    push_head(out, formula.unit.as_ref());
    for clause in &formula.clauses {
        out.push_str(INDENT);
        push_clause(out, clause);
    }
    for local in &formula.locals {
        out.push_str(INDENT);
        push_cell(out, local);
    }
    out.push_str(INDENT);
    push_value(out, &formula.result);
}

fn push_clause(out: &mut String, clause: &Clause) {
    let text = match clause {
        Clause::Source(text) => {
            out.push_str("source ");
            text
        }
        Clause::Limit { condition, text } => {
            out.push_str("limit ");
            push_condition(out, condition);
            out.push(' ');
            text
        }
        Clause::Caution { when: None, text } => {
            out.push_str("caution ");
            text
        }
        Clause::Caution {
            when: Some(when),
            text,
        } => {
            out.push_str("caution when ");
            push_condition(out, when);
            out.push(' ');
            text
        }
    };
    push_text(out, &text.value);
}

fn push_table(out: &mut String, table: &Table) {
    out.push_str("table ");
    out.push_str(&table.name.text);
    if let Some(file) = &table.file {
        out.push_str(" from ");
        push_text(out, &file.value);
        return;
    }
    let heads = table.head.iter().map(|column| {
        let mut head = column.name.text.to_string();
        push_head(&mut head, column.unit.as_ref());
        head
    });
    let mut lines: Vec<Vec<String>> = vec![heads.collect()];
    for row in &table.rows {
        let fields = row.fields.iter().map(|field| match &field.kind {
            FieldKind::Gap => "-".to_string(),
            FieldKind::Text(text) => text.to_string(),
            FieldKind::Quantity(value) => print_field(value),
        });
        lines.push(fields.collect());
    }
    if table.head.is_empty() {
        return;
    }
    for line in super::align(&lines) {
        out.push_str(INDENT);
        out.push_str(&line);
    }
}

/// A quantity in a table, where a fraction needs no unit.
fn print_field(value: &Expr) -> String {
    match &value.kind {
        ExprKind::Literal(literal) => super::print_literal(literal, true),
        _ => print_expr(value),
    }
}

fn push_trace(out: &mut String, trace: &Trace) {
    out.push_str("trace ");
    out.push_str(&trace.name.text);
    push_word_and_sum(out, " over ", &trace.over);
    for line in &trace.lines {
        out.push_str(INDENT);
        push_trace_line(out, line);
    }
}

fn push_trace_line(out: &mut String, line: &TraceLine) {
    match line {
        TraceLine::Starts { name, unit, value } => {
            out.push_str(&name.text);
            push_head(out, unit.as_ref());
            match value.kind {
                ExprKind::Switch(true) => out.push_str(" starts on"),
                ExprKind::Switch(false) => out.push_str(" starts off"),
                _ => push_word_and_sum(out, " starts ", value),
            }
        }
        TraceLine::Changes { name, rate } => {
            out.push_str(&name.text);
            out.push_str(" changes at ");
            push_value(out, rate);
        }
        TraceLine::Turns { name, on, when } => {
            out.push_str(&name.text);
            out.push_str(if *on {
                " turns on when "
            } else {
                " turns off when "
            });
            push_condition(out, when);
        }
        TraceLine::Stop(when) => {
            out.push_str("stop when ");
            push_condition(out, when);
        }
        TraceLine::Mark { name, when } => {
            out.push_str("mark ");
            out.push_str(&name.text);
            out.push_str(" when ");
            push_condition(out, when);
        }
        TraceLine::Show { names, every } => {
            out.push_str("show ");
            push_paths(out, names);
            push_word_and_sum(out, " every ", every);
        }
    }
}
