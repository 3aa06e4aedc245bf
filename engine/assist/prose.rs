//! The prose of the handbook as plain text: its marks for code and emphasis left off.

/// The paragraphs and list items of a piece of prose, each on one line.
pub(super) fn paragraphs(text: &str) -> Vec<String> {
    let mut paragraphs: Vec<String> = Vec::new();
    let mut open = false;
    for line in text.lines() {
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
    paragraphs.iter().map(|one| plain(one)).collect()
}

/// The first sentence of a piece of prose.
pub(super) fn first_sentence(text: &str) -> String {
    let paragraphs = paragraphs(text);
    let Some(first) = paragraphs.iter().find(|one| !one.starts_with("- ")) else {
        return String::new();
    };
    let ends = first.match_indices(['.', ':', ';', '?', '!']);
    let end = ends
        .filter(|(at, sign)| {
            let rest = &first[at + sign.len()..];
            (rest.is_empty() || rest.starts_with(' ')) && !matches!(*sign, ":" | ";")
        })
        .map(|(at, _)| at)
        .next();
    first[..end.unwrap_or(first.len())].trim().to_owned()
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
            '*' if !code && !(plain.ends_with(' ') && signs.peek() == Some(&' ')) => {}
            _ => plain.push(sign),
        }
    }
    plain
}
