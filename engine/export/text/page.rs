//! One cell in full.

use super::layout::{Layout, padded};
use super::sheet::Sheet;
use crate::report::{Page, Uncertainty};

/// Columns of the words that begin the rows.
const LABEL: usize = 10;

/// One cell with every digit, what it rests on and who uses it.
pub fn page(page: &Page, layout: Layout) -> String {
    let mut sheet = Sheet::new(layout);
    let value = sheet.value(&crate::report::Shown {
        plus_minus: None,
        tag: None,
        ..page.value.clone()
    });
    row(&mut sheet, "value", &value);
    if let Some(uncertainty) = &page.uncertainty {
        let text = sheet.show(&amounts(uncertainty));
        row(&mut sheet, "±", &text);
    }
    let mut rests = Vec::new();
    if !page.rests_on.is_empty() {
        rests.push(page.rests_on.join(", "));
    }
    if !page.used_by.is_empty() {
        rests.push(format!("used by {}", page.used_by.join(", ")));
    }
    let label = if page.rests_on.is_empty() {
        ""
    } else {
        "rests on"
    };
    let text = sheet.show(&rests.join("; "));
    match (label, page.used_by.is_empty()) {
        ("", true) => row(&mut sheet, "used by", "nothing yet"),
        ("", false) => {
            let text = sheet.show(&page.used_by.join(", "));
            row(&mut sheet, "used by", &text);
        }
        _ => row(&mut sheet, label, &text),
    }
    let words: Vec<&str> = page.source.split_whitespace().collect();
    let line = match page.line {
        Some(line) => format!("line {line}: {}", words.join(" ")),
        None => words.join(" "),
    };
    let line = sheet.show(&line);
    row(&mut sheet, "typed", &line);
    sheet.finish()
}

fn amounts(uncertainty: &Uncertainty) -> String {
    let short = |digits: &str| short(digits);
    let level = match &uncertainty.coverage {
        Some(_) => format!("{} at 95 %", short(&uncertainty.expanded)),
        None => format!("{} as a limit", short(&uncertainty.expanded)),
    };
    let mut text = format!("{level}; standard {}", short(&uncertainty.standard));
    if let Some(coverage) = &uncertainty.coverage {
        text.push_str(&format!(", k = {}", short(coverage)));
    }
    if let Some(dof) = &uncertainty.dof {
        text.push_str(&format!(", {} degrees of freedom", short(dof)));
    }
    text
}

/// Four digits of a figure are enough for a reader.
fn short(digits: &str) -> String {
    crate::number::Number::read(digits).map_or_else(|_| digits.to_owned(), |number| number.shown())
}

/// A label and a text that hangs beside it.
pub(super) fn row(sheet: &mut Sheet, label: &str, text: &str) {
    let label = padded(&sheet.show(label), LABEL);
    let start = format!("{label}{text}");
    sheet.paragraph(&start, 2, 2 + LABEL);
}
