//! Words of the trade looked up in the handbook: names first, then headings, prose, and last what
//! the formulas and tables themselves say.

use super::contents::kind_word;
use super::prose::{first_sentence, paragraphs};
use crate::library::{CHAPTERS, Entry, Library};

/// More hits than these are not listed.
const MOST_HITS: usize = 12;

/// The rank of an entry whose heading has the word.
const HEADING: usize = 2;
/// The rank of one whose purpose, the first sentence of its prose, has it.
const PURPOSE: usize = 3;
/// The rank of one whose prose mentions it behind the first sentence.
const MENTION: usize = 4;

/// The rank of one whose own lines have it.
const OWN_LINES: usize = 5;

/// Something that a search found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Hit {
    /// Its name.
    pub name: String,
    /// What it is: formula, table, unit, default, or chapter.
    pub kind: &'static str,
    /// What it is for, in a sentence.
    pub about: String,
    /// The title of its chapter.
    pub chapter: String,
}

/// How far a search goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Reach {
    /// Names, headings and what something is for.
    First,
    /// All prose, and what formulas and tables say themselves.
    Everything,
}

/// What the handbook has about some words, the nearest first.
pub(super) fn search(library: &Library, asked: &str, reach: Reach) -> Vec<Hit> {
    let words: Vec<String> = asked
        .split(|sign: char| !sign.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(stem)
        .collect();
    if words.is_empty() {
        return Vec::new();
    }
    let mut hits: Vec<(usize, Hit)> = Vec::new();
    for entry in library.entries() {
        let ranks = words.iter().map(|word| rank(library, entry, word));
        // Every word has to be found; the worst place counts.
        if let Some(rank) = ranks
            .collect::<Option<Vec<usize>>>()
            .and_then(|all| all.into_iter().max())
        {
            hits.push((rank, hit(library, entry)));
        }
    }
    hits.sort_by_key(|(rank, _)| *rank);
    let deepest = match reach {
        Reach::First => PURPOSE,
        Reach::Everything => OWN_LINES,
    };
    hits.retain(|(rank, _)| *rank <= deepest);
    // Where names and headings have it, a mere mention is no answer.
    let named = hits.iter().any(|(rank, _)| *rank <= HEADING);
    hits.retain(|(rank, _)| !named || *rank < MENTION);
    hits.into_iter()
        .map(|(_, hit)| hit)
        .take(MOST_HITS)
        .collect()
}

fn hit(library: &Library, entry: &Entry) -> Hit {
    Hit {
        name: entry.name.to_owned(),
        kind: kind_word(entry.kind),
        about: first_sentence(library.prose_above(entry)),
        chapter: CHAPTERS[entry.chapter].title().to_owned(),
    }
}

/// How near a word is to an entry: 0 where its name has it, more for headings and prose.
fn rank(library: &Library, entry: &Entry, word: &str) -> Option<usize> {
    let has = |text: &str| words_of(text).any(|own| own == word);
    let name = entry.name.to_lowercase();
    if name.split('_').any(|part| stem(part) == word) {
        return Some(0);
    }
    if name.contains(word) {
        return Some(1);
    }
    if has(entry.section) {
        return Some(HEADING);
    }
    let prose = library.prose_above(entry);
    if has(&first_sentence(prose)) {
        return Some(PURPOSE);
    }
    if paragraphs(prose).iter().any(|one| has(one)) {
        return Some(MENTION);
    }
    // Its own lines: parameters, rows, limits, cautions, sources.
    let lines = entry.span.of(CHAPTERS[entry.chapter].text);
    has(lines).then_some(OWN_LINES)
}

fn words_of(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split(|sign: char| !sign.is_alphanumeric()).map(stem)
}

/// A word in small letters without the endings of a plural.
fn stem(word: &str) -> String {
    let small = word.to_lowercase();
    let long = small.chars().count() > 3;
    match small
        .strip_suffix('s')
        .filter(|rest| long && !rest.ends_with('s'))
    {
        Some(rest) => rest.to_owned(),
        None => small,
    }
}

/// Every word that a search can find by name or heading, for “did you mean”.
pub(super) fn known_words(library: &Library) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for entry in library.entries() {
        words.push(entry.name.to_owned());
        words.extend(entry.name.split('_').map(str::to_owned));
        words.extend(words_of(entry.section));
    }
    words.retain(|word| word.chars().count() > 2);
    words.sort();
    words.dedup();
    words
}
