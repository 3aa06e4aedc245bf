//! Names that stand for nothing, tables used like values, keys.

use crate::source::{Code, Diagnostic, Span, nearest};

/// What is known about a name that no cell has.
#[derive(Default)]
pub(in crate::check) struct Stranger<'a> {
    /// The nearest name that there is, and where it is defined.
    pub(in crate::check) nearest: Option<(&'a str, Option<String>)>,
    /// The signature of a formula of that name.
    pub(in crate::check) formula: Option<String>,
    /// The unit of that name as an amount, where there is one.
    pub(in crate::check) unit: Option<String>,
}

/// No cell of that name.
pub(in crate::check) fn unknown_name(span: Span, name: &str, known: Stranger<'_>) -> Diagnostic {
    let diagnostic =
        Diagnostic::error(Code::UnknownName, span, format!("no cell is called {name}"))
            .label("neither here nor a default of the handbook");
    if let Some(signature) = known.formula {
        return diagnostic.expected(format!("a call of the formula: {signature}"));
    }
    if let Some(amount) = known.unit {
        return diagnostic
            .expected(format!("{name} is a unit: a unit follows a number"))
            .replace(span, amount);
    }
    let Some((nearest, place)) = known.nearest else {
        return diagnostic
            .expected("a cell of this notebook; a value of your own needs a line that names it");
    };
    let mut diagnostic = diagnostic.replace(span, nearest);
    if let (Some(repair), Some(place)) = (diagnostic.repairs.last_mut(), place) {
        repair.remark = format!("({place})");
    }
    diagnostic
}

/// No formula of that name; `product` is what the call would be with a sign, if a cell is called
/// so.
pub(in crate::check) fn unknown_formula(
    span: Span,
    name: &str,
    nearest: Option<&str>,
    product: Option<(Span, String)>,
) -> Diagnostic {
    let message = format!("no formula is called {name}");
    let diagnostic = Diagnostic::error(Code::UnknownName, span, message)
        .label("neither here, nor in the handbook, nor built in");
    if let Some((call, product)) = product {
        return diagnostic
            .expected(format!("{name} is a cell: to multiply, write the sign"))
            .replace(call, product);
    }
    match nearest {
        Some(nearest) => diagnostic.replace(span, nearest),
        None => diagnostic.expected("a formula; `help` and a word of the trade finds one"),
    }
}

/// `(a + b).name`, `draw.bore`
pub(in crate::check) fn member_of_value(span: Span, text: &str) -> Diagnostic {
    Diagnostic::error(Code::Kind, span, "a dot behind something that is no table")
        .label(format!("`{text}` has no columns"))
        .expected("a table's column, as in `guns.bore`")
}

/// A table used like a value.
pub(in crate::check) fn whole_table(span: Span, name: &str, columns: &[&str]) -> Diagnostic {
    let message = format!("the whole table {name} used like a value");
    let diagnostic = Diagnostic::error(Code::Kind, span, message)
        .label("a table has columns")
        .expected("one of its columns");
    columns
        .iter()
        .skip(1)
        .take(3)
        .fold(diagnostic, |diagnostic, column| {
            diagnostic.replace(span, format!("{name}.{column}"))
        })
}

/// A key behind something that is no table.
pub(in crate::check) fn not_a_table(span: Span, text: &str) -> Diagnostic {
    Diagnostic::error(Code::Kind, span, format!("no table is called {text}"))
        .label("a bracket with a key follows a table's name")
        .expected("a table, as in `guns[\"small\"].bore`")
}

/// A column that the table does not have; `span` is the place of its name.
pub(in crate::check) fn unknown_column(
    span: Span,
    table: &str,
    column: &str,
    columns: &[&str],
) -> Diagnostic {
    let message = format!("{table} has no column {column}");
    let diagnostic = Diagnostic::error(Code::UnknownName, span, message)
        .label(format!("its columns are {}", columns.join(", ")));
    match nearest(column, columns.iter().copied()) {
        Some(nearest) => diagnostic.replace(span, nearest),
        None => diagnostic.expected("one of them"),
    }
}

/// More keys than columns.
pub(in crate::check) fn too_many_keys(span: Span, table: &str, columns: &[&str]) -> Diagnostic {
    Diagnostic::error(
        Code::Key,
        span,
        format!("more keys than {table} has columns"),
    )
    .label(format!("its columns are {}", columns.join(", ")))
    .expected("one key for each key column")
}
