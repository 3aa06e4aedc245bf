//! Source in, plain text out; the only place of these tests that calls the parser.

use gaugebook::source::{Diagnostic, Span};
use gaugebook::syntax::{Statement, parse, print_statement};

/// The lines of a text as spans.
pub(crate) fn lines(text: &str) -> Vec<Span> {
    let mut start = 0;
    text.split('\n')
        .map(|line| {
            let span = Span::new(start, start + line.len());
            start += line.len() + 1;
            span
        })
        .collect()
}

/// The statements of a block without prose.
pub(crate) fn statements(text: &str) -> Vec<Statement> {
    parse(text, &lines(text), false)
}

/// Each statement printed, its messages below it.
pub(crate) fn told(text: &str) -> String {
    let mut out = String::new();
    for statement in statements(text) {
        out.push_str(&print_statement(&statement, text));
        out.push('\n');
        for message in &statement.diagnostics {
            out.push_str(&message_text(message, text));
        }
    }
    out
}

/// The messages of a text, one part a line.
pub(crate) fn messages(text: &str) -> String {
    statements(text)
        .iter()
        .flat_map(|statement| &statement.diagnostics)
        .map(|message| message_text(message, text))
        .collect()
}

/// A message with all its parts, the runs of the text in angle brackets.
pub(crate) fn message_text(message: &Diagnostic, text: &str) -> String {
    let mut out = format!(
        "{} {} ‹{}›: {}\n",
        message.severity.word(),
        message.code,
        message.span.of(text),
        message.message
    );
    if !message.label.is_empty() {
        out.push_str(&format!("  label     {}\n", message.label));
    }
    if !message.expected.is_empty() {
        out.push_str(&format!("  expected  {}\n", message.expected));
    }
    for repair in &message.repairs {
        let replaces = repair
            .replaces
            .map_or(String::new(), |span| format!(" for ‹{}›", span.of(text)));
        let remark = match &*repair.remark {
            "" => String::new(),
            remark => format!(" ({remark})"),
        };
        out.push_str(&format!("  repair    {}{replaces}{remark}\n", repair.text));
    }
    out
}

/// A tree as text without the places of its parts.
pub(crate) fn without_places(tree: &impl std::fmt::Debug) -> String {
    let whole = format!("{tree:?}");
    let mut out = String::with_capacity(whole.len());
    let mut rest = whole.as_str();
    while let Some(at) = rest.find("Span {") {
        out.push_str(&rest[..at]);
        let end = rest[at..].find('}').map_or(rest.len(), |end| at + end + 1);
        rest = &rest[end..];
    }
    out.push_str(rest);
    out
}
