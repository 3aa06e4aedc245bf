//! Tokens: what the lexer gives and the parser reads. A token knows its place in the document,
//! whether a blank stands before it, and the partner of a bracket; it holds no text.

use crate::source::Span;

/// One token.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Token {
    /// What it is.
    pub kind: Kind,
    /// What else is known of it.
    pub marks: Marks,
    /// Its place.
    pub span: Span,
    /// For a bracket the index of its partner among the tokens, or [`Token::ALONE`].
    pub partner: u32,
}

impl Token {
    /// The partner of a bracket that has none.
    pub const ALONE: u32 = u32::MAX;

    /// Whether a blank, a line border or nothing stands before it.
    pub fn after_blank(self) -> bool {
        self.marks.has(Marks::BLANK)
    }

    /// Whether it is the first of a line.
    pub fn begins_line(self) -> bool {
        self.marks.has(Marks::LINE)
    }
}

/// A set of marks on a token.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Marks(u8);

impl Marks {
    /// A blank stands before it.
    pub const BLANK: Marks = Marks(1);
    /// It is the first of its line.
    pub const LINE: Marks = Marks(2);
    /// A number that is not written in digits and one point only.
    pub const ODD: Marks = Marks(4);
    /// A number of digits alone.
    pub const WHOLE: Marks = Marks(8);
    /// A word with a lowered digit or letter.
    pub const SUBSCRIPT: Marks = Marks(16);

    /// Whether all marks of `other` are set.
    pub fn has(self, other: Marks) -> bool {
        self.0 & other.0 == other.0
    }

    /// Both sets together.
    pub fn and(self, other: Marks) -> Marks {
        Marks(self.0 | other.0)
    }
}

/// What a token is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A name, a unit word or a word that has a meaning at one place only.
    Word,
    /// A reserved word.
    Reserved(Reserved),
    /// A word that can only be a unit: `%`, `°C`.
    UnitSign,
    /// `$`
    Dollar,
    /// A number.
    Number,
    /// A number with commas between its digits.
    CommaNumber,
    /// A number with two points.
    PointsNumber,
    /// A time with colons.
    Clock,
    /// A fraction of one character.
    Fraction,
    /// Raised digits.
    Raised,
    /// A text with its quotes.
    Text,
    /// A quote that is not closed.
    OpenText,
    /// An inch or foot mark directly behind a number.
    LengthMark,
    /// `#` and the word directly behind it.
    Hash,
    /// A dash between the ends of a range.
    Dash,
    /// `+`
    Plus,
    /// `-`
    Minus,
    /// `*`
    Times,
    /// `/`
    Over,
    /// `^`
    Power,
    /// `±`
    PlusMinus,
    /// `=`
    Equal,
    /// `==`
    EqualEqual,
    /// `!=`
    Unequal,
    /// `<`
    Less,
    /// `<=`
    LessOrEqual,
    /// `>`
    Greater,
    /// `>=`
    GreaterOrEqual,
    /// `,`
    Comma,
    /// `:`
    Colon,
    /// `.`
    Dot,
    /// `|`
    Bar,
    /// `(`
    OpenRound,
    /// `)`
    CloseRound,
    /// `[`
    OpenSquare,
    /// `]`
    CloseSquare,
    /// `{`
    OpenCurly,
    /// `}`
    CloseCurly,
    /// An operator of other notations, such as `&&` or `<>`.
    Foreign,
    /// Anything else.
    Unknown,
    /// Behind the last token.
    End,
}

macro_rules! reserved {
    ($($variant:ident $word:literal;)*) => {
        /// The reserved words.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub(super) enum Reserved { $(#[doc = $word] $variant,)* }

        impl Reserved {
            /// The reserved word that is written so.
            pub fn find(word: &str) -> Option<Reserved> {
                match word { $($word => Some(Reserved::$variant),)* _ => None }
            }
        }
    };
}

reserved! {
    If "if"; Then "then"; Else "else"; And "and"; Or "or"; Not "not";
    True "true"; False "false"; On "on"; Off "off";
    With "with"; Solve "solve"; For "for"; From "from"; To "to"; By "by"; Over "over";
    Show "show"; Against "against"; Per "per"; Gives "gives"; Of "of"; Within "within";
}

/// Words that begin a statement, and nothing else at the beginning of a line.
pub(super) const STATEMENT_WORDS: [&str; 13] = [
    "formula", "table", "check", "use", "unit", "default", "example", "sweep", "plot", "fit",
    "trace", "budget", "spread",
];

/// Words that are orders to the shell at the beginning of a line, beside `show`, `budget` and
/// `spread`.
pub(super) const SHELL_WORDS: [&str; 9] = [
    "open", "save", "undo", "redo", "remove", "why", "help", "quit", "show",
];

/// Words behind the terms of a unit that say what it counts from.
pub(super) const REFERENCE_WORDS: [&str; 8] = [
    "gauge", "abs", "free", "actual", "standard", "normal", "anr", "torque",
];
