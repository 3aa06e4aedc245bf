//! From the words of a command line to what is wanted, through the table of verbs. Nothing is read
//! or printed here; what cannot be understood comes back as text.

use super::verb::{Argument, Takes, VERBS, Verb};
use crate::export::KINDS;
use crate::shell::screen::WIDTHS;
use crate::source::{nearest, wrap};
use clap::builder::{PossibleValue, PossibleValuesParser};
use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Arg, ArgAction, ArgMatches, Command, value_parser};
use std::ffi::OsString;
use std::path::PathBuf;

/// What is wanted.
#[derive(Clone, Debug, Default)]
pub struct Wanted {
    /// The verb; none for the shell.
    pub verb: Option<&'static str>,
    /// Files.
    pub files: Vec<PathBuf>,
    /// The word to look up.
    pub topic: Option<String>,
    /// The system's shell.
    pub shell: Option<clap_complete::Shell>,
    /// `--set`, as typed.
    pub settings: Vec<String>,
    /// `--json`
    pub json: bool,
    /// `--sources`
    pub sources: bool,
    /// `--plain`
    pub plain: bool,
    /// `--check`
    pub check: bool,
    /// `--width`
    pub width: Option<usize>,
    /// `--as`
    pub kind: Option<String>,
    /// `-o`
    pub output: Option<PathBuf>,
    /// `--table`
    pub table: Option<String>,
}

/// What is said instead of running.
#[derive(Clone, Debug)]
pub enum Said {
    /// Help or the version: for the output.
    Asked(String),
    /// What was not understood: for the error stream.
    Misread(String),
}

/// Reads the words of a command line, the program's own name first.
///
/// # Errors
/// The text to say where help is asked for or something is not understood.
pub fn read(words: impl IntoIterator<Item = OsString>) -> Result<Wanted, Said> {
    let matches = command()
        .try_get_matches_from(words)
        .map_err(|error| said(&error))?;
    let Some((name, matches)) = matches.subcommand() else {
        return Ok(Wanted::default());
    };
    let verb = VERBS.iter().find(|verb| verb.name == name);
    Ok(verb.map_or_else(Wanted::default, |verb| wanted(verb, matches)))
}

fn wanted(verb: &'static Verb, matches: &ArgMatches) -> Wanted {
    let mut wanted = Wanted {
        verb: Some(verb.name),
        ..Wanted::default()
    };
    for argument in verb.arguments {
        let name = argument.name;
        match argument.takes {
            Takes::File | Takes::Files => {
                let files = matches.get_many(name).into_iter().flatten();
                wanted.files = files.cloned().collect();
            }
            Takes::Topic => wanted.topic = matches.get_one(name).cloned(),
            Takes::Kind => wanted.kind = matches.get_one(name).cloned(),
            Takes::Output => wanted.output = matches.get_one(name).cloned(),
            Takes::Table => wanted.table = matches.get_one(name).cloned(),
            Takes::Shell => wanted.shell = matches.get_one(name).copied(),
            Takes::Settings => {
                let settings = matches.get_many(name).into_iter().flatten();
                wanted.settings = settings.cloned().collect();
            }
            Takes::Columns => {
                wanted.width = matches
                    .get_one::<u16>(name)
                    .map(|&width| usize::from(width))
            }
            Takes::Nothing => {
                let is_there = matches.get_flag(name);
                match name {
                    "json" => wanted.json = is_there,
                    "sources" => wanted.sources = is_there,
                    "plain" => wanted.plain = is_there,
                    _ => wanted.check = is_there,
                }
            }
        }
    }
    wanted
}

/// The command line as its library wants it, made from the table.
pub fn command() -> Command {
    let about = "Calculations with units and ± for compressed air and blasting.\n\
                 Without a verb, the shell: type a cell, and it is worked out.";
    let mut command = Command::new("gaugebook")
        .version(env!("CARGO_PKG_VERSION"))
        .about(about)
        .subcommand_value_name("verb")
        .subcommand_help_heading("Verbs")
        .disable_help_subcommand(true)
        .after_help(format!("{}\n{STATUS}", examples(OF_ALL)))
        .term_width(HELP_WIDTH);
    for verb in VERBS {
        command = command.subcommand(verb_command(verb));
    }
    command
}

const STATUS: &str = "Exit status: 0 if all is well, 1 if a notebook has an error or a check or example\n\
                      fails, 2 if the call is wrong or a file cannot be read.";

const OF_ALL: &[(&str, &str)] = &[
    ("gaugebook", "the shell"),
    ("gaugebook run gun.md", "the results of a notebook"),
    ("gaugebook run --help", "more about a verb"),
];

fn verb_command(verb: &Verb) -> Command {
    let command = Command::new(verb.name)
        .about(verb.about)
        .long_about(long_about(verb))
        .after_help(examples(verb.examples))
        .term_width(HELP_WIDTH);
    verb.arguments
        .iter()
        .map(argument)
        .fold(command, Command::arg)
}

fn long_about(verb: &Verb) -> String {
    let details = wrap(verb.details, HELP_WIDTH, HELP_WIDTH).join("\n");
    format!("{}\n\n{details}", capitalised(verb.about))
}

/// The columns of help: the library of the command line does not break its texts.
const HELP_WIDTH: usize = 80;

fn capitalised(text: &str) -> String {
    let mut signs = text.chars();
    signs.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(signs).chain(['.']).collect()
    })
}

fn examples(lines: &[(&str, &str)]) -> String {
    let widest = lines.iter().map(|(line, _)| line.len()).max().unwrap_or(0);
    let mut text = "Examples:".to_owned();
    for (line, does) in lines {
        text.push_str(&format!("\n  {line:widest$}  {does}"));
    }
    text + "\n"
}

fn argument(argument: &Argument) -> Arg {
    let base = Arg::new(argument.name).help(argument.about);
    match argument.takes {
        Takes::File => base.required(true).value_parser(value_parser!(PathBuf)),
        Takes::Files => base
            .required(true)
            .num_args(1..)
            .value_parser(value_parser!(PathBuf)),
        Takes::Topic => base,
        Takes::Shell => base
            .required(true)
            .value_parser(value_parser!(clap_complete::Shell)),
        Takes::Kind => base
            .long(argument.name)
            .value_name("kind")
            .required(true)
            .value_parser(PossibleValuesParser::new(
                KINDS
                    .iter()
                    .map(|kind| PossibleValue::new(kind.name).help(kind.about)),
            )),
        Takes::Output => base
            .short('o')
            .long(argument.name)
            .value_name("path")
            .value_parser(value_parser!(PathBuf)),
        Takes::Table => base.long(argument.name).value_name("name"),
        Takes::Nothing => base.long(argument.name).action(ArgAction::SetTrue),
        Takes::Settings => base
            .long(argument.name)
            .value_name("name=value")
            .action(ArgAction::Append)
            .allow_hyphen_values(true),
        Takes::Columns => base
            .long(argument.name)
            .value_name("columns")
            .value_parser(value_parser!(u16).range(*WIDTHS.start() as i64..=*WIDTHS.end() as i64)),
    }
}

/// What the library of the command line has to say, in our words where a verb is not known.
fn said(error: &clap::Error) -> Said {
    match error.kind() {
        ErrorKind::DisplayHelp | ErrorKind::DisplayVersion => {
            Said::Asked(error.render().to_string())
        }
        ErrorKind::InvalidSubcommand => {
            let word = match error.get(ContextKind::InvalidSubcommand) {
                Some(ContextValue::String(word)) => word.as_str(),
                _ => "",
            };
            Said::Misread(unknown_verb(word))
        }
        _ => Said::Misread(error.render().to_string()),
    }
}

fn unknown_verb(word: &str) -> String {
    let mut text = format!("error: no verb is called {word}\n");
    if std::path::Path::new(word).is_file() {
        text.push_str(&format!("  repair    gaugebook run {word}\n"));
        return text;
    }
    let names: Vec<&str> = VERBS.iter().map(|verb| verb.name).collect();
    match nearest(word, names.iter().copied()) {
        Some(near) => text.push_str(&format!("  repair    gaugebook {near}\n")),
        None => text.push_str(&format!("  expected  one of {}\n", names.join(", "))),
    }
    text
}
