//! From lines to entries: a bracket, a formula or a table goes on over several lines, and a paste
//! may hold many entries. Lines go in, whole entries come out; what they say is not looked at.

use super::verb::split_verb;
use crate::source::Document;
use crate::syntax;

/// Lines that are not an entry yet.
#[derive(Debug, Default)]
pub struct Gather {
    pending: String,
    /// The number of the first pending line.
    first_line: usize,
    /// Lines seen.
    lines: usize,
}

/// A whole entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Its lines, separated by `\n`.
    pub text: String,
    /// The number of its first line, from 1.
    pub line: usize,
}

impl Gather {
    /// Takes a line; gives the entries that are whole now.
    pub fn push(&mut self, line: &str) -> Vec<Entry> {
        self.lines += 1;
        let mut whole = Vec::new();
        if self.is_ended_by(line) {
            whole.extend(self.finish());
        }
        if self.pending.is_empty() {
            if line.trim().is_empty() {
                return whole;
            }
            if split_verb(line).is_some() {
                whole.push(Entry {
                    text: line.trim().to_owned(),
                    line: self.lines,
                });
                return whole;
            }
            self.first_line = self.lines;
        } else {
            self.pending.push('\n');
        }
        self.pending.push_str(line);
        if self.pending.len() > LONGEST_ENTRY || syntax::is_complete(&self.pending) {
            whole.extend(self.finish());
        }
        whole
    }

    /// The last entry, whole or not: nothing more comes.
    pub fn finish(&mut self) -> Option<Entry> {
        let text = std::mem::take(&mut self.pending);
        (!text.trim().is_empty()).then(|| Entry {
            text: text.trim_end().to_owned(),
            line: self.first_line,
        })
    }

    /// Whether a line stands behind a body that began below its head, and so begins an entry.
    fn is_ended_by(&self, line: &str) -> bool {
        let body_is_indented = self
            .pending
            .split_once('\n')
            .is_some_and(|(_, body)| body.lines().any(|one| one.starts_with([' ', '\t'])));
        let is_indented = line.starts_with([' ', '\t', ')', ']', '}']);
        body_is_indented && !is_indented && self.is_body() && !line.trim().is_empty()
    }

    /// Whether what is pending waits for rows or steps, not for a bracket.
    fn is_body(&self) -> bool {
        syntax::is_complete(&format!("{}\n", self.pending))
    }
}

/// Longer entries are not waited for.
const LONGEST_ENTRY: usize = 1 << 20;

/// The entries of a text that was typed or pasted in one go. A pasted post or notebook gives its
/// statements; any other text gives its entries in order.
pub fn entries(text: &str) -> Vec<Entry> {
    if is_wrapped(text) {
        return statements_of(text);
    }
    let mut gather = Gather::default();
    let mut entries: Vec<Entry> = Vec::new();
    for line in text.lines() {
        entries.extend(gather.push(line));
    }
    entries.extend(gather.finish());
    entries
}

/// Whether nothing more is expected behind a text: what the line editor asks at the end of a line.
pub fn is_whole(text: &str) -> bool {
    let fences = text.lines().filter(|line| is_fence(line)).count();
    if fences > 0 {
        return fences % 2 == 0;
    }
    if split_verb(text).is_some() || is_wrapped(text) {
        return true;
    }
    let mut gather = Gather::default();
    for line in text.split('\n') {
        gather.push(line);
    }
    gather.pending.is_empty()
}

fn is_fence(line: &str) -> bool {
    let line = line.trim_start();
    line.starts_with("```") || line.starts_with("~~~")
}

/// Whether a text brings fences, quote marks or a forum's tags along.
fn is_wrapped(text: &str) -> bool {
    text.contains('\n')
        && text.lines().any(|line| {
            let line = line.trim_start();
            is_fence(line) || line.starts_with("> ") || line.starts_with("[code")
        })
}

fn statements_of(text: &str) -> Vec<Entry> {
    let document = Document::new(text.to_owned());
    let mut entries = Vec::new();
    for block in document.blocks() {
        for statement in syntax::parse(text, &block.lines, block.loose) {
            let lines = block
                .lines
                .iter()
                .filter(|line| line.end > statement.span.start && line.start < statement.span.end);
            let own: Vec<&str> = lines.map(|line| line.of(text)).collect();
            entries.push(Entry {
                text: own.join("\n").trim().to_owned(),
                line: document.line_column(statement.span.start as usize).0,
            });
        }
    }
    entries
}
