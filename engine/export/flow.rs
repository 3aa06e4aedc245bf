//! A notebook in the order of its document: prose, and behind each block of cells what came of it;
//! what is said of a section at its end. For formats that tell the whole story.

use crate::notebook::Notebook;
use crate::report::{CheckLine, Item, Remark, Report, Section, StudyTable};
use crate::source::{Block, Document, Piece, Span};

/// A part of a notebook.
pub enum Part<'f> {
    /// A run of prose as written, without the title.
    Prose(&'f str),
    /// A block of cells and what came of it.
    Block(Results<'f>),
    /// What is to be said of a section that ends here.
    Remarks(Vec<&'f Remark>),
}

/// What came of a block.
pub struct Results<'f> {
    /// The block.
    pub block: &'f Block,
    /// The lines of a document without fences that are prose.
    pub loose_prose: Vec<&'f str>,
    /// Its cells and tables.
    pub items: Vec<&'f Item>,
    /// Its sweeps and plots.
    pub studies: Vec<&'f StudyTable>,
    /// Its checks.
    pub checks: Vec<&'f CheckLine>,
}

/// The parts in their order.
pub fn flow<'f>(
    notebook: &'f Notebook,
    report: &'f Report,
    studies: &'f [StudyTable],
) -> Vec<Part<'f>> {
    let document = notebook.document();
    let mut walk = Walk {
        notebook,
        document,
        report,
        studies,
        said: vec![false; report.sections.len()],
        parts: Vec::new(),
    };
    for piece in document.pieces() {
        match piece {
            Piece::Prose(span) => walk.prose(span),
            Piece::Block(number) => walk.block(number),
        }
    }
    walk.remarks_before(None);
    walk.parts
}

struct Walk<'f> {
    notebook: &'f Notebook,
    document: &'f Document,
    report: &'f Report,
    studies: &'f [StudyTable],
    /// Sections whose remarks were said.
    said: Vec<bool>,
    parts: Vec<Part<'f>>,
}

impl Walk<'_> {
    /// Prose, cut at its headings so that remarks end their section.
    fn prose(&mut self, span: Span) {
        let headings = self.document.headings();
        let title = headings.iter().find(|heading| heading.level == 1);
        let mut at = span.start;
        for heading in headings {
            let own = heading.span;
            if own.start < span.start || own.start >= span.end {
                continue;
            }
            self.run(at, own.start);
            self.remarks_before(Some(own.start));
            at = match title {
                Some(title) if title.span == own => own.end,
                _ => own.start,
            };
        }
        self.run(at, span.end);
    }

    fn run(&mut self, start: u32, end: u32) {
        let text = Span { start, end }.of(self.document.text());
        if !text.trim().is_empty() {
            self.parts.push(Part::Prose(text));
        }
    }

    /// What is to be said of sections that began before a place, or of all that are left.
    fn remarks_before(&mut self, place: Option<u32>) {
        let line = place.map(|place| self.document.line_column(place as usize).0);
        let mut remarks = Vec::new();
        for (section, said) in self.report.sections.iter().zip(&mut self.said) {
            let begun = match (first_line(section), line) {
                (Some(first), Some(line)) => first < line,
                _ => true,
            };
            if begun && !*said {
                *said = true;
                remarks.extend(&section.remarks);
            }
        }
        if place.is_none() {
            remarks.extend(&self.report.check_remarks);
        }
        if !remarks.is_empty() {
            self.parts.push(Part::Remarks(remarks));
        }
    }

    fn block(&mut self, number: usize) {
        let blocks = self.document.blocks();
        let Some(block) = blocks.get(number) else {
            return;
        };
        let first = self.document.line_column(block.span.start as usize).0;
        let last = match number + 1 == blocks.len() {
            // What was typed in the shell belongs to the last block.
            true => None,
            false => Some(self.document.line_column(block.span.end as usize).0),
        };
        let within = |line: Option<usize>| match (line, last) {
            (Some(line), Some(last)) => (first..last).contains(&line),
            (Some(line), None) => line >= first,
            (None, last) => last.is_none(),
        };
        let items = self
            .report
            .sections
            .iter()
            .flat_map(|section| &section.items);
        let items = items.filter(|item| match item {
            Item::Cell(row) => within(row.line),
            Item::Table(table) => within(table.line),
        });
        let results = Results {
            block,
            loose_prose: match block.loose {
                true => self.loose_prose(block),
                false => Vec::new(),
            },
            items: items.collect(),
            studies: self.studies.iter().filter(|one| within(one.line)).collect(),
            checks: self
                .report
                .checks
                .iter()
                .filter(|one| within(one.line))
                .collect(),
        };
        self.parts.push(Part::Block(results));
    }
}

impl<'f> Walk<'f> {
    /// The lines of a document without fences that are no statements.
    fn loose_prose(&self, block: &'f Block) -> Vec<&'f str> {
        let text = self.document.text();
        let records = self.notebook.statements().iter();
        let taken: Vec<Span> = records
            .filter(|record| record.part == 0 && !record.is_handbook() && !record.is_added())
            .map(|record| record.span)
            .collect();
        let free = |line: &&Span| {
            let meets = |span: &Span| span.start < line.end && line.start < span.end;
            !taken.iter().any(meets)
        };
        block
            .lines
            .iter()
            .filter(free)
            .map(|line| line.of(text).trim())
            .filter(|line| !line.is_empty())
            .collect()
    }
}

fn first_line(section: &Section) -> Option<usize> {
    let lines = section.items.iter().filter_map(|item| match item {
        Item::Cell(row) => row.line,
        Item::Table(table) => table.line,
    });
    lines.min()
}
