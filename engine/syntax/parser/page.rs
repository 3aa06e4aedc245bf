//! The page that the tokens of a logical line stand on: the text, the messages so far, and the
//! count of what is nested.

use std::cell::{Cell, RefCell};

use super::input::Tokens;
use crate::source::{Diagnostic, Span};
use crate::syntax::token::Token;

/// Most brackets and signs inside one another; what is deeper is refused before any stack is at
/// risk, here or in the layers that walk the tree.
pub(in crate::syntax) const DEEPEST: u16 = 64;

/// Highest tree, which operators in a row make too.
pub(in crate::syntax) const HIGHEST: u16 = 250;

/// Most messages that one logical line gets, beside the one that ends its reading.
const MOST_MESSAGES: usize = 10;

/// One logical line and what has been found out about it.
pub(in crate::syntax) struct Page<'t> {
    /// The document.
    pub text: &'t str,
    /// Its physical lines.
    pub lines: &'t [Span],
    /// Its tokens.
    pub tokens: &'t [Token],
    diagnostics: RefCell<Vec<Diagnostic>>,
    /// How many brackets and signs are being read inside one another.
    pub depth: Cell<u16>,
    /// The height of what was read last, as far as it is counted on its own.
    pub height: Cell<u16>,
    /// Whether the sums of a `solve` are being read, outside any bracket in them.
    pub in_solve: Cell<bool>,
    /// Where reading a bracket as a unit went wrong the last time, by token index.
    pub failed_group: Cell<u32>,
}

impl<'t> Page<'t> {
    /// A page on which nothing has been read.
    pub fn new(text: &'t str, lines: &'t [Span], tokens: &'t [Token]) -> Page<'t> {
        Page {
            text,
            lines,
            tokens,
            diagnostics: RefCell::new(Vec::new()),
            depth: Cell::new(0),
            height: Cell::new(0),
            in_solve: Cell::new(false),
            failed_group: Cell::new(u32::MAX),
        }
    }

    /// All of its tokens.
    pub fn tokens(&'t self) -> Tokens<'t> {
        Tokens::of(self)
    }

    /// Adds a message.
    pub fn say(&self, diagnostic: Diagnostic) {
        let mut diagnostics = self.diagnostics.borrow_mut();
        if diagnostics.len() < MOST_MESSAGES {
            diagnostics.push(diagnostic);
        }
    }

    /// Adds the message that ends the reading.
    pub fn end_with(&self, diagnostic: Diagnostic) {
        self.diagnostics.borrow_mut().push(diagnostic);
    }

    /// The messages, in the order they were found.
    pub fn into_diagnostics(self) -> Vec<Diagnostic> {
        self.diagnostics.into_inner()
    }
}
