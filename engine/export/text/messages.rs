//! Messages for standard error: the place first, as editors read it, then the source with its
//! carets. Notes stand below the results instead.

use super::layout::Layout;
use crate::report::{Message, Report};
use crate::source::{SourceText, Style, render};

/// The errors and warnings of a report, in the order of the documents.
pub fn messages(report: &Report, layout: Layout) -> String {
    report
        .messages
        .iter()
        .filter(|one| !one.is_note())
        .map(|one| message(one, layout))
        .collect()
}

/// One message with its place; without one, if it was typed in the shell.
pub fn message(message: &Message, layout: Layout) -> String {
    let source = SourceText {
        name: &message.path,
        text: &message.text,
        first_line: message.first_line.unwrap_or(1),
        lines: None,
    };
    let style = Style {
        colour: layout.colour,
        unicode: layout.unicode,
        width: layout.columns(),
        place: message.first_line.is_some(),
    };
    render(&message.diagnostic, &source, style)
}
