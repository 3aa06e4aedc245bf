//! The codes of all messages: one closed list, kebab-case, never reused once released.

macro_rules! codes {
    ($($variant:ident $name:literal $meaning:literal;)*) => {
        /// The code of a message. [`Code::name`] is the word a reader sees, and part of the
        /// contract with other programs.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Code {
            $(#[doc = $meaning] $variant,)*
        }

        impl Code {
            /// Every code.
            pub const ALL: &'static [Code] = &[$(Code::$variant,)*];

            /// The code as a reader sees it.
            pub fn name(self) -> &'static str {
                match self { $(Code::$variant => $name,)* }
            }

            /// One sentence on what it means, for `help`.
            pub fn meaning(self) -> &'static str {
                match self { $(Code::$variant => $meaning,)* }
            }
        }
    };
}

codes! {
    // How a line is written.
    Syntax "syntax" "The line cannot be read as a statement.";
    Comma "comma" "A comma inside a number: a point marks decimals, a space or `_` groups digits.";
    Clock "clock" "A time written with a colon.";
    Dash "dash" "A range written with a dash where a number was expected.";
    Subscript "subscript" "A subscript in a name.";
    InchMark "inch-mark" "An inch or foot mark where a unit was expected.";
    Hash "hash" "A `#` directly before a word or number, which is neither a comment nor text.";
    Equals "equals" "A single `=` inside a condition.";
    Reserved "reserved" "A word of the language used as a name.";
    Juxtaposed "juxtaposed" "Two values side by side without an operator between them.";
    Fraction "fraction" "A fraction before a unit that can be read in two ways.";
    PowerOfLiteral "power-of-literal" "A power behind a number with a unit, which can be read in two ways.";
    UnitBehind "unit-behind" "A unit behind something that is no number.";
    BracketOnLiteral "bracket-on-literal" "A unit bracket behind a bare number.";
    Bracket "bracket" "A unit bracket where no expression ends.";
    Solidus "solidus" "A second division in one product, read from left to right.";
    Indentation "indentation" "A formula or table whose lines lost their indentation.";
    TooDeep "too-deep" "Brackets nested deeper than the program reads.";
    TooLong "too-long" "A line or document longer than the program reads.";
    Fence "fence" "A code fence that is not closed, or a document without cells.";
    Encoding "encoding" "A document that is not UTF-8 text.";
    // Names.
    UnknownName "unknown-name" "No cell or formula has this name.";
    UnknownUnit "unknown-unit" "No unit has this name.";
    AmbiguousUnit "ambiguous-unit" "A unit name with several meanings.";
    UnitOrCell "unit-or-cell" "A word that is a unit and a cell too.";
    Duplicate "duplicate" "A name that is defined twice.";
    AlikeNames "alike-names" "Two cells whose names differ only in capitals or `_`.";
    Cycle "cycle" "Cells that need each other.";
    Recursion "recursion" "A formula that needs itself.";
    Replaces "replaces" "A cell that replaces a default of the handbook.";
    // Units and references.
    Dimension "dimension" "Two kinds of quantity where one was expected.";
    Reference "reference" "Two values that count from different references.";
    Point "point" "A reading on a scale used like an amount.";
    Level "level" "Sound levels combined like amounts.";
    SayWhich "say-which" "A flow or volume whose state has to be said.";
    TakenTwice "taken-twice" "A flow without a state, taken as two different ones.";
    UsedState "used-state" "A value of another notebook that counts from another state.";
    MixedStates "mixed-states" "A conversion between states that does not fit the state named.";
    BarePressure "bare-pressure" "A pressure without gauge or absolute where it matters.";
    Currency "currency" "Two currencies in one sum.";
    Percent "percent" "A percentage added to something that is no ratio.";
    Relative "relative" "A relative ± where it has two readings.";
    // Uncertainty.
    PlusMinus "plus-minus" "A ± in a place or a form that has none, or one that is lost.";
    SeemsPrecise "seems-precise" "A ± that says less than it seems to, or a value with fewer digits than its ±.";
    // Shapes and calls.
    Kind "kind" "Text, a switch or a column where a quantity was expected.";
    Argument "argument" "A formula called with other arguments than it takes.";
    Lengths "lengths" "Columns of different lengths.";
    Key "key" "A row that the table does not have, or has twice.";
    Gap "gap" "An empty field of a table.";
    Step "step" "Rounding without a step.";
    // Values.
    Zero "zero" "Division by zero.";
    Domain "domain" "A value outside what the function can take.";
    Range "range" "A number too large or too small to hold.";
    Outside "outside" "A value outside a table or a list of sizes.";
    Limit "limit" "A formula used outside its validity range.";
    Equality "equality" "Equality between uncertain values.";
    NearThreshold "near-threshold" "A comparison closer than three standard uncertainties.";
    SecondOrder "second-order" "An uncertainty that first order gives only roughly.";
    // Finding values.
    NoRoot "no-root" "No value in the range meets the target.";
    Several "several" "Several values meet the target.";
    Independent "independent" "The target does not depend on the value sought.";
    Stopped "stopped" "Long work that was stopped.";
    // The rest.
    Waits "waits" "A cell that waits for another to be mended.";
    Default "default" "A default in a place that has none.";
    File "file" "A file that cannot be read or written.";
    NotYet "not-yet" "A part of the language that this version reads but does not work out.";
}

impl std::fmt::Display for Code {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name())
    }
}
