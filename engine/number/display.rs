//! Numbers as text: in full, to a few significant digits, to a number of places, and a value
//! beside its uncertainty. The minus is ASCII; grouping and typography are the report's.

use super::Number;
use super::parts::{LARGEST_POWER, Parts};
use std::iter::repeat_n;

/// The digits that an inexact number vouches for.
const INEXACT_DIGITS: u32 = 15;
/// The digits of a computed value in a table.
const SHOWN_DIGITS: u32 = 4;
/// More digits than this are never written: no number has more before or behind its point.
const MOST_DIGITS: u32 = LARGEST_POWER as u32 + 28;

impl Number {
    /// All digits, none more than needed; 15 significant ones if inexact. From `1e-7` to below
    /// `1e21` without an exponent.
    pub fn full(self) -> String {
        let parts = self.vouched_for().stripped();
        if parts.coefficient == 0 || (-7..21).contains(&parts.leading()) {
            plain(parts, 0)
        } else {
            with_exponent(parts, parts.leading(), 0)
        }
    }

    /// Four significant digits, as computed values are shown in tables.
    pub fn shown(self) -> String {
        self.shown_with(SHOWN_DIGITS)
    }

    /// So many significant digits, rounded half to even: never a whole digit cut, and a zero at the
    /// end only where digits behind it were rounded away; with an exponent below `1e-4` and from
    /// `1e16` on.
    pub fn shown_with(self, digits: u32) -> String {
        let parts = self.vouched_for();
        if parts.coefficient == 0 {
            return "0".to_owned();
        }
        let place = parts.leading() - i64::from(digits.max(1)) + 1;
        let rounded = parts.rounded_at(place.min(0)).stripped();
        if rounded.coefficient != 0 && reads_plainly(rounded.leading()) {
            let is_rounded = rounded != parts.stripped();
            // 9.9996 grows a whole digit, so its last place moves.
            let places = i64::from(digits.max(1)) - 1 - rounded.leading();
            return plain(rounded, if is_rounded { places.max(0) as u32 } else { 0 });
        }
        let rounded = parts.rounded_at(place).stripped();
        let is_rounded = rounded != parts.stripped();
        let places = if is_rounded { digits.max(1) - 1 } else { 0 };
        with_exponent(rounded, rounded.leading(), places)
    }

    /// Exactly so many significant digits, filled up with zeros: 9.996 to three is `10.0`.
    pub fn significant(self, digits: u32) -> String {
        let digits = digits.clamp(1, MOST_DIGITS);
        let parts = self.parts();
        if parts.coefficient == 0 {
            return plain(parts, digits - 1);
        }
        let rounded = parts.rounded_to(digits);
        let leading = rounded.leading();
        if (-7..21).contains(&leading) {
            let places = (i64::from(digits) - 1 - leading).max(0);
            return plain(without_places_beyond(rounded, places), places as u32);
        }
        let places = i64::from(digits) - 1;
        with_exponent(
            without_places_beyond(rounded, places - leading),
            leading,
            digits - 1,
        )
    }

    /// Exactly so many places behind the point.
    pub fn fixed(self, places: u32) -> String {
        let places = places.min(MOST_DIGITS);
        plain(self.parts().rounded_at(-i64::from(places)), places)
    }

    /// The digits that count: all of an exact number, 15 of an inexact one.
    fn vouched_for(self) -> Parts {
        if self.is_exact() || self.is_zero() {
            return self.parts();
        }
        self.parts().rounded_to(INEXACT_DIGITS)
    }
}

/// A value and its expanded uncertainty: the uncertainty to two significant digits, half to even
/// (two also after a carry: 0.0996 is `0.10`), the value to the same place. Very large and very
/// small ones share one exponent. Without any uncertainty the value is as in a table.
///
/// JCGM 100:2008, 7.2.6.
pub fn round_pair(value: Number, expanded: Number) -> (String, String) {
    if expanded.is_zero() {
        return (value.shown(), "0".to_owned());
    }
    let expanded = expanded.magnitude().parts().rounded_to(2);
    let place = expanded.leading() - 1;
    let expanded = expanded.rounded_at(place);
    let value = value.parts().rounded_at(place);
    let leading = match value.coefficient {
        0 => expanded.leading(),
        _ => expanded.leading().max(value.leading()),
    };
    let write = |parts: Parts| {
        if reads_plainly(leading) {
            plain(parts, (-place).max(0) as u32)
        } else {
            with_exponent(parts, leading, (leading - place) as u32)
        }
    };
    (write(value), write(expanded))
}

/// Whether a number with this leading power of ten needs no exponent in a table.
fn reads_plainly(leading: i64) -> bool {
    (-4..16).contains(&leading)
}

/// Drops the zero that a carry left behind the last place wanted.
fn without_places_beyond(parts: Parts, places: i64) -> Parts {
    parts.rounded_at(-places)
}

/// Digits with a point, and at least so many places behind it.
fn plain(parts: Parts, least_places: u32) -> String {
    let mut text = String::new();
    if parts.negative && parts.coefficient != 0 {
        text.push('-');
    }
    let digits = parts.coefficient.to_string();
    let below = usize::try_from(-parts.power).unwrap_or(0);
    let least = least_places as usize;
    if below == 0 {
        text.push_str(&digits);
        let zeros = match parts.coefficient {
            0 => 0,
            _ => usize::try_from(parts.power).unwrap_or(0),
        };
        text.extend(repeat_n('0', zeros));
    } else if let Some(whole) = digits.len().checked_sub(below).filter(|&whole| whole > 0) {
        text.push_str(&digits[..whole]);
        text.push('.');
        text.push_str(&digits[whole..]);
    } else {
        text.push_str("0.");
        text.extend(repeat_n('0', below - digits.len()));
        text.push_str(&digits);
    }
    if below == 0 && least > 0 {
        text.push('.');
    }
    text.extend(repeat_n('0', least.saturating_sub(below)));
    text
}

/// As [`plain`], in units of `10^exponent`.
fn with_exponent(parts: Parts, exponent: i64, least_places: u32) -> String {
    let mantissa = Parts {
        power: parts.power - exponent,
        ..parts
    };
    format!("{}e{exponent}", plain(mantissa, least_places))
}
