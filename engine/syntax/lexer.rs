//! From the characters of a line to tokens. Pasted characters are read as the typed ones they
//! stand for; comments are set aside; nothing is refused here, what cannot be read becomes a
//! token of its own kind for the parser to explain.

use super::digits::scan_number;
use super::fold;
use super::signs::{Class, class, plain_kind, sign_kind};
use super::token::{Kind, Marks, Reserved, Token};
use crate::source::Span;

/// The tokens of one logical line, gathered physical line by physical line.
#[derive(Default)]
pub(super) struct Lexer<'t> {
    text: &'t str,
    /// The tokens so far.
    pub tokens: Vec<Token>,
    /// The comments so far, each from its `#` to its last sign.
    pub comments: Vec<Span>,
    /// The brackets that are open, by index.
    open: Vec<u32>,
    /// The text that is open, by index.
    unended: Option<usize>,
}

/// The physical line being read.
#[derive(Clone, Copy)]
struct Line<'t> {
    source: &'t str,
    start: usize,
}

impl<'t> Line<'t> {
    fn bytes(self) -> &'t [u8] {
        self.source.as_bytes()
    }

    fn byte(self, at: usize) -> u8 {
        self.bytes().get(at).copied().unwrap_or(0)
    }

    fn rest(self, at: usize) -> &'t str {
        self.source.get(at..).unwrap_or("")
    }

    fn sign(self, at: usize) -> Option<char> {
        self.rest(at).chars().next()
    }
}

impl<'t> Lexer<'t> {
    /// A lexer for lines of this document.
    pub fn new(text: &'t str) -> Lexer<'t> {
        Lexer {
            text,
            ..Lexer::default()
        }
    }

    /// Forgets the logical line read so far.
    pub fn clear(&mut self) {
        self.tokens.clear();
        self.comments.clear();
        self.open.clear();
        self.unended = None;
    }

    /// Whether a bracket is still open.
    pub fn is_open(&self) -> bool {
        !self.open.is_empty()
    }

    /// Whether a text is still open.
    pub fn is_unended(&self) -> bool {
        self.unended.is_some()
    }

    /// Reads one more physical line.
    pub fn line(&mut self, span: Span) {
        let line = Line {
            source: span.of(self.text),
            start: span.start as usize,
        };
        let bytes = line.bytes();
        let mut at = self.go_on_with_text(line);
        let mut marks = Marks::BLANK.and(Marks::LINE);
        while let Some(&byte) = bytes.get(at) {
            let read = match class(byte) {
                Class::Blank => Read::Blank(at + 1),
                Class::Letter => self.word(line, at),
                Class::Digit => self.number(line, at),
                Class::Sign => self.sign(line, at, marks),
                Class::Wide => self.wide(line, at, marks),
            };
            at = match read {
                Read::Blank(next) => {
                    marks = marks.and(Marks::BLANK);
                    next
                }
                Read::Token(kind, own, next) => {
                    self.push(line, kind, marks.and(own), at..next);
                    marks = Marks::default();
                    next
                }
                Read::Comment => {
                    let end = line.source.trim_end_matches(fold::is_blank).len();
                    self.comments
                        .push(Span::new(line.start + at, line.start + end.max(at)));
                    return;
                }
            };
        }
    }

    fn push(&mut self, line: Line<'t>, kind: Kind, marks: Marks, run: std::ops::Range<usize>) {
        let index = self.tokens.len() as u32;
        let mut token = Token {
            kind,
            marks,
            span: Span::new(line.start + run.start, line.start + run.end),
            partner: Token::ALONE,
        };
        match kind {
            Kind::OpenRound | Kind::OpenSquare | Kind::OpenCurly => self.open.push(index),
            Kind::CloseRound | Kind::CloseSquare | Kind::CloseCurly => {
                if let Some(opening) = self.partner_of(kind) {
                    token.partner = opening;
                    self.open.pop();
                    if let Some(other) = self.tokens.get_mut(opening as usize) {
                        other.partner = index;
                    }
                }
            }
            Kind::OpenText => self.unended = Some(self.tokens.len()),
            _ => {}
        }
        self.tokens.push(token);
    }

    fn partner_of(&self, closing: Kind) -> Option<u32> {
        let opening = *self.open.last()?;
        let kind = self.tokens.get(opening as usize)?.kind;
        matches!(
            (kind, closing),
            (Kind::OpenRound, Kind::CloseRound)
                | (Kind::OpenSquare, Kind::CloseSquare)
                | (Kind::OpenCurly, Kind::CloseCurly)
        )
        .then_some(opening)
    }

    /// A text that was open at the end of the last line goes on; gives where tokens begin again.
    fn go_on_with_text(&mut self, line: Line<'t>) -> usize {
        let Some(token) = self.unended.and_then(|index| self.tokens.get_mut(index)) else {
            return 0;
        };
        let opening = token.span.of(self.text).chars().next().unwrap_or('"');
        let closing = end_of_text(line.source, opening);
        let end = closing.unwrap_or(line.source.trim_end_matches(fold::is_blank).len());
        token.span.end = token.span.end.max((line.start + end) as u32);
        if closing.is_none() {
            return line.source.len();
        }
        token.kind = Kind::Text;
        self.unended = None;
        end
    }

    fn word(&self, line: Line<'t>, start: usize) -> Read {
        let bytes = line.bytes();
        let mut at = start;
        let (mut kind, mut marks) = (Kind::Word, Marks::default());
        while let Some(&byte) = bytes.get(at) {
            match class(byte) {
                Class::Letter | Class::Digit => at += 1,
                Class::Wide => match line.sign(at).filter(|sign| fold::continues_word(*sign)) {
                    Some(sign) => {
                        if fold::is_degree(sign) {
                            kind = Kind::UnitSign;
                        }
                        if fold::subscript(sign).is_some() {
                            marks = marks.and(Marks::SUBSCRIPT);
                        }
                        at += sign.len_utf8();
                    }
                    None => break,
                },
                _ => break,
            }
        }
        let word = line.source.get(start..at).unwrap_or("");
        if (2..=7).contains(&word.len())
            && let Some(reserved) = Reserved::find(word)
        {
            kind = Kind::Reserved(reserved);
        }
        Read::Token(kind, marks, at)
    }

    fn number(&self, line: Line<'t>, start: usize) -> Read {
        let (kind, marks, end) = scan_number(line.source, start);
        Read::Token(kind, marks, end)
    }

    fn sign(&self, line: Line<'t>, at: usize, marks: Marks) -> Read {
        let byte = line.byte(at);
        match byte {
            b'#' => return read_hash(line, at),
            b'"' | b'\'' => return self.quote(line, at, char::from(byte), marks),
            b'.' if line.byte(at + 1).is_ascii_digit() => return self.number(line, at),
            b'+' if matches!(line.rest(at + 1).strip_prefix('/'), Some(rest) if rest.starts_with(['-', '\u{2212}'])) =>
            {
                let minus = line.sign(at + 2).map_or(0, char::len_utf8);
                return Read::plain(Kind::PlusMinus, at + 2 + minus);
            }
            _ => {}
        }
        let (kind, length) = sign_kind(byte, line.byte(at + 1), line.byte(at + 2));
        Read::plain(kind, at + length)
    }

    fn wide(&self, line: Line<'t>, at: usize, marks: Marks) -> Read {
        let Some(sign) = line.sign(at) else {
            return Read::Blank(line.source.len());
        };
        let next = at + sign.len_utf8();
        if fold::is_blank(sign) {
            return Read::Blank(next);
        }
        if let Some(typed) = fold::plain(sign) {
            return Read::plain(plain_kind(typed), next);
        }
        if fold::begins_word(sign) {
            return self.word(line, at);
        }
        if fold::is_dash(sign) {
            return Read::plain(Kind::Dash, next);
        }
        if fold::fraction(sign).is_some() {
            return Read::plain(Kind::Fraction, next);
        }
        if fold::superscript(sign).is_some() {
            let run = line.rest(at);
            let end = run
                .find(|sign| fold::superscript(sign).is_none())
                .unwrap_or(run.len());
            return Read::plain(Kind::Raised, at + end);
        }
        if sign == '\u{2030}' {
            return Read::plain(Kind::UnitSign, next);
        }
        self.quote(line, at, sign, marks)
    }

    /// A quote opens a text, or marks inches or feet directly behind a number.
    fn quote(&self, line: Line<'t>, at: usize, sign: char, marks: Marks) -> Read {
        let next = at + sign.len_utf8();
        let behind_number = !marks.has(Marks::BLANK)
            && self.tokens.last().is_some_and(|token| {
                matches!(
                    token.kind,
                    Kind::Number | Kind::Fraction | Kind::CommaNumber
                )
            });
        if behind_number && fold::length_mark(sign).is_some() {
            let doubled = sign != '"' && line.sign(next) == Some(sign);
            return Read::plain(
                Kind::LengthMark,
                if doubled {
                    next + sign.len_utf8()
                } else {
                    next
                },
            );
        }
        if fold::closes_text(sign, sign).is_none() {
            return Read::plain(Kind::Unknown, next);
        }
        match end_of_text(line.rest(next), sign) {
            Some(end) => Read::plain(Kind::Text, next + end),
            None => Read::plain(Kind::OpenText, line.source.len()),
        }
    }
}

/// What was read at one place.
enum Read {
    Blank(usize),
    Token(Kind, Marks, usize),
    Comment,
}

impl Read {
    fn plain(kind: Kind, next: usize) -> Read {
        Read::Token(kind, Marks::default(), next)
    }
}

/// Where a text that was opened by `opening` ends, its closing quote included.
fn end_of_text(rest: &str, opening: char) -> Option<usize> {
    rest.char_indices()
        .find(|(_, sign)| fold::closes_text(opening, *sign) == Some(true))
        .map(|(at, sign)| at + sign.len_utf8())
}

/// `#` before a blank or the line end is a comment; else it sticks to the word behind it.
fn read_hash(line: Line<'_>, at: usize) -> Read {
    let rest = line.rest(at).trim_start_matches('#');
    let behind = line.source.len() - rest.len();
    if rest.chars().next().is_none_or(fold::is_blank) {
        return Read::Comment;
    }
    let end = rest
        .find(|sign: char| fold::is_blank(sign) || ",)]}|\"".contains(sign))
        .unwrap_or(rest.len());
    Read::plain(Kind::Hash, behind + end)
}
