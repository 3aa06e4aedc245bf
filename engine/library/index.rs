//! What the chapters define, found by one pass over their lines: no statement is read here.

use super::Chapter;
use crate::source::Span;
use rustc_hash::FxHashMap;

/// What an entry is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum EntryKind {
    /// A formula.
    Formula,
    /// A table.
    Table,
    /// A unit.
    Unit,
    /// A cell that a notebook sees and may replace.
    Default,
}

/// One definition of the handbook.
#[derive(Clone, Debug)]
pub struct Entry {
    /// What it is.
    pub kind: EntryKind,
    /// Its name.
    pub name: &'static str,
    /// Its number among all.
    pub number: u32,
    /// The chapter it stands in, by its number.
    pub chapter: usize,
    /// Its lines, from the first sign to the last.
    pub span: Span,
    /// The line it begins in, from 1.
    pub line: usize,
    /// The heading it stands under.
    pub section: &'static str,
    /// Where the fence around it begins.
    pub fence: u32,
}

impl Entry {
    /// The lines of the statement, for the parser.
    pub fn lines(&self, text: &str) -> Vec<Span> {
        let mut start = self.span.start as usize;
        self.span
            .of(text)
            .split_inclusive('\n')
            .map(|line| {
                let span = Span::new(start, start + line.trim_end_matches(['\n', '\r']).len());
                start += line.len();
                span
            })
            .collect()
    }
}

/// Everything the handbook defines.
#[derive(Debug)]
pub(super) struct Index {
    entries: Vec<Entry>,
    by_name: FxHashMap<&'static str, Vec<usize>>,
    /// Examples: chapter, fence, section, place.
    examples: Vec<(usize, u32, &'static str, Span)>,
}

impl Index {
    pub(super) fn read(chapters: &'static [Chapter]) -> Index {
        let mut index = Index {
            entries: Vec::new(),
            by_name: FxHashMap::default(),
            examples: Vec::new(),
        };
        for (number, chapter) in chapters.iter().enumerate() {
            index.read_chapter(number, chapter.text);
        }
        for (number, entry) in index.entries.iter_mut().enumerate() {
            entry.number = number as u32;
        }
        for (at, entry) in index.entries.iter().enumerate() {
            index.by_name.entry(entry.name).or_default().push(at);
        }
        index
    }

    pub(super) fn entries(&self) -> &[Entry] {
        &self.entries
    }

    pub(super) fn find(&self, kind: EntryKind, name: &str) -> Option<&Entry> {
        let places = self.by_name.get(name)?;
        places
            .iter()
            .map(|at| &self.entries[*at])
            .find(|entry| entry.kind == kind)
    }

    pub(super) fn examples(&self, entry: &Entry) -> Vec<Span> {
        let call = format!("{}(", entry.name);
        self.examples
            .iter()
            .filter(|(chapter, _, section, _)| {
                *chapter == entry.chapter && *section == entry.section
            })
            .map(|(.., span)| *span)
            .filter(|span| span.of(super::CHAPTERS[entry.chapter].text).contains(&call))
            .collect()
    }

    fn read_chapter(&mut self, chapter: usize, text: &'static str) {
        let mut section = "";
        let mut fence: Option<u32> = None;
        let mut open: Option<usize> = None;
        let mut at = 0;
        for (number, line) in text.split_inclusive('\n').enumerate() {
            let content = line.trim_end_matches(['\n', '\r']);
            let span = Span::new(at, at + content.len());
            at += line.len();
            match fence {
                None if content.starts_with("```gaugebook") => fence = Some(span.start),
                None => {
                    if content.starts_with('#') {
                        section = content.trim_start_matches('#').trim();
                    }
                }
                Some(_) if content.starts_with("```") => (fence, open) = (None, None),
                Some(_) if content.trim().is_empty() => {}
                Some(_) if content.starts_with([' ', '\t']) => {
                    if let Some(entry) = open {
                        self.entries[entry].span.end = span.end;
                    }
                }
                Some(begins) => {
                    open = self.statement(chapter, content, span, number + 1, section, begins);
                }
            }
        }
    }

    /// Notes what a line at the beginning of a statement defines.
    fn statement(
        &mut self,
        chapter: usize,
        line: &'static str,
        span: Span,
        number: usize,
        section: &'static str,
        fence: u32,
    ) -> Option<usize> {
        let (word, rest) = line.split_once(' ')?;
        let kind = match word {
            "formula" => EntryKind::Formula,
            "table" => EntryKind::Table,
            "unit" => EntryKind::Unit,
            "default" => EntryKind::Default,
            "example" => {
                self.examples.push((chapter, fence, section, span));
                return None;
            }
            _ => return None,
        };
        let rest = rest.trim_start();
        let end = rest
            .find(|c: char| !c.is_alphanumeric() && c != '_')
            .unwrap_or(rest.len());
        let entry = Entry {
            kind,
            name: &rest[..end],
            number: 0,
            chapter,
            span,
            line: number,
            section,
            fence,
        };
        self.entries.push(entry);
        Some(self.entries.len() - 1)
    }
}
