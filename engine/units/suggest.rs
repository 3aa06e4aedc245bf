//! What a person may have meant by a word that is no unit: words that look alike, and words of the
//! same letters in another case. Only asked when a word is unknown.

use super::prefix::PREFIXES;
use super::table::table;

/// Longer words are not compared.
const LONGEST_WORD: usize = 24;

/// The known word with the fewest slips; none when a third of the letters would be wrong.
pub(super) fn nearest(word: &str, defined: &[&str]) -> Option<String> {
    let length = word.chars().count();
    if length == 0 || length > LONGEST_WORD {
        return None;
    }
    let limit = (length / 3).max(1);
    let folded = word.to_lowercase();
    known_words(defined)
        .filter(|known| known.chars().count().abs_diff(length) <= limit)
        .map(|known| (strsim::osa_distance(word, known), known))
        .filter(|(slips, known)| *slips <= limit && *slips < known.chars().count().max(length))
        .min_by_key(|(slips, known)| {
            let other_letters = known.to_lowercase() != folded;
            (
                *slips,
                other_letters,
                known.len().abs_diff(word.len()),
                *known,
            )
        })
        .map(|(_, known)| known.to_string())
}

/// Every known word that differs in case only, prefixes included, sorted.
pub(super) fn case_variants(word: &str, defined: &[&str]) -> Vec<String> {
    if word.len() > LONGEST_WORD {
        return Vec::new();
    }
    let folded = word.to_lowercase();
    let mut variants: Vec<String> = known_words(defined)
        .filter(|known| known.to_lowercase() == folded)
        .map(str::to_string)
        .collect();
    for prefix in &PREFIXES {
        for rest in table().prefixed_words() {
            let known = format!("{}{rest}", prefix.symbol);
            if known.to_lowercase() == folded {
                variants.push(known);
            }
        }
    }
    variants.sort_unstable();
    variants.dedup();
    variants
}

fn known_words<'a>(defined: &'a [&str]) -> impl Iterator<Item = &'a str> {
    let words = table().words().map(|word| -> &str { word });
    words.chain(defined.iter().copied())
}
