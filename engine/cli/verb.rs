//! The verbs of the command line, in one table: the parser, the help and the completions of a
//! system's shell are made from it.

/// A verb.
#[derive(Debug)]
pub struct Verb {
    /// What is typed.
    pub name: &'static str,
    /// What it does, in one line.
    pub about: &'static str,
    /// More about it, for its own help.
    pub details: &'static str,
    /// What may follow it.
    pub arguments: &'static [Argument],
    /// Lines that can be typed as they stand, with what each does.
    pub examples: &'static [(&'static str, &'static str)],
}

/// Something that follows a verb.
#[derive(Debug)]
pub struct Argument {
    /// Its name: `file` stands at its place, `--json` is typed.
    pub name: &'static str,
    /// What it takes.
    pub takes: Takes,
    /// What it is for.
    pub about: &'static str,
}

/// What an argument takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// One file.
    File,
    /// At least one file.
    Files,
    /// A word to look up, or none.
    Topic,
    /// The name of a system's shell.
    Shell,
    /// Nothing: it is there or not.
    Nothing,
    /// `name=value`, as often as wanted.
    Settings,
    /// A number of columns.
    Columns,
    /// A kind of export.
    Kind,
    /// Where something goes, a file or a folder.
    Output,
    /// The name of a table.
    Table,
}

const PLAIN: Argument = Argument {
    name: "plain",
    takes: Takes::Nothing,
    about: "no colours, and fractions on one line",
};

const WIDTH: Argument = Argument {
    name: "width",
    takes: Takes::Columns,
    about: "lay out for so many columns, 40 to 100",
};

const FILES: Argument = Argument {
    name: "file",
    takes: Takes::Files,
    about: "notebooks; `-` is what is piped in",
};

/// Every verb, in the order of the help.
pub const VERBS: &[Verb] = &[
    Verb {
        name: "run",
        about: "print the results of a notebook",
        details: "Prints the tables, checks and cautions of a notebook. Errors and warnings go to \
                  the error stream, behind them, each with its place.",
        arguments: &[
            Argument {
                name: "file",
                takes: Takes::File,
                about: "the notebook; `-` is what is piped in",
            },
            Argument {
                name: "set",
                takes: Takes::Settings,
                about: "give a cell another value for this run",
            },
            Argument {
                name: "json",
                takes: Takes::Nothing,
                about: "print one JSON object for other programs instead",
            },
            Argument {
                name: "sources",
                takes: Takes::Nothing,
                about: "name the sources of the formulas too",
            },
            PLAIN,
            WIDTH,
        ],
        examples: &[
            ("gaugebook run gun.md", "its results"),
            (
                "gaugebook run gun.md --set 'bore=3.2 mm'",
                "with another bore",
            ),
            ("gaugebook run gun.md --json", "for other programs"),
            ("gaugebook run - < post.txt", "a pasted forum post"),
        ],
    },
    Verb {
        name: "check",
        about: "say what is wrong with notebooks: errors, warnings, failing checks",
        details: "Prints nothing where all is well.",
        arguments: &[FILES, PLAIN, WIDTH],
        examples: &[
            ("gaugebook check gun.md", "one notebook"),
            ("gaugebook check *.md", "all in this folder"),
        ],
    },
    Verb {
        name: "test",
        about: "try the examples of notebooks",
        details: "Prints each example that does not hold, with what it gives, and nothing where \
                  all hold.",
        arguments: &[FILES, PLAIN, WIDTH],
        examples: &[("gaugebook test my-formulas.md", "all its examples")],
    },
    Verb {
        name: "format",
        about: "write the cells of notebooks in one spelling",
        details: "Sets blanks, signs, units and the columns of tables; prose and comments stay as \
                  they are. Each file is replaced only if something differs. What is piped in \
                  comes out formatted.",
        arguments: &[
            FILES,
            Argument {
                name: "check",
                takes: Takes::Nothing,
                about: "change nothing; name the files that would change, with exit status 1",
            },
        ],
        examples: &[
            ("gaugebook format gun.md", "the file itself"),
            ("gaugebook format --check *.md", "which ones would change"),
            ("gaugebook format - < gun.md", "to the output"),
        ],
    },
    Verb {
        name: "export",
        about: "hand a notebook on: a post, a report, a live page, tables",
        details: "A post and a Markdown document open again as the same notebook. A page works out \
                  in any browser what others type into it; it needs neither this program nor a \
                  network. Tables are written one a file into a folder, or one by its name.",
        arguments: &[
            Argument {
                name: "file",
                takes: Takes::File,
                about: "the notebook; `-` is what is piped in",
            },
            Argument {
                name: "as",
                takes: Takes::Kind,
                about: "what to make of it",
            },
            Argument {
                name: "output",
                takes: Takes::Output,
                about: "the file to write, or the folder for tables; without it, to the output",
            },
            Argument {
                name: "table",
                takes: Takes::Table,
                about: "for csv: one table, or `cells`",
            },
        ],
        examples: &[
            (
                "gaugebook export gun.md --as page -o gun.html",
                "for strangers and their numbers",
            ),
            (
                "gaugebook export gun.md --as report -o gun.html",
                "to print",
            ),
            ("gaugebook export gun.md --as post", "to paste into a forum"),
            ("gaugebook export gun.md --as csv --table runs", "one table"),
            ("gaugebook export gun.md --as csv -o tables", "all of them"),
        ],
    },
    Verb {
        name: "library",
        about: "look something up in the handbook",
        details: "Without a word it lists the chapters and their formulas. A word may be a \
                  chapter, a formula, a unit, a topic or the code of a message.",
        arguments: &[
            Argument {
                name: "topic",
                takes: Takes::Topic,
                about: "what to look up",
            },
            PLAIN,
            WIDTH,
        ],
        examples: &[
            ("gaugebook library", "all chapters"),
            ("gaugebook library bleed_down", "a formula"),
            ("gaugebook library psi", "a unit"),
            ("gaugebook library leak", "a word of the trade"),
        ],
    },
    Verb {
        name: "completions",
        about: "print completions of this command line for a system's shell",
        details: "The text is for a file that the shell reads when it starts.",
        arguments: &[Argument {
            name: "shell",
            takes: Takes::Shell,
            about: "which shell",
        }],
        examples: &[(
            "gaugebook completions bash > ~/.local/share/bash-completion/completions/gaugebook",
            "for bash",
        )],
    },
];
