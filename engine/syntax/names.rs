//! The names that a statement uses, so that what it depends on can be found without knowing what
//! they mean. What it defines is not among them.

use smallvec::SmallVec;

use super::tree::{Expr, Formula, Joint, Name, Statement, UnitExpr, UnitTermKind};
use super::walk::{Walker, walk, walk_expr, walk_formula};
use crate::source::Span;

/// One use of a name. Formula parameters and locals are reported like cells.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NameUse<'t> {
    /// What kind of name it is.
    pub kind: NameKind,
    /// The name and the names behind its dots; a row reached by key counts as one of them, so
    /// `guns["small"].bore` gives `guns`, `bore`.
    pub names: SmallVec<[&'t str; 2]>,
    /// Its place.
    pub span: Span,
}

/// The kinds of names.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum NameKind {
    /// A cell, table, study, parameter or local.
    Cell,
    /// A cell that is given other values: overridden, solved for, swept, fitted or traced.
    Target,
    /// A formula that is called.
    Formula,
    /// A word that can only be a unit.
    Unit,
    /// A unit word behind a tight `/` or `*`, or in round brackets there: it may be a cell.
    UnitOrCell,
}

/// Shows every name that a statement uses.
pub fn visit_names<'t>(statement: &'t Statement, visit: &mut dyn FnMut(NameUse<'t>)) {
    walk(statement, &mut Visitor { visit });
}

struct Visitor<'v, 't> {
    visit: &'v mut dyn FnMut(NameUse<'t>),
}

impl<'t> Visitor<'_, 't> {
    fn give(&mut self, kind: NameKind, names: &[&'t str], span: Span) {
        (self.visit)(NameUse {
            kind,
            names: SmallVec::from_slice(names),
            span,
        });
    }

    fn words(&mut self, unit: &'t UnitExpr, in_bracket: bool, in_group: bool) {
        for term in &unit.terms {
            let is_tight = matches!(term.joint, Joint::Over | Joint::Times);
            match &term.kind {
                UnitTermKind::Word(word) => {
                    let kind = if !in_bracket && (is_tight || in_group) {
                        NameKind::UnitOrCell
                    } else {
                        NameKind::Unit
                    };
                    self.give(kind, &[&**word], term.span);
                }
                UnitTermKind::Group(_, inner) => self.words(inner, in_bracket, true),
                UnitTermKind::One => {}
            }
        }
    }
}

impl<'t> Walker<'t> for Visitor<'_, 't> {
    fn cell(&mut self, names: &[&'t str], span: Span) {
        self.give(NameKind::Cell, names, span);
    }

    fn target(&mut self, names: &[&'t str], span: Span) {
        self.give(NameKind::Target, names, span);
    }

    fn formula(&mut self, name: &'t Name) {
        self.give(NameKind::Formula, &[&*name.text], name.span);
    }

    fn unit(&mut self, unit: &'t UnitExpr, in_bracket: bool) {
        self.words(unit, in_bracket, false);
    }
}

/// Shows every name that a formula uses, its parameters and locals like cells.
pub fn visit_formula_names<'t>(formula: &'t Formula, visit: &mut dyn FnMut(NameUse<'t>)) {
    walk_formula(formula, &mut Visitor { visit });
}

/// Shows every name that an expression uses.
pub fn visit_expr_names<'t>(expr: &'t Expr, visit: &mut dyn FnMut(NameUse<'t>)) {
    walk_expr(expr, &mut Visitor { visit });
}

/// Whether an expression uses a cell or local of this name.
pub fn uses_name(expr: &Expr, name: &str) -> bool {
    let mut used = false;
    visit_expr_names(expr, &mut |one| {
        let may_be_cell = matches!(one.kind, NameKind::Cell | NameKind::UnitOrCell);
        used |= may_be_cell && one.names.first().is_some_and(|first| *first == name);
    });
    used
}
