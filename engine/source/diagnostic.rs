//! What is said about a place in a document, as data. Nothing here is printed; `render` draws it.

use super::{Code, Span};

/// How much a message matters. A closed list: other programs read it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// There is no value.
    Error,
    /// There is a value that may not be the one meant.
    Warning,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The word a reader sees, and other programs too.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Note => "note",
        }
    }
}

/// A way to mend what was found, as text that can be typed as it stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Repair {
    /// What to type.
    pub text: String,
    /// What it would give, or why one would choose it; may be empty.
    pub remark: String,
    /// The run that `text` replaces, where replacing it mends the line.
    pub replaces: Option<Span>,
}

/// The body of a formula in which a message arose; the message itself stands at the call.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Inside {
    /// The formula.
    pub formula: String,
    /// The document that defines it, by its path.
    pub path: String,
    /// The line of the body, counted from 1.
    pub line: usize,
    /// That line, trimmed.
    pub text: String,
}

/// One message: found, expected, repair, in that order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// The short code that `help` explains.
    pub code: Code,
    /// How much it matters.
    pub severity: Severity,
    /// The place, in the document the statement stands in.
    pub span: Span,
    /// What was found, as a clause without a full stop.
    pub message: String,
    /// What stands beside the underline: the thing found, with its value where it has one.
    pub label: String,
    /// Expressions whose values the label names as `{0}`, `{1}` …, with what to say while a
    /// value is not known.
    pub values: Vec<(String, String)>,
    /// What was expected, unless the underline says it; may be empty.
    pub expected: String,
    /// Ways to mend it, the likeliest first.
    pub repairs: Vec<Repair>,
    /// The formula bodies it arose in, outermost first.
    pub inside: Vec<Inside>,
}

impl Diagnostic {
    /// A message of this severity; the other parts are added by the builders below.
    pub fn new(
        severity: Severity,
        code: Code,
        span: Span,
        message: impl Into<String>,
    ) -> Diagnostic {
        Diagnostic {
            code,
            severity,
            span,
            message: message.into(),
            label: String::new(),
            values: Vec::new(),
            expected: String::new(),
            repairs: Vec::new(),
            inside: Vec::new(),
        }
    }

    /// An error: the cell has no value.
    pub fn error(code: Code, span: Span, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(Severity::Error, code, span, message)
    }

    /// A warning: the value may not be the one meant.
    pub fn warning(code: Code, span: Span, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(Severity::Warning, code, span, message)
    }

    /// A note: worth knowing.
    pub fn note(code: Code, span: Span, message: impl Into<String>) -> Diagnostic {
        Diagnostic::new(Severity::Note, code, span, message)
    }

    /// Says what the underlined thing is.
    #[must_use]
    pub fn label(mut self, label: impl Into<String>) -> Diagnostic {
        self.label = label.into();
        self
    }

    /// Names an expression whose value the label shows.
    #[must_use]
    pub fn value(
        mut self,
        expression: impl Into<String>,
        otherwise: impl Into<String>,
    ) -> Diagnostic {
        self.values.push((expression.into(), otherwise.into()));
        self
    }

    /// Puts values into the label: those that `known` has, else the words kept for them.
    #[must_use]
    pub fn with_values(mut self, known: impl Fn(&str) -> Option<String>) -> Diagnostic {
        for (index, (expression, otherwise)) in
            std::mem::take(&mut self.values).into_iter().enumerate()
        {
            let shown = known(&expression).unwrap_or(otherwise);
            self.label = self.label.replace(&format!("{{{index}}}"), &shown);
        }
        self
    }

    /// Says what was expected there.
    #[must_use]
    pub fn expected(mut self, expected: impl Into<String>) -> Diagnostic {
        self.expected = expected.into();
        self
    }

    /// Offers a repair that is typed by hand.
    #[must_use]
    pub fn repair(self, text: impl Into<String>) -> Diagnostic {
        self.repair_with(text, "")
    }

    /// Offers a repair and says what it gives.
    #[must_use]
    pub fn repair_with(mut self, text: impl Into<String>, remark: impl Into<String>) -> Diagnostic {
        self.repairs.push(Repair {
            text: text.into(),
            remark: remark.into(),
            replaces: None,
        });
        self
    }

    /// Offers a repair that replaces a run of the line.
    #[must_use]
    pub fn replace(mut self, span: Span, text: impl Into<String>) -> Diagnostic {
        self.repairs.push(Repair {
            text: text.into(),
            remark: String::new(),
            replaces: Some(span),
        });
        self
    }
}
