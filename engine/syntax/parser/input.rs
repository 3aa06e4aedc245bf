//! What the parser runs on: the tokens of one logical line as an input for nom, and the page they
//! stand on, which holds the text, the messages so far and the count of nested brackets.

use std::iter::{Copied, Enumerate};
use std::slice::Iter;

use nom::error::{ErrorKind, ParseError};
use nom::{IResult, Input, Needed};

use super::page::{DEEPEST, HIGHEST, Page};
use crate::source::{Diagnostic, Span};
use crate::syntax::token::{Kind, Reserved, Token};

/// The tokens that are still to be read: a run of those of a page.
#[derive(Clone, Copy)]
pub(in crate::syntax) struct Tokens<'t> {
    /// The page they stand on.
    pub page: &'t Page<'t>,
    at: u32,
    end: u32,
}

impl<'t> Tokens<'t> {
    /// All tokens of a page.
    pub fn of(page: &'t Page<'t>) -> Tokens<'t> {
        Tokens {
            page,
            at: 0,
            end: page.tokens.len() as u32,
        }
    }

    fn rest(self) -> &'t [Token] {
        let run = self.at as usize..self.end as usize;
        self.page.tokens.get(run).unwrap_or(&[])
    }

    /// The kind of the next token.
    pub fn kind(self) -> Kind {
        self.kind_at(0)
    }

    /// The kind of the token so many behind the next.
    pub fn kind_at(self, ahead: usize) -> Kind {
        self.get(ahead).map_or(Kind::End, |token| token.kind)
    }

    /// The next token; behind the last an empty one.
    pub fn token(self) -> Token {
        self.token_at(0)
    }

    /// The token so many behind the next.
    pub fn token_at(self, ahead: usize) -> Token {
        self.get(ahead).copied().unwrap_or_else(|| self.end())
    }

    fn get(self, ahead: usize) -> Option<&'t Token> {
        let index = self.at as usize + ahead;
        if index < self.end as usize {
            self.page.tokens.get(index)
        } else {
            None
        }
    }

    /// The token before the next.
    pub fn previous(self) -> Option<Token> {
        let before = self.at.checked_sub(1)?;
        self.page.tokens.get(before as usize).copied()
    }

    /// The index of the next token on the page.
    pub fn index(self) -> u32 {
        self.at
    }

    /// The text of a token.
    pub fn text(self, token: Token) -> &'t str {
        token.span.of(self.page.text)
    }

    /// Whether the next token is this word.
    pub fn is_word(self, word: &str) -> bool {
        self.kind() == Kind::Word && self.text(self.token()) == word
    }

    /// Without the next token.
    pub fn after(self) -> Tokens<'t> {
        self.skip(1)
    }

    /// Without the next few tokens.
    pub fn skip(self, count: usize) -> Tokens<'t> {
        let left = self.end - self.at;
        Tokens {
            at: self.at + left.min(u32::try_from(count).unwrap_or(left)),
            ..self
        }
    }

    /// The tokens up to the one with this index on the page.
    pub fn until(self, index: u32) -> Tokens<'t> {
        Tokens {
            end: index.clamp(self.at, self.end),
            ..self
        }
    }

    /// The tokens behind the partner of an opening bracket.
    pub fn behind(self, opening: Token) -> Tokens<'t> {
        Tokens {
            at: opening.partner.saturating_add(1).clamp(self.at, self.end),
            ..self
        }
    }

    /// With a few tokens that were read already.
    pub fn back(self, count: usize) -> Tokens<'t> {
        let count = u32::try_from(count).unwrap_or(self.at);
        Tokens {
            at: self.at.saturating_sub(count),
            ..self
        }
    }

    /// Whether nothing is left.
    pub fn is_empty(self) -> bool {
        self.at >= self.end
    }

    /// From `start` to the end of the token before the next.
    pub fn span_from(self, start: Span) -> Span {
        self.previous().map_or(start, |token| start.to(token.span))
    }

    /// Whether `*` or `/` with no blank on either side is next.
    pub fn is_tight_operator(self) -> bool {
        matches!(self.kind(), Kind::Times | Kind::Over)
            && !self.token().after_blank()
            && self.at + 1 < self.end
            && !self.token_at(1).after_blank()
    }

    /// Whether the word so many behind the next is a call or has a member, so is never a unit.
    pub fn is_called_or_opened(self, ahead: usize) -> bool {
        let behind = self.token_at(ahead + 1);
        !behind.after_blank()
            && (behind.kind == Kind::OpenRound
                || (behind.kind == Kind::Dot && self.kind_at(ahead + 2) == Kind::Word))
    }

    fn end(self) -> Token {
        let place = match self.previous() {
            Some(token) => token.span.end,
            None => self.page.lines.first().map_or(0, |line| line.start),
        };
        Token {
            kind: Kind::End,
            marks: crate::syntax::token::Marks::BLANK,
            span: Span {
                start: place,
                end: place,
            },
            partner: Token::ALONE,
        }
    }

    /// Reads something one level deeper. Too deep a level is a message, at once.
    pub fn nested<T>(self, read: impl FnOnce(Tokens<'t>) -> Parsed<'t, T>) -> Parsed<'t, T> {
        let page = self.page;
        let depth = page.depth.get();
        if depth >= DEEPEST {
            return Err(super::fault::too_deep(self));
        }
        page.depth.set(depth + 1);
        let in_solve = page.in_solve.get();
        if matches!(
            self.kind(),
            Kind::OpenRound | Kind::OpenCurly | Kind::OpenSquare | Kind::Word
        ) {
            page.in_solve.set(false);
        }
        let outer = self.begin_height();
        let read = read(self)?;
        self.grow()?;
        self.end_height(outer);
        page.depth.set(depth);
        page.in_solve.set(in_solve);
        Ok(read)
    }

    /// Begins a part whose height is counted on its own; gives the height so far.
    pub fn begin_height(self) -> u16 {
        self.page.height.replace(0)
    }

    /// Ends such a part: the higher one counts.
    pub fn end_height(self, outer: u16) {
        let height = &self.page.height;
        height.set(height.get().max(outer));
    }

    /// Notes that the tree just read has become the child of another node.
    pub fn grow(self) -> Result<(), nom::Err<Problem>> {
        let height = self.page.height.get() + 1;
        self.page.height.set(height);
        if height > HIGHEST {
            return Err(super::fault::too_high(self));
        }
        Ok(())
    }
}

/// Why something was not read.
#[derive(Debug)]
pub(in crate::syntax) enum Problem {
    /// It is not what stands here; another alternative may be.
    Elsewhere,
    /// It is what stands here, and wrong.
    Said(Box<Diagnostic>),
}

impl<'t> ParseError<Tokens<'t>> for Problem {
    fn from_error_kind(_: Tokens<'t>, _: ErrorKind) -> Problem {
        Problem::Elsewhere
    }

    fn append(_: Tokens<'t>, _: ErrorKind, other: Problem) -> Problem {
        other
    }
}

/// What a parser of this folder gives.
pub(in crate::syntax) type Parsed<'t, T> = IResult<Tokens<'t>, T, Problem>;

/// A token of this kind, or nothing.
pub(super) fn sign<'t>(kind: Kind) -> impl Fn(Tokens<'t>) -> Parsed<'t, Token> {
    move |input| {
        if input.kind() == kind {
            Ok((input.after(), input.token()))
        } else {
            Err(nom::Err::Error(Problem::Elsewhere))
        }
    }
}

/// This reserved word, or nothing.
pub(super) fn reserved<'t>(word: Reserved) -> impl Fn(Tokens<'t>) -> Parsed<'t, Token> {
    sign(Kind::Reserved(word))
}

/// A token of this kind; else a message that says what was expected.
pub(super) fn demand<'t>(
    kind: Kind,
    expected: &'static str,
) -> impl Fn(Tokens<'t>) -> Parsed<'t, Token> {
    move |input| {
        if input.kind() == kind {
            Ok((input.after(), input.token()))
        } else {
            Err(super::fault::unexpected(input, expected))
        }
    }
}

impl<'t> Input for Tokens<'t> {
    type Item = Token;
    type Iter = Copied<Iter<'t, Token>>;
    type IterIndices = Enumerate<Self::Iter>;

    fn input_len(&self) -> usize {
        (self.end - self.at) as usize
    }

    fn take(&self, index: usize) -> Self {
        self.until(self.skip(index).at)
    }

    fn take_from(&self, index: usize) -> Self {
        self.skip(index)
    }

    fn take_split(&self, index: usize) -> (Self, Self) {
        (self.take_from(index), self.take(index))
    }

    fn position<P: Fn(Token) -> bool>(&self, predicate: P) -> Option<usize> {
        self.rest().iter().position(|token| predicate(*token))
    }

    fn iter_elements(&self) -> Self::Iter {
        self.rest().iter().copied()
    }

    fn iter_indices(&self) -> Self::IterIndices {
        self.rest().iter().copied().enumerate()
    }

    fn slice_index(&self, count: usize) -> Result<usize, Needed> {
        match count.checked_sub(self.input_len()) {
            None | Some(0) => Ok(count),
            Some(missing) => Err(Needed::new(missing)),
        }
    }
}
