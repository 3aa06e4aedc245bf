//! Pasted characters: one character in, what it is read as out. Offsets never move, and nothing
//! here is applied inside quotes.

use std::borrow::Cow;

use unicode_normalization::UnicodeNormalization;

/// Whether this character separates words: blanks of every width, invisible joiners, controls.
pub(super) fn is_blank(sign: char) -> bool {
    sign.is_whitespace()
        || sign.is_control()
        || matches!(
            sign,
            '\u{200B}'..='\u{200F}' | '\u{2060}' | '\u{FEFF}' | '\u{00AD}' | '\u{202A}'..='\u{202E}'
        )
}

/// The typed sign that a pasted one stands for.
pub(super) fn plain(sign: char) -> Option<&'static str> {
    Some(match sign {
        '\u{2212}' | '\u{2010}' | '\u{2011}' | '\u{FE63}' => "-",
        '\u{00D7}' | '\u{00B7}' | '\u{22C5}' | '\u{2219}' => "*",
        '\u{00F7}' | '\u{2215}' | '\u{2044}' => "/",
        '\u{2264}' | '\u{2A7D}' => "<=",
        '\u{2265}' | '\u{2A7E}' => ">=",
        '\u{2260}' => "!=",
        '\u{00B1}' => "±",
        _ => return None,
    })
}

/// Whether this is a dash, which people write between the ends of a range.
pub(super) fn is_dash(sign: char) -> bool {
    matches!(sign, '\u{2012}'..='\u{2015}')
}

/// Whether a text closes here, if it was opened by `opening`; `None` if `opening` opens no text.
pub(super) fn closes_text(opening: char, sign: char) -> Option<bool> {
    match opening {
        '"' => Some(sign == '"'),
        '\u{201C}'..='\u{201F}' => Some(matches!(sign, '"' | '\u{201C}'..='\u{201F}')),
        '\u{00AB}' | '\u{00BB}' => Some(matches!(sign, '"' | '\u{00AB}' | '\u{00BB}')),
        _ => None,
    }
}

/// `in` or `ft` for a sign that marks inches or feet when it follows a number directly.
pub(super) fn length_mark(sign: char) -> Option<&'static str> {
    match sign {
        '"' | '\u{2033}' | '\u{201C}'..='\u{201F}' => Some("in"),
        '\'' | '\u{2032}' | '\u{2018}' | '\u{2019}' | '\u{00B4}' => Some("ft"),
        _ => None,
    }
}

/// The fraction that one character stands for.
pub(super) fn fraction(sign: char) -> Option<(u32, u32)> {
    FRACTIONS
        .iter()
        .find(|(glyph, _)| *glyph == sign)
        .map(|(_, parts)| *parts)
}

/// The character that stands for a fraction.
pub(super) fn fraction_glyph(parts: (u32, u32)) -> Option<char> {
    FRACTIONS
        .iter()
        .find(|(_, known)| *known == parts)
        .map(|(glyph, _)| *glyph)
}

const FRACTIONS: [(char, (u32, u32)); 18] = [
    ('½', (1, 2)),
    ('¼', (1, 4)),
    ('¾', (3, 4)),
    ('⅛', (1, 8)),
    ('⅜', (3, 8)),
    ('⅝', (5, 8)),
    ('⅞', (7, 8)),
    ('⅓', (1, 3)),
    ('⅔', (2, 3)),
    ('⅕', (1, 5)),
    ('⅖', (2, 5)),
    ('⅗', (3, 5)),
    ('⅘', (4, 5)),
    ('⅙', (1, 6)),
    ('⅚', (5, 6)),
    ('⅐', (1, 7)),
    ('⅑', (1, 9)),
    ('⅒', (1, 10)),
];

/// The digit or sign that a raised one stands for.
pub(super) fn superscript(sign: char) -> Option<char> {
    Some(match sign {
        '⁰' => '0',
        '¹' => '1',
        '²' => '2',
        '³' => '3',
        '⁴'..='⁹' => char::from(b'4' + (sign as u32 - '⁴' as u32) as u8),
        '⁺' => '+',
        '⁻' => '-',
        _ => return None,
    })
}

/// A whole number in raised digits.
pub(super) fn raised(number: i32) -> String {
    const RAISED: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    number
        .to_string()
        .bytes()
        .map(|digit| match digit {
            b'0'..=b'9' => RAISED[usize::from(digit - b'0')],
            _ => '⁻',
        })
        .collect()
}

/// The digit or letter that a lowered one stands for.
pub(super) fn subscript(sign: char) -> Option<char> {
    const LETTERS: [(char, char); 22] = [
        ('ₐ', 'a'),
        ('ₑ', 'e'),
        ('ₒ', 'o'),
        ('ₓ', 'x'),
        ('ₕ', 'h'),
        ('ₖ', 'k'),
        ('ₗ', 'l'),
        ('ₘ', 'm'),
        ('ₙ', 'n'),
        ('ₚ', 'p'),
        ('ₛ', 's'),
        ('ₜ', 't'),
        ('ᵢ', 'i'),
        ('ᵣ', 'r'),
        ('ᵤ', 'u'),
        ('ᵥ', 'v'),
        ('ⱼ', 'j'),
        ('ᵦ', 'β'),
        ('ᵧ', 'γ'),
        ('ᵨ', 'ρ'),
        ('ᵩ', 'φ'),
        ('ᵪ', 'χ'),
    ];
    match sign {
        '₀'..='₉' => Some(char::from(b'0' + (sign as u32 - '₀' as u32) as u8)),
        _ => LETTERS
            .iter()
            .find(|(lowered, _)| *lowered == sign)
            .map(|(_, letter)| *letter),
    }
}

/// Whether a word goes on with this character.
pub(super) fn continues_word(sign: char) -> bool {
    is_degree(sign)
        || subscript(sign).is_some()
        || (unicode_ident::is_xid_continue(sign) && !matches!(sign, '\u{00B7}' | '\u{0387}'))
}

/// Whether a word begins with this character.
pub(super) fn begins_word(sign: char) -> bool {
    sign == '_' || is_degree(sign) || unicode_ident::is_xid_start(sign)
}

/// A degree sign, or what is pasted for it; a word with one is a unit and no name.
pub(super) fn is_degree(sign: char) -> bool {
    matches!(
        sign,
        '\u{00B0}' | '\u{00BA}' | '\u{02DA}' | '\u{2103}' | '\u{2109}'
    )
}

/// The plain spelling of a word: normal form C, one micro sign, one degree sign, no subscripts.
pub(super) fn word(text: &str) -> Cow<'_, str> {
    if text.is_ascii() {
        return Cow::Borrowed(text);
    }
    let mut plain = String::with_capacity(text.len());
    for sign in text.nfc() {
        match sign {
            '\u{00B5}' => plain.push('\u{03BC}'),
            '\u{00BA}' | '\u{02DA}' => plain.push('°'),
            '\u{2103}' => plain.push_str("°C"),
            '\u{2109}' => plain.push_str("°F"),
            _ => plain.push(subscript(sign).unwrap_or(sign)),
        }
    }
    Cow::Owned(plain)
}
