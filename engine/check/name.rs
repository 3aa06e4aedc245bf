//! Names: cells, tables, columns, locals.

use super::message;
use super::scope::Seen;
use super::typed_tree::{Node, NodeKind};
use super::types::{Kind, Marks, Type};
use super::{Checker, Frame, Outcome, Stop, Typed};
use crate::number::Number;
use crate::source::Span;
use crate::syntax::{Expr, ExprKind, Name};
use crate::units::Reference;

impl Checker<'_> {
    /// A name or a name with names behind dots.
    pub(super) fn named(&mut self, expr: &Expr) -> Outcome<Typed> {
        let mut path = Vec::new();
        if !dotted(expr, &mut path) {
            let span = expr.span;
            let inner = match &expr.kind {
                ExprKind::Member(inner, _) => inner.span,
                _ => span,
            };
            let text = self.snippet(inner);
            return self.fail(message::member_of_value(span, &text));
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
            Seen::Known(id, ty) => {
                self.refuse_other_air(id, &ty, span)?;
                Ok(self.cell_value(id, (*ty).clone(), span))
            }
            Seen::Failed(id) => self.wait_for(id),
            Seen::Unchecked(id) => Err(Stop::Needs(id)),
            Seen::Table(columns) => {
                let names: Vec<&str> = columns.iter().map(|(name, _)| &**name).collect();
                self.fail(message::whole_table(span, &path.join("."), &names))
            }
            Seen::Missing => self.unknown_name(&path, span),
        }
    }

    /// A gauge reading or a flow of free air of another document counts from that document's air.
    fn refuse_other_air(&mut self, id: super::CellId, ty: &Type, span: Span) -> Outcome<()> {
        let Some(quantity) = ty.as_quantity() else {
            return Ok(());
        };
        let Some(reference) = quantity.reference() else {
            return Ok(());
        };
        match self.scope.other_air(id, self.from, reference) {
            Some(other) => {
                let operand = self.operand(quantity, span);
                let name = self.scope.name(id);
                let last = name.rsplit('.').next().unwrap_or(name);
                self.fail(message::used_state(&operand, last, &other))
            }
            None => Ok(()),
        }
    }

    fn cell_value(&mut self, id: super::CellId, mut ty: Type, span: Span) -> Typed {
        if !self.found.uses.contains(&id) {
            self.found.uses.push(id);
        }
        if let Kind::Quantity(quantity) = &mut ty.kind {
            mark_state(self.scope.name(id), &mut quantity.marks);
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
        if let Some((column, table)) = path.split_last()
            && !table.is_empty()
        {
            return self.unknown_member(table, column, span);
        }
        let mut names: Vec<String> = self
            .frames
            .iter()
            .flat_map(|frame| frame.locals.iter().map(|(name, _)| name.to_string()))
            .collect();
        names.extend(self.scope.cell_names(self.from));
        let nearest = crate::source::nearest(&wanted, names.iter().map(String::as_str));
        let place = nearest.and_then(|name| self.place_of(name));
        // `Tank` for `tank` is a slip of the finger, whatever units there are.
        let slip = nearest.is_some_and(|name| name.eq_ignore_ascii_case(&wanted));
        let is_unit = !slip && self.is_unit(&wanted);
        // `12/h`: close behind a sign the amount needs a bracket.
        let before = Span {
            start: span.start.saturating_sub(1),
            end: span.start,
        };
        let tight = matches!(self.written(before), "/" | "*" | "^");
        let unit = match tight {
            true => format!("(1 {wanted})"),
            false => format!("1 {wanted}"),
        };
        let known = message::Stranger {
            nearest: nearest.map(|name| (name, place)),
            formula: self.signature_of(&wanted),
            unit: is_unit.then_some(unit),
        };
        self.fail(message::unknown_name(span, &wanted, known))
    }

    /// `guns.lenght`, `draw.bore`
    fn unknown_member<T>(&mut self, table: &[&str], column: &str, span: Span) -> Outcome<T> {
        let name = table.join(".");
        match self.scope.look_up(table, self.from) {
            Seen::Table(columns) => {
                let names: Vec<&str> = columns.iter().map(|(name, _)| &**name).collect();
                let start = span.end.saturating_sub(column.len() as u32);
                let span = Span { start, ..span };
                self.fail(message::unknown_column(span, &name, column, &names))
            }
            Seen::Missing => {
                let length = name.len() as u32;
                let span = Span {
                    end: span.start + length,
                    ..span
                };
                let names = self.scope.cell_names(self.from);
                let nearest = crate::source::nearest(&name, names.iter().map(String::as_str));
                let known = message::Stranger {
                    nearest: nearest.map(|name| (name, None)),
                    ..Default::default()
                };
                self.fail(message::unknown_name(span, &name, known))
            }
            // A table that could not be read may well have it.
            Seen::Failed(id) => self.wait_for(id),
            Seen::Unchecked(id) => Err(Stop::Needs(id)),
            Seen::Known(..) => self.fail(message::member_of_value(span, &name)),
        }
    }

    /// How a formula or built-in function of that name is called.
    fn signature_of(&self, name: &str) -> Option<String> {
        let native = super::function::find(name).map(|native| native.signature.to_owned());
        let written = || {
            self.scope
                .formula(name, self.from)
                .map(|one| one.signature())
        };
        native.or_else(written)
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
        let columns = match seen {
            Some(Seen::Table(columns)) => columns,
            Some(Seen::Failed(id)) => return self.wait_for(id),
            Some(Seen::Unchecked(id)) => return Err(Stop::Needs(id)),
            _ => {
                let text = self.snippet(table.span);
                return self.fail(message::not_a_table(table.span, &text));
            }
        };
        let table_name = path.join(".");
        let names: Vec<&str> = columns.iter().map(|(name, _)| &**name).collect();
        if keys.len() > columns.len() {
            return self.fail(message::too_many_keys(span, &table_name, &names));
        }
        let target = self.keyed_column(span, (&path, &table_name), column, &columns)?;
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

    /// A column of the table, or one that was added to it.
    fn keyed_column(
        &mut self,
        span: Span,
        (path, table): (&[&str], &str),
        column: &Name,
        columns: &[(Box<str>, super::CellId)],
    ) -> Outcome<Typed> {
        if let Some((_, id)) = columns.iter().find(|(name, _)| **name == *column.text) {
            return self.column_cell(*id, span);
        }
        let mut whole: Vec<&str> = path.to_vec();
        whole.push(&column.text);
        match self.scope.look_up(&whole, self.from) {
            Seen::Known(id, ty) => Ok(self.cell_value(id, (*ty).clone(), span)),
            Seen::Unchecked(id) => Err(Stop::Needs(id)),
            Seen::Failed(id) => self.wait_for(id),
            Seen::Table(_) | Seen::Missing => {
                let names: Vec<&str> = columns.iter().map(|(name, _)| &**name).collect();
                self.fail(message::unknown_column(
                    column.span,
                    table,
                    &column.text,
                    &names,
                ))
            }
        }
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

/// Notes that the pressure of a state goes into a value.
fn mark_state(name: &str, marks: &mut Marks) {
    match name {
        "atmosphere" => marks.atmosphere = true,
        "standard_pressure" => marks.standard = Some(Reference::Standard),
        "normal_pressure" => marks.standard = Some(Reference::Normal),
        "anr_pressure" => marks.standard = Some(Reference::Anr),
        _ => {}
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
