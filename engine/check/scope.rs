//! What a statement can see. The notebook answers; `check` only asks.

use super::types::Type;
use crate::source::Span;
use crate::syntax;
use crate::units::Reference;
use std::rc::Rc;

/// A cell of the notebook, a table's column or a default of the handbook.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct CellId(pub u32);

/// Where names are looked up from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct ScopeId {
    /// The document: 0 is the notebook itself, the others are those it uses.
    pub document: u16,
    /// Whether only the defaults and tables of the handbook are seen, as that document has them:
    /// so for bodies of the handbook's formulas.
    pub handbook: bool,
}

impl ScopeId {
    /// The whole of a document.
    pub fn of(document: u16) -> ScopeId {
        ScopeId {
            document,
            handbook: false,
        }
    }

    /// What the handbook's formulas see when a cell of this document calls them.
    pub fn handbook_for(self) -> ScopeId {
        ScopeId {
            handbook: true,
            ..self
        }
    }
}

/// What a name turned out to be.
#[derive(Clone, Debug)]
pub enum Seen {
    /// A cell whose type is known.
    Known(CellId, Rc<Type>),
    /// A cell that has no type, because of an error of its own or further up.
    Failed(CellId),
    /// A cell that has to be checked first.
    Unchecked(CellId),
    /// A table with its columns in order, the key first.
    Table(Vec<(Box<str>, CellId)>),
    /// Nothing of that name.
    Missing,
}

/// The names around a statement.
pub trait Scope {
    /// The cell or table that a path names, seen from `from`.
    fn look_up(&self, path: &[&str], from: ScopeId) -> Seen;

    /// What is known of a cell by its number.
    fn cell(&self, cell: CellId) -> Seen;

    /// The formula of that name, seen from `from`.
    fn formula(&self, name: &str, from: ScopeId) -> Option<Rc<FormulaDefinition>>;

    /// Names of cells, for “did you mean”.
    fn cell_names(&self, from: ScopeId) -> Vec<String>;

    /// Names of formulas, for “did you mean”.
    fn formula_names(&self, from: ScopeId) -> Vec<String>;

    /// The default, in words, that makes a value with this reference another one here than in the
    /// document that defines the cell: “atmosphere of my-shop.md”.
    fn other_air(&self, cell: CellId, from: ScopeId, reference: Reference) -> Option<String>;

    /// Where a cell is defined, in words: “line 20”, “handbook, Tank tests”.
    fn defined_at(&self, cell: CellId) -> String;

    /// The cell's name as the reader writes it.
    fn name(&self, cell: CellId) -> &str;
}

/// A formula as written, with what messages about its body need.
#[derive(Debug)]
pub struct FormulaDefinition {
    /// Tells definitions apart; a changed definition has another number.
    pub id: u32,
    /// The tree.
    pub tree: syntax::Formula,
    /// The document it stands in, for messages: its path.
    pub path: Rc<str>,
    /// The text of the statement.
    pub text: Rc<str>,
    /// Where that text begins in the document its spans point into.
    pub base: u32,
    /// The line of the document it begins in, from 1.
    pub first_line: usize,
    /// The heading it stands under.
    pub section: Rc<str>,
    /// The title of the document.
    pub chapter: Rc<str>,
    /// The document whose cells its body sees; nothing for a formula of the handbook, whose body
    /// sees the defaults of whoever calls it.
    pub document: Option<u16>,
}

impl FormulaDefinition {
    /// Its name.
    pub fn name(&self) -> &str {
        &self.tree.name.text
    }

    /// The line number (from 1) and the trimmed text of the line a span begins in.
    pub fn line(&self, span: Span) -> (usize, &str) {
        let before = self.snippet(Span {
            start: self.base,
            end: span.start,
        });
        let number = before.matches('\n').count();
        let line = self.text.lines().nth(number).unwrap_or("");
        (self.first_line + number, line.trim())
    }

    /// The text of a span of the body.
    pub fn snippet(&self, span: Span) -> &str {
        span.shifted(-i64::from(self.base)).of(&self.text)
    }

    /// Its signature as one would type it: `bleed_down(tank [gal], …) [cfm free]`.
    pub fn signature(&self) -> String {
        let parameters: Vec<String> = self.tree.parameters.iter().map(parameter_text).collect();
        let head = self
            .tree
            .unit
            .as_ref()
            .map(|unit| format!(" [{}]", syntax::print_unit(unit)))
            .unwrap_or_default();
        format!("{}({}){head}", self.name(), parameters.join(", "))
    }
}

fn parameter_text(parameter: &syntax::Parameter) -> String {
    let unit = parameter
        .unit
        .as_ref()
        .map(|unit| format!(" [{}]", syntax::print_unit(unit)))
        .unwrap_or_default();
    let default = parameter
        .default
        .as_ref()
        .map(|value| format!(" = {}", syntax::print_expr(value)))
        .unwrap_or_default();
    format!("{}{unit}{default}", parameter.name.text)
}
