//! From the lines of a block to its statements. Here it is decided which physical lines make a
//! logical one, so a broken statement ends where the next begins.

use std::ops::Range;

use super::lexer::Lexer;
use super::outline::{Content, Line, outline};
use super::owner;
use super::parser::{self, Page};
use super::token::Token;
use super::tree::{Name, Statement, StatementKind};
use super::{fold, rows};
use crate::source::{Code, Diagnostic, Span};

/// The statements of one block, in order.
///
/// `lines` are the content lines of the block as spans into `text`, line ends excluded. `loose`
/// is for a document without fences: there a line is a statement only if it begins like one, and
/// all else is prose.
pub fn parse(text: &str, lines: &[Span], loose: bool) -> Vec<Statement> {
    let mut statements = Vec::new();
    Reader::new(text, lines, loose).each_statement(|statement, _| statements.push(statement));
    statements
}

/// The lines of a block while they are read.
pub(super) struct Reader<'t> {
    /// The document.
    pub text: &'t str,
    /// The physical lines as they were given.
    pub spans: &'t [Span],
    /// The same lines, measured.
    pub lines: Vec<Line>,
    /// Whether prose stands between the statements.
    pub loose: bool,
    /// Whether a body may lack its indentation, as in the shell.
    pub lenient: bool,
    /// The tokens of the logical line read last.
    pub lexer: Lexer<'t>,
    peek: Lexer<'t>,
    /// A line that goes on with nothing, whatever its indentation.
    stop: Option<usize>,
    /// What is to be said about the statement that begins there.
    misplaced: Option<Diagnostic>,
}

impl<'t> Reader<'t> {
    /// A reader for the lines of one block.
    pub fn new(text: &'t str, spans: &'t [Span], loose: bool) -> Reader<'t> {
        Reader {
            text,
            spans,
            lines: outline(text, spans),
            loose,
            lenient: false,
            lexer: Lexer::new(text),
            peek: Lexer::new(text),
            stop: None,
            misplaced: None,
        }
    }

    /// Gives every statement with the run of its lines.
    pub fn each_statement(&mut self, mut give: impl FnMut(Statement, Range<usize>)) {
        let mut at = 0;
        while let Some(line) = self.lines.get(at) {
            let is_prose = line.content != Content::Text || (self.loose && !self.begins(at));
            if is_prose {
                at += 1;
                continue;
            }
            let misplaced = self.misplaced.take();
            let (mut statement, next) = self.statement(at);
            if let Some(misplaced) = misplaced {
                statement.diagnostics.insert(0, misplaced);
            }
            give(statement, at..next);
            at = next.max(at + 1);
        }
    }

    /// The statement that begins at a line, and the first line behind it.
    fn statement(&mut self, at: usize) -> (Statement, usize) {
        match owner::Owner::of(self.content(at)) {
            Some(owner) if !self.look(at, parser::begins_cell) => owner::statement(self, owner, at),
            _ => self.plain(at),
        }
    }

    /// A statement of one logical line.
    fn plain(&mut self, at: usize) -> (Statement, usize) {
        let floor = self.indent(at);
        let next = self.logical_line(at, floor, true);
        let lines = self.spans.get(at..next).unwrap_or(&[]);
        let page = Page::new(self.text, lines, &self.lexer.tokens);
        let kind = parser::run(&page, parser::line, "an operator or the end of the line")
            .unwrap_or_else(|| StatementKind::Broken(broken(&page)));
        let mut diagnostics = page.into_diagnostics();
        if let Some(line) = misplaced_line(&diagnostics, &self.lines, at..next) {
            // The line below is a statement of its own: this one ends before it.
            self.stop = Some(line);
            let (statement, next) = self.plain(at);
            self.stop = None;
            self.misplaced = diagnostics.pop();
            return (statement, next);
        }
        let statement = Statement {
            span: self.span(at).to(self.span(next.saturating_sub(1))),
            kind,
            remark: self.remark(next.saturating_sub(1)),
            diagnostics,
        };
        (statement, next)
    }

    /// Gathers the tokens of the logical line that begins at a line; gives the first line behind
    /// it. A line that stands deeper than `floor` goes on with it if `deeper`, and any line while
    /// a bracket is open, unless it begins a statement of its own.
    pub fn logical_line(&mut self, at: usize, floor: u32, deeper: bool) -> usize {
        self.lexer.clear();
        self.lexer.line(self.span(at));
        let mut end = at + 1;
        while let Some(next) = self.next_text(end) {
            let gap = self.loose && next > end && self.has_blank(end, next);
            let goes_on = (deeper && self.indent(next) > floor) || self.lexer.is_open();
            if self.stop == Some(next) {
                break;
            }
            if !goes_on || gap || (self.indent(next) <= floor && self.begins(next)) {
                break;
            }
            self.lexer.line(self.span(next));
            end = next + 1;
        }
        end
    }

    /// The next line from `at` on that holds more than a comment.
    pub fn next_text(&self, at: usize) -> Option<usize> {
        let rest = self.lines.get(at..)?;
        let ahead = rest.iter().position(|line| line.content == Content::Text)?;
        Some(at + ahead)
    }

    /// Whether a blank line stands in this run.
    pub fn has_blank(&self, from: usize, to: usize) -> bool {
        self.lines
            .get(from..to)
            .is_some_and(|run| run.iter().any(|line| line.content == Content::Blank))
    }

    /// Whether a line begins a statement, as prose would not.
    pub fn begins(&mut self, at: usize) -> bool {
        self.look(at, parser::looks_like_statement)
    }

    /// What the tokens of one physical line look like.
    pub fn look(&mut self, at: usize, asks: impl Fn(parser::Tokens<'_>) -> bool) -> bool {
        let span = self.span(at);
        self.peek.clear();
        self.peek.line(span);
        asks(Page::new(self.text, &[], &self.peek.tokens).tokens())
    }

    /// A line without the blanks around it.
    pub fn span(&self, at: usize) -> Span {
        self.lines.get(at).map_or(Span::default(), |line| line.span)
    }

    /// The text of a line.
    pub fn content(&self, at: usize) -> &'t str {
        self.span(at).of(self.text)
    }

    /// How deep a line stands.
    pub fn indent(&self, at: usize) -> u32 {
        self.lines.get(at).map_or(0, |line| line.indent)
    }

    /// The comment on the last line of a statement, or else the first one in it.
    fn remark(&self, last: usize) -> Option<Span> {
        let from = self.span(last).start;
        let comments = &self.lexer.comments;
        let comment = comments
            .iter()
            .rfind(|comment| comment.start >= from)
            .or(comments.first())?;
        remark_text(self.text, *comment)
    }
}

/// The line inside a statement that was found to begin another.
fn misplaced_line(diagnostics: &[Diagnostic], lines: &[Line], run: Range<usize>) -> Option<usize> {
    let last = diagnostics
        .last()
        .filter(|last| last.code == Code::Indentation)?;
    (run.start + 1..run.end).find(|at| {
        lines
            .get(*at)
            .is_some_and(|line| line.span.start == last.span.start)
    })
}

/// A comment without its `#` and the blanks around it.
fn remark_text(text: &str, comment: Span) -> Option<Span> {
    let whole = comment.of(text);
    let inner = whole.trim_start_matches('#');
    let inner = inner.trim_start_matches(fold::is_blank);
    let start = comment.end as usize - inner.len();
    (!inner.is_empty()).then(|| Span::new(start, comment.end as usize))
}

/// The name that a broken line would have defined.
pub(super) fn broken(page: &Page<'_>) -> Option<Name> {
    let token: Token = parser::broken_name(page.tokens())?;
    Some(Name {
        text: fold::word(token.span.of(page.text)).into(),
        span: token.span,
    })
}

/// Most messages that a statement of many lines gets.
const MOST_MESSAGES: usize = 50;

/// Puts the parts of a statement of several lines together.
pub(super) fn whole(
    reader: &Reader<'_>,
    at: usize,
    next: usize,
    kind: StatementKind,
    mut diagnostics: Vec<Diagnostic>,
) -> (Statement, usize) {
    diagnostics.truncate(MOST_MESSAGES);
    let last = (at..next)
        .rev()
        .find(|line| reader.lines.get(*line).is_some_and(rows::holds_text))
        .unwrap_or(at);
    let statement = Statement {
        span: reader.span(at).to(reader.span(last)),
        kind,
        remark: None,
        diagnostics,
    };
    (statement, next)
}
