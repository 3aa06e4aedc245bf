//! What a notebook has to say, as data for any format: sections with what was given and what came
//! out, checks, what the results rest on, cautions, sources and messages; the ripple of an edit;
//! the worked line of a cell. A [`Notebook`] goes in. Knows no widths, no colours and no files:
//! `export` turns it into text.

mod aside;
mod check;
mod compared;
mod count;
mod difference;
mod figure;
mod key;
mod message;
mod page;
mod reading;
mod remark;
mod ripple;
mod section;
mod sentence;
mod source;
mod study;
mod table;
mod why;

pub use aside::{remarks, remarks_of};
pub use check::{Chance, CheckLine, CheckRow, Outcome};
pub use compared::compared;
pub use count::Counts;
pub use difference::By;
pub use figure::{Figure, Uncertainty};
pub use message::{Message, located};
pub use page::{Page, page};
pub use remark::{Remark, Said, TakenDefault, TakenFlow};
pub use ripple::{Change, FlipLine, Rippled, ripple};
pub use section::{Item, Row, RowKind, RowState, Section};
pub use sentence::{Sentence, answer, sentence};
pub use source::SourceLine;
pub use study::{
    OfCell, Study, StudyCheck, StudyColumn, StudyTable, budget_of, spread_of, studies, study_of,
};
pub use table::{Column, ColumnKind, Table};
pub use why::{Assumed, Kept, Step, Why, WhyFormula, WhyLimit, Written, why};

pub use crate::notebook::{Shown, ShownKind};

use crate::notebook::Notebook;
use reading::Reading;

/// What is asked of a report.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Options {
    /// Whether the sources of the formulas used are listed.
    pub sources: bool,
}

/// Everything a notebook has to say.
#[derive(Clone, Debug, Default)]
pub struct Report {
    /// The first heading of the document.
    pub title: Option<String>,
    /// The path of the document as the reader knows it.
    pub path: String,
    /// How much of what there is.
    pub counts: Counts,
    /// Notes about the document as a whole.
    pub remarks: Vec<Remark>,
    /// What stands under each heading, in the order of the document.
    pub sections: Vec<Section>,
    /// The checks, in the order of the document.
    pub checks: Vec<CheckLine>,
    /// What is to be said below the checks.
    pub check_remarks: Vec<Remark>,
    /// The sources of the formulas used; empty unless asked for.
    pub sources: Vec<SourceLine>,
    /// Every message, in the order of the documents.
    pub messages: Vec<Message>,
}

impl Report {
    /// Whether there is nothing to mend and no check fails: what the exit status tells.
    pub fn is_fine(&self) -> bool {
        let error = self.messages.iter().any(|message| message.is_error());
        let failing = self
            .checks
            .iter()
            .any(|check| matches!(check.outcome, Outcome::Fails));
        !error && !failing
    }
}

/// Reads a notebook out.
///
/// ```
/// use gaugebook::{library::Library, notebook::{NoFiles, Notebook}, report, source::Document};
/// use std::rc::Rc;
/// let text = "```gaugebook\ntank = 60 gal\nhalf = tank / 2  # for the small gun\n```\n";
/// let document = Document::new(text.to_owned());
/// let notebook = Notebook::open("shop.md", document, &NoFiles, Rc::new(Library::new()));
/// let report = report::report(&notebook, report::Options::default());
/// assert_eq!((report.counts.given, report.counts.worked_out), (1, 1));
/// assert!(report.is_fine());
/// ```
pub fn report(notebook: &Notebook, options: Options) -> Report {
    let reading = Reading::of(notebook);
    let messages = message::messages(&reading);
    let mut said = remark::Said::default();
    let sections = section::sections(&reading, &messages, &mut said);
    let (checks, check_remarks) = check::checks(&reading, &messages, &mut said);
    let counts = count::count(&sections, &checks);
    let sources = match options.sources {
        true => source::sources(&reading),
        false => Vec::new(),
    };
    Report {
        title: notebook.title().map(str::to_owned),
        path: notebook.path().to_owned(),
        counts,
        remarks: remark::about_nothing(&messages),
        sections,
        checks,
        check_remarks,
        sources,
        messages,
    }
}
