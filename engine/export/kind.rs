//! The kinds of export in one table: what each is called, what it is for, how it is made.

use super::{csv, json, page, paste, report};
use crate::notebook::Notebook;
use crate::report::Options;

/// A kind of export.
pub struct Kind {
    /// What is typed behind `--as`.
    pub name: &'static str,
    /// What it is, in a few words.
    pub about: &'static str,
    /// What files of it are usually called, behind the point.
    pub ending: &'static str,
    make: fn(&Notebook) -> Made,
}

/// What an export came to.
#[derive(Clone, Debug, Default)]
pub struct Made {
    /// The files: one, or several tables by their names.
    pub files: Vec<(String, String)>,
    /// What of the notebook is not in it.
    pub left_out: Vec<page::LeftOut>,
}

impl Made {
    fn one(text: String) -> Made {
        Made {
            files: vec![(String::new(), text)],
            left_out: Vec::new(),
        }
    }
}

impl Kind {
    /// Exports a notebook.
    pub fn make(&self, notebook: &Notebook) -> Made {
        (self.make)(notebook)
    }
}

/// Every kind.
pub const KINDS: &[Kind] = &[
    Kind {
        name: "post",
        about: "a forum post in BBCode",
        ending: "txt",
        make: |notebook| Made::one(paste::post(notebook)),
    },
    Kind {
        name: "markdown",
        about: "a Markdown document with the results as tables",
        ending: "md",
        make: |notebook| Made::one(paste::markdown(notebook)),
    },
    Kind {
        name: "report",
        about: "a report to print, one HTML file",
        ending: "html",
        make: |notebook| Made::one(report::report_page(notebook)),
    },
    Kind {
        name: "page",
        about: "a page in which others put their own numbers, one HTML file",
        ending: "html",
        make: |notebook| {
            let page = page::page(notebook);
            Made {
                left_out: page.left_out,
                ..Made::one(page.html)
            }
        },
    },
    Kind {
        name: "csv",
        about: "the cells, tables and sweeps as comma-separated values",
        ending: "csv",
        make: |notebook| Made {
            files: csv::tables(notebook)
                .into_iter()
                .map(|table| (table.name, table.text))
                .collect(),
            left_out: Vec::new(),
        },
    },
    Kind {
        name: "json",
        about: "one JSON object for other programs",
        ending: "json",
        make: |notebook| {
            let report = crate::report::report(notebook, Options::default());
            Made::one(json::report(&report))
        },
    },
];

/// The kind of that name.
pub fn kind(name: &str) -> Option<&'static Kind> {
    KINDS.iter().find(|kind| kind.name == name)
}
