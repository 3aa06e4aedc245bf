//! The nearest of several names, for “did you mean”: a word that nobody knows goes in, at most one
//! candidate comes out. Which names may stand at a place is for the caller to say.

use strsim::osa_distance;

/// Longer words are nobody's slip of the finger, and would cost time.
const LONGEST_WORD: usize = 64;

/// The candidate that is most like `word`: swapped, missing, wrong or added letters count one
/// each, capitals count only between equals. At most a third of the letters may differ (but one
/// always may), and never all of them; of equally near ones the first is taken.
pub fn nearest<'a>(word: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let length = word.chars().count();
    if length == 0 || length > LONGEST_WORD {
        return None;
    }
    let limit = (length / 3).max(1).min(length - 1);
    let small = word.to_lowercase();
    candidates
        .into_iter()
        .filter(|candidate| candidate.chars().count().abs_diff(length) <= limit)
        .map(|candidate| {
            let without_capitals = osa_distance(&small, &candidate.to_lowercase());
            (without_capitals, osa_distance(word, candidate), candidate)
        })
        .filter(|&(distance, _, _)| distance <= limit)
        .min_by_key(|&(distance, exact, _)| (distance, exact))
        .map(|(_, _, candidate)| candidate)
}
