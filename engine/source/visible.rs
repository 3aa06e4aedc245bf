//! Text made safe to show: control characters, marks that turn the direction of writing and marks
//! without width become visible, so that a document can neither command a terminal nor hide what
//! it says. Changes what is shown, never the document.

use super::ascii::write_plainly;

/// A text as it may be shown on one line, in ASCII where `unicode` is false. Tabs and line ends
/// become a blank.
pub fn show_text(text: &str, unicode: bool) -> String {
    let mut shown = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '\t' | '\n' | '\r' => shown.push(' '),
            _ => push_visible(character, unicode, &mut shown),
        }
    }
    shown
}

/// The name of a file: as [`show_text`], but letters stay as they are, since programs read it.
pub(super) fn show_name(name: &str) -> String {
    show_text(name, true)
}

/// A line of a document as it is shown, with the run in it that is underlined.
pub(super) struct ShownLine {
    pub text: String,
    pub start: usize,
    pub end: usize,
}

/// Shows a line, tabs set to stops of four, and tells where its bytes `start..end` have gone. They
/// have to be in order.
pub(super) fn show_line(line: &str, start: usize, end: usize, unicode: bool) -> ShownLine {
    let mut shown = ShownLine {
        text: String::with_capacity(line.len()),
        start: 0,
        end: 0,
    };
    let mut column = 0;
    for (at, character) in line.char_indices() {
        if at <= start {
            shown.start = shown.text.len();
        }
        if at <= end {
            shown.end = shown.text.len();
        }
        let before = shown.text.len();
        match character {
            '\t' => shown.text.push_str(&"    "[column % 4..]),
            _ => push_visible(character, unicode, &mut shown.text),
        }
        column += unicode_width::UnicodeWidthStr::width(&shown.text[before..]);
    }
    if line.len() <= start {
        shown.start = shown.text.len();
    }
    if line.len() <= end {
        shown.end = shown.text.len();
    }
    shown
}

/// Adds a character, or what stands for one that cannot be seen: `␛` or `<U+202E>`.
fn push_visible(character: char, unicode: bool, shown: &mut String) {
    let code = character as u32;
    if !is_invisible(character) {
        match unicode {
            true => shown.push(character),
            false => write_plainly(character, shown),
        }
    } else if let (true, Some(picture)) = (unicode, picture_of(code)) {
        shown.push(picture);
    } else {
        shown.push_str(&format!("<U+{code:04X}>"));
    }
}

/// The picture Unicode has for a control character.
fn picture_of(code: u32) -> Option<char> {
    match code {
        0..0x20 => char::from_u32(0x2400 + code),
        0x7f => Some('\u{2421}'),
        _ => None,
    }
}

fn is_invisible(character: char) -> bool {
    character.is_control()
        || matches!(
            character,
            '\u{ad}'
                | '\u{61c}'
                | '\u{180e}'
                | '\u{200b}'..='\u{200f}'
                | '\u{2028}'..='\u{202e}'
                | '\u{2060}'..='\u{206f}'
                | '\u{feff}'
                | '\u{fff9}'..='\u{fffb}'
                | '\u{e0000}'..='\u{e0fff}'
        )
}
