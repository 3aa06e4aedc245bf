//! Where a line begins with one of the shell's verbs.

use crate::assist::{VERBS, Verb};

/// The verb that a text begins with, and what follows it. A name that is being set is no verb.
pub fn split_verb(text: &str) -> Option<(&'static Verb, &str)> {
    let text = text.trim();
    let end = text
        .find(|sign: char| !sign.is_alphanumeric() && sign != '_')
        .unwrap_or(text.len());
    let (word, rest) = text.split_at(end);
    let verb = VERBS.iter().find(|verb| verb.name == word)?;
    let behind = rest.trim_start();
    let is_other =
        behind.starts_with(['=', '[', '(']) || (rest.len() == behind.len() && !rest.is_empty());
    (!is_other).then(|| (verb, rest.trim()))
}
