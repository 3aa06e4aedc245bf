//! How the formula around the cursor is called, and a hint of what comes next.

use super::context::{Context, Place};
use super::verb::VERBS;
use crate::check::NATIVES;
use crate::notebook::Notebook;
use crate::syntax::{Parameter, print_expr, print_unit};

/// How a formula is called, and where in it the cursor stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Signature {
    /// The formula.
    pub name: String,
    /// Its parameters as one would write them: `start [psig]`.
    pub parameters: Vec<String>,
    /// How many of the last ones have a default.
    pub defaults: usize,
    /// The parameter the cursor stands at; nothing behind the last one.
    pub active: Option<usize>,
    /// The unit of the result.
    pub result: Option<String>,
}

/// The signature of the call around byte `cursor` of a line.
pub fn signature(notebook: &Notebook, line: &str, cursor: usize) -> Option<Signature> {
    let verbs: Vec<&str> = VERBS.iter().map(|verb| verb.name).collect();
    let context = Context::of(line, cursor, &verbs);
    if context.place == Place::Nothing {
        return None;
    }
    let call = context.call?;
    let Some(formula) = notebook.formula(&call.name) else {
        return native(&call.name, call.at);
    };
    let parameters = &formula.tree.parameters;
    let active = match &call.named {
        Some(name) => parameters.iter().position(|one| *one.name.text == **name),
        None => Some(call.unnamed).filter(|at| *at < parameters.len()),
    };
    Some(Signature {
        name: call.name,
        defaults: parameters
            .iter()
            .filter(|one| one.default.is_some())
            .count(),
        parameters: parameters.iter().map(parameter_text).collect(),
        active,
        result: formula.tree.unit.as_ref().map(print_unit),
    })
}

/// A built-in function takes what its signature says.
fn native(name: &str, at: usize) -> Option<Signature> {
    let native = NATIVES.iter().find(|native| native.name == name)?;
    // Some are called in two ways: the first is told.
    let way = native.signature.split(" or ").next()?;
    let inside = way.split_once('(')?.1.trim_end_matches(')');
    let parameters: Vec<String> = inside.split(", ").map(str::to_owned).collect();
    Some(Signature {
        name: name.to_owned(),
        active: Some(at).filter(|at| *at < parameters.len()),
        parameters,
        defaults: 0,
        result: None,
    })
}

pub(super) fn parameter_text(parameter: &Parameter) -> String {
    let unit = parameter.unit.as_ref().map(print_unit);
    let unit = unit.map(|unit| format!(" [{unit}]")).unwrap_or_default();
    let default = parameter.default.as_ref().map(print_expr);
    let default = default
        .map(|value| format!(" = {value}"))
        .unwrap_or_default();
    format!("{}{unit}{default}", parameter.name.text)
}

impl Signature {
    /// What is still to be given, in a few words: `start [psig], stop [psig], held [s]`.
    pub fn ahead(&self) -> Option<String> {
        let active = self.active?;
        let needed = self.parameters.len() - self.defaults;
        let ahead = self.parameters.get(active..)?;
        let must = needed.saturating_sub(active);
        if must == 0 {
            return ahead.first().cloned();
        }
        let mut text = ahead[..must].join(", ");
        if self.defaults > 0 {
            text.push_str(&format!("; {} more with a default", self.defaults));
        }
        Some(text)
    }
}

/// What could come next, in a few words: the arguments that a call still wants, or what a cell is
/// worth whose name was typed.
pub fn hint(notebook: &Notebook, line: &str, cursor: usize) -> Option<String> {
    if let Some(signature) = signature(notebook, line, cursor) {
        return signature.ahead();
    }
    let name = line.trim();
    let cell = notebook.find(name).filter(|_| cursor == line.len())?;
    let known = !notebook.cell(cell).is_broken();
    known.then(|| notebook.shown(cell, None).line())
}
