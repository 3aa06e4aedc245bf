//! What the shell has to say to one entry: answers for one stream, messages for the other.

/// The outcome of an entry.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Outcome {
    /// For the output; each line is ended.
    pub answer: String,
    /// Errors and warnings, for the error stream; each line is ended.
    pub messages: String,
    /// Whether the entry had an error.
    pub is_wrong: bool,
    /// The entry as it would be taken, where that could be told.
    pub mended: Option<String>,
    /// Whether the session is over.
    pub ends: bool,
}

impl Outcome {
    /// An answer of these lines.
    pub fn answer(text: impl Into<String>) -> Outcome {
        let mut outcome = Outcome::default();
        outcome.say(text);
        outcome
    }

    /// An error that has been drawn.
    pub fn error(drawn: impl Into<String>) -> Outcome {
        Outcome {
            messages: drawn.into(),
            is_wrong: true,
            ..Outcome::default()
        }
    }

    /// Adds lines to the answer.
    pub fn say(&mut self, text: impl Into<String>) {
        let text = text.into();
        if text.is_empty() {
            return;
        }
        self.answer.push_str(&text);
        if !self.answer.ends_with('\n') {
            self.answer.push('\n');
        }
    }

    /// Adds what another part of the entry came to.
    pub fn join(&mut self, other: Outcome) {
        self.answer.push_str(&other.answer);
        self.messages.push_str(&other.messages);
        self.is_wrong |= other.is_wrong;
        self.ends |= other.ends;
        self.mended = other.mended.or(self.mended.take());
    }
}
