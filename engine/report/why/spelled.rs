//! Parts of a formula's body, spelled so that the notebook can work them out: parameters become
//! the arguments of the call, locals what they stand for.

use super::put_in;
use super::written::exact_literal;
use crate::check::{CellId, FormulaDefinition};
use crate::exact::Value;
use crate::notebook::Notebook;
use crate::source::Span;
use crate::syntax::{self, Argument, Expr, ExprKind, NameKind, UnitExpr};
use rustc_hash::FxHashMap;
use std::cell::RefCell;

/// Texts longer than this are not worked out: locals within locals grow fast.
const LONGEST_TEXT: usize = 20_000;

/// The names around an expression.
pub(super) struct Spelled<'n> {
    pub(super) notebook: &'n Notebook,
    /// The document whose cells are seen.
    pub(super) part: u16,
    /// The row whose numbers are put in, where values are columns.
    pub(super) row: Option<usize>,
    /// The text that spans point into, and where it begins.
    text: &'n str,
    base: u32,
    names: RefCell<FxHashMap<Box<str>, Meaning>>,
    /// Numbers that are put in for parameters as they were typed.
    typed: FxHashMap<Box<str>, String>,
}

/// What a name inside a formula stands for.
enum Meaning {
    /// This text, which stands in brackets of its own; nothing where it grew too long.
    Text(Option<String>),
    /// A local or a default, not spelled yet.
    Expression(Expr, Option<String>),
    /// One that is being spelled.
    Busy,
}

impl<'n> Spelled<'n> {
    /// Around a cell's own line.
    pub(super) fn cell(
        notebook: &'n Notebook,
        part: u16,
        text: &'n str,
        row: Option<usize>,
    ) -> Spelled<'n> {
        Spelled {
            notebook,
            part,
            row,
            text,
            base: 0,
            names: RefCell::default(),
            typed: FxHashMap::default(),
        }
    }

    /// Around the body of a formula that is called with these arguments.
    pub(super) fn body(
        &self,
        definition: &'n FormulaDefinition,
        arguments: &[Argument],
    ) -> Spelled<'n> {
        let tree = &definition.tree;
        let mut names: FxHashMap<Box<str>, Meaning> = FxHashMap::default();
        let mut typed: FxHashMap<Box<str>, String> = FxHashMap::default();
        for local in &tree.locals {
            let unit = local.unit.as_ref().map(syntax::print_unit);
            let meaning = Meaning::Expression(local.value.clone(), unit);
            names.insert(local.name.text.clone(), meaning);
        }
        for (number, parameter) in tree.parameters.iter().enumerate() {
            let argument = argument_for(arguments, number, &parameter.name.text);
            if let Some(number) = argument.and_then(|argument| self.typed(&argument.value)) {
                typed.insert(parameter.name.text.clone(), number);
            }
            let unit = parameter.unit.as_ref();
            let meaning = match (argument, &parameter.default) {
                (Some(argument), _) => {
                    let spelled = self.spell(&argument.value);
                    Meaning::Text(spelled.map(|text| in_unit(&text, unit)))
                }
                (None, Some(default)) => {
                    Meaning::Expression(default.clone(), unit.map(syntax::print_unit))
                }
                (None, None) => Meaning::Text(None),
            };
            names.insert(parameter.name.text.clone(), meaning);
        }
        Spelled {
            notebook: self.notebook,
            part: definition.document.unwrap_or(self.part),
            row: self.row,
            text: &definition.text,
            base: definition.base,
            names: RefCell::new(names),
            typed,
        }
    }

    /// The number that is put in for a name as its cell shows it, or as it was typed; nothing for
    /// one that has to be worked out.
    pub(super) fn as_put_in(&self, name: &str) -> Option<String> {
        if let Some(number) = self.typed.get(name) {
            return Some(number.clone());
        }
        let first = name.split(['.', '[']).next().unwrap_or(name);
        let inside = self.names.borrow().contains_key(first);
        let cell = self
            .notebook
            .find(name)
            .filter(|_| !inside && self.part == 0)?;
        put_in(
            &self
                .notebook
                .shown(cell, self.row.filter(|_| self.is_column(cell))),
        )
    }

    fn typed(&self, argument: &Expr) -> Option<String> {
        match &argument.kind {
            ExprKind::Literal(literal) => Some(exact_literal(argument, literal)),
            ExprKind::Name(_) | ExprKind::Member(..) => {
                self.as_put_in(&syntax::print_expr(argument))
            }
            ExprKind::Bracketed(inner) => self.typed(inner),
            _ => None,
        }
    }

    fn is_column(&self, cell: CellId) -> bool {
        matches!(self.notebook.value(cell), Value::Column(_))
    }

    /// A part of the text with the names inside it spelled out; nothing where one has no value.
    pub(super) fn spell(&self, expr: &Expr) -> Option<String> {
        let own = self.snippet(expr.span).to_owned();
        let mut uses: Vec<(Span, Box<str>)> = Vec::new();
        syntax::visit_expr_names(expr, &mut |used| {
            let may_be = matches!(used.kind, NameKind::Cell | NameKind::UnitOrCell);
            if may_be && self.names.borrow().contains_key(used.names[0]) {
                uses.push((used.span, used.names[0].into()));
            }
        });
        uses.sort_by_key(|(span, _)| span.start);
        let mut spelled = String::with_capacity(own.len() * 2);
        let mut at = 0;
        for (span, name) in uses {
            let start = span.start.checked_sub(expr.span.start)? as usize;
            let end = start + name.len();
            spelled.push_str(own.get(at..start)?);
            spelled.push_str(" (");
            spelled.push_str(&self.meaning(&name)?);
            spelled.push(')');
            at = end;
            if spelled.len() > LONGEST_TEXT {
                return None;
            }
        }
        spelled.push_str(own.get(at..)?);
        // A body goes over several lines; an expression typed alone does not.
        let words: Vec<&str> = spelled.split_whitespace().collect();
        Some(words.join(" "))
    }

    /// The text of a run of the body or the line.
    pub(super) fn snippet(&self, span: Span) -> &str {
        span.shifted(-i64::from(self.base)).of(self.text)
    }

    /// What a name stands for; kept once it is spelled.
    fn meaning(&self, name: &str) -> Option<String> {
        let found = self.names.borrow_mut().insert(name.into(), Meaning::Busy)?;
        let spelled = match found {
            Meaning::Text(text) => text,
            Meaning::Busy => None,
            Meaning::Expression(expr, unit) => {
                let text = self.spell(&expr);
                text.map(|text| match &unit {
                    Some(unit) => format!("({text}) [{unit}]"),
                    None => text,
                })
            }
        };
        let kept = Meaning::Text(spelled.clone());
        self.names.borrow_mut().insert(name.into(), kept);
        spelled
    }
}

fn in_unit(text: &str, unit: Option<&UnitExpr>) -> String {
    match unit {
        Some(unit) => format!("({text}) [{}]", syntax::print_unit(unit)),
        None => text.to_owned(),
    }
}

/// The argument of a parameter: by its name, or by its place among those without one.
pub(super) fn argument_for<'a>(
    arguments: &'a [Argument],
    number: usize,
    name: &str,
) -> Option<&'a Argument> {
    let named = arguments
        .iter()
        .find(|argument| argument.name.as_ref().is_some_and(|own| *own.text == *name));
    let placed = || {
        let unnamed = |argument: &&Argument| argument.name.is_none();
        arguments.iter().filter(unnamed).nth(number)
    };
    named.or_else(placed)
}
