//! What an edit moved: each cell that changed, as it was and as it is, and each check that
//! flipped. What stayed is not listed.

use super::check::{Chance, CheckLine, Outcome, judge, line};
use super::reading::Reading;
use super::section::{RowState, state};
use super::sentence::{Sentence, sentence};
use crate::check::{CellId, Quantity, State, Type};
use crate::exact::Value;
use crate::notebook::{Edit, Moved, Notebook, Precision, Role, Shown, ShownKind, Tag};
use crate::number::Number;
use crate::units::Class;

/// What an edit did.
#[derive(Clone, Debug, Default)]
pub struct Rippled {
    /// Cells that are new, or set to what they were before.
    pub sentences: Vec<Sentence>,
    /// What else was defined, as in “formula bend”.
    pub defined: Option<String>,
    /// A check that is new.
    pub check: Option<CheckLine>,
    /// Cells that changed, those set first.
    pub changes: Vec<Change>,
    /// Checks whose outcome changed.
    pub flips: Vec<FlipLine>,
    /// Cells that have no value any more, and why.
    pub broken: Vec<(String, RowState)>,
}

/// A cell, or a row of a column, that changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Its name as one types it.
    pub name: String,
    /// As it was; nothing where it had no value.
    pub was: Option<Shown>,
    /// As it is.
    pub now: Shown,
    /// By how much.
    pub by: Option<By>,
}

/// By how much a number changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct By {
    /// The difference, with its sign, one digit more than the values show unless it is exact.
    pub amount: String,
    /// Its unit, where it is not that of the values: readings differ by `psi`.
    pub unit: Option<String>,
    /// The difference as a share of what was, in percent with its sign; nothing for readings,
    /// levels and percentages.
    pub percent: Option<String>,
}

/// A check whose outcome changed.
#[derive(Clone, Debug, PartialEq)]
pub struct FlipLine {
    /// The condition as written.
    pub condition: String,
    /// How it was.
    pub was: (Outcome, Option<Chance>),
    /// How it is.
    pub now: (Outcome, Option<Chance>),
}

/// Reads an edit out.
pub fn ripple(notebook: &Notebook, edit: &Edit) -> Rippled {
    let reading = Reading::of(notebook);
    let mut rippled = Rippled::default();
    let own = reading.cells_of(edit.statement).to_vec();
    let record = notebook.statement(edit.statement);
    for moved in &edit.ripple.moved {
        let new = edit.added && own.contains(&moved.cell);
        let column = matches!(notebook.value(moved.cell), Value::Column(_));
        match (new, column) {
            (true, _) => rippled.sentences.push(sentence(notebook, moved.cell)),
            (false, true) => rippled.changes.extend(changed_rows(&reading, moved)),
            (false, false) => rippled.changes.extend(change(notebook, moved)),
        }
    }
    for flip in &edit.ripple.flipped {
        if edit.added && own.contains(&flip.cell) {
            rippled.check = line(&reading, edit.statement, flip.cell);
        } else {
            rippled
                .flips
                .extend(flipped(&reading, flip.cell, &flip.was));
        }
    }
    for cell in &edit.ripple.broken {
        let name = reading.name(*cell);
        if !name.is_empty() && notebook.cell(*cell).role != Role::Handbook {
            rippled.broken.push((name, state(&reading, *cell)));
        }
    }
    if !record.removed {
        rippled.defined = defined(notebook, edit);
        let nothing = rippled.changes.is_empty() && rippled.broken.is_empty();
        if nothing && rippled.sentences.is_empty() && record.tag == Tag::Cell {
            rippled.sentences = own.iter().map(|cell| sentence(notebook, *cell)).collect();
        }
    }
    rippled
}

fn defined(notebook: &Notebook, edit: &Edit) -> Option<String> {
    use crate::syntax::StatementKind;
    match notebook.tree(edit.statement).kind {
        StatementKind::Formula(formula) => Some(format!("formula {}", formula.name.text)),
        StatementKind::Table(table) => Some(format!("table {}", table.name.text)),
        StatementKind::Unit(unit) => {
            let names: Vec<&str> = unit.names.iter().map(|name| &*name.text).collect();
            Some(format!("unit {}", names.join(", ")))
        }
        _ => None,
    }
}

fn flipped(reading: &Reading<'_>, cell: CellId, was: &Value) -> Option<FlipLine> {
    let statement = reading.notebook.cell(cell).statement;
    let line = line(reading, statement, cell)?;
    let was = judge(was);
    let same = match (&was.0, &line.outcome) {
        (Outcome::Unknown(_), Outcome::Unknown(_)) => true,
        (a, b) => a == b,
    };
    (!same).then_some(FlipLine {
        condition: line.condition,
        was,
        now: (line.outcome, line.chance),
    })
}

/// One cell that changed; nothing where no digit of it did.
fn change(notebook: &Notebook, moved: &Moved) -> Option<Change> {
    let ty = notebook.cell(moved.cell).ty.clone();
    let now = notebook.value(moved.cell);
    compared(
        notebook,
        reading_name(notebook, moved.cell),
        (moved.was.clone(), moved.was_value.as_ref()),
        (notebook.shown(moved.cell, None), now),
        ty.as_deref(),
    )
}

fn reading_name(notebook: &Notebook, cell: CellId) -> String {
    notebook.cell(cell).name.to_string()
}

/// The rows of a column that changed.
fn changed_rows(reading: &Reading<'_>, moved: &Moved) -> Vec<Change> {
    let notebook = reading.notebook;
    let Value::Column(rows) = notebook.value(moved.cell) else {
        return Vec::new();
    };
    let ty = notebook.cell(moved.cell).ty.clone();
    let now = notebook.shown_rows(moved.cell, rows.len());
    let names = super::check::row_names(reading, moved.cell, rows.len());
    let mut changes = Vec::new();
    for (row, (now, name)) in now.into_iter().zip(names).enumerate() {
        let was_value = moved.was_value.as_ref().map(|was| was.row(row));
        if was_value.as_ref() == Some(&rows[row]) {
            continue;
        }
        let was = was_value
            .as_ref()
            .filter(|value| !matches!(value, Value::Gap | Value::Failed(_)))
            .map(|value| notebook.shown_value(value, ty.as_deref(), Precision::Table));
        let values = (was, was_value.as_ref());
        changes.extend(compared(
            notebook,
            name,
            values,
            (now, &rows[row]),
            ty.as_deref(),
        ));
    }
    changes
}

fn compared(
    notebook: &Notebook,
    name: String,
    (was, was_value): (Option<Shown>, Option<&Value>),
    (now, now_value): (Shown, &Value),
    ty: Option<&Type>,
) -> Option<Change> {
    let quantity = ty.and_then(Type::as_quantity);
    let (Some(was), Some(before), Some(quantity)) = (&was, was_value, quantity) else {
        let same = was.as_ref() == Some(&now);
        return (!same).then_some(Change {
            name,
            was,
            now,
            by: None,
        });
    };
    let numbers = numbers(notebook, quantity, (was, before), (&now, now_value));
    let (was, now) = match (was.line() == now.line(), numbers) {
        (true, Some(numbers)) => told_apart(was, &now, numbers)?,
        (true, None) => return None,
        (false, _) => (was.clone(), now),
    };
    let by = numbers.and_then(|numbers| by(notebook, quantity, numbers, (&was, &now)));
    Some(Change {
        name,
        was: Some(was),
        now,
        by,
    })
}

/// Both numbers in the unit shown; nothing where the unit changed.
fn numbers(
    notebook: &Notebook,
    quantity: &Quantity,
    (was, before): (&Shown, &Value),
    (now, after): (&Shown, &Value),
) -> Option<(Number, Number)> {
    let words = was.kind == ShownKind::Word || now.kind == ShownKind::Word;
    if words || was.unit != now.unit {
        return None;
    }
    let (_, factor) = notebook.display_unit(quantity);
    let before = before.number()?.scaled(&factor).ok()?;
    let after = after.number()?.scaled(&factor).ok()?;
    // The unit a number is held in may have changed where the one shown did not.
    let near = Number::read(&was.value).ok().is_none_or(|shown| {
        let places = decimal_places(&was.value);
        let step = Number::ONE.shifted(-places).unwrap_or(Number::ONE);
        let off = shown.minus(before).map(Number::magnitude);
        off.is_ok_and(|off| off.compare(step).is_le())
    });
    near.then_some((before, after))
}

/// Digits added until was and now differ; nothing where no digit does.
fn told_apart(
    was: &Shown,
    now: &Shown,
    (before, after): (Number, Number),
) -> Option<(Shown, Shown)> {
    let shown = |one: &Shown, number: Number, digits: u32| Shown {
        value: number.shown_with(digits),
        ..one.clone()
    };
    (5..=28)
        .map(|digits| (shown(was, before, digits), shown(now, after, digits)))
        .find(|(was, now)| was.value != now.value)
}

fn by(
    notebook: &Notebook,
    quantity: &Quantity,
    (before, after): (Number, Number),
    (was, now): (&Shown, &Shown),
) -> Option<By> {
    let difference = after.minus(before).ok()?;
    if difference.is_zero() {
        return None;
    }
    let places = decimal_places(&was.value).max(decimal_places(&now.value)) + 1;
    let amount = signed(difference, |size| {
        let exact = size.full();
        let few = decimal_places(&exact) <= places;
        match (few, u32::try_from(places)) {
            (true, _) => exact,
            (false, Ok(places)) => size.fixed(places),
            (false, Err(_)) => size.shown(),
        }
    });
    let registry = notebook.registry();
    let (unit, _) = notebook.display_unit(quantity);
    let class = match &quantity.state {
        State::Is(reference) => Some(reference.row().class),
        _ => None,
    };
    let percent = was.unit == "%" || was.unit == "pp";
    let unit = match class {
        _ if percent => Some("pp".to_owned()),
        Some(Class::Point | Class::Level) => {
            let step = quantity.reference().map(|reference| reference.step());
            Some(registry.show(&registry.bare(&unit), step))
        }
        _ => None,
    };
    let percent = match (&unit, before.is_zero()) {
        (None, false) => share(difference, before),
        _ => None,
    };
    Some(By {
        amount,
        unit,
        percent,
    })
}

fn share(difference: Number, before: Number) -> Option<String> {
    let share = difference.over(before.magnitude()).ok()?.shifted(2).ok()?;
    Some(signed(share, |size| size.shown_with(2)))
}

fn signed(number: Number, write: impl Fn(Number) -> String) -> String {
    let sign = if number.is_negative() { "-" } else { "+" };
    format!("{sign}{}", write(number.magnitude()))
}

/// Digits behind the point, less the exponent.
fn decimal_places(digits: &str) -> i32 {
    let (mantissa, exponent) = match digits.split_once('e') {
        Some((mantissa, exponent)) => (mantissa, exponent.parse::<i32>().unwrap_or(0)),
        None => (digits, 0),
    };
    let behind = mantissa
        .split_once('.')
        .map_or(0, |(_, behind)| behind.len());
    i32::try_from(behind).unwrap_or(i32::MAX / 2) - exponent
}
