//! Text broken into lines at its blanks, by the columns it takes on a terminal. Words are never
//! cut; one that is wider than the line stands alone on it.

use unicode_width::UnicodeWidthStr;

/// The lines of a text, the first at most `first` columns wide and the others `others`. At least
/// one line comes back; runs of blanks inside a line are kept.
pub fn wrap(text: &str, first: usize, others: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    let mut width = 0;
    for part in text.split_inclusive(' ') {
        let room = if lines.is_empty() { first } else { others };
        let word = part.trim_end_matches(' ').width();
        if width > 0 && width + word > room {
            lines.push(line.trim_end_matches(' ').to_owned());
            line.clear();
            width = 0;
        }
        line.push_str(part);
        width += part.width();
    }
    lines.push(line.trim_end_matches(' ').to_owned());
    lines
}
