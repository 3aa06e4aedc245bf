//! How pasted characters are read: as what one would have typed for them. One character goes in,
//! its plain writing comes out, so offsets into the document never move. Whoever reads a line
//! applies these tables, and not inside quoted text. Nothing here changes a document.

use std::borrow::Cow;
use unicode_normalization::{UnicodeNormalization, is_nfc};

/// Pasted characters with the plain ones they are read as; blanks are in [`is_blank`], fractions
/// and raised digits in functions of their own.
const PLAIN: &[(&str, &str)] = &[
    // Minus signs and hyphens. Dashes are another matter: see `is_dash`.
    ("−‐‑﹣－", "-"),
    // Signs of multiplication.
    ("×·⋅∙∗✕✖⨯", "*"),
    // Signs of division.
    ("÷∕⁄", "/"),
    // Double quotes of several countries, and the inch mark.
    ("“”„‟«»″", "\""),
    // Single quotes, and the foot mark.
    ("‘’‚‛′", "'"),
    // Comparisons.
    ("≤≦⩽", "<="),
    ("≥≧⩾", ">="),
    ("≠", "!="),
    ("＝", "="),
    // The micro sign, read as the Greek letter that looks like it.
    ("µ", "μ"),
    // Signs that are taken for the degree sign, and the two it is joined in.
    ("º˚", "°"),
    ("℃", "°C"),
    ("℉", "°F"),
];

/// Signs of fractions: numerator, denominator.
const FRACTIONS: &[(char, u32, u32)] = &[
    ('½', 1, 2),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('¼', 1, 4),
    ('¾', 3, 4),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅐', 1, 7),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
    ('⅑', 1, 9),
    ('⅒', 1, 10),
];

const RAISED: &[(char, char)] = &[
    ('⁰', '0'),
    ('¹', '1'),
    ('²', '2'),
    ('³', '3'),
    ('⁴', '4'),
    ('⁵', '5'),
    ('⁶', '6'),
    ('⁷', '7'),
    ('⁸', '8'),
    ('⁹', '9'),
    ('⁺', '+'),
    ('⁻', '-'),
];

const LOWERED: &[(char, char)] = &[
    ('₀', '0'),
    ('₁', '1'),
    ('₂', '2'),
    ('₃', '3'),
    ('₄', '4'),
    ('₅', '5'),
    ('₆', '6'),
    ('₇', '7'),
    ('₈', '8'),
    ('₉', '9'),
    ('₊', '+'),
    ('₋', '-'),
    ('ₐ', 'a'),
    ('ₑ', 'e'),
    ('ₕ', 'h'),
    ('ᵢ', 'i'),
    ('ⱼ', 'j'),
    ('ₖ', 'k'),
    ('ₗ', 'l'),
    ('ₘ', 'm'),
    ('ₙ', 'n'),
    ('ₒ', 'o'),
    ('ₚ', 'p'),
    ('ᵣ', 'r'),
    ('ₛ', 's'),
    ('ₜ', 't'),
    ('ᵤ', 'u'),
    ('ᵥ', 'v'),
    ('ₓ', 'x'),
];

/// What a pasted character is read as: `" "` for blanks of any width, `"*"` for `×`, `"<="` for
/// `≤` and so on. `None` where the character stands for itself, as every plain one does.
pub fn fold_char(character: char) -> Option<&'static str> {
    if character.is_ascii() {
        return (character != ' ' && is_blank(character)).then_some(" ");
    }
    let listed = PLAIN.iter().find(|(from, _)| from.contains(character));
    match listed {
        Some((_, plain)) => Some(plain),
        None => is_blank(character).then_some(" "),
    }
}

/// Whether a character only keeps others apart: blanks of any width, tabs, a stray carriage
/// return, and the marks without width that come along from web pages.
pub fn is_blank(character: char) -> bool {
    matches!(
        character,
        ' ' | '\t' | '\r' | '\u{b}' | '\u{c}' | '\u{a0}' | '\u{ad}' | '\u{1680}' | '\u{2000}'
            ..='\u{200b}'
                | '\u{200e}'
                | '\u{200f}'
                | '\u{202f}'
                | '\u{205f}'
                | '\u{2060}'
                | '\u{3000}'
                | '\u{feff}'
    )
}

/// Whether a character is a dash as typesetters use it in ranges (`40–60`), which is no minus.
pub fn is_dash(character: char) -> bool {
    matches!(character, '\u{2012}'..='\u{2015}')
}

/// Numerator and denominator of a fraction written as one sign: 1 and 8 for `⅛`.
pub fn fraction(character: char) -> Option<(u32, u32)> {
    let listed = FRACTIONS.iter().find(|&&(sign, _, _)| sign == character)?;
    Some((listed.1, listed.2))
}

/// The digit or sign that a raised character stands for: `2` for `²`.
pub fn superscript(character: char) -> Option<char> {
    plain_of(RAISED, character)
}

/// The digit, letter or sign that a lowered character stands for: `1` for `₁`.
pub fn subscript(character: char) -> Option<char> {
    plain_of(LOWERED, character)
}

fn plain_of(table: &[(char, char)], character: char) -> Option<char> {
    let listed = table.iter().find(|&&(sign, _)| sign == character)?;
    Some(listed.1)
}

/// A name as names are compared: in Unicode normal form C, with the micro sign as the letter `μ`.
/// Form KC would go too far (it makes `10²` into `102`).
pub fn normal_name(name: &str) -> Cow<'_, str> {
    if name.is_ascii() || (is_nfc(name) && !name.contains('µ')) {
        return Cow::Borrowed(name);
    }
    Cow::Owned(name.replace('µ', "μ").nfc().collect())
}
