//! The verbs of the shell, in one table: the session, its help and its completion are made from it.

/// A verb of the shell.
#[derive(Debug, PartialEq, Eq)]
pub struct Verb {
    /// What is typed.
    pub name: &'static str,
    /// What follows it, as the help writes it.
    pub takes: &'static str,
    /// What it does, in one line.
    pub about: &'static str,
}

/// Every verb, in the order of the help.
pub const VERBS: &[Verb] = &[
    Verb {
        name: "open",
        takes: "FILE",
        about: "work in a notebook",
    },
    Verb {
        name: "save",
        takes: "[FILE]",
        about: "put the lines that differ into its file, or into a new one",
    },
    Verb {
        name: "undo",
        takes: "",
        about: "take the last change back",
    },
    Verb {
        name: "redo",
        takes: "[all]",
        about: "do again what was taken back, or bring back what was not saved last time",
    },
    Verb {
        name: "remove",
        takes: "NAME",
        about: "take a cell, table, formula or check out",
    },
    Verb {
        name: "show",
        takes: "[NAME]",
        about: "the whole notebook, or all digits of one cell and what it rests on",
    },
    Verb {
        name: "why",
        takes: "NAME",
        about: "how a cell is worked out: its line with the numbers put in",
    },
    Verb {
        name: "budget",
        takes: "NAME",
        about: "which inputs make the ± of a cell",
    },
    Verb {
        name: "spread",
        takes: "NAME",
        about: "the ± of a cell by trials",
    },
    Verb {
        name: "help",
        takes: "[WORD]",
        about: "look up a unit, a formula, a word of the trade, a message or a verb",
    },
    Verb {
        name: "quit",
        takes: "",
        about: "leave; it tells first what is not saved",
    },
];
