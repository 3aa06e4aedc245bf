//! What the streams of this process can show: colour, signs and width, from the environment and
//! from the terminal. Asked once for a command, and before each answer of the shell.

use std::io::{self, IsTerminal};

/// The width of output that goes elsewhere than to a terminal.
const USUAL_WIDTH: usize = 80;

/// The narrowest and the widest that is laid out for.
pub const WIDTHS: std::ops::RangeInclusive<usize> = 40..=100;

/// What can be shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Screen {
    /// Columns, from 40 to 100.
    pub width: usize,
    /// Whether other signs than those of ASCII are understood.
    pub unicode: bool,
    /// Whether answers may have colours.
    pub colour: bool,
    /// Whether messages may have colours: they go to a stream of their own.
    pub colour_of_messages: bool,
    /// Whether fractions stand on one line.
    pub plain: bool,
}

impl Screen {
    /// The screen of this process. `plain` and `width` are what was asked for.
    pub fn detect(plain: bool, width: Option<usize>) -> Screen {
        let may_colour = !plain && !is_set("NO_COLOR") && !is_dumb();
        let out_is_terminal = io::stdout().is_terminal();
        let columns = width.or_else(|| {
            if out_is_terminal {
                terminal_width()
            } else {
                std::env::var("COLUMNS").ok()?.trim().parse().ok()
            }
        });
        Screen {
            width: within(columns.unwrap_or(USUAL_WIDTH)),
            unicode: understands_unicode(),
            colour: may_colour && out_is_terminal,
            colour_of_messages: may_colour && io::stderr().is_terminal(),
            plain,
        }
    }

    /// The same with the width that a terminal has now.
    #[must_use]
    pub fn with_width(self, columns: usize) -> Screen {
        Screen {
            width: within(columns),
            ..self
        }
    }
}

/// A width that is laid out for.
fn within(columns: usize) -> usize {
    columns.clamp(*WIDTHS.start(), *WIDTHS.end())
}

/// Whether the terminal can do nothing but print.
pub fn is_dumb() -> bool {
    std::env::var("TERM").is_ok_and(|terminal| terminal == "dumb")
}

fn is_set(variable: &str) -> bool {
    std::env::var_os(variable).is_some_and(|value| !value.is_empty())
}

/// The locale's character set; where none is named, that of the documents, which are UTF-8.
fn understands_unicode() -> bool {
    let locale = ["LC_ALL", "LC_CTYPE", "LANG"]
        .iter()
        .filter_map(|name| std::env::var(name).ok())
        .find(|value| !value.is_empty());
    locale.is_none_or(|locale| {
        let locale = locale.to_ascii_lowercase();
        locale.contains("utf-8") || locale.contains("utf8")
    })
}

#[cfg(feature = "terminal")]
fn terminal_width() -> Option<usize> {
    let mut editor = rustyline::DefaultEditor::new().ok()?;
    let (columns, _) = editor.dimensions()?;
    (columns > 0).then_some(usize::from(columns))
}

#[cfg(not(feature = "terminal"))]
fn terminal_width() -> Option<usize> {
    None
}
