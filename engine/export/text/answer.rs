//! Answers to a line typed in the shell.

use super::layout::{Layout, Paint};
use super::sheet::Sheet;
use crate::report::{Sentence, ShownKind};

/// “tank is 60 ± 1 gal”; the value alone for an expression.
pub fn sentence(sentence: &Sentence, layout: Layout) -> String {
    let mut sheet = Sheet::new(layout);
    add(&mut sheet, sentence);
    sheet.finish()
}

pub(super) fn add(sheet: &mut Sheet, sentence: &Sentence) {
    let value = sheet.value(&sentence.shown);
    let word = sentence.shown.kind == ShownKind::Word;
    let line = match &sentence.name {
        None => value,
        Some(name) => match sentence.shown.value.as_str() {
            "failed" if word => {
                let failed = sheet.paint("failed", Paint::Red);
                format!("{} {failed}", sheet.show(name))
            }
            value if word && value.starts_with("waits for ") => {
                format!("{} {}", sheet.show(name), sheet.show(value))
            }
            _ => format!("{} is {value}", sheet.show(name)),
        },
    };
    sheet.paragraph(&line, 2, 4);
}
