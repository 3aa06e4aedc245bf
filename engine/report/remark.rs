//! What stands below a table: the defaults its results rest on, each said once; cautions, in full
//! where their formula is first used; notes.

use super::message::Message;
use super::reading::Reading;
use crate::check::CellId;
use crate::notebook::{Notebook, Role, Tag};
use crate::source::{Code, Repair};
use rustc_hash::{FxHashMap, FxHashSet};

/// Something said below a table.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Remark {
    /// Defaults of the handbook that results here rest on and that were not named before.
    TakenAs(Vec<TakenDefault>),
    /// Flows and volumes typed here without a state, by what they were taken as: “free air”.
    TakenAsAir {
        /// What they were taken as.
        noun: String,
        /// The flows.
        flows: Vec<TakenFlow>,
    },
    /// A caution of formulas used here.
    Caution {
        /// The formulas.
        formulas: Vec<String>,
        /// The caution; nothing where it stands in full further up.
        text: Option<String>,
    },
    /// A note about a cell.
    Note {
        /// The cell, or the line where there is none.
        about: String,
        /// What was found.
        message: String,
        /// What it is about.
        found: String,
        /// What else could be typed, and what that gives; the second may be empty.
        repairs: Vec<(String, String)>,
    },
}

/// A default of the handbook.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TakenDefault {
    /// The name by which a notebook may set it.
    pub name: String,
    /// Its value, as it could be typed.
    pub value: String,
    /// Whether it differs from shop to shop; the states of standards do not.
    pub of_the_shop: bool,
}

/// A flow or volume typed without its state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TakenFlow {
    /// The cell it was typed in; empty for a check.
    pub cell: String,
    /// As typed, without its ±.
    pub text: String,
}

/// What was said further up.
#[derive(Debug, Default)]
pub struct Said {
    pub(super) defaults: FxHashSet<CellId>,
    pub(super) cautions: FxHashSet<String>,
    /// What each cell rests on, as long as nothing is edited.
    pub(super) rests: FxHashMap<CellId, Vec<CellId>>,
}

/// What is to be said below a table of these cells.
pub(super) fn below(
    reading: &Reading<'_>,
    cells: &[CellId],
    messages: &[Message],
    said: &mut Said,
) -> Vec<Remark> {
    let mut remarks = Vec::new();
    remarks.extend(taken_defaults(reading, cells, said));
    remarks.extend(taken_flows(reading, cells));
    remarks.extend(cautions(reading.notebook, cells, said));
    remarks.extend(notes(cells, messages));
    remarks
}

pub(super) fn taken_defaults(
    reading: &Reading<'_>,
    cells: &[CellId],
    said: &mut Said,
) -> Option<Remark> {
    let notebook = reading.notebook;
    let mut new: Vec<CellId> = Vec::new();
    for cell in cells
        .iter()
        .filter(|cell| !notebook.cell(**cell).is_broken())
    {
        let rests = defaults_below(notebook, *cell, &mut said.rests);
        new.extend(rests.into_iter().filter(|one| said.defaults.insert(*one)));
    }
    // In the order of the handbook.
    new.sort_by_key(|default| notebook.line_of(notebook.cell(*default).statement));
    let taken = new.into_iter().map(|default| TakenDefault {
        name: reading.name(default),
        value: notebook.shown(default, None).line(),
        of_the_shop: is_of_the_shop(&notebook.cell(default).name),
    });
    let taken: Vec<TakenDefault> = taken.collect();
    (!taken.is_empty()).then_some(Remark::TakenAs(taken))
}

/// The states that standards define are the same in every shop.
fn is_of_the_shop(name: &str) -> bool {
    !["standard_", "normal_", "anr_"]
        .iter()
        .any(|state| name.starts_with(state))
}

/// The defaults of the handbook that a cell rests on, in the order met. What was found for a cell
/// is kept, so that a notebook costs one walk.
fn defaults_below(
    notebook: &Notebook,
    cell: CellId,
    known: &mut FxHashMap<CellId, Vec<CellId>>,
) -> Vec<CellId> {
    let mut stack = vec![(cell, false)];
    let mut entered: FxHashSet<CellId> = FxHashSet::default();
    while let Some((top, done)) = stack.pop() {
        if known.contains_key(&top) {
            continue;
        }
        let uses = &notebook.cell(top).uses;
        if !done && entered.insert(top) {
            stack.push((top, true));
            let open = uses.iter().rev().filter(|used| !known.contains_key(used));
            stack.extend(open.map(|used| (*used, false)));
            continue;
        }
        let mut rests = Vec::new();
        if is_default(notebook, top) {
            rests.push(top);
        }
        for used in uses {
            let below = known.get(used).map(Vec::as_slice).unwrap_or_default();
            rests.extend(
                below
                    .iter()
                    .filter(|one| !rests.contains(one))
                    .copied()
                    .collect::<Vec<_>>(),
            );
        }
        known.insert(top, rests);
    }
    known.get(&cell).cloned().unwrap_or_default()
}

/// A default that refers to nothing; tables of the handbook are data, not defaults.
fn is_default(notebook: &Notebook, cell: CellId) -> bool {
    let record = notebook.cell(cell);
    let of_handbook = record.role == Role::Handbook;
    of_handbook
        && record.uses.is_empty()
        && !record.name.contains('.')
        && notebook.statement(record.statement).tag == Tag::Default
}

fn taken_flows(reading: &Reading<'_>, cells: &[CellId]) -> Vec<Remark> {
    let notebook = reading.notebook;
    let mut nouns: Vec<(&'static str, Vec<TakenFlow>)> = Vec::new();
    for (statement, text, reference) in notebook.taken_as() {
        let of_these = cells
            .iter()
            .find(|cell| notebook.cell(**cell).statement == statement);
        let Some(cell) = of_these else { continue };
        let noun = reference.row().noun;
        let amount = text.split(['±', '+']).next().unwrap_or(&text).trim();
        let flow = TakenFlow {
            cell: reading.name(*cell),
            text: amount.to_owned(),
        };
        match nouns.iter_mut().find(|(known, _)| *known == noun) {
            Some((_, flows)) => flows.push(flow),
            None => nouns.push((noun, vec![flow])),
        }
    }
    nouns
        .into_iter()
        .map(|(noun, flows)| Remark::TakenAsAir {
            noun: noun.to_owned(),
            flows,
        })
        .collect()
}

fn cautions(notebook: &Notebook, cells: &[CellId], said: &mut Said) -> Vec<Remark> {
    let mut full: Vec<(String, Vec<String>)> = Vec::new();
    let mut again: Vec<String> = Vec::new();
    for cell in cells {
        for (formula, text) in said_cautions(notebook, *cell) {
            match full.iter_mut().find(|(known, _)| *known == text) {
                Some((_, formulas)) => push_once(formulas, formula),
                None if said.cautions.contains(&text) => push_once(&mut again, formula),
                None => full.push((text, vec![formula])),
            }
        }
    }
    said.cautions
        .extend(full.iter().map(|(text, _)| text.clone()));
    let mut remarks: Vec<Remark> = full
        .into_iter()
        .map(|(text, formulas)| Remark::Caution {
            formulas,
            text: Some(text),
        })
        .collect();
    let named = |formula: &String| {
        remarks.iter().any(|remark| match remark {
            Remark::Caution { formulas, .. } => formulas.contains(formula),
            _ => false,
        })
    };
    again.retain(|formula| !named(formula));
    if !again.is_empty() {
        remarks.push(Remark::Caution {
            formulas: again,
            text: None,
        });
    }
    remarks
}

fn push_once(list: &mut Vec<String>, one: String) {
    if !list.contains(&one) {
        list.push(one);
    }
}

/// The cautions that a cell's value asks for, with their formulas.
pub(super) fn said_cautions(notebook: &Notebook, cell: CellId) -> Vec<(String, String)> {
    let record = notebook.cell(cell);
    let Some(plan) = &record.plan else {
        return Vec::new();
    };
    let said = record
        .cautions
        .iter()
        .filter_map(|index| plan.cautions.get(*index));
    said.map(|caution| (caution.formula.name().to_owned(), caution.text.to_string()))
        .collect()
}

fn notes(cells: &[CellId], messages: &[Message]) -> Vec<Remark> {
    let of_these = messages.iter().filter(|message| {
        message.is_note() && message.id.is_some_and(|cell| cells.contains(&cell))
    });
    of_these.map(note).collect()
}

/// Notes that belong to no cell.
pub(super) fn about_nothing(messages: &[Message]) -> Vec<Remark> {
    let loose = messages
        .iter()
        .filter(|message| message.is_note() && message.id.is_none());
    loose.map(note).collect()
}

fn note(message: &Message) -> Remark {
    let about = match (&message.cell, message.place) {
        (Some(cell), _) => cell.clone(),
        (None, Some((line, _))) => format!("line {line}"),
        (None, None) => "this line".to_owned(),
    };
    let said = &message.diagnostic;
    // A limit's own words say what must be so; that it is close has to come first.
    let (text, found) = match said.code {
        Code::Limit => (format!("{}: {}", said.label, said.message), String::new()),
        _ => (said.message.clone(), said.label.clone()),
    };
    // What takes the place of something in the text gives no second answer.
    let gives = |one: &Repair| match one.replaces {
        Some(_) => String::new(),
        None => one.remark.clone(),
    };
    let repairs = said
        .repairs
        .iter()
        .map(|one| (one.text.clone(), gives(one)));
    Remark::Note {
        about,
        message: text,
        found,
        repairs: repairs.collect(),
    }
}
