//! The values that a message is about, as far as words go: what each is, what it counts from, how
//! it was typed and how it could be retyped. Knows nothing of types and trees.

use super::{called, is_balanced};
use crate::source::{Diagnostic, Span};
use crate::units::{Family, Reference};

/// One of the values a message is about.
#[derive(Clone, Debug)]
pub(in crate::check) struct Operand {
    pub(in crate::check) span: Span,
    /// As written.
    pub(in crate::check) text: String,
    /// The thing with its reference: “a gauge reading”.
    pub(in crate::check) noun: String,
    /// The thing by its dimension: “a pressure”.
    pub(in crate::check) kind: String,
    pub(in crate::check) counts: Option<&'static str>,
    pub(in crate::check) reference: Option<Reference>,
    /// The family of a value that states no reference.
    pub(in crate::check) open: Option<Family>,
    pub(in crate::check) unit: String,
    /// Its unit with each reference it might have been typed with.
    pub(in crate::check) respelled: Vec<(Reference, String)>,
    /// The same unit made of a force, where it has a mass and a force was probably meant.
    pub(in crate::check) force: Option<String>,
}

impl Operand {
    /// The number of a literal or the items of a column, as written; nothing for anything else.
    fn number(&self) -> Option<&str> {
        let end = if self.text.starts_with('{') {
            self.text.find('}').map_or(0, |at| at + 1)
        } else {
            number_length(&self.text)
        };
        let (number, unit) = self.text.split_at_checked(end)?;
        let signs = ['±', '+', '(', '{', '*', ',', '=', '<', '>'];
        let one_unit = !unit.contains(signs) && !unit.starts_with('/');
        let no_sign = !unit.contains(" / ") && !unit.contains(" - ");
        (!number.is_empty() && one_unit && no_sign).then_some(number)
    }

    /// Whether it is a number as typed, with or without a unit.
    pub(super) fn is_literal(&self) -> bool {
        self.number().is_some()
    }

    /// Whether it is a name or a number, which needs no bracket in a product.
    pub(super) fn is_simple(&self) -> bool {
        let is_name = |c: char| c.is_alphanumeric() || c == '_' || c == '.';
        let amount = self.text.strip_prefix('$').map(str::trim_start);
        let is_money = amount.is_some_and(|amount| number_length(amount) == amount.len());
        self.text.chars().all(is_name) || is_money || self.is_literal()
    }

    /// A typed number without a unit.
    pub(super) fn is_bare_number(&self) -> bool {
        self.unit == "1" && self.number() == Some(&*self.text)
    }

    /// The same number with another unit.
    pub(super) fn with_unit(&self, unit: &str) -> Option<String> {
        Some(format!("{} {unit}", self.number()?))
    }

    /// The same literal with the unit of another reference: `126 psi` as `126 psig`. The degrees
    /// of a thermometer are never those of an absolute temperature.
    pub(super) fn retyped(&self, reference: Reference) -> Option<String> {
        let reading = self.reference == Some(Reference::Thermometer);
        if reading && reference == Reference::Thermodynamic {
            return None;
        }
        self.with_unit(self.respelling(reference)?)
    }

    /// Its unit with a reference.
    pub(super) fn respelling(&self, reference: Reference) -> Option<&str> {
        let found = self.respelled.iter().find(|(one, _)| *one == reference);
        found.map(|(_, unit)| unit.as_str())
    }

    /// The text in brackets, where a product would take it apart.
    pub(super) fn factor(&self) -> String {
        if self.is_simple() {
            self.text.clone()
        } else {
            format!("({})", self.text)
        }
    }

    pub(super) fn with_value(&self, diagnostic: Diagnostic) -> Diagnostic {
        diagnostic.value(self.text.clone(), self.text.clone())
    }

    /// “, counted from the air outside”
    pub(super) fn counted(&self) -> String {
        self.counts
            .map(|counts| format!(", {counts}"))
            .unwrap_or_default()
    }

    /// The call that takes it to another reference, if there is one; line air needs its pressure
    /// and temperature too.
    pub(super) fn converted(&self, to: Reference) -> Option<String> {
        let function = match (self.reference, self.open) {
            (Some(from), _) => conversion(from, to)?,
            (None, Some(Family::Pressure)) if to == Reference::Gauge => "gauge",
            (None, Some(Family::Temperature)) if to == Reference::Thermometer => "thermometer",
            _ => return None,
        };
        let line = self.reference == Some(Reference::Actual) || to == Reference::Actual;
        let call = called(function, &self.text);
        Some(match (line, call.strip_suffix(')')) {
            (true, Some(open)) => format!("{open}, pressure: 90 psig, temperature: 80 °F)"),
            _ => call,
        })
    }
}

/// How much of a text is its number: `126`, `1.2e-3`, `1 1/2`, `-40`.
fn number_length(text: &str) -> usize {
    let digits = |from: usize, signs: &str| {
        let run = |c: &char| c.is_ascii_digit() || signs.contains(*c);
        let rest = text.get(from..).unwrap_or("");
        from + rest
            .chars()
            .take_while(run)
            .map(char::len_utf8)
            .sum::<usize>()
    };
    let start = usize::from(text.starts_with('-'));
    let end = digits(start, "._/");
    if end == start {
        return 0;
    }
    if text[end..].starts_with('e') {
        let exponent = digits(end + 1, "-+");
        return if exponent > end + 1 { exponent } else { end };
    }
    let fraction = digits(end + 1, "/");
    let is_fraction = text[end..].starts_with(' ') && text[end..fraction].contains('/');
    if is_fraction { fraction } else { end }
}

/// The function that takes a value from one reference to another.
fn conversion(from: Reference, to: Reference) -> Option<&'static str> {
    use Reference::*;
    let air = |one: Reference| matches!(one, Free | Actual | Standard | Normal | Anr);
    match (from, to) {
        (Gauge, Absolute) | (Thermometer, Thermodynamic) => Some("absolute"),
        (Absolute, Gauge) => Some("gauge"),
        (Thermodynamic, Thermometer) => Some("thermometer"),
        (Gauge, Difference) => Some("overpressure"),
        (one, Free) if air(one) => Some("free_air"),
        (one, Standard) if air(one) => Some("standard_air"),
        (one, Normal) if air(one) => Some("normal_air"),
        (one, Anr) if air(one) => Some("anr_air"),
        (one, Actual) if air(one) => Some("actual_air"),
        _ => None,
    }
}

/// Two values that met, and what stands between them.
#[derive(Clone, Debug)]
pub(in crate::check) struct Pair {
    pub(in crate::check) left: Operand,
    pub(in crate::check) right: Operand,
    /// The text between them, where the right one stands behind the left one.
    pub(in crate::check) between: Option<String>,
}

/// One of two.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::check) enum Side {
    Left,
    Right,
}

impl Pair {
    /// The place of both.
    pub(super) fn span(&self) -> Span {
        self.left.span.to(self.right.span)
    }

    pub(super) fn operands(&self) -> [&Operand; 2] {
        [&self.left, &self.right]
    }

    /// Names the values of both for the label.
    pub(super) fn with_values(&self, diagnostic: Diagnostic) -> Diagnostic {
        self.right.with_value(self.left.with_value(diagnostic))
    }

    /// “60 gal, whatever air is in it; 12 cfm free, at this shop's atmosphere and temperature”
    pub(super) fn label(&self) -> String {
        format!(
            "{{0}}{}; {{1}}{}",
            self.left.counted(),
            self.right.counted()
        )
    }

    /// Both written anew, with what stands between them.
    pub(super) fn written(&self, left: &str, right: &str) -> Option<String> {
        let between = self
            .between
            .as_ref()
            .filter(|between| is_balanced(between))?;
        Some(format!("{left}{between}{right}"))
    }

    /// Offers a repair that writes one side anew: with the other beside it where that reads well.
    pub(super) fn mend(&self, diagnostic: Diagnostic, side: Side, text: &str) -> Diagnostic {
        let whole = match side {
            Side::Left => self.written(text, &self.right.text),
            Side::Right => self.written(&self.left.text, text),
        };
        match (whole, side) {
            (Some(whole), _) => diagnostic.replace(self.span(), whole),
            (None, Side::Left) => diagnostic.replace(self.left.span, text),
            (None, Side::Right) => diagnostic.replace(self.right.span, text),
        }
    }

    /// Offers a repair that writes both sides anew.
    pub(super) fn mend_both(&self, diagnostic: Diagnostic, left: &str, right: &str) -> Diagnostic {
        match self.written(left, right) {
            Some(whole) => diagnostic.replace(self.span(), whole),
            None => diagnostic,
        }
    }
}
