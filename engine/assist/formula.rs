//! A formula as its help page shows it.

use super::prose::paragraphs;
use super::signature::parameter_text;
use crate::check::FormulaDefinition;
use crate::library::{EntryKind, Library};
use crate::syntax::{Clause, print_expr, print_unit};

/// Examples on a page.
const MOST_EXAMPLES: usize = 2;

/// A formula.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FormulaHelp {
    /// Its name.
    pub name: String,
    /// Its parameters.
    pub parameters: Vec<ParameterHelp>,
    /// The unit of the result.
    pub result: Option<String>,
    /// What it is for and when not to use it.
    pub prose: Vec<String>,
    /// Its body as written: locals, and last the result.
    pub body: Vec<String>,
    /// Its limits: condition, and what is said outside.
    pub limits: Vec<(String, String)>,
    /// Where it comes from.
    pub sources: Vec<String>,
    /// Its cautions, with the condition under which each is said.
    pub cautions: Vec<(Option<String>, String)>,
    /// Calls with what they give.
    pub examples: Vec<(String, String)>,
    /// The title of the document it stands in.
    pub chapter: String,
    /// The heading it stands under.
    pub section: String,
    /// The document and the line it begins in.
    pub place: (String, usize),
}

/// A parameter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ParameterHelp {
    /// Its name.
    pub name: String,
    /// Its unit and reference.
    pub unit: Option<String>,
    /// The value it has when a call says nothing.
    pub default: Option<String>,
    /// As one would write it: `start [psig]`.
    pub text: String,
}

/// A formula in one line, as one would call it: `duty(draw [cfm free], pump [cfm free]) [%]`.
pub fn signature_line(formula: &FormulaDefinition) -> String {
    let parameters: Vec<String> = formula.tree.parameters.iter().map(parameter_text).collect();
    let unit = formula.tree.unit.as_ref().map(print_unit);
    let unit = unit.map(|unit| format!(" [{unit}]")).unwrap_or_default();
    format!("{}({}){unit}", formula.name(), parameters.join(", "))
}

/// The page of a formula.
pub(super) fn page(library: &Library, formula: &FormulaDefinition) -> FormulaHelp {
    let tree = &formula.tree;
    let entry = library
        .entry(EntryKind::Formula, formula.name())
        .filter(|_| formula.document.is_none());
    let parameter = |one: &crate::syntax::Parameter| ParameterHelp {
        name: one.name.text.to_string(),
        unit: one.unit.as_ref().map(print_unit),
        default: one.default.as_ref().map(print_expr),
        text: parameter_text(one),
    };
    let mut page = FormulaHelp {
        name: formula.name().to_owned(),
        parameters: tree.parameters.iter().map(parameter).collect(),
        result: tree.unit.as_ref().map(print_unit),
        prose: entry.map_or_else(Vec::new, |entry| paragraphs(library.prose_above(entry))),
        body: body(formula),
        limits: Vec::new(),
        sources: Vec::new(),
        cautions: Vec::new(),
        examples: entry.map_or_else(Vec::new, |entry| examples(&library.examples(entry))),
        chapter: formula.chapter.to_string(),
        section: formula.section.to_string(),
        place: (formula.path.to_string(), formula.first_line),
    };
    for clause in &tree.clauses {
        match clause {
            Clause::Source(text) => page.sources.push(text.value.to_string()),
            Clause::Limit { condition, text } => page.limits.push((
                one_line(formula.snippet(condition.span)),
                text.value.to_string(),
            )),
            Clause::Caution { when, text } => {
                let when = when
                    .as_ref()
                    .map(|when| one_line(formula.snippet(when.span)));
                page.cautions.push((when, text.value.to_string()));
            }
        }
    }
    page
}

fn body(formula: &FormulaDefinition) -> Vec<String> {
    let mut lines: Vec<String> = formula
        .tree
        .locals
        .iter()
        .map(|local| {
            let unit = local.unit.as_ref().map(print_unit);
            let unit = unit.map(|unit| format!(" [{unit}]")).unwrap_or_default();
            let value = one_line(formula.snippet(local.value.span));
            format!("{}{unit} = {value}", local.name.text)
        })
        .collect();
    lines.push(one_line(formula.snippet(formula.tree.result.span)));
    lines
}

/// Examples that give a value; those of limits and errors are for tests.
fn examples(written: &[&str]) -> Vec<(String, String)> {
    written
        .iter()
        .filter_map(|line| {
            let text = one_line(line.strip_prefix("example ")?);
            let (call, gives) = text.split_once(" gives ")?;
            let value = !gives.starts_with("limit ") && !gives.starts_with("error ");
            value.then(|| (call.to_owned(), gives.to_owned()))
        })
        .take(MOST_EXAMPLES)
        .collect()
}

fn one_line(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    words.join(" ")
}
