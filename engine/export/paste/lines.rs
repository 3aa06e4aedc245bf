//! The statements of a notebook as lines that survive a forum: canonical, short, broken only
//! within brackets.

use crate::notebook::{Notebook, StatementId, Tag};
use crate::source::{Document, Span};
use crate::syntax::{self, StatementKind};

/// Lines of cells stay within so many characters.
const WIDTH: usize = 64;
/// A remark that has less room than this is left out.
const LEAST_REMARK: usize = 12;

/// The lines of every statement of the notebook itself, in its order.
pub(super) fn statement_lines(notebook: &Notebook) -> Vec<String> {
    let mut lines = Vec::new();
    for (number, record) in notebook.statements().iter().enumerate() {
        let own = record.part == 0 && !record.removed && !record.is_handbook();
        if own && record.tag != Tag::Expression {
            lines.extend(lines_of(notebook, StatementId(number as u32)));
        }
    }
    lines
}

fn lines_of(notebook: &Notebook, id: StatementId) -> Vec<String> {
    let mut tree = notebook.tree(id);
    let text = notebook.text_of(id);
    let remark = tree
        .remark
        .take()
        .map(|span| span.of(text).trim().to_owned());
    if matches!(tree.kind, StatementKind::Broken(_)) {
        return notebook
            .plain_source(id)
            .lines()
            .map(str::to_owned)
            .collect();
    }
    let mut printed = syntax::print_statement(&tree, text);
    if let StatementKind::Check(check) = &tree.kind
        && !is_statement(&printed)
    {
        // `check ready` alone reads like prose.
        let condition = syntax::print_expr(&check.condition);
        printed = printed.replacen(&condition, &format!("({condition}) == true"), 1);
    }
    let mut lines: Vec<String> = printed.lines().map(str::to_owned).collect();
    if let [only] = &lines[..] {
        let mut broken = broken(only);
        if let (Some(last), Some(remark)) = (broken.last_mut(), &remark) {
            add_remark(last, remark);
        }
        lines = broken;
    }
    lines
}

/// A line cut behind commas within brackets, where it is too long: an open bracket goes on in the
/// next line, indented or not.
fn broken(line: &str) -> Vec<String> {
    let mut lines = Vec::new();
    let mut rest = line.to_owned();
    while width(&rest) > WIDTH {
        let Some(at) = last_comma(&rest) else { break };
        let behind = rest.split_off(at);
        lines.push(rest);
        rest = format!("    {}", behind.trim_start());
        if lines.len() > 50 {
            break;
        }
    }
    lines.push(rest);
    lines
}

/// The place behind the last comma within a bracket that leaves a short enough line.
fn last_comma(line: &str) -> Option<usize> {
    let mut depth = 0i32;
    let mut quoted = false;
    let mut found = None;
    for (count, (at, sign)) in line.char_indices().enumerate() {
        if count >= WIDTH {
            break;
        }
        match sign {
            '"' => quoted = !quoted,
            '(' | '{' if !quoted => depth += 1,
            ')' | '}' if !quoted => depth -= 1,
            ',' if !quoted && depth > 0 && count > 8 => found = Some(at + 1),
            _ => {}
        }
    }
    found
}

fn width(line: &str) -> usize {
    line.chars().count()
}

/// A remark behind a line, as much of it as there is room for.
fn add_remark(line: &mut String, remark: &str) {
    let room = WIDTH.saturating_sub(width(line) + 4);
    let words = remark.split_whitespace().collect::<Vec<&str>>().join(" ");
    let shown = match words.chars().count() <= room {
        true => words,
        false if room >= LEAST_REMARK => shortened(&words, room - 2),
        false => return,
    };
    if !shown.is_empty() {
        line.push_str(&format!("  # {shown}"));
    }
}

/// The first words that fit.
fn shortened(text: &str, room: usize) -> String {
    let mut short = String::new();
    for word in text.split(' ') {
        if width(&short) + width(word) + 1 > room {
            break;
        }
        if !short.is_empty() {
            short.push(' ');
        }
        short.push_str(word);
    }
    match short.is_empty() {
        true => short,
        false => format!("{short} …"),
    }
}

/// A line of prose or of results that is not read as a statement in a document without fences.
pub(super) fn not_a_statement(line: &str) -> String {
    match is_statement(line) {
        false => line.to_owned(),
        true => format!("· {line}"),
    }
}

/// Whether a document without fences has a statement in such a line.
fn is_statement(line: &str) -> bool {
    let document = Document::new(line.to_owned());
    let lines: Vec<Span> = document
        .blocks()
        .iter()
        .flat_map(|block| block.lines.clone())
        .collect();
    !syntax::parse(document.text(), &lines, true).is_empty()
}
