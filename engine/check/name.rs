//! Names: cells, tables, columns, locals.

use super::message;
use super::scope::Seen;
use super::typed_tree::{Node, NodeKind};
use super::types::{Kind, Type};
use super::{Checker, Frame, Outcome, Stop, Typed};
use crate::number::Number;
use crate::source::Span;
use crate::syntax::{Expr, ExprKind, Name};

impl Checker<'_> {
    /// A name or a name with names behind dots.
    pub(super) fn named(&mut self, expr: &Expr) -> Outcome<Typed> {
        let mut path = Vec::new();
        if !dotted(expr, &mut path) {
            let span = expr.span;
            return self.fail(message::member_of_value(span, &self.snippet(span)));
        }
        let span = expr.span;
        if let [name] = path[..] {
            if let Some((slot, ty)) = self.local(name) {
                return Ok(Typed {
                    node: Node {
                        kind: NodeKind::Local(slot),
                        span,
                    },
                    ty,
                });
            }
            if name == "pi" {
                let node = Node {
                    kind: NodeKind::Number(Number::PI),
                    span,
                };
                return Ok(Typed {
                    node,
                    ty: Type::plain(),
                });
            }
        }
        match self.scope.look_up(&path, self.from) {
            Seen::Known(id, ty) => Ok(self.cell_value(id, (*ty).clone(), span)),
            Seen::Failed(id) => self.wait_for(id),
            Seen::Unchecked(id) => Err(Stop::Needs(id)),
            Seen::Table(columns) => {
                let names: Vec<&str> = columns.iter().map(|(name, _)| &**name).collect();
                self.fail(message::whole_table(span, &path.join("."), &names))
            }
            Seen::Missing => self.unknown_name(&path, span),
        }
    }

    fn cell_value(&mut self, id: super::CellId, ty: Type, span: Span) -> Typed {
        if !self.found.uses.contains(&id) {
            self.found.uses.push(id);
        }
        Typed {
            node: Node {
                kind: NodeKind::Cell(id),
                span,
            },
            ty,
        }
    }

    /// A cell that has no type: this one waits, but edges must still be known.
    fn wait_for<T>(&mut self, id: super::CellId) -> Outcome<T> {
        if !self.found.uses.contains(&id) {
            self.found.uses.push(id);
        }
        Err(Stop::Waits(id))
    }

    pub(super) fn unknown_name<T>(&mut self, path: &[&str], span: Span) -> Outcome<T> {
        let wanted = path.join(".");
        let mut names: Vec<String> = self
            .frames
            .iter()
            .flat_map(|frame| frame.locals.iter().map(|(name, _)| name.to_string()))
            .collect();
        names.extend(self.scope.cell_names(self.from));
        let nearest =
            crate::source::nearest(&wanted, names.iter().map(String::as_str)).map(str::to_owned);
        let place = nearest.as_ref().and_then(|name| self.place_of(name));
        let is_formula = path.len() == 1 && self.scope.formula(path[0], self.from).is_some();
        let is_unit = path.len() == 1 && self.is_unit(path[0]);
        self.fail(message::unknown_name(
            span,
            &wanted,
            nearest.as_deref(),
            place,
            is_formula,
            is_unit,
        ))
    }

    fn place_of(&self, name: &str) -> Option<String> {
        let path: Vec<&str> = name.split('.').collect();
        match self.scope.look_up(&path, self.from) {
            Seen::Known(id, _) | Seen::Failed(id) | Seen::Unchecked(id) => {
                Some(self.scope.defined_at(id))
            }
            Seen::Table(_) | Seen::Missing => None,
        }
    }

    /// Whether a cell or local of that name can be seen.
    pub(super) fn is_named(&self, name: &str) -> bool {
        self.local(name).is_some()
            || name == "pi"
            || !matches!(self.scope.look_up(&[name], self.from), Seen::Missing)
    }

    /// `guns["small"].bore`: the column's value in the row with that key.
    pub(super) fn keyed(
        &mut self,
        span: Span,
        table: &Expr,
        keys: &[Expr],
        column: &Name,
    ) -> Outcome<Typed> {
        let mut path = Vec::new();
        let seen = dotted(table, &mut path).then(|| self.scope.look_up(&path, self.from));
        let Some(Seen::Table(columns)) = seen else {
            return self.fail(message::not_a_table(table.span, &self.snippet(table.span)));
        };
        let table_name = path.join(".");
        let Some((_, target)) = columns.iter().find(|(name, _)| **name == *column.text) else {
            let names: Vec<&str> = columns.iter().map(|(name, _)| &**name).collect();
            return self.fail(message::unknown_column(
                column.span,
                &table_name,
                &column.text,
                &names,
            ));
        };
        let target = self.column_cell(*target, span)?;
        if keys.len() > columns.len() {
            return self.fail(message::too_many_keys(span, &table_name));
        }
        let mut pairs = Vec::with_capacity(keys.len());
        let mut many = false;
        for (key, (_, id)) in keys.iter().zip(&columns) {
            let head = self.column_cell(*id, key.span)?;
            let wanted = self.expr(key)?;
            many |= wanted.ty.column;
            let wanted = self.fit_key(wanted, key.span, &head)?;
            pairs.push((head.node, wanted.node));
        }
        let ty = target.ty.columned(many);
        let kind = NodeKind::Row {
            column: Box::new(target.node),
            keys: pairs,
        };
        Ok(Typed {
            node: Node { kind, span },
            ty,
        })
    }

    fn fit_key(&mut self, wanted: Typed, span: Span, head: &Typed) -> Outcome<Typed> {
        if matches!((&wanted.ty.kind, &head.ty.kind), (Kind::Text, Kind::Text)) {
            return Ok(wanted);
        }
        let (_, wanted) = self.meet((head.clone(), span), (wanted, span), message::Doing::Key)?;
        Ok(wanted)
    }

    fn column_cell(&mut self, id: super::CellId, span: Span) -> Outcome<Typed> {
        let name = self.scope.name(id);
        let path: Vec<&str> = name.split('.').collect();
        match self.scope.look_up(&path, self.from) {
            Seen::Known(id, ty) => Ok(self.cell_value(id, (*ty).clone(), span)),
            Seen::Unchecked(id) => Err(Stop::Needs(id)),
            _ => self.wait_for(id),
        }
    }

    /// The number and type of a local.
    pub(super) fn local(&self, name: &str) -> Option<(usize, Type)> {
        let start = self
            .frames
            .iter()
            .rposition(|frame| frame.definition.is_some())
            .unwrap_or(0);
        let locals = self.frames[start.min(self.frames.len())..]
            .iter()
            .flat_map(|frame| &frame.locals);
        let all: Vec<&(Box<str>, Type)> = locals.collect();
        let index = all.iter().rposition(|(local, _)| **local == *name)?;
        Some((index, all[index].1.clone()))
    }

    /// Adds a local in a frame of its own, and gives its number.
    pub(super) fn push_local(&mut self, name: &str, ty: Type) -> usize {
        let start = self
            .frames
            .iter()
            .rposition(|frame| frame.definition.is_some())
            .unwrap_or(0);
        let slot = self.frames[start.min(self.frames.len())..]
            .iter()
            .map(|frame| frame.locals.len())
            .sum();
        self.frames.push(Frame {
            definition: None,
            locals: vec![(name.into(), ty)],
        });
        slot
    }

    pub(super) fn pop_local(&mut self) {
        self.frames.pop();
    }

    /// A default cell of the handbook, as this notebook has it.
    pub(super) fn default_cell(&mut self, name: &str, span: Span) -> Outcome<Typed> {
        match self.scope.look_up(&[name], self.from) {
            Seen::Known(id, ty) => Ok(self.cell_value(id, (*ty).clone(), span)),
            Seen::Unchecked(id) => Err(Stop::Needs(id)),
            Seen::Failed(id) => self.wait_for(id),
            Seen::Table(_) | Seen::Missing => self.unknown_name(&[name], span),
        }
    }
}

/// The names of a path such as `shop.guns.bore`, if the expression is one.
fn dotted<'e>(expr: &'e Expr, path: &mut Vec<&'e str>) -> bool {
    match &expr.kind {
        ExprKind::Name(name) => {
            path.push(name);
            true
        }
        ExprKind::Member(inner, name) => {
            let ok = dotted(inner, path);
            path.push(&name.text);
            ok
        }
        _ => false,
    }
}
