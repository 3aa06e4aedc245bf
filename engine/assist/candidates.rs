//! The things that could come next, by the kind of place.

use super::complete::{Candidate, CandidateKind};
use super::context::Call;
use super::guide::GUIDE;
use super::prose::first_sentence;
use super::verb::VERBS;
use crate::check::NATIVES;
use crate::library::EntryKind;
use crate::notebook::Notebook;
use crate::units::{Lookup, ROWS, catalogue};

pub(super) fn named(kind: CandidateKind, text: &str, about: &str) -> Candidate {
    Candidate {
        text: text.to_owned(),
        kind,
        about: about.to_owned(),
    }
}

pub(super) fn verb_candidates() -> Vec<Candidate> {
    let text = |takes: &str, name: &str| match takes.is_empty() {
        true => name.to_owned(),
        false => format!("{name} "),
    };
    VERBS
        .iter()
        .map(|verb| {
            named(
                CandidateKind::Verb,
                &text(verb.takes, verb.name),
                verb.about,
            )
        })
        .collect()
}

/// Cells and formulas.
pub(super) fn values(notebook: &Notebook) -> Vec<Candidate> {
    let mut all = cells(notebook);
    all.extend(formulas(notebook));
    all
}

fn cells(notebook: &Notebook) -> Vec<Candidate> {
    let cell = |name: String| {
        let about = notebook
            .find(&name)
            .map(|cell| notebook.shown(cell, None).line());
        named(CandidateKind::Cell, &name, &about.unwrap_or_default())
    };
    let mut names = notebook.cell_names();
    // The notebook's own come before the handbook's.
    names.sort_by_key(|name| {
        notebook.find(name).is_none_or(|cell| {
            let statement = notebook.cell(cell).statement;
            notebook.statement(statement).is_handbook()
        })
    });
    names.into_iter().map(cell).collect()
}

fn formulas(notebook: &Notebook) -> Vec<Candidate> {
    let own = notebook.formulas().iter();
    let mut all: Vec<Candidate> = own
        .map(|formula| {
            let text = format!("{}(", formula.name());
            named(CandidateKind::Formula, &text, "of this notebook")
        })
        .collect();
    let library = notebook.library();
    let entries = library.entries().iter();
    all.extend(
        entries
            .filter(|entry| entry.kind == EntryKind::Formula)
            .map(|entry| {
                let about = first_sentence(library.prose_above(entry));
                named(CandidateKind::Formula, &format!("{}(", entry.name), &about)
            }),
    );
    all.extend(NATIVES.iter().map(|native| {
        let text = format!("{}(", native.name);
        named(CandidateKind::Formula, &text, native.about)
    }));
    all
}

pub(super) fn behind_verb(notebook: &Notebook, verb: &str) -> Vec<Candidate> {
    match verb {
        "why" | "show" | "budget" | "spread" => cells(notebook),
        "remove" => {
            let own = notebook.own_names().into_iter();
            own.map(|name| named(CandidateKind::Cell, &name, ""))
                .collect()
        }
        "help" => topics(notebook),
        _ => Vec::new(),
    }
}

/// Everything that `help` knows by name.
fn topics(notebook: &Notebook) -> Vec<Candidate> {
    let topic = |name: &str, about: &str| named(CandidateKind::Topic, name, about);
    let mut all: Vec<Candidate> = GUIDE
        .iter()
        .map(|one| topic(one.words[0], one.title))
        .collect();
    all.extend(VERBS.iter().map(|verb| topic(verb.name, verb.about)));
    let chapters = crate::library::CHAPTERS.iter();
    all.extend(chapters.map(|chapter| topic(chapter.topic(), chapter.title())));
    for mut formula in formulas(notebook) {
        formula.text.pop();
        all.push(topic(&formula.text, &formula.about));
    }
    all.extend(
        units(notebook)
            .iter()
            .map(|unit| topic(&unit.text, &unit.about)),
    );
    let codes = crate::source::Code::ALL.iter();
    all.extend(codes.map(|code| topic(code.name(), code.meaning())));
    all
}

pub(super) fn units(notebook: &Notebook) -> Vec<Candidate> {
    let mut all = Vec::new();
    for unit in catalogue() {
        all.push(named(CandidateKind::Unit, unit.symbol, unit.name));
        let names = unit.names.split(' ').filter(|name| !name.is_empty());
        all.extend(names.map(|name| named(CandidateKind::Unit, name, unit.name)));
    }
    for statement in notebook.statements().iter().filter(|one| !one.removed) {
        if statement.tag == crate::notebook::Tag::Unit {
            all.extend(own_units(notebook, statement));
        }
    }
    all
}

/// The units that a statement of the notebook defines.
fn own_units(notebook: &Notebook, statement: &crate::notebook::StatementRecord) -> Vec<Candidate> {
    let number = notebook
        .statements()
        .iter()
        .position(|one| std::ptr::eq(one, statement));
    let tree = number.map(|number| notebook.tree(crate::notebook::StatementId(number as u32)));
    match tree.map(|tree| tree.kind) {
        Some(crate::syntax::StatementKind::Unit(unit)) => unit
            .names
            .iter()
            .map(|name| named(CandidateKind::Unit, &name.text, "of this notebook"))
            .collect(),
        _ => Vec::new(),
    }
}

/// The words that say what a value in this unit counts from.
pub(super) fn references(notebook: &Notebook, unit: &str) -> Vec<Candidate> {
    let Lookup::Found(unit) = notebook.unit_word(unit) else {
        return Vec::new();
    };
    let registry = notebook.registry();
    let Some(family) = registry.carried_family(&unit) else {
        return Vec::new();
    };
    let mut may_be = family.open_may_be().to_vec();
    if family == crate::units::Family::Pressure {
        may_be.push(crate::units::Reference::Gauge);
    }
    ROWS.iter()
        .filter(|row| !row.word.is_empty() && may_be.contains(&row.reference))
        .map(|row| named(CandidateKind::Word, row.word, row.noun))
        .collect()
}

pub(super) fn columns(notebook: &Notebook, table: &str) -> Vec<Candidate> {
    if let Some(columns) = notebook.table_columns(table) {
        let column = |(name, cell): (String, _)| {
            let unit = notebook.unit_of(cell).unwrap_or_default();
            named(CandidateKind::Cell, &name, unit.trim_start_matches('1'))
        };
        return columns.into_iter().map(column).collect();
    }
    // Cells of a notebook that is used under this name.
    let before = format!("{table}.");
    let used = notebook.cell_names().into_iter();
    used.filter_map(|name| name.strip_prefix(&before).map(str::to_owned))
        .map(|name| named(CandidateKind::Cell, &name, ""))
        .collect()
}

/// The parameters that a call has no argument for yet.
pub(super) fn parameters(notebook: &Notebook, call: &Call) -> Vec<Candidate> {
    let Some(formula) = notebook.formula(&call.name) else {
        return Vec::new();
    };
    let open = formula
        .tree
        .parameters
        .iter()
        .enumerate()
        .filter(|(number, parameter)| {
            *number >= call.unnamed && !call.names.iter().any(|name| *name == *parameter.name.text)
        });
    open.map(|(_, parameter)| {
        let unit = parameter.unit.as_ref().map(crate::syntax::print_unit);
        let about = unit.map(|unit| format!("[{unit}]")).unwrap_or_default();
        let text = format!("{}: ", parameter.name.text);
        named(CandidateKind::Parameter, &text, &about)
    })
    .collect()
}
