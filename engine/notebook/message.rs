//! Messages about what a notebook defines: names, units, documents it uses; and remarks about
//! results. Those about values in an expression are `check`'s, those about numbers `mishap`'s.

use crate::source::{Code, Diagnostic, Span};
use crate::units::{DefinitionError, Reference};

/// A name that is defined twice; `other` is the line of the other place.
pub(super) fn duplicate(span: Span, name: &str, other: Option<usize>) -> Diagnostic {
    let label = match other {
        Some(line) => format!("also defined in line {line}"),
        None => "also defined elsewhere in this notebook".to_owned(),
    };
    let last = name.rsplit('.').next().unwrap_or(name);
    Diagnostic::error(Code::Duplicate, span, format!("{name} is defined twice"))
        .label(label)
        .expected("one definition of each name")
        .replace(span, format!("{last}_2"))
}

/// Two names that a reader takes for one.
pub(super) fn alike(span: Span, name: &str, other: &str, place: &str) -> Diagnostic {
    Diagnostic::warning(
        Code::AlikeNames,
        span,
        format!("{name} and {other} differ only in capitals or `_`"),
    )
    .label(format!("{other}: {place}"))
    .expected("one spelling, if they are one cell; else names that differ to the ear")
}

/// A name that the language has taken.
pub(super) fn built_in(span: Span, name: &str) -> Diagnostic {
    Diagnostic::error(Code::Duplicate, span, format!("{name} is built in"))
        .label("no cell or formula can take its place")
        .expected("another name")
        .replace(span, format!("my_{name}"))
}

/// `guns.duty = …` where no table is called guns.
pub(super) fn no_table(span: Span, name: &str) -> Diagnostic {
    Diagnostic::error(
        Code::UnknownName,
        span,
        format!("no table is called {name}"),
    )
    .label("a name with a dot is a table's column")
    .expected("the name of a table, or a name without a dot")
}

/// A document that cannot be used.
pub(super) fn unreadable(span: Span, path: &str, why: &str) -> Diagnostic {
    Diagnostic::error(Code::File, span, format!("{path} cannot be used"))
        .label(why)
        .expected("a notebook, with its path as seen from this one")
}

/// Documents that use each other.
pub(super) fn use_cycle(span: Span, circle: &str) -> Diagnostic {
    Diagnostic::error(Code::Cycle, span, "notebooks that use each other")
        .label(circle)
        .expected("one of them that does without the other")
}

/// A unit of one's own that cannot be.
pub(super) fn unit_clash(span: Span, error: &DefinitionError) -> Diagnostic {
    match error {
        DefinitionError::Taken(name, what) => {
            Diagnostic::error(Code::Duplicate, span, format!("{name} is a unit already"))
                .label(what.clone())
                .expected("another name for a unit of your own")
                .replace(span, format!("my_{name}"))
        }
        DefinitionError::NoName => Diagnostic::error(Code::Syntax, span, "a unit without a name")
            .expected("a name, as in `unit bag = 50 lb`"),
        DefinitionError::NoCurrency => Diagnostic::error(Code::Currency, span, "no such currency")
            .expected("a code of ISO 4217, such as \"USD\", \"CAD\", \"EUR\""),
        DefinitionError::Zero
        | DefinitionError::Point
        | DefinitionError::TooLarge
        | DefinitionError::Root => {
            Diagnostic::error(Code::Dimension, span, "a size that a unit cannot have")
                .label("a reading, a level, a zero, a root or a huge number is no size")
                .expected("an amount, as in `unit bag = 50 lb`")
        }
    }
}

/// A unit whose size is no number.
pub(super) fn unit_size(span: Span) -> Diagnostic {
    Diagnostic::error(
        Code::Dimension,
        span,
        "a size that is no number with a unit",
    )
    .label("a unit has one size for good")
    .expected("an exact amount, as in `unit bag = 50 lb`")
}

/// `default currency = "XYZ"`
pub(super) fn no_currency(span: Span, code: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Currency,
        span,
        format!("no currency is called {code}"),
    )
    .label("not in the list of currencies")
    .expected("a code of ISO 4217, such as \"USD\", \"CAD\", \"EUR\"")
}

/// `default tank = 60 gal` in a notebook; `whole` is its place, `plain` the same as a plain cell.
pub(super) fn default_in_notebook(span: Span, whole: Span, plain: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Default,
        span,
        "`default` in a notebook sets the currency only",
    )
    .label("defaults belong to chapters of the handbook")
    .expected("a plain cell: it takes the place of the handbook's default of that name")
    .replace(whole, plain)
}

/// A value on a line of its own.
pub(super) fn bare_expression(span: Span, text: &str) -> Diagnostic {
    Diagnostic::error(Code::Syntax, span, "a value without a name")
        .label("a notebook has no place to show it")
        .expected("a cell, or an `example` of what it gives")
        .replace(span, format!("result = {text}"))
}

/// A statement that this version does not work out.
pub(super) fn not_yet(span: Span) -> Diagnostic {
    Diagnostic::error(
        Code::NotYet,
        span,
        "this statement is read and kept, but not worked out yet",
    )
    .label("this version has no tables, curves or files for it")
    .expected("cells, formulas, tables, checks and examples; studies come with a later version")
}

/// Cells that need each other.
pub(super) fn cycle(span: Span, circle: &[String]) -> Diagnostic {
    Diagnostic::error(Code::Cycle, span, "cells that need each other")
        .label(circle.join(" needs "))
        .expected(
            "a value from outside somewhere in the circle, or one that is sought: \
             `solve p [psig] for regulator - drop(p) = p from 60 psig to 94 psig`",
        )
}

/// An open flow that met two references.
pub(super) fn taken_twice(
    span: Span,
    typed: &str,
    (here, there): (Reference, Reference),
    other: &str,
    retyped: Option<(String, String)>,
) -> Diagnostic {
    let (here, there) = (here.row().noun, there.row().noun);
    let diagnostic = Diagnostic::error(
        Code::TakenTwice,
        span,
        format!("`{typed}` is taken as {here} here and as {there} elsewhere"),
    )
    .label(format!("{here} here, {there} in {other}"))
    .expected(
        "a word behind the unit where it was typed, and a conversion where the other is meant",
    );
    match retyped {
        Some((text, place)) => diagnostic.repair_with(text, place),
        None => diagnostic,
    }
}

/// A table whose file cannot be read.
pub(super) fn no_table_file(span: Span, path: &str, why: &str) -> Diagnostic {
    Diagnostic::error(Code::File, span, format!("{path} cannot be read"))
        .label(why)
        .expected("a file with a head line of names and units, its path as seen from this notebook")
}
