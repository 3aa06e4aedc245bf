//! Reading a decimal typed by a person: `1200`, `0.125`, `1.2e-3`, `1_200`, `.5`, `5.`.
//!
//! No units, no fractions, no commas: what a comma or a slash means is for others to say.

use super::parts::Parts;
use super::{Number, Trouble};
use std::fmt;

/// Why a text is no number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadTrouble {
    /// No digit at all.
    Empty,
    /// A character that has no place there, counted in bytes from the start.
    Unexpected(usize),
    /// Beyond `10^9999`.
    TooLarge,
    /// Nearer to zero than `10^-9999`, yet not zero.
    TooSmall,
}

impl fmt::Display for ReadTrouble {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(match self {
            ReadTrouble::Empty => "there is no digit here",
            ReadTrouble::Unexpected(_) => "this is no decimal number",
            ReadTrouble::TooLarge => "the number is too large",
            ReadTrouble::TooSmall => "the number is too near to zero",
        })
    }
}

impl std::error::Error for ReadTrouble {}

impl Number {
    /// Reads a decimal number in ASCII digits, with or without a sign, a point, single `_`
    /// between digits and an exponent behind `e` or `E`. More than 28 significant digits are
    /// rounded half to even.
    ///
    /// # Errors
    /// See [`ReadTrouble`].
    pub fn read(text: &str) -> Result<Number, ReadTrouble> {
        read_decimal(text.as_bytes())
    }
}

/// As [`Number::read`], of bytes.
pub(super) fn read_decimal(text: &[u8]) -> Result<Number, ReadTrouble> {
    let mut reader = Reader { text, at: 0 };
    let negative = reader.sign();
    let mut digits = Digits::default();
    reader.digits(|digit| digits.push(digit))?;
    let whole = digits.count;
    if reader.skip(b".") {
        reader.digits(|digit| digits.push(digit))?;
    }
    if digits.count == 0 {
        return Err(match text.get(reader.at) {
            Some(_) => ReadTrouble::Unexpected(reader.at),
            None => ReadTrouble::Empty,
        });
    }
    let exponent = if reader.skip(b"eE") {
        reader.exponent()?
    } else {
        0
    };
    if reader.at < text.len() {
        return Err(ReadTrouble::Unexpected(reader.at));
    }
    let parts = Parts {
        negative,
        coefficient: digits.coefficient,
        power: exponent - (digits.count - whole) + digits.dropped,
    };
    Number::rounded(parts, digits.more, false).map_err(|trouble| match trouble {
        Trouble::Underflow => ReadTrouble::TooSmall,
        _ => ReadTrouble::TooLarge,
    })
}

/// The digits seen so far: the first 38 significant ones, and what became of the others.
#[derive(Default)]
struct Digits {
    coefficient: u128,
    count: i64,
    dropped: i64,
    more: bool,
}

impl Digits {
    fn push(&mut self, digit: u8) {
        /// The first coefficient that has 38 digits.
        const FULL: u128 = super::wide::POWERS_OF_TEN[37];
        self.count += 1;
        if self.coefficient < FULL {
            self.coefficient = self.coefficient * 10 + u128::from(digit);
        } else {
            self.dropped += 1;
            self.more |= digit != 0;
        }
    }
}

struct Reader<'text> {
    text: &'text [u8],
    at: usize,
}

impl Reader<'_> {
    fn skip(&mut self, any_of: &[u8]) -> bool {
        let found = self
            .text
            .get(self.at)
            .is_some_and(|byte| any_of.contains(byte));
        self.at += usize::from(found);
        found
    }

    /// Whether there is a minus; a plus is skipped.
    fn sign(&mut self) -> bool {
        let negative = self.skip(b"-");
        if !negative {
            self.skip(b"+");
        }
        negative
    }

    /// A run of digits, possibly empty, with single `_` inside.
    fn digits(&mut self, mut each: impl FnMut(u8)) -> Result<usize, ReadTrouble> {
        let start = self.at;
        let digit_at = |at: usize| self.text.get(at).filter(|byte| byte.is_ascii_digit());
        let mut at = start;
        loop {
            if let Some(digit) = digit_at(at) {
                each(digit - b'0');
                at += 1;
            } else if self.text.get(at) == Some(&b'_') {
                let inside = at > start && digit_at(at - 1).is_some() && digit_at(at + 1).is_some();
                if !inside {
                    return Err(ReadTrouble::Unexpected(at));
                }
                at += 1;
            } else {
                break;
            }
        }
        self.at = at;
        Ok(at - start)
    }

    fn exponent(&mut self) -> Result<i64, ReadTrouble> {
        /// Far beyond what any number of digits brings back into the range.
        const FAR: i64 = 1 << 40;
        let negative = self.sign();
        let mut exponent = 0_i64;
        let length = self.digits(|digit| exponent = (exponent * 10 + i64::from(digit)).min(FAR))?;
        if length == 0 {
            return Err(ReadTrouble::Unexpected(self.at));
        }
        Ok(if negative { -exponent } else { exponent })
    }
}
