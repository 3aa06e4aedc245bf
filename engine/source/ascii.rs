//! Signs written with plain characters, for output that cannot show others: `±` becomes `+/-`,
//! `°F` becomes `degF`. What was a literal of the language stays one. Knows nothing of columns:
//! the text may become longer.

use super::fold::{fold_char, fraction, is_blank, is_dash, subscript, superscript};
use unicode_normalization::UnicodeNormalization;

/// Signs that the tables of pasted text do not hold, or that output writes in another way.
const SIGNS: &[(&str, &str)] = &[
    ("±", "+/-"),
    ("°º˚", "deg"),
    ("℃", "degC"),
    ("℉", "degF"),
    ("…", "..."),
    ("√", "sqrt"),
    ("∞", "inf"),
    ("≈≃", "~"),
    ("→", "->"),
    ("←", "<-"),
    ("€", "EUR"),
    ("£", "GBP"),
    ("¥", "JPY"),
    ("µμ", "u"),
    ("Δ∆", "Delta"),
    ("ΩΩ", "ohm"),
    ("ß", "ss"),
    ("æ", "ae"),
    ("œ", "oe"),
    ("Æ", "AE"),
    ("Œ", "OE"),
    ("ø", "o"),
    ("Ø", "O"),
    // Lines, frames and their corners.
    ("─━═", "-"),
    ("│┃║", "|"),
    ("┌┐└┘├┤┬┴┼", "+"),
    // Marks and bars.
    ("▪■█▉▊▋▌▍▎▏▓▒░", "#"),
    ("◆•", "*"),
    ("○●", "o"),
];

/// The small Greek letters from α on, in Unicode's order.
const GREEK: [&str; 25] = [
    "alpha", "beta", "gamma", "delta", "epsilon", "zeta", "eta", "theta", "iota", "kappa",
    "lambda", "mu", "nu", "xi", "omicron", "pi", "rho", "sigma", "sigma", "tau", "upsilon", "phi",
    "chi", "psi", "omega",
];

/// A text in ASCII characters only. Accents are left off, and characters of other scripts appear
/// by their number, as `<U+6F22>`.
pub fn ascii(text: &str) -> String {
    if text.is_ascii() {
        return text.to_owned();
    }
    let mut written = String::with_capacity(text.len());
    for character in text.chars() {
        write_plainly(character, &mut written);
    }
    written
}

/// Adds a character to a text in ASCII.
pub(super) fn write_plainly(character: char, written: &mut String) {
    if character.is_ascii() {
        written.push(character);
    } else if let Some(plain) = listed(character) {
        written.push_str(plain);
    } else if let Some((numerator, denominator)) = fraction(character) {
        if written.ends_with(|before: char| before.is_ascii_digit()) {
            written.push(' ');
        }
        written.push_str(&format!("{numerator}/{denominator}"));
    } else if let Some(raised) = superscript(character) {
        written.push_str(if raised == '-' { "^-" } else { "" });
        written.extend((raised != '-').then_some(raised));
    } else if let Some(lowered) = subscript(character) {
        written.push(lowered);
    } else {
        write_letter(character, written);
    }
}

/// The plain writing of a sign, as output shows it or as it would have been typed.
fn listed(character: char) -> Option<&'static str> {
    let sign = SIGNS.iter().find(|(signs, _)| signs.contains(character));
    match sign {
        Some((_, plain)) => Some(plain),
        None if is_dash(character) => Some("-"),
        None if is_blank(character) => Some(" "),
        None => greek(character).or_else(|| fold_char(character)),
    }
}

fn greek(character: char) -> Option<&'static str> {
    let index = (character as usize).checked_sub('α' as usize)?;
    GREEK.get(index).copied()
}

/// A letter without its accents, or its number.
fn write_letter(character: char, written: &mut String) {
    let base = character.nfd().next().filter(char::is_ascii);
    match base {
        Some(letter) => written.push(letter),
        None if is_accent(character) => {}
        None => written.push_str(&format!("<U+{:04X}>", character as u32)),
    }
}

fn is_accent(character: char) -> bool {
    matches!(character, '\u{300}'..='\u{36f}')
}
