//! The live page: one HTML file in which every given number is a field, and all that follows from
//! it is worked out in the browser. A notebook goes in; its plans come out as a script, so that
//! the page needs neither the program nor a network.
//!
//! ```text
//! notebook ─ field ─> model ─ program, vocabulary ─> script
//!                       └──── layout, outcome ─────> what is shown
//! ```

mod choices;
mod field;
mod layout;
mod literal;
mod model;
mod outcome;
mod program;
mod template;
mod vocabulary;

pub use field::{Field, FieldKind, fields};
pub use model::LeftOut;
pub use program::{ProgramWriter, Unwritable, operations};

use crate::export::html::{Frame, frame};
use crate::notebook::Notebook;
use crate::report::{Options, report, studies};
use layout::Layout;
use model::Model;
use outcome::Outcomes;

const STYLE: &str = include_str!("page.css");
const CHART: &str = include_str!("chart.js");
const SCREEN: &str = include_str!("screen.js");

/// A page, and what of the notebook is not on it.
#[derive(Clone, Debug)]
pub struct Page {
    /// The file.
    pub html: String,
    /// What a page cannot work out, by name.
    pub left_out: Vec<LeftOut>,
}

/// A notebook as a live page.
pub fn page(notebook: &Notebook) -> Page {
    let mut model = Model::new(notebook);
    let report = report(notebook, Options { sources: true });
    let studies = studies(notebook);
    let title = report.title.clone().unwrap_or_else(|| report.path.clone());
    let outcomes = Outcomes::new(&mut model, &report, &studies);
    let engine = model.script();
    let layout = Layout {
        model: &model,
        report: &report,
        studies: &studies,
        outcomes: &outcomes,
    };
    let body = layout.body(&title);
    let script = [
        "(() => {\n",
        &engine,
        &outcomes.script(),
        &template::statements(&model),
        &format!("const title={};\n", literal::text(&title)),
        CHART,
        SCREEN,
        "})();\n",
    ]
    .concat();
    let html = frame(Frame {
        title: &title,
        style: STYLE,
        script: &squeezed(&script),
        body,
    });
    Page {
        html,
        left_out: model.left_out,
    }
}

/// The script of a page that works the cells of a notebook out, without what touches the page;
/// and what it leaves out.
pub fn engine_script(notebook: &Notebook) -> (String, Vec<LeftOut>) {
    let mut model = Model::new(notebook);
    (model.script(), model.left_out)
}

/// A script without its comments and indentation; no text of ours goes over several lines.
fn squeezed(script: &str) -> String {
    let lines = script.lines().map(str::trim);
    let kept = lines.filter(|line| !line.is_empty() && !line.starts_with("//"));
    kept.collect::<Vec<&str>>().join("\n")
}
