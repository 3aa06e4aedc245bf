//! By how much a number changed, to the digits that a reader who subtracts would expect.

use crate::check::{Quantity, State};
use crate::exact::Value;
use crate::notebook::{Notebook, Shown, ShownKind};
use crate::number::Number;
use crate::units::Class;

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

/// Both numbers in the unit shown; nothing where the unit changed.
pub(super) fn numbers(
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
pub(super) fn told_apart(
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

pub(super) fn by(
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
