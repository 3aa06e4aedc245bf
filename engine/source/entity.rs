//! Signs that a forum wrote as entities: `&plusmn;` for `±`, `&#176;` for `°`. A text goes in, the
//! text with the signs comes out. `&` has no meaning in lines of cells, so nothing is lost there.

use std::borrow::Cow;

/// Entities of HTML that stand for something one types into a notebook.
const NAMED: &[(&str, &str)] = &[
    ("amp", "&"),
    ("lt", "<"),
    ("gt", ">"),
    ("quot", "\""),
    ("apos", "'"),
    ("nbsp", "\u{a0}"),
    ("ensp", " "),
    ("emsp", " "),
    ("thinsp", " "),
    ("shy", ""),
    ("zwj", ""),
    ("zwnj", ""),
    ("plusmn", "±"),
    ("pm", "±"),
    ("deg", "°"),
    ("micro", "µ"),
    ("mu", "μ"),
    ("Omega", "Ω"),
    ("Delta", "Δ"),
    ("pi", "π"),
    ("times", "×"),
    ("middot", "·"),
    ("sdot", "⋅"),
    ("divide", "÷"),
    ("minus", "−"),
    ("ndash", "–"),
    ("mdash", "—"),
    ("hellip", "…"),
    ("sup1", "¹"),
    ("sup2", "²"),
    ("sup3", "³"),
    ("frac12", "½"),
    ("half", "½"),
    ("frac14", "¼"),
    ("frac34", "¾"),
    ("frac18", "⅛"),
    ("frac38", "⅜"),
    ("frac58", "⅝"),
    ("frac78", "⅞"),
    ("le", "≤"),
    ("ge", "≥"),
    ("ne", "≠"),
    ("ldquo", "“"),
    ("rdquo", "”"),
    ("bdquo", "„"),
    ("lsquo", "‘"),
    ("rsquo", "’"),
    ("laquo", "«"),
    ("raquo", "»"),
    ("Prime", "″"),
    ("prime", "′"),
    ("permil", "‰"),
    ("euro", "€"),
    ("pound", "£"),
    ("yen", "¥"),
    ("cent", "¢"),
    ("vert", "|"),
    ("lsqb", "["),
    ("rsqb", "]"),
    ("num", "#"),
    ("equals", "="),
    ("ast", "*"),
    ("lowbar", "_"),
];

/// Names of entities are no longer than this.
const LONGEST: usize = 8;

/// A text with the signs that its entities stand for; what an entity was written as twice
/// (`&amp;deg;`) is read twice.
pub(super) fn without_entities(text: &str) -> Cow<'_, str> {
    match decoded(text) {
        None => Cow::Borrowed(text),
        Some(once) => Cow::Owned(decoded(&once).unwrap_or(once)),
    }
}

/// The text with its entities read; nothing if there are none.
fn decoded(text: &str) -> Option<String> {
    let mut plain = String::new();
    let mut kept = 0;
    for (at, _) in text.match_indices('&') {
        if at < kept {
            continue;
        }
        let rest = text.get(at + 1..).unwrap_or("");
        let end = rest.bytes().take(LONGEST + 1).position(|byte| byte == b';');
        let Some(name) = end.and_then(|end| rest.get(..end)) else {
            continue;
        };
        let Some(sign) = sign_of(name) else { continue };
        plain.push_str(text.get(kept..at).unwrap_or(""));
        plain.push_str(&sign);
        kept = at + 1 + name.len() + 1;
    }
    if kept == 0 {
        return None;
    }
    plain.push_str(text.get(kept..).unwrap_or(""));
    Some(plain)
}

fn sign_of(name: &str) -> Option<String> {
    if let Some(number) = name.strip_prefix('#') {
        let code = match number.strip_prefix(['x', 'X']) {
            Some(digits) => u32::from_str_radix(digits, 16).ok()?,
            None => number.parse().ok()?,
        };
        let sign = char::from_u32(code)?;
        return (!sign.is_control()).then(|| sign.to_string());
    }
    let (_, sign) = NAMED.iter().find(|(known, _)| *known == name)?;
    Some((*sign).to_owned())
}
