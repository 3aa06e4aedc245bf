//! Lines while they are gathered.

use super::layout::{Layout, Paint, TIE, finished, padded, width};
use crate::report::{Shown, ShownKind};
use crate::source::wrap;

/// Lines, from top to bottom.
pub(super) struct Sheet {
    pub(super) layout: Layout,
    lines: Vec<String>,
}

impl Sheet {
    pub(super) fn new(layout: Layout) -> Sheet {
        Sheet {
            layout,
            lines: Vec::new(),
        }
    }

    /// A text as it may be shown.
    pub(super) fn show(&self, text: &str) -> String {
        self.layout.show(text)
    }

    pub(super) fn paint(&self, text: &str, paint: Paint) -> String {
        self.layout.paint(text, paint)
    }

    /// A value in one line, as it could be typed. A number is not parted from its ± and unit.
    pub(super) fn value(&self, shown: &Shown) -> String {
        let line = self.value_in_parts(shown);
        let single = shown.kind == ShownKind::Number && !shown.value.starts_with('{');
        match single {
            true => line.replace(' ', TIE),
            false => line,
        }
    }

    fn value_in_parts(&self, shown: &Shown) -> String {
        let mut line = match shown.kind {
            ShownKind::Number => self.show(&self.layout.number(&shown.value)),
            ShownKind::Word => self.show(&shown.value),
        };
        if let Some(amount) = &shown.plus_minus {
            line.push_str(&self.show(&format!(" ± {}", self.layout.number(amount))));
        }
        if !shown.unit.is_empty() {
            line.push(' ');
            line.push_str(&self.show(&shown.unit));
        }
        if let Some(tag) = &shown.tag {
            line.push_str(&self.show(&format!(" ({tag})")));
        }
        line
    }

    /// A line as it is.
    pub(super) fn line(&mut self, line: &str) {
        self.lines.push(line.to_owned());
    }

    /// A blank line, unless it would be the first or follow another.
    pub(super) fn gap(&mut self) {
        if self.lines.last().is_some_and(|last| !last.is_empty()) {
            self.lines.push(String::new());
        }
    }

    /// A text broken at its blanks: its first line indented by `first`, the others by `others`.
    pub(super) fn paragraph(&mut self, text: &str, first: usize, others: usize) {
        let columns = self.layout.columns();
        let wrapped = wrap(text, columns - first, columns - others);
        for (index, line) in wrapped.iter().enumerate() {
            let indent = if index == 0 { first } else { others };
            self.lines.push(format!("{:indent$}{line}", ""));
        }
    }

    /// A paragraph each line of which is painted.
    pub(super) fn painted_paragraph(
        &mut self,
        text: &str,
        first: usize,
        others: usize,
        paint: Paint,
    ) {
        let columns = self.layout.columns();
        let wrapped = wrap(text, columns - first, columns - others);
        for (index, line) in wrapped.iter().enumerate() {
            let indent = if index == 0 { first } else { others };
            let line = self.paint(line, paint);
            self.lines.push(format!("{:indent$}{line}", ""));
        }
    }

    /// A head in a rule that goes to the end of the line.
    pub(super) fn rule(&mut self, head: &str, indent: usize) {
        let room = self.layout.columns() - indent;
        let line = ruled(&self.layout, head, room);
        let line = self.paint(&line, Paint::Bold);
        self.lines.push(format!("{:indent$}{line}", ""));
    }

    pub(super) fn finish(self) -> String {
        let mut text = String::new();
        for line in self.lines {
            text.push_str(&finished(&line));
            text.push('\n');
        }
        text
    }
}

/// A head filled up with its rule to so many columns.
pub(super) fn ruled(layout: &Layout, head: &str, columns: usize) -> String {
    let sign = if layout.unicode { "─" } else { "-" };
    let rest = columns.saturating_sub(width(head) + 1);
    match (head.is_empty(), rest) {
        (true, _) => sign.repeat(columns),
        (false, 0) => padded(head, columns),
        (false, rest) => format!("{head} {}", sign.repeat(rest)),
    }
}
