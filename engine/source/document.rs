//! A notebook's text as a CommonMark document: title, headings, the blocks of lines that hold
//! cells, and the prose between them, all as spans of one unchanged text. Reads no statements.

use super::cost::refuse_costly;
use super::encoding::{decode, refuse_length};
use super::entity::without_entities;
use super::fence::{Opening, note_no_cells, read_block};
use super::lines::{Lines, mark_length};
use super::loose::{may_hold_fences, read_loose_block, read_loose_headings};
use super::outline::{Fence, read_outline};
use super::{Code, Diagnostic, SourceText, Span};

/// The longest document that is read, in bytes.
pub const MOST_BYTES: usize = 64 << 20;

/// The longest line of cells that is read, in characters.
pub const MOST_CHARACTERS_IN_LINE: usize = 100_000;

/// The longest prose that is read beside fences, in bytes.
pub const MOST_BYTES_OF_PROSE: usize = 8 << 20;

/// Messages about one document after which no more are collected.
const MOST_MESSAGES: usize = 100;

/// A heading of a document.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Heading {
    /// From 1, the title's, to 6.
    pub level: u8,
    /// Its words, without signs of emphasis and the like.
    pub text: String,
    /// Its place, with its signs.
    pub span: Span,
}

/// A run of lines that hold cells: one fence, or a whole document without fences.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// What stands behind the opening fence, beginning with the word `gaugebook`; empty in a loose
    /// block.
    pub info: Span,
    /// The content of each line, without its line end and without what a quote, a list or a forum
    /// put around it. Blank lines are empty spans, and so are lines too long to be read.
    pub lines: Vec<Span>,
    /// The heading it stands under, as an index of [`Document::headings`].
    pub heading: Option<usize>,
    /// Whole lines, fences and last line end included.
    pub span: Span,
    /// Where a new line goes: at the beginning of the closing fence's line, or the end of a text
    /// that may lack a line end. [`Document::insertion`] heeds that.
    pub end_of_content: u32,
    /// What a new line has to begin with to stand like the others.
    pub prefix: String,
    /// Whether this is a document without fences, so that some of its lines may be prose.
    pub loose: bool,
}

/// A part of a document, in the order of the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Piece {
    /// Text around the blocks, fences of other languages included.
    Prose(Span),
    /// A block, as an index of [`Document::blocks`].
    Block(usize),
}

/// A document and its parts.
///
/// ```
/// use gaugebook::source::Document;
/// let text = "# My *shop*\n\n> ```gaugebook\n> tank = 60 gal\n> ```\n";
/// let document = Document::new(text.to_owned());
/// assert_eq!(document.title(), Some("My shop"));
/// let block = &document.blocks()[0];
/// assert_eq!(block.lines[0].of(document.text()), "tank = 60 gal");
/// assert_eq!(document.line_column(block.lines[0].start as usize), (4, 3));
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Document {
    text: String,
    lines: Lines,
    headings: Vec<Heading>,
    blocks: Vec<Block>,
    diagnostics: Vec<Diagnostic>,
}

impl Document {
    /// Reads a document from the bytes of a file.
    ///
    /// # Errors
    /// Where it is not UTF-8 text ([`Code::Encoding`], with the first bad byte as its place), or
    /// more than [`MOST_BYTES`] ([`Code::TooLong`]).
    ///
    /// [`Code::Encoding`]: super::Code::Encoding
    /// [`Code::TooLong`]: super::Code::TooLong
    #[allow(
        clippy::result_large_err,
        reason = "made once for a document, and shown at once"
    )]
    pub fn from_bytes(bytes: Vec<u8>) -> Result<Document, Diagnostic> {
        decode(bytes).map(Document::new)
    }

    /// Reads a document. The text is kept as it is, a byte order mark included; what is wrong with
    /// it is in [`Document::diagnostics`]. Only where a forum wrote signs as entities (`&plusmn;`)
    /// are these read as the signs: everywhere in a document without fences, else in its blocks.
    pub fn new(text: String) -> Document {
        let document = Document::read(text);
        match document.with_signs() {
            Some(plain) => Document::read(plain),
            None => document,
        }
    }

    /// The text with the entities in its lines of cells read as signs; nothing without any.
    fn with_signs(&self) -> Option<String> {
        if !self.text.contains('&') {
            return None;
        }
        let mut plain = String::new();
        let mut at = 0;
        let mut changed = false;
        for line in self.blocks.iter().flat_map(|block| &block.lines) {
            let span = match self.blocks.first() {
                // In a post titles and remarks count too.
                Some(block) if block.loose => block.span,
                _ => *line,
            };
            let start = span.start as usize;
            if start < at {
                continue;
            }
            let own = without_entities(span.of(&self.text));
            changed |= matches!(own, std::borrow::Cow::Owned(_));
            plain.push_str(self.text.get(at..start).unwrap_or_default());
            plain.push_str(&own);
            at = span.end as usize;
        }
        plain.push_str(self.text.get(at..).unwrap_or_default());
        changed.then_some(plain)
    }

    fn read(text: String) -> Document {
        let is_too_long = text.len() > MOST_BYTES;
        let mut document = Document {
            lines: Lines::new(if is_too_long { "" } else { &text }),
            text,
            headings: Vec::new(),
            blocks: Vec::new(),
            diagnostics: Vec::new(),
        };
        if is_too_long {
            let refusal = refuse_length(document.text.len(), Span::default());
            document.diagnostics.push(refusal);
        } else if !may_hold_fences(&document.text) {
            document.take_loose();
        } else if let Some(refusal) = refuse_costly(&document.text, &document.lines) {
            document.diagnostics.push(refusal);
        } else {
            document.take_fences();
        }
        document.warn_of_lone_returns();
        document
    }

    /// A carriage return without a line feed ends a line for some programs and not for others.
    fn warn_of_lone_returns(&mut self) {
        let bytes = self.text.as_bytes();
        let mut returns = self.text.match_indices('\r').map(|(at, _)| at);
        let Some(at) = returns.find(|at| bytes.get(at + 1) != Some(&b'\n')) else {
            return;
        };
        let warning = Diagnostic::warning(
            Code::Encoding,
            Span::new(at, at + 1),
            "a line end that not every program knows",
        )
        .label("a carriage return without a line feed")
        .expected("line ends of one kind: cells near it may not stand where they seem to")
        .repair("save the file with plain line ends (LF)");
        self.diagnostics.push(warning);
    }

    fn take_loose(&mut self) {
        self.headings = read_loose_headings(&self.text, &self.lines);
        let block = read_loose_block(&self.text, &self.lines, &mut self.diagnostics);
        self.blocks.push(block);
    }

    fn take_fences(&mut self) {
        let outline = read_outline(&self.text, mark_length(&self.text));
        if outline.fences.is_empty() {
            return self.take_loose();
        }
        self.headings = outline.headings;
        for fence in &outline.fences {
            let mut found = self.take_fence(fence);
            if self.diagnostics.len() < MOST_MESSAGES {
                self.diagnostics.append(&mut found);
            }
        }
        if self.blocks.is_empty() && self.diagnostics.is_empty() {
            let first = outline.fences.first();
            let note = first.map(|fence| note_no_cells(&self.text, &self.lines, fence));
            self.diagnostics.extend(note);
        }
        self.diagnostics.sort_by_key(|diagnostic| diagnostic.span);
    }

    /// Takes a fence as a block if it holds cells, and gives the messages about it.
    fn take_fence(&mut self, fence: &Fence) -> Vec<Diagnostic> {
        let mut found = Vec::new();
        let opening = Opening::read(&self.text, &self.lines, fence);
        if !opening.holds_cells() {
            found.extend(opening.warn_of_slip());
            return found;
        }
        let mut block = read_block(&self.text, &self.lines, fence, &mut found);
        block.heading = self.heading_at(block.span.start as usize);
        self.blocks.push(block);
        found
    }

    /// The whole text, byte for byte as it came.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The text of the first level-1 heading.
    pub fn title(&self) -> Option<&str> {
        let title = self.headings.iter().find(|heading| heading.level == 1)?;
        Some(&title.text)
    }

    /// All headings, in order.
    pub fn headings(&self) -> &[Heading] {
        &self.headings
    }

    /// The heading that a place stands under, as an index of [`Document::headings`].
    pub fn heading_at(&self, offset: usize) -> Option<usize> {
        let behind = |heading: &Heading| heading.span.start as usize <= offset;
        self.headings.partition_point(behind).checked_sub(1)
    }

    /// The blocks that hold cells, in order.
    pub fn blocks(&self) -> &[Block] {
        &self.blocks
    }

    /// Blocks and prose in order; their spans, one behind the other, are the whole text.
    pub fn pieces(&self) -> Vec<Piece> {
        let mut pieces = Vec::new();
        let mut end = 0;
        let prose_to = |start: u32, end: u32| {
            let span = Span {
                start: end,
                end: start,
            };
            (!span.is_empty()).then_some(Piece::Prose(span))
        };
        for (index, block) in self.blocks.iter().enumerate() {
            pieces.extend(prose_to(block.span.start, end));
            pieces.push(Piece::Block(index));
            end = block.span.end;
        }
        pieces.extend(prose_to(self.text.len() as u32, end));
        pieces
    }

    /// What is wrong with the document, in the order of the text.
    pub fn diagnostics(&self) -> &[Diagnostic] {
        &self.diagnostics
    }

    /// Line and column of a byte, both from 1, the column in characters.
    pub fn line_column(&self, offset: usize) -> (usize, usize) {
        self.lines.line_column(&self.text, offset)
    }

    /// The line end of the document, for lines put into it: that of its first line.
    pub fn line_ending(&self) -> &'static str {
        match self.text.split_once('\n') {
            Some((first, _)) if first.ends_with('\r') => "\r\n",
            _ => "\n",
        }
    }

    /// Where a new statement goes, and the text to put there: behind the last line of the last
    /// block, in that block's indentation, or in a new fence at the end of the document.
    pub fn insertion(&self, statement: &str) -> (usize, String) {
        let line_ending = self.line_ending();
        let (at, prefix, fenced) = match self.blocks.last() {
            Some(block) => (block.end_of_content as usize, block.prefix.as_str(), false),
            None => (self.text.len(), "", true),
        };
        let mut inserted = String::new();
        let before = self.text.get(..at).unwrap_or_default();
        if at > mark_length(&self.text) && !before.ends_with('\n') {
            inserted.push_str(line_ending);
        }
        let mut push = |prefix: &str, line: &str| {
            inserted.push_str(if line.is_empty() {
                prefix.trim_end()
            } else {
                prefix
            });
            inserted.push_str(line);
            inserted.push_str(line_ending);
        };
        if fenced {
            push("", "");
            push("", "```gaugebook");
        }
        for line in statement.lines() {
            push(prefix, line);
        }
        if fenced {
            push("", "```");
        }
        (at, inserted)
    }

    /// The text as messages about it are drawn from, under the name of its file.
    pub fn source_text<'a>(&'a self, name: &'a str) -> SourceText<'a> {
        SourceText {
            name,
            text: &self.text,
            first_line: 1,
            lines: Some(&self.lines),
        }
    }
}
