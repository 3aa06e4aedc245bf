//! Units as text. In: a unit and the reference of its value; out: the one spelling that is shown,
//! which reads back as the same unit, and the same in words for ears.

use super::atom::AtomKind;
use super::dimension::{Base, Dimension, WHOLE};
use super::reference::Reference;
use super::registry::Registry;
use super::unit::{AtomId, Unit};

/// The words above and below the line, and the whole numbers in front of them.
#[derive(Default)]
struct Line {
    words: Vec<(AtomId, i16)>,
    number: Vec<(AtomId, i16)>,
}

impl Registry {
    /// A unit as shown, with the reference of the value: `psig`, `cfm free`, `Nm3/h`, `per h`,
    /// `kJ/(kg K)`, `N m torque`; `1` for plain numbers. A reference that the unit itself states
    /// is not said twice.
    pub fn show(&self, unit: &Unit, reference: Option<Reference>) -> String {
        let stated = self.states(unit);
        let Some(reference) = reference.filter(|reference| Some(*reference) != stated) else {
            return self.written(unit);
        };
        let bare = self.without_reference(unit);
        let same_size = self
            .factor(unit, &bare)
            .is_some_and(|factor| factor.is_one());
        let unit = if stated.is_some() && same_size {
            &bare
        } else {
            unit
        };
        if let Some(atom) = self.single_atom(unit)
            && let Some(symbol) = self.counterpart(atom, reference)
        {
            return symbol;
        }
        match reference.row().word {
            "" => self.written(unit),
            word => format!("{} {word}", self.written(unit)),
        }
    }

    fn written(&self, unit: &Unit) -> String {
        let (above, below, torque) = self.lines(unit);
        let top = above.join(self, |registry, atom, exponent| {
            format!("{}{}", registry.atom(atom).symbol, power(exponent))
        });
        let bottom = below.join(self, |registry, atom, exponent| {
            format!("{}{}", registry.atom(atom).symbol, power(exponent))
        });
        let bottom = if below.is_one_word() {
            bottom
        } else {
            bracketed(bottom)
        };
        let mut text = match (top.is_empty(), bottom.is_empty()) {
            (true, true) => return "1".to_string(),
            (true, false) => format!("per {bottom}"),
            (false, true) if above.number.is_empty() => top,
            (false, true) => bracketed(top),
            (false, false) if above.number.is_empty() => format!("{top}/{bottom}"),
            (false, false) => format!("({top})/{bottom}"),
        };
        if torque {
            text.push_str(" torque");
        }
        text
    }

    /// Above and below the line, and whether the word torque stands behind.
    fn lines(&self, unit: &Unit) -> (Line, Line, bool) {
        let mut above = Line::default();
        let mut below = Line::default();
        let mut torque = false;
        for (atom, exponent) in unit.words() {
            let line = if *exponent > 0 {
                &mut above
            } else {
                &mut below
            };
            let word = (*atom, exponent.abs());
            if *atom == AtomId::TORQUE {
                torque = true;
            } else if self.is_kind(*atom, AtomKind::Number) {
                line.number.push(word);
            } else {
                line.words.push(word);
            }
        }
        if torque && above.words.is_empty() {
            below.words.push((AtomId::RADIAN, WHOLE));
            torque = false;
        }
        (above, below, torque)
    }

    /// A unit in words, for several: “cubic feet per minute”, “newton metres of torque”; nothing
    /// for plain numbers.
    pub fn spoken(&self, unit: &Unit) -> String {
        self.said(unit, true)
    }

    /// A unit in words, for one: “US gallon”.
    pub(super) fn spoken_one(&self, unit: &Unit) -> String {
        self.said(unit, false)
    }

    fn said(&self, unit: &Unit, several: bool) -> String {
        let (above, below, torque) = self.lines(unit);
        let mut top = above.say(self, several);
        if torque {
            top.push_str(" of torque");
        }
        if below.words.is_empty() && below.number.is_empty() {
            return top;
        }
        let bottom = below.say(self, !below.number.is_empty());
        format!("{top} per {bottom}").trim_start().to_string()
    }

    fn is_length(&self, atom: AtomId) -> bool {
        self.atom(atom).dimension == Dimension::of(Base::LENGTH)
    }
}

impl Line {
    fn is_one_word(&self) -> bool {
        self.words.len() == 1 && self.number.is_empty()
    }

    /// The number and the words; 1 where there is a number alone.
    fn join(&self, registry: &Registry, word: impl Fn(&Registry, AtomId, i16) -> String) -> String {
        let mut parts = Vec::new();
        if !self.number.is_empty() {
            parts.push(self.number(registry));
            if self.words.is_empty() {
                parts.push("1".to_string());
            }
        }
        let words = self.words.iter();
        parts.extend(words.map(|(atom, exponent)| word(registry, *atom, *exponent)));
        parts.join(" ")
    }

    /// The product of the whole numbers; a root of one is written as such.
    fn number(&self, registry: &Registry) -> String {
        let whole = Unit::from_words(self.number.iter().copied()).unwrap_or_default();
        if self
            .number
            .iter()
            .all(|(_, exponent)| exponent % WHOLE == 0)
        {
            return registry
                .factor_to_base(&whole)
                .ratio
                .numerator()
                .to_string();
        }
        let roots = self.number.iter();
        let roots: Vec<String> = roots
            .map(|(atom, exponent)| format!("{}{}", registry.atom(*atom).symbol, power(*exponent)))
            .collect();
        roots.join(" ")
    }

    fn say(&self, registry: &Registry, several: bool) -> String {
        let mut parts = Vec::new();
        if !self.number.is_empty() {
            parts.push(self.number(registry));
        }
        let last = self.words.len().saturating_sub(1);
        for (place, (atom, exponent)) in self.words.iter().enumerate() {
            let known = registry.atom(*atom);
            let name = if several && place == last {
                &known.plural
            } else {
                &known.name
            };
            parts.push(said_power(name, *exponent, registry.is_length(*atom)));
        }
        parts.join(" ")
    }
}

fn bracketed(text: String) -> String {
    if text.is_empty() {
        text
    } else {
        format!("({text})")
    }
}

/// `²`, or `^(1/2)`; nothing for the first power.
fn power(exponent: i16) -> String {
    if exponent == WHOLE {
        return String::new();
    }
    if exponent % WHOLE != 0 {
        let common = num_integer::gcd(exponent, WHOLE);
        return format!("^({}/{})", exponent / common, WHOLE / common);
    }
    let digits = (exponent / WHOLE).to_string();
    digits.chars().filter_map(superscript).collect()
}

fn superscript(digit: char) -> Option<char> {
    const SIGNS: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    SIGNS.get(digit.to_digit(10)? as usize).copied()
}

/// “square inch”, “second squared”, “kelvin to the power 1/2”.
fn said_power(name: &str, exponent: i16, length: bool) -> String {
    match (exponent / WHOLE, exponent % WHOLE) {
        (1, 0) => name.to_string(),
        (2, 0) if length => format!("square {name}"),
        (3, 0) if length => format!("cubic {name}"),
        (2, 0) => format!("{name} squared"),
        (3, 0) => format!("{name} cubed"),
        (whole, 0) => format!("{name} to the power {whole}"),
        _ => {
            let common = num_integer::gcd(exponent, WHOLE);
            let (upper, lower) = (exponent / common, WHOLE / common);
            format!("{name} to the power {upper}/{lower}")
        }
    }
}
