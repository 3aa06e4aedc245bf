//! A small reader of unit expressions, written only from the grammar: words, powers, brackets,
//! `/`, `per` and the word behind. A dot joins words in the reference tables.

use gaugebook::units::{Lookup, Reference, Registry, Unit};

/// The unit, and the reference that a word behind it states.
pub(crate) type Read = Result<(Unit, Option<Reference>), String>;

/// Reads a whole unit expression.
pub(crate) fn read(registry: &mut Registry, text: &str) -> Read {
    let mut reader = Reader {
        signs: text.chars().collect(),
        place: 0,
        registry,
    };
    let read = reader.unit()?;
    if reader.place < reader.signs.len() {
        return Err(format!("something is left of {text}"));
    }
    Ok(read)
}

/// The unit of an expression without a reference word.
pub(crate) fn unit(registry: &mut Registry, text: &str) -> Unit {
    match read(registry, text) {
        Ok((unit, None)) => unit,
        other => panic!("{text}: {other:?}"),
    }
}

struct Reader<'a> {
    signs: Vec<char>,
    place: usize,
    registry: &'a mut Registry,
}

impl Reader<'_> {
    fn peek(&self) -> Option<char> {
        self.signs.get(self.place).copied()
    }

    fn take(&mut self, sign: char) -> bool {
        let found = self.peek() == Some(sign);
        self.place += usize::from(found);
        found
    }

    fn unit(&mut self) -> Read {
        let mut unit = Unit::one();
        let mut below = false;
        loop {
            let start = self.place;
            while self.take(' ') || self.take('*') || self.take('·') || self.take('.') {}
            if self.take('/') {
                below = true;
            }
            if self.peek().is_none_or(|sign| sign == ')') {
                self.place = if below { start } else { self.place };
                return Ok((unit, None));
            }
            if self.peek() == Some('(') {
                let group = self.group()?;
                unit = joined(&unit, &group, below)?;
            } else {
                let word = self.word();
                if let Some(reference) = Reference::from_word(&word) {
                    return Ok((unit, Some(reference)));
                }
                match word.as_str() {
                    "per" => {
                        below = true;
                        continue;
                    }
                    "torque" => unit = self.registry.torque(&unit).ok_or("no energy")?,
                    "1" => {}
                    _ => {
                        let term = self.term(&word)?;
                        unit = joined(&unit, &term, below)?;
                    }
                }
            }
            below = false;
        }
    }

    fn group(&mut self) -> Result<Unit, String> {
        self.take('(');
        let mut number = String::new();
        while let Some(digit) = self.peek().filter(char::is_ascii_digit) {
            number.push(digit);
            self.place += 1;
        }
        let mut group = Unit::one();
        if !number.is_empty() {
            let number = number.parse().map_err(|_| "a number too large")?;
            let atom = self.registry.whole_number(number).ok_or("zero")?;
            group = Unit::of(atom);
        }
        let (inner, _) = self.unit()?;
        if !self.take(')') {
            return Err("no closing bracket".to_string());
        }
        let (numerator, denominator) = self.exponent()?;
        let group = group.times(&inner).ok_or("too large")?;
        group
            .power(numerator, denominator)
            .ok_or("too large".into())
    }

    fn term(&mut self, word: &str) -> Result<Unit, String> {
        let (numerator, denominator) = self.exponent()?;
        match self.registry.word_to_power(word, numerator, denominator) {
            Lookup::Found(unit) => Ok(unit),
            other => Err(format!("{word}: {other:?}")),
        }
    }

    fn word(&mut self) -> String {
        let mut word = String::new();
        while let Some(sign) = self.peek() {
            if " */·.^()".contains(sign) || "⁰¹²³⁴⁵⁶⁷⁸⁹".contains(sign) {
                break;
            }
            word.push(sign);
            self.place += 1;
        }
        word
    }

    fn exponent(&mut self) -> Result<(i32, i32), String> {
        let mut digits = String::new();
        while let Some(sign) = self.peek() {
            let Some(digit) = "⁰¹²³⁴⁵⁶⁷⁸⁹".chars().position(|own| own == sign)
            else {
                break;
            };
            digits.push_str(&digit.to_string());
            self.place += 1;
        }
        if digits.is_empty() && !self.take('^') {
            return Ok((1, 1));
        }
        let bracket = digits.is_empty() && self.take('(');
        while digits.is_empty() || self.peek().is_some_and(|sign| sign.is_ascii_digit()) {
            let Some(sign) = self.peek() else { break };
            digits.push(sign);
            self.place += 1;
        }
        let mut denominator = String::new();
        if bracket {
            self.take('/');
            while let Some(digit) = self.peek().filter(char::is_ascii_digit) {
                denominator.push(digit);
                self.place += 1;
            }
            self.take(')');
        } else {
            denominator.push('1');
        }
        let number = |text: &str| text.parse::<i32>().map_err(|_| format!("power {text}"));
        Ok((number(&digits)?, number(&denominator)?))
    }
}

fn joined(unit: &Unit, next: &Unit, below: bool) -> Result<Unit, String> {
    let joined = if below {
        unit.over(next)
    } else {
        unit.times(next)
    };
    joined.ok_or("too large".to_string())
}
