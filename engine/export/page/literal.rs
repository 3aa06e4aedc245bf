//! Numbers and texts as they stand in a script. Nothing in them can end the script or begin markup:
//! `<`, `>` and `&` are written as escapes.

/// A double as a literal; nothing for what is no finite number.
pub(super) fn number(value: f64) -> Option<String> {
    if !value.is_finite() {
        return None;
    }
    let plain = format!("{value:?}");
    let short = plain.strip_suffix(".0").unwrap_or(&plain).to_owned();
    let long = short.len() > 24;
    Some(if long { format!("{value:e}") } else { short })
}

/// A text as a literal between double quotes.
pub(super) fn text(value: &str) -> String {
    let mut written = String::with_capacity(value.len() + 2);
    written.push('"');
    for character in value.chars() {
        match character {
            '"' => written.push_str("\\\""),
            '\\' => written.push_str("\\\\"),
            '\n' => written.push_str("\\n"),
            '<' | '>' | '&' | '\'' | '\u{2028}' | '\u{2029}' | '\u{feff}' => {
                escape(&mut written, character)
            }
            control if control.is_control() => escape(&mut written, control),
            other => written.push(other),
        }
    }
    written.push('"');
    written
}

fn escape(written: &mut String, character: char) {
    let mut units = [0; 2];
    for unit in character.encode_utf16(&mut units) {
        written.push_str(&format!("\\u{unit:04x}"));
    }
}

/// A list of literals that are written already.
pub(super) fn list(items: impl IntoIterator<Item = String>) -> String {
    let items: Vec<String> = items.into_iter().collect();
    format!("[{}]", items.join(","))
}
