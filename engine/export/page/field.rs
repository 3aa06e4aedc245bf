//! The literals that become fields of a page: what a person typed into cells, tables and the
//! defaults that results rest on. A literal in the middle of an expression stays where it is,
//! except a reading or a value with a ± at the beginning of a sum, to which a shared error is added.

use crate::check::{CellId, Meaning, MeaningKind, Place, Quantity, State};
use crate::notebook::{CellState, Notebook, Role, StatementId, Tag};
use crate::number::Number;
use crate::plan::{Constant, Operation, Plan};
use crate::source::Span;
use crate::syntax::{
    BinaryOperator, Cell, Expr, ExprKind, FieldKind as TableField, Literal, Numeral, PlusMinus,
    StatementKind, Tag as MeaningTag, TagKind, print_expr,
};
use crate::units::Class;

/// Tables with more rows than this are not typed into: they are data.
const MOST_ROWS: usize = 40;

/// What a field holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FieldKind {
    /// A number, perhaps with a ±.
    Number,
    /// Several numbers with one unit.
    List,
    /// Repeated readings.
    Readings,
    /// On or off.
    Switch,
    /// A text.
    Text,
}

/// A literal that a reader may replace.
#[derive(Clone, Debug)]
pub struct Field {
    /// The cell it stands in.
    pub cell: CellId,
    /// The statement it stands in.
    pub statement: StatementId,
    /// What it holds.
    pub kind: FieldKind,
    /// Where the literal stands in the text of its statement, its ± included.
    pub span: Span,
    /// The place of the step of the plan that gives its value.
    pub place: Place,
    /// For readings with a ± of their own, the place of the readings inside.
    pub readings: Option<Place>,
    /// As typed, without the unit.
    pub text: String,
    /// What stands behind ±, as typed; without the unit where that is the field's.
    pub amount: Option<String>,
    /// How the amount is meant.
    pub meaning: Meaning,
    /// The same as one types it: `95 %`; nothing for a limit.
    pub tag: Option<String>,
    /// Unit and reference of a number.
    pub quantity: Option<Quantity>,
    /// The row of a table.
    pub row: Option<usize>,
}

/// The fields of a notebook in the order of its document, then the defaults among `cells`.
pub fn fields(notebook: &Notebook, cells: &[CellId]) -> Vec<Field> {
    let mut fields = Vec::new();
    let mut own: Vec<CellId> = cells
        .iter()
        .copied()
        .filter(|cell| {
            let record = notebook.cell(*cell);
            record.part == 0 && record.state == CellState::Ok && may_have_fields(notebook, *cell)
        })
        .collect();
    own.sort_by_key(|cell| {
        let record = notebook.cell(*cell);
        (record.role == Role::Handbook, record.statement, *cell)
    });
    for cell in own {
        Finder::new(notebook, cell).find(&mut fields);
    }
    fields
}

fn may_have_fields(notebook: &Notebook, cell: CellId) -> bool {
    let record = notebook.cell(cell);
    match record.role {
        Role::Given | Role::WorkedOut | Role::Column(_) => true,
        // Tables of the handbook are data, states of standards are what they are.
        Role::Handbook => {
            notebook.statement(record.statement).tag == Tag::Default && !record.name.contains('.')
        }
        _ => false,
    }
}

/// Looks for the fields of one cell.
struct Finder<'n> {
    notebook: &'n Notebook,
    cell: CellId,
    statement: StatementId,
    text: &'n str,
    /// Where places of this statement are counted from.
    base: u32,
}

impl<'n> Finder<'n> {
    fn new(notebook: &'n Notebook, cell: CellId) -> Finder<'n> {
        let statement = notebook.cell(cell).statement;
        let record = notebook.statement(statement);
        Finder {
            notebook,
            cell,
            statement,
            text: notebook.text_of(statement),
            base: if record.edited.is_some() {
                0
            } else {
                record.span.start
            },
        }
    }

    fn find(&self, fields: &mut Vec<Field>) {
        let role = self.notebook.cell(self.cell).role;
        let tree = self.notebook.tree(self.statement);
        match (&tree.kind, role) {
            (StatementKind::Cell(cell) | StatementKind::Default(cell), _) => {
                fields.extend(self.of_cell(cell, role));
            }
            (StatementKind::Table(table), Role::Column(column)) => {
                if table.rows.len() > MOST_ROWS || table.file.is_some() {
                    return;
                }
                for (number, row) in table.rows.iter().enumerate() {
                    let Some(field) = row.fields.get(usize::from(column)) else {
                        continue;
                    };
                    if let TableField::Quantity(expr) = &field.kind {
                        let found = self.of_expr(expr, false);
                        fields.extend(found.map(|field| Field {
                            row: Some(number),
                            ..field
                        }));
                    }
                }
            }
            _ => {}
        }
    }

    fn of_cell(&self, cell: &Cell, role: Role) -> Option<Field> {
        match role {
            Role::Given => self.of_expr(&cell.value, true),
            Role::Handbook => self
                .notebook
                .cell(self.cell)
                .uses
                .is_empty()
                .then(|| self.of_expr(&cell.value, true))?,
            _ => self.of_sum(&cell.value),
        }
    }

    /// `126 psig ± 0.5 psi + needle_zero`
    fn of_sum(&self, expr: &Expr) -> Option<Field> {
        match &expr.kind {
            ExprKind::Bracketed(inner) | ExprKind::In(inner, _) => self.of_sum(inner),
            ExprKind::Binary(BinaryOperator::Plus | BinaryOperator::Minus, left, _) => {
                match &left.kind {
                    ExprKind::Binary(..) => self.of_sum(left),
                    _ => {
                        let field = self.of_expr(left, false)?;
                        let point = field.quantity.as_ref().is_some_and(is_point);
                        (field.amount.is_some() || point).then_some(field)
                    }
                }
            }
            _ => None,
        }
    }

    /// The field of an expression that is a literal; `whole` where it is all of its cell.
    fn of_expr(&self, expr: &Expr, whole: bool) -> Option<Field> {
        match &expr.kind {
            ExprKind::Bracketed(inner) | ExprKind::In(inner, _) => self.of_expr(inner, whole),
            ExprKind::Literal(literal) => self.of_literal(expr, literal, whole),
            ExprKind::Switch(on) => {
                let text = if *on { "on" } else { "off" };
                Some(self.plain(expr, FieldKind::Switch, text.to_owned()))
            }
            ExprKind::Text(text) => Some(self.plain(expr, FieldKind::Text, text.to_string())),
            ExprKind::Column(column) => {
                let numbers = self.numbers_of(&column.items)?;
                column.unit.as_ref()?;
                let field = self.plain(expr, FieldKind::List, numbers);
                let quantity = self.own_quantity()?;
                self.with_amount(field, quantity, column.plus_minus.as_ref(), false)
            }
            ExprKind::Readings(column, plus_minus) => {
                let ExprKind::Column(inner) = &column.kind else {
                    return None;
                };
                let numbers = self.numbers_of(&inner.items)?;
                if inner.plus_minus.is_some() || inner.unit.is_none() {
                    return None;
                }
                let field = self.plain(expr, FieldKind::Readings, numbers);
                let quantity = self.own_quantity()?;
                self.with_amount(field, quantity, plus_minus.as_deref(), true)
            }
            _ => None,
        }
    }

    fn plain(&self, expr: &Expr, kind: FieldKind, text: String) -> Field {
        Field {
            cell: self.cell,
            statement: self.statement,
            kind,
            span: expr.span,
            place: self.place(expr.span),
            readings: None,
            text,
            amount: None,
            meaning: Meaning {
                kind: MeaningKind::Limit,
                dof: None,
            },
            tag: None,
            quantity: None,
            row: None,
        }
    }

    fn place(&self, span: Span) -> Place {
        Place {
            statement: self.statement.0,
            offset: span.start.saturating_sub(self.base),
        }
    }

    fn own_quantity(&self) -> Option<Quantity> {
        let ty = self.notebook.cell(self.cell).ty.as_deref()?;
        ty.as_quantity().cloned()
    }

    /// Plain numbers side by side; nothing if any says more than its number.
    fn numbers_of(&self, items: &[Expr]) -> Option<String> {
        let mut numbers = Vec::with_capacity(items.len());
        for item in items {
            match &item.kind {
                ExprKind::Literal(literal)
                    if literal.unit.is_none() && literal.plus_minus.is_none() =>
                {
                    numbers.push(literal_text(literal));
                }
                _ => return None,
            }
        }
        Some(numbers.join(", "))
    }

    fn of_literal(&self, expr: &Expr, literal: &Literal, whole: bool) -> Option<Field> {
        let field = self.plain(expr, FieldKind::Number, literal_text(literal));
        let amount_has_unit = literal.plus_minus.as_ref().is_some_and(|plus_minus| {
            matches!(&plus_minus.amount.kind, ExprKind::Literal(amount) if amount.unit.is_some())
        });
        let typed = (literal.unit.is_some() || amount_has_unit)
            .then(|| self.quantity_of(expr.span))
            .flatten();
        let in_column = matches!(self.notebook.cell(self.cell).role, Role::Column(_));
        let quantity = match typed {
            Some(quantity) => quantity,
            None if whole || in_column => self.own_quantity()?,
            None => return None,
        };
        self.with_amount(field, quantity, literal.plus_minus.as_deref(), false)
    }

    /// Unit and reference of a literal by itself.
    fn quantity_of(&self, span: Span) -> Option<Quantity> {
        let part = self.notebook.cell(self.cell).part;
        let worked = self
            .notebook
            .work_expression(part, span.of(self.text))
            .ok()?;
        worked.typed.ty.as_quantity().cloned()
    }

    fn with_amount(
        &self,
        field: Field,
        quantity: Quantity,
        plus_minus: Option<&PlusMinus>,
        readings: bool,
    ) -> Option<Field> {
        let Some(plus_minus) = plus_minus else {
            return Some(Field {
                quantity: Some(quantity),
                ..field
            });
        };
        let own = self.place(plus_minus.span);
        Some(Field {
            amount: Some(self.amount_text(plus_minus, &quantity)?),
            meaning: meaning(plus_minus.tag.as_ref())?,
            tag: plus_minus.tag.as_ref().map(tag_text),
            quantity: Some(quantity),
            readings: readings.then_some(field.place),
            place: own,
            span: field.span.to(plus_minus.span),
            ..field
        })
    }

    /// The amount as typed; without its unit where that is the step of the value's.
    fn amount_text(&self, plus_minus: &PlusMinus, quantity: &Quantity) -> Option<String> {
        let amount = match &plus_minus.amount.kind {
            ExprKind::Literal(amount) => amount,
            // A cell or an expression behind ± is not typed into a field.
            _ => return None,
        };
        if let Some(of) = &plus_minus.of {
            return Some(format!(
                "{} of {}",
                print_expr(&plus_minus.amount),
                print_expr(of)
            ));
        }
        if amount.unit.is_some() && !self.is_in_steps_of(plus_minus.amount.span, quantity) {
            return Some(print_expr(&plus_minus.amount));
        }
        Some(literal_text(amount))
    }

    fn is_in_steps_of(&self, amount: Span, quantity: &Quantity) -> bool {
        let Some(amount) = self.quantity_of(amount) else {
            return false;
        };
        let registry = self.notebook.registry();
        let (from, to) = (registry.bare(&amount.unit), registry.bare(&quantity.unit));
        registry.is_percent(&amount.unit) == registry.is_percent(&quantity.unit)
            && registry
                .factor(&from, &to)
                .is_some_and(|factor| factor.is_one())
    }
}

/// Whether a quantity is a place on a scale or a level, of which no share is taken.
pub fn is_point(quantity: &Quantity) -> bool {
    match quantity.state {
        State::Is(reference) => matches!(reference.row().class, Class::Point | Class::Level),
        _ => false,
    }
}

/// The step of a plan that a field stands for: a step that says its place, or one that begins
/// where the literal does.
pub fn step_of(plan: &Plan, step: usize, statement: StatementId, base: u32) -> Option<Place> {
    let step = plan.steps.get(step)?;
    match &step.operation {
        Operation::Uncertain(uncertain) => Some(uncertain.place),
        Operation::Readings(_, place, ..) => Some(*place),
        Operation::Constant(Constant::Number(_) | Constant::Text(_) | Constant::Switch(_))
        | Operation::Column(_) => {
            let site = plan.sites.get(step.site as usize)?;
            site.call.is_none().then(|| Place {
                statement: statement.0,
                offset: site.span.start.saturating_sub(base),
            })
        }
        _ => None,
    }
}

fn literal_text(literal: &Literal) -> String {
    let sign = if literal.negative { "-" } else { "" };
    format!("{sign}{}", numeral_text(&literal.number))
}

fn numeral_text(numeral: &Numeral) -> String {
    match numeral.fraction {
        None => numeral.digits.to_string(),
        Some((up, down)) if numeral.digits.is_empty() => format!("{up}/{down}"),
        Some((up, down)) => format!("{} {up}/{down}", numeral.digits),
    }
}

fn meaning(tag: Option<&MeaningTag>) -> Option<Meaning> {
    let Some(tag) = tag else {
        return Some(Meaning {
            kind: MeaningKind::Limit,
            dof: None,
        });
    };
    let read = |numeral: &Numeral| Number::read(&numeral.digits).ok();
    let kind = match &tag.kind {
        None => MeaningKind::Limit,
        Some(TagKind::Step) => MeaningKind::Step,
        Some(TagKind::Triangular) => MeaningKind::Triangular,
        Some(TagKind::UShaped) => MeaningKind::UShaped,
        Some(TagKind::Coverage(numeral)) => MeaningKind::Coverage(read(numeral)?),
        Some(TagKind::Probability(numeral)) => {
            MeaningKind::Probability(read(numeral)?.over(Number::from(100)).ok()?)
        }
    };
    let dof = match &tag.dof {
        Some(numeral) => Some(read(numeral)?),
        None => None,
    };
    Some(Meaning { kind, dof })
}

fn tag_text(tag: &MeaningTag) -> String {
    let kind = tag.kind.as_ref().map(|kind| match kind {
        TagKind::Coverage(number) => format!("k = {}", numeral_text(number)),
        TagKind::Probability(number) => format!("{} %", numeral_text(number)),
        TagKind::Step => "step".to_owned(),
        TagKind::Triangular => "triangular".to_owned(),
        TagKind::UShaped => "u_shaped".to_owned(),
    });
    let dof = tag
        .dof
        .as_ref()
        .map(|number| format!("dof = {}", numeral_text(number)));
    kind.into_iter().chain(dof).collect::<Vec<_>>().join(", ")
}
