//! Calls of formulas. A body is checked once for the types it is called with; what was found in
//! it is said again, at the call, each time.

use super::message::{self, Target};
use super::scope::{FormulaDefinition, ScopeId, Seen};
use super::typed_tree::{Node, NodeKind, TypedFormula};
use super::types::{Kind, Type};
use super::unit::ResolvedUnit;
use super::{Checker, Findings, Frame, Outcome, Stop, Typed};
use crate::source::{Inside, Span};
use crate::syntax::{Argument, Clause, Expr, Name};
use rustc_hash::FxHashMap;
use std::rc::Rc;

/// Formulas that were checked, by definition and argument types.
#[derive(Debug, Default)]
pub struct FormulaCache {
    entries: FxHashMap<Key, Entry>,
}

/// The definition, the scope its body sees, and the types it is called with.
type Key = (u32, ScopeId, Vec<Option<Type>>);

#[derive(Debug)]
struct Entry {
    formula: Result<Rc<TypedFormula>, Stop>,
    found: Findings,
    /// The cells the body read, with the types they had.
    read: Vec<(super::CellId, Rc<Type>)>,
}

impl Checker<'_> {
    pub(super) fn call(
        &mut self,
        span: Span,
        name: &Name,
        arguments: &[Argument],
    ) -> Outcome<Typed> {
        if let Some(native) = super::function::find(&name.text) {
            return self.native(span, native, arguments);
        }
        let Some(definition) = self.scope.formula(&name.text, self.from) else {
            return self.unknown_formula(name, Some((span, arguments)));
        };
        if self.frames.iter().any(|frame| {
            frame
                .definition
                .as_ref()
                .is_some_and(|around| around.id == definition.id)
        }) {
            return self.fail(message::recursion(span, &name.text));
        }
        let arranged = self.arrange(span, &definition, arguments)?;
        let mut nodes = Vec::with_capacity(arranged.len());
        let mut types = Vec::with_capacity(arranged.len());
        for (index, argument) in arranged.into_iter().enumerate() {
            let typed = argument
                .map(|expr| self.argument(&definition, index, expr))
                .transpose()?;
            types.push(typed.as_ref().map(|typed| typed.ty.clone()));
            nodes.push(typed.map(|typed| typed.node));
        }
        let formula = self.formula_for(span, &definition, types)?;
        let ty = formula.result_type.clone();
        Ok(Typed {
            node: Node {
                kind: NodeKind::Call(formula, nodes),
                span,
            },
            ty,
        })
    }

    pub(super) fn unknown_formula_named<T>(&mut self, span: Span, name: &str) -> Outcome<T> {
        let name = Name {
            text: name.into(),
            span,
        };
        self.unknown_formula(&name, None)
    }

    fn unknown_formula<T>(&mut self, name: &Name, call: Option<(Span, &[Argument])>) -> Outcome<T> {
        let mut names = self.scope.formula_names(self.from);
        names.extend(super::function::names().map(str::to_owned));
        let nearest = crate::source::nearest(&name.text, names.iter().map(String::as_str));
        let product = match call {
            Some((span, [one])) if self.is_named(&name.text) => {
                let text = self.snippet(one.value.span);
                Some((span, format!("{} * ({text})", name.text)))
            }
            _ => None,
        };
        self.fail(message::unknown_formula(
            name.span, &name.text, nearest, product,
        ))
    }

    /// Puts the arguments in the order of the parameters.
    fn arrange<'e>(
        &mut self,
        span: Span,
        definition: &FormulaDefinition,
        arguments: &'e [Argument],
    ) -> Outcome<Vec<Option<&'e Expr>>> {
        let parameters = &definition.tree.parameters;
        let signature = definition.signature();
        let mut arranged: Vec<Option<&Expr>> = vec![None; parameters.len()];
        let mut next = 0;
        for argument in arguments {
            let index = match &argument.name {
                None => next,
                Some(name) => {
                    let found = parameters
                        .iter()
                        .position(|parameter| parameter.name.text == name.text);
                    match found {
                        Some(index) => index,
                        None => {
                            let names: Vec<&str> = parameters
                                .iter()
                                .map(|parameter| &*parameter.name.text)
                                .collect();
                            return self.fail(message::unknown_parameter(name, &signature, &names));
                        }
                    }
                }
            };
            if index >= parameters.len() {
                return self.fail(message::too_many_arguments(argument.value.span, &signature));
            }
            if arranged[index].is_some() {
                let name = &parameters[index].name.text;
                return self.fail(message::argument_twice(
                    argument.value.span,
                    name,
                    &signature,
                ));
            }
            arranged[index] = Some(&argument.value);
            next = index + 1;
        }
        let missing = parameters
            .iter()
            .zip(&arranged)
            .find(|(parameter, given)| given.is_none() && parameter.default.is_none());
        match missing {
            Some((parameter, _)) => self.fail(message::missing_argument(
                span,
                &parameter.name.text,
                &signature,
            )),
            None => Ok(arranged),
        }
    }

    fn argument(
        &mut self,
        definition: &Rc<FormulaDefinition>,
        index: usize,
        expr: &Expr,
    ) -> Outcome<Typed> {
        let head = self.parameter_unit(definition, index)?;
        let value = self.headed(expr, head.as_ref())?;
        match head {
            Some(head) => {
                let target = Target::Parameter {
                    formula: definition.name().to_owned(),
                    parameter: definition.tree.parameters[index].name.text.to_string(),
                };
                let told = self.tell(value, &head, &target, expr.span)?;
                Ok(with_pressure_told(told))
            }
            None => Ok(value),
        }
    }

    fn parameter_unit(
        &mut self,
        definition: &Rc<FormulaDefinition>,
        index: usize,
    ) -> Outcome<Option<ResolvedUnit>> {
        let parameter = &definition.tree.parameters[index];
        parameter
            .unit
            .as_ref()
            .map(|unit| self.head(unit))
            .transpose()
    }

    /// The formula checked for these argument types, with what was found in it said at the call.
    pub(super) fn formula_for(
        &mut self,
        span: Span,
        definition: &Rc<FormulaDefinition>,
        types: Vec<Option<Type>>,
    ) -> Outcome<Rc<TypedFormula>> {
        let scope = self.scope_of(definition);
        let key = (definition.id, scope, types);
        if !self.is_current(&key) {
            let outer = std::mem::take(&mut self.found);
            let formula = self.body(definition, &key.2);
            let found = std::mem::replace(&mut self.found, outer);
            if let Err(stop @ Stop::Needs(_)) = formula {
                return Err(stop);
            }
            let read = self.types_read(&found);
            self.formulas.entries.insert(
                key.clone(),
                Entry {
                    formula,
                    found,
                    read,
                },
            );
        }
        let Some(entry) = self.formulas.entries.get(&key) else {
            return Err(Stop::Failed);
        };
        for claim in &entry.found.claims {
            self.found.claims.push(super::Claim {
                at: span,
                ..claim.clone()
            });
        }
        for diagnostic in &entry.found.diagnostics {
            let (line, text) = definition.line(diagnostic.span);
            let mut said = diagnostic.clone();
            said.inside.insert(
                0,
                Inside {
                    formula: definition.name().to_owned(),
                    path: definition.path.to_string(),
                    line,
                    text: text.to_owned(),
                },
            );
            said.span = span;
            // Its places are in the body, not in the line that calls.
            for repair in &mut said.repairs {
                repair.replaces = None;
            }
            if !self.found.diagnostics.contains(&said) {
                self.found.diagnostics.push(said);
            }
        }
        for cell in &entry.found.uses {
            if !self.found.uses.contains(cell) {
                self.found.uses.push(*cell);
            }
        }
        self.found
            .sources
            .extend(entry.found.sources.iter().cloned());
        let formula = entry.formula.clone();
        let nested = entry.found.formulas.clone();
        for one in formula.iter().chain(&nested) {
            if !self
                .found
                .formulas
                .iter()
                .any(|known| Rc::ptr_eq(known, one))
            {
                self.found.formulas.push(one.clone());
            }
        }
        formula
    }

    /// Whether a checked body still fits the cells it read.
    fn is_current(&self, key: &Key) -> bool {
        let Some(entry) = self.formulas.entries.get(key) else {
            return false;
        };
        !matches!(entry.formula, Err(Stop::Waits(_)))
            && entry
                .read
                .iter()
                .all(|(cell, ty)| match self.scope.cell(*cell) {
                    Seen::Known(_, now) => now == *ty,
                    _ => false,
                })
    }

    fn scope_of(&self, definition: &FormulaDefinition) -> ScopeId {
        match definition.document {
            Some(document) => ScopeId::of(document),
            None => self.from.handbook_for(),
        }
    }

    fn types_read(&self, found: &Findings) -> Vec<(super::CellId, Rc<Type>)> {
        let known = |cell: &super::CellId| match self.scope.cell(*cell) {
            Seen::Known(id, ty) => Some((id, ty)),
            _ => None,
        };
        found.uses.iter().filter_map(known).collect()
    }

    fn body(
        &mut self,
        definition: &Rc<FormulaDefinition>,
        types: &[Option<Type>],
    ) -> Outcome<Rc<TypedFormula>> {
        let around = (self.from, self.statement, self.base);
        self.from = self.scope_of(definition);
        self.statement = u32::MAX - definition.id;
        self.base = 0;
        // The frames around stay known for recursion, but lend no names.
        self.frames.push(Frame {
            definition: Some(definition.clone()),
            locals: Vec::new(),
        });
        let formula = self.body_in_frame(definition, types);
        self.frames.pop();
        (self.from, self.statement, self.base) = around;
        formula.map(Rc::new)
    }

    fn body_in_frame(
        &mut self,
        definition: &Rc<FormulaDefinition>,
        types: &[Option<Type>],
    ) -> Outcome<TypedFormula> {
        let tree = &definition.tree;
        let mut defaults = Vec::with_capacity(tree.parameters.len());
        for (index, parameter) in tree.parameters.iter().enumerate() {
            let (ty, default) = match (types.get(index).cloned().flatten(), &parameter.default) {
                (Some(ty), _) => (ty, None),
                (None, Some(value)) => {
                    self.in_default = true;
                    let typed = self.argument(definition, index, value);
                    self.in_default = false;
                    let typed = typed?;
                    (typed.ty, Some(typed.node))
                }
                (None, None) => return Err(Stop::Failed),
            };
            defaults.push(default);
            self.add_local(&parameter.name.text, ty);
        }
        let mut locals = Vec::with_capacity(tree.locals.len());
        for index in self.order_of_need(definition)? {
            let local = &tree.locals[index];
            let typed = self.cell(local)?;
            self.add_local(&local.name.text, typed.ty);
            locals.push(typed.node);
        }
        let head = tree.unit.as_ref().map(|unit| self.head(unit)).transpose()?;
        let mut result = self.headed(&tree.result, head.as_ref())?;
        if let Some(head) = head {
            result = self.tell(result, &head, &Target::Bracket, tree.result.span)?;
        }
        let (mut limits, mut cautions) = (Vec::new(), Vec::new());
        for clause in &tree.clauses {
            match clause {
                Clause::Source(_) => {}
                Clause::Limit { condition, text } => {
                    limits.push((self.condition(condition)?.node, text.value.as_ref().into()));
                }
                Clause::Caution { when, text } => {
                    let when = when.as_ref().map(|when| self.condition(when)).transpose()?;
                    cautions.push((when.map(|when| when.node), text.value.as_ref().into()));
                }
            }
        }
        let slots = tree.parameters.len() + tree.locals.len();
        Ok(TypedFormula {
            definition: definition.clone(),
            defaults,
            locals,
            slots,
            result: result.node,
            result_type: result.ty,
            limits,
            cautions,
        })
    }

    fn add_local(&mut self, name: &str, ty: Type) {
        if let Some(frame) = self.frames.last_mut() {
            frame.locals.push((name.into(), ty));
        }
    }

    /// Local cells stand in any order; each comes after those it uses.
    fn order_of_need(&mut self, definition: &FormulaDefinition) -> Outcome<Vec<usize>> {
        let locals = &definition.tree.locals;
        let mut order = Vec::with_capacity(locals.len());
        while order.len() < locals.len() {
            let ready = (0..locals.len()).find(|index| {
                !order.contains(index)
                    && (0..locals.len()).all(|other| {
                        order.contains(&other)
                            || !crate::syntax::uses_name(
                                &locals[*index].value,
                                &locals[other].name.text,
                            )
                    })
            });
            match ready {
                Some(index) => order.push(index),
                None => {
                    let stuck = (0..locals.len())
                        .find(|index| !order.contains(index))
                        .unwrap_or(0);
                    let name = &locals[stuck].name;
                    return self.fail(message::local_cycle(name.span, &name.text));
                }
            }
        }
        Ok(order)
    }
}

/// A parameter in `psi` says that its pressure is a difference, so a body that multiplies it with a
/// volume is not asked again what the reader meant.
fn with_pressure_told(mut typed: Typed) -> Typed {
    if let Kind::Quantity(quantity) = &mut typed.ty.kind {
        quantity.marks.bare_pressure = false;
    }
    typed
}
