//! The extent of a number in a line, with what people put between its digits: a point, `_`, an
//! exponent, and the commas and colons that the parser refuses. No value is computed.

use super::fold;
use super::token::{Kind, Marks};

fn is_digit_at(bytes: &[u8], at: usize) -> bool {
    bytes.get(at).is_some_and(u8::is_ascii_digit)
}

fn byte_at(bytes: &[u8], at: usize) -> u8 {
    bytes.get(at).copied().unwrap_or(0)
}

/// The number that begins at `start` with a digit, or with a point before one: its kind, what is
/// known of it, and its end.
pub(super) fn scan_number(line: &str, start: usize) -> (Kind, Marks, usize) {
    let bytes = line.as_bytes();
    let (mut at, grouped) = scan_digits(bytes, start);
    let mut marks = Marks::WHOLE;
    if grouped {
        marks = Marks::ODD;
    }
    if byte_at(bytes, at) == b'.' {
        if is_digit_at(bytes, at + 1) {
            let (end, grouped) = scan_digits(bytes, at + 1);
            let odd = grouped || at == start || marks == Marks::ODD;
            marks = if odd { Marks::ODD } else { Marks::default() };
            at = end;
        } else if ends_with_point(line, at + 1) {
            (at, marks) = (at + 1, Marks::ODD);
        }
    }
    if let Some(end) = scan_exponent(line, at) {
        return (Kind::Number, Marks::ODD, end);
    }
    match byte_at(bytes, at) {
        b'.' if is_digit_at(bytes, at + 1) => {
            (Kind::PointsNumber, marks, scan_run(bytes, at, b"."))
        }
        b':' if is_digit_at(bytes, at + 1) => (Kind::Clock, marks, scan_run(bytes, at, b":.")),
        b',' if is_group(bytes, at) => (Kind::CommaNumber, marks, scan_groups(bytes, at)),
        _ => (Kind::Number, marks, at),
    }
}

/// A point ends a number, as in `5.`, unless a name or another point follows.
fn ends_with_point(line: &str, at: usize) -> bool {
    line.get(at..)
        .and_then(|rest| rest.chars().next())
        .is_none_or(|sign| sign != '.' && !fold::continues_word(sign))
}

fn scan_digits(bytes: &[u8], start: usize) -> (usize, bool) {
    let (mut at, mut grouped) = (start, false);
    loop {
        match bytes.get(at) {
            Some(b'0'..=b'9') => at += 1,
            Some(b'_') if at > start && is_digit_at(bytes, at + 1) => {
                (at, grouped) = (at + 1, true);
            }
            _ => return (at, grouped),
        }
    }
}

/// `e` or `E`, perhaps a sign, and digits.
fn scan_exponent(line: &str, at: usize) -> Option<usize> {
    let bytes = line.as_bytes();
    if !matches!(byte_at(bytes, at), b'e' | b'E') {
        return None;
    }
    let sign = match line.get(at + 1..).and_then(|rest| rest.chars().next()) {
        Some(sign @ ('+' | '-' | '\u{2212}')) => sign.len_utf8(),
        _ => 0,
    };
    let digits = at + 1 + sign;
    is_digit_at(bytes, digits).then(|| scan_digits(bytes, digits).0)
}

/// Digits and the given signs, ending with a digit.
fn scan_run(bytes: &[u8], start: usize, signs: &[u8]) -> usize {
    let mut at = start;
    while let Some(byte) = bytes.get(at) {
        let goes_on = byte.is_ascii_digit() || (signs.contains(byte) && is_digit_at(bytes, at + 1));
        if !goes_on {
            break;
        }
        at += 1;
    }
    at
}

/// Whether a comma and exactly three digits stand here.
fn is_group(bytes: &[u8], at: usize) -> bool {
    bytes.get(at) == Some(&b',')
        && (1..=3).all(|step| is_digit_at(bytes, at + step))
        && !is_digit_at(bytes, at + 4)
}

fn scan_groups(bytes: &[u8], start: usize) -> usize {
    let mut at = start;
    while is_group(bytes, at) {
        at += 4;
    }
    if bytes.get(at) == Some(&b'.') && is_digit_at(bytes, at + 1) {
        at = scan_digits(bytes, at + 1).0;
    }
    at
}
