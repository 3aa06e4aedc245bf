//! Calls: arguments that do not fit the parameters, formulas that need themselves.

use crate::source::{Code, Diagnostic, Span, nearest};
use crate::syntax::Name;

/// A formula that needs itself.
pub(in crate::check) fn recursion(span: Span, name: &str) -> Diagnostic {
    Diagnostic::error(Code::Recursion, span, format!("{name} needs itself"))
        .label("called while it is being worked out")
        .expected("a formula that ends; `solve` finds a value that depends on itself")
}

/// Local cells that need each other.
pub(in crate::check) fn local_cycle(span: Span, name: &str) -> Diagnostic {
    Diagnostic::error(Code::Cycle, span, format!("{name} needs itself"))
        .label("the lines of this body go round in a circle")
        .expected("`solve` for a value that depends on itself")
}

/// A name that is no parameter.
pub(in crate::check) fn unknown_parameter(
    name: &Name,
    signature: &str,
    names: &[&str],
) -> Diagnostic {
    let message = format!("no parameter is called {}", name.text);
    let diagnostic = Diagnostic::error(Code::Argument, name.span, message)
        .label("not one of its parameters")
        .expected(signature);
    match nearest(&name.text, names.iter().copied()) {
        Some(nearest) => diagnostic.replace(name.span, nearest),
        None => diagnostic,
    }
}

/// More arguments than parameters.
pub(in crate::check) fn too_many_arguments(span: Span, signature: &str) -> Diagnostic {
    Diagnostic::error(Code::Argument, span, "one argument too many")
        .label("no parameter is left for it")
        .expected(signature)
}

/// A parameter given twice.
pub(in crate::check) fn argument_twice(span: Span, name: &str, signature: &str) -> Diagnostic {
    Diagnostic::error(Code::Argument, span, format!("{name} is given twice"))
        .label("the second time")
        .expected(signature)
}

/// A parameter that was not given.
pub(in crate::check) fn missing_argument(span: Span, name: &str, signature: &str) -> Diagnostic {
    Diagnostic::error(Code::Argument, span, format!("{name} is not given"))
        .label("an argument is missing")
        .expected(signature)
}

/// A built-in function with the wrong number of arguments.
pub(in crate::check) fn wrong_count(
    span: Span,
    name: &str,
    signature: &str,
    count: usize,
) -> Diagnostic {
    let given = match count {
        0 => "nothing".to_owned(),
        1 => "one value".to_owned(),
        2 => "two values".to_owned(),
        n => format!("{n} values"),
    };
    Diagnostic::error(Code::Argument, span, format!("{given} given to {name}")).expected(signature)
}

/// `skip_gaps: x`
pub(in crate::check) fn not_written_switch(span: Span, name: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Argument,
        span,
        format!("{name} takes `true` or `false`, written out"),
    )
    .label("not known before the cells are worked out")
    .replace(span, "true")
}
