//! The tokens of a logical line laid out on its physical lines: which blanks stand between them
//! and how signs are written.

use super::roles::Roles;
use crate::source::Span;
use crate::syntax::fold;
use crate::syntax::lexer::Lexer;
use crate::syntax::token::{Kind, Token};

/// One physical line, without its indentation.
pub(super) struct LaidLine {
    /// Where it began in the document.
    pub start: u32,
    /// Its new text, its comment behind it.
    pub text: String,
}

/// What was written last on a line.
#[derive(Clone, Copy)]
struct Before {
    kind: Kind,
    /// A sign that binds to what follows it.
    is_prefix: bool,
    /// A run of several tokens, such as a number with its unit.
    is_run: bool,
}

/// Lays out the tokens of a lexer.
pub(super) fn lay_out(text: &str, lexer: &Lexer<'_>, roles: &Roles) -> Vec<LaidLine> {
    let mut lines: Vec<LaidLine> = Vec::new();
    let mut before: Option<Before> = None;
    let mut covered = 0;
    for token in &lexer.tokens {
        if token.span.start < covered {
            continue;
        }
        let begins_line = token.begins_line();
        if begins_line {
            lines.push(LaidLine {
                start: token.span.start,
                text: String::new(),
            });
        }
        let run = roles.run_at(token.span.start, text);
        let (span, written) = match run {
            Some((span, written)) => (*span, written.clone()),
            None => (token.span, spelling(text, *token)),
        };
        covered = span.end;
        let is_prefix = token.kind == Kind::Minus && roles.is_prefix(token.span.start);
        let blank =
            !begins_line && before.is_some_and(|before| stands_apart(before, *token, lexer, roles));
        if let Some(line) = lines.last_mut() {
            if blank {
                line.text.push(' ');
            }
            line.text.push_str(&written);
        }
        before = Some(Before {
            kind: token.kind,
            is_prefix,
            is_run: run.is_some(),
        });
    }
    add_comments(text, lexer, &mut lines);
    lines
}

/// Whether a blank stands between what was written last and this token.
fn stands_apart(before: Before, token: Token, lexer: &Lexer<'_>, roles: &Roles) -> bool {
    let is_open = matches!(
        before.kind,
        Kind::OpenRound | Kind::OpenSquare | Kind::OpenCurly | Kind::Dot | Kind::Power
    );
    if (is_open && !before.is_run) || before.is_prefix {
        return false;
    }
    match token.kind {
        Kind::Comma | Kind::Colon | Kind::Dot | Kind::Power | Kind::Raised => false,
        Kind::CloseRound | Kind::CloseSquare | Kind::CloseCurly => false,
        Kind::OpenRound => {
            let is_call = before.kind == Kind::Word && !before.is_run && !token.after_blank();
            roles.is_tag(token.span.start) || !is_call
        }
        Kind::OpenSquare => !is_key(token, lexer),
        _ => true,
    }
}

/// Whether a dot follows the bracket that closes this one.
fn is_key(token: Token, lexer: &Lexer<'_>) -> bool {
    let behind = token.partner.saturating_add(1) as usize;
    lexer
        .tokens
        .get(behind)
        .is_some_and(|token| token.kind == Kind::Dot && !token.after_blank())
}

/// How a token is written outside numbers and units.
fn spelling(text: &str, token: Token) -> String {
    let written = token.span.of(text);
    let plain = match token.kind {
        Kind::Minus => "-",
        Kind::Times => "*",
        Kind::Over => "/",
        Kind::PlusMinus => "±",
        Kind::LessOrEqual => "<=",
        Kind::GreaterOrEqual => ">=",
        Kind::Unequal => "!=",
        Kind::Word | Kind::UnitSign => return fold::word(written).into_owned(),
        Kind::Text => return plain_quotes(written),
        Kind::Raised => return format!("^{}", lowered(written)),
        _ => written,
    };
    plain.to_string()
}

fn lowered(raised: &str) -> String {
    let digits: String = raised.chars().filter_map(fold::superscript).collect();
    digits.trim_start_matches('+').to_string()
}

fn plain_quotes(written: &str) -> String {
    let mut signs = written.chars();
    signs.next();
    signs.next_back();
    format!("\"{}\"", signs.as_str())
}

/// Each comment goes behind the line it stands on.
fn add_comments(text: &str, lexer: &Lexer<'_>, lines: &mut [LaidLine]) {
    for comment in &lexer.comments {
        let at = lines.partition_point(|line| line.start <= comment.start);
        if let Some(line) = at.checked_sub(1).and_then(|at| lines.get_mut(at)) {
            line.text.push_str("  ");
            line.text.push_str(comment_text(text, *comment));
        }
    }
}

/// A comment from its `#` on.
pub(super) fn comment_text(text: &str, comment: Span) -> &str {
    comment.of(text).trim_end_matches(fold::is_blank)
}
