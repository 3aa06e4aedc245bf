//! The handbook's contents: chapters, and what each defines.

use super::prose::{first_sentence, paragraphs};
use crate::library::{CHAPTERS, Entry, EntryKind, Library};

/// The contents of the handbook.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Contents {
    /// The chapters in their order.
    pub chapters: Vec<ChapterListed>,
}

/// A chapter.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChapterListed {
    /// The word by which one asks for it.
    pub topic: String,
    /// Its title.
    pub title: String,
    /// What it is about: its first paragraph.
    pub about: String,
    /// What it defines, in its order.
    pub entries: Vec<EntryListed>,
}

/// Something that a chapter defines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EntryListed {
    /// What it is: formula, table, unit, default.
    pub kind: &'static str,
    /// Its name.
    pub name: String,
    /// The heading it stands under.
    pub section: String,
    /// What it is for, in a sentence.
    pub about: String,
}

/// The contents of the handbook.
pub fn contents(library: &Library) -> Contents {
    let chapters = (0..CHAPTERS.len()).map(|number| listed(library, number));
    Contents {
        chapters: chapters.collect(),
    }
}

/// The chapter that is asked for by its topic or title.
pub fn chapter(library: &Library, word: &str) -> Option<ChapterListed> {
    let asked = word.to_lowercase();
    let number = CHAPTERS.iter().position(|chapter| {
        chapter.topic() == asked
            || chapter.title().to_lowercase() == asked
            || chapter.topic().replace('-', "_") == asked
    })?;
    Some(listed(library, number))
}

fn listed(library: &Library, number: usize) -> ChapterListed {
    let chapter = &CHAPTERS[number];
    let entries = library.entries().iter();
    ChapterListed {
        topic: chapter.topic().to_owned(),
        title: chapter.title().to_owned(),
        about: opening(chapter.text),
        entries: entries
            .filter(|entry| entry.chapter == number)
            .map(|entry| entry_listed(library, entry))
            .collect(),
    }
}

/// The first paragraph below the title.
fn opening(text: &str) -> String {
    let below = text.split_once('\n').map_or("", |(_, below)| below);
    paragraphs(below).into_iter().next().unwrap_or_default()
}

pub(super) fn entry_listed(library: &Library, entry: &Entry) -> EntryListed {
    EntryListed {
        kind: kind_word(entry.kind),
        name: entry.name.to_owned(),
        section: entry.section.to_owned(),
        about: first_sentence(library.prose_above(entry)),
    }
}

pub(super) fn kind_word(kind: EntryKind) -> &'static str {
    match kind {
        EntryKind::Formula => "formula",
        EntryKind::Table => "table",
        EntryKind::Unit => "unit",
        EntryKind::Default => "default",
    }
}
