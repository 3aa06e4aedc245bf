//! Dimensions in plain words, for messages: “a pressure”, “a volume per time”, “money”.

use super::dimension::{Base, Dimension, WHOLE};
use super::registry::Registry;

/// Dimensions that have a word, with its article.
static NAMED: [(&str, Dimension); 24] = [
    ("a plain number", Dimension::PLAIN),
    ("a length", Dimension::LENGTH),
    ("an area", Dimension::AREA),
    ("a volume", Dimension::VOLUME),
    ("a mass", Dimension::MASS),
    ("a time", Dimension::TIME),
    ("a temperature", Dimension::TEMPERATURE),
    ("a current", Dimension::CURRENT),
    ("an angle", Dimension::ANGLE),
    ("a level in decibels", Dimension::GAIN),
    ("a speed", Dimension::SPEED),
    ("an acceleration", Dimension::ACCELERATION),
    ("a density", Dimension::DENSITY),
    ("a force", Dimension::FORCE),
    ("a pressure", Dimension::PRESSURE),
    ("an energy", Dimension::ENERGY),
    ("a power", Dimension::POWER),
    ("a torque", Dimension::TORQUE),
    ("a speed of rotation", Dimension::ROTATION),
    ("a viscosity", Dimension::VISCOSITY),
    ("a volume per time", Dimension::FLOW),
    ("a mass per time", Dimension::MASS_FLOW),
    ("a voltage", Dimension::VOLTAGE),
    ("a resistance", Dimension::RESISTANCE),
];

/// What something may be said to be per, likeliest first.
static DIVISORS: [(&str, Dimension); 13] = [
    ("time", Dimension::TIME),
    ("volume", Dimension::VOLUME),
    ("area", Dimension::AREA),
    ("length", Dimension::LENGTH),
    ("mass", Dimension::MASS),
    ("energy", Dimension::ENERGY),
    ("pressure", Dimension::PRESSURE),
    ("power", Dimension::POWER),
    ("temperature", Dimension::TEMPERATURE),
    ("angle", Dimension::ANGLE),
    ("volume per time", Dimension::FLOW),
    ("current", Dimension::CURRENT),
    ("level", Dimension::GAIN),
];

/// The words of the fixed bases.
const BASE_NOUNS: [(&str, Base); 8] = [
    ("length", Base::LENGTH),
    ("mass", Base::MASS),
    ("time", Base::TIME),
    ("current", Base::CURRENT),
    ("temperature", Base::TEMPERATURE),
    ("amount of substance", Base::AMOUNT),
    ("angle", Base::ANGLE),
    ("level", Base::GAIN),
];

impl Registry {
    /// A dimension in plain words with its article: “a pressure”, “a mass per time”, “money”, “a
    /// number per time”, “money per energy”.
    pub fn dimension_name(&self, dimension: &Dimension) -> String {
        self.whole_name(dimension)
            .or_else(|| self.quotient_name(dimension))
            .unwrap_or_else(|| self.product_name(dimension))
    }

    fn whole_name(&self, dimension: &Dimension) -> Option<String> {
        if dimension.is_money() {
            return Some("money".to_string());
        }
        if let Some((name, _)) = NAMED.iter().find(|(_, named)| named == dimension) {
            return Some((*name).to_string());
        }
        self.own_noun(dimension).map(|noun| with_article(&noun))
    }

    /// The noun of a dimension that the notebook defined.
    fn own_noun(&self, dimension: &Dimension) -> Option<String> {
        let (base, exponent) = dimension.exponents().next()?;
        let single = exponent == WHOLE && *dimension == Dimension::of(base);
        (single && base.is_defined()).then(|| self.noun(base))
    }

    /// “a mass per area”, “an energy per mass per temperature”.
    fn quotient_name(&self, dimension: &Dimension) -> Option<String> {
        let divisors = self.divisors(dimension);
        let per = |above: &Dimension| {
            divisors.iter().find_map(|(noun, divisor)| {
                let name = self.name_above(&above.times(divisor)?)?;
                Some(format!("{name} per {noun}"))
            })
        };
        per(dimension).or_else(|| {
            divisors.iter().rev().find_map(|(noun, divisor)| {
                let name = per(&dimension.times(divisor)?)?;
                Some(format!("{name} per {noun}"))
            })
        })
    }

    /// What a dimension may be said to be per: the notebook's own, then the common ones.
    fn divisors(&self, dimension: &Dimension) -> Vec<(String, Dimension)> {
        dimension
            .exponents()
            .filter(|(base, exponent)| base.is_defined() && *exponent == -WHOLE)
            .map(|(base, _)| (self.noun(base), Dimension::of(base)))
            .chain(
                DIVISORS
                    .iter()
                    .map(|(noun, of)| ((*noun).to_string(), of.clone())),
            )
            .collect()
    }

    fn name_above(&self, dimension: &Dimension) -> Option<String> {
        if dimension.is_plain() {
            return Some("a number".to_string());
        }
        self.whole_name(dimension)
    }

    fn product_name(&self, dimension: &Dimension) -> String {
        let part = |sign: i16| -> String {
            let words: Vec<String> = dimension
                .exponents()
                .filter(|(_, exponent)| exponent.signum() == sign)
                .map(|(base, exponent)| format!("{}{}", self.noun(base), power(exponent.abs())))
                .collect();
            words.join(" times ")
        };
        match (part(1), part(-1)) {
            (above, below) if below.is_empty() => above,
            (above, below) if above.is_empty() => format!("a number per {below}"),
            (above, below) => format!("{above} per {below}"),
        }
    }

    fn noun(&self, base: Base) -> String {
        if base.is_currency() {
            return "money".to_string();
        }
        if let Some((noun, _)) = BASE_NOUNS.iter().find(|(_, own)| *own == base) {
            return (*noun).to_string();
        }
        match self.counted.get(&base) {
            Some(atom) => self.atom(*atom).name.to_string(),
            None => "amount".to_string(),
        }
    }
}

fn with_article(noun: &str) -> String {
    let vowel = noun.starts_with(['a', 'e', 'i', 'o', 'u', 'A', 'E', 'I', 'O', 'U']);
    let article = if vowel { "an" } else { "a" };
    format!("{article} {noun}")
}

/// “ squared”, “ cubed”, “ to the power 3/2”.
fn power(exponent: i16) -> String {
    match (exponent / WHOLE, exponent % WHOLE) {
        (1, 0) => String::new(),
        (2, 0) => " squared".to_string(),
        (3, 0) => " cubed".to_string(),
        (whole, 0) => format!(" to the power {whole}"),
        _ => {
            let common = num_integer::gcd(exponent, WHOLE);
            format!(" to the power {}/{}", exponent / common, WHOLE / common)
        }
    }
}
