//! Between decimals and doubles, both ways to the nearest.

use super::parts::Parts;
use super::read::read_decimal;
use super::{Number, Trouble};
use std::fmt::{self, Write};

/// The powers of ten that a double holds exactly.
const EXACT_POWERS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

impl Number {
    /// The nearest double; infinite beyond the largest, zero below the smallest.
    pub fn to_f64(self) -> f64 {
        let parts = self.parts();
        let magnitude = quick_double(parts).unwrap_or_else(|| read_double(parts));
        if parts.negative {
            -magnitude
        } else {
            magnitude
        }
    }

    /// The shortest decimal that stands for a double, marked inexact.
    ///
    /// # Errors
    /// [`Trouble::Overflow`] for infinite values, [`Trouble::Domain`] for one that is no number.
    pub fn from_f64(value: f64) -> Result<Number, Trouble> {
        if value.is_nan() {
            return Err(Trouble::Domain);
        }
        if value.is_infinite() {
            return Err(Trouble::Overflow);
        }
        let mut text = ShortText::default();
        let written = write!(text, "{value:e}");
        debug_assert!(written.is_ok());
        let number = read_decimal(text.bytes()).map_err(|_| Trouble::Domain)?;
        Ok(number.as_inexact())
    }
}

/// One exact operation on two exact doubles rounds once (W. D. Clinger, How to read floating
/// point numbers accurately, 1990).
fn quick_double(parts: Parts) -> Option<f64> {
    if parts.coefficient >= 1 << 53 {
        return None;
    }
    let coefficient = parts.coefficient as f64;
    let power = EXACT_POWERS.get(usize::try_from(parts.power.unsigned_abs()).ok()?)?;
    Some(if parts.power < 0 {
        coefficient / power
    } else {
        coefficient * power
    })
}

/// The standard library reads decimals correctly rounded.
fn read_double(parts: Parts) -> f64 {
    let mut text = ShortText::default();
    let written = write!(text, "{}e{}", parts.coefficient, parts.power);
    debug_assert!(written.is_ok());
    let text = std::str::from_utf8(text.bytes()).unwrap_or_default();
    text.parse().unwrap_or(f64::NAN)
}

/// Text of a number on the stack.
struct ShortText {
    bytes: [u8; 64],
    length: usize,
}

impl Default for ShortText {
    fn default() -> ShortText {
        ShortText {
            bytes: [0; 64],
            length: 0,
        }
    }
}

impl ShortText {
    fn bytes(&self) -> &[u8] {
        &self.bytes[..self.length]
    }
}

impl Write for ShortText {
    fn write_str(&mut self, text: &str) -> fmt::Result {
        let end = self.length + text.len();
        let room = self.bytes.get_mut(self.length..end).ok_or(fmt::Error)?;
        room.copy_from_slice(text.as_bytes());
        self.length = end;
        Ok(())
    }
}
