//! The prose of the handbook as plain text: its marks for code and emphasis left off.

/// The paragraphs and list items of a piece of prose, each on one line; lines of code stand alone,
/// indented by four blanks.
pub(super) fn paragraphs(text: &str) -> Vec<String> {
    let plain = |one: String| match one.starts_with("    ") {
        true => one,
        false => plain(&one),
    };
    as_written(text).into_iter().map(plain).collect()
}

/// The same with the marks of code and emphasis still in it.
fn as_written(text: &str) -> Vec<String> {
    let mut paragraphs: Vec<String> = Vec::new();
    let mut open = false;
    let mut code = false;
    for line in text.lines() {
        if line.trim_start().starts_with("```") {
            (code, open) = (!code, false);
            continue;
        }
        if code {
            paragraphs.push(format!("    {}", line.trim_end()));
            continue;
        }
        let line = line.trim();
        let item = line.starts_with("- ");
        if line.is_empty() {
            open = false;
        } else if open && !item {
            if let Some(last) = paragraphs.last_mut() {
                last.push(' ');
                last.push_str(line);
            }
        } else {
            paragraphs.push(line.to_owned());
            open = true;
        }
    }
    paragraphs
}

/// The first sentence of a piece of prose, without its full stop.
pub(super) fn first_sentence(text: &str) -> String {
    let paragraphs = as_written(text);
    let mut prose = paragraphs.iter().filter(|one| !one.starts_with(['-', ' ']));
    let Some(first) = prose.next() else {
        return String::new();
    };
    let ends = first.match_indices(['.', '?', '!']);
    let end = ends
        .filter(|(at, sign)| {
            let rest = &first[at + sign.len()..];
            // “No. 3” goes on; a new sentence begins with a capital or with a name in code.
            let next = rest.trim_start().chars().next();
            let begins = next.is_some_and(|sign| sign.is_uppercase() || sign == '`');
            rest.is_empty() || (rest.starts_with(' ') && begins)
        })
        .map(|(at, _)| at)
        .next();
    plain(first[..end.unwrap_or(first.len())].trim())
}

/// A text without the marks of code, emphasis and links.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    let mut code = false;
    let mut signs = text.chars().peekable();
    while let Some(sign) = signs.next() {
        match sign {
            '`' => code = !code,
            // Emphasis has a letter on one side; a product has blanks on both.
            '*' if !(code || plain.ends_with(' ') && signs.peek() == Some(&' ')) => {}
            _ => plain.push(sign),
        }
    }
    plain
}
