//! What a page is made of: the cells that it works out in the order of need, its fields, and the
//! script that does it.

use super::field::{Field, FieldKind, fields, is_point};
use super::literal;
use super::program::{ProgramWriter, Unwritable, meaning_text, operations};
use super::vocabulary::{OPEN, Vocabulary, own_words};
use crate::check::{CellId, Quantity, State};
use crate::notebook::{Notebook, Role, StatementId, Tag};
use crate::syntax::StatementKind;
use crate::units::{Dimension, Reference};
use rustc_hash::FxHashSet;

/// Runs around the written-out plans, in this order.
const RUNTIME: [&str; 5] = [
    include_str!("values.js"),
    include_str!("columns.js"),
    include_str!("uncertainty.js"),
    include_str!("roots.js"),
    include_str!("shown.js"),
];
/// How far the sources of a reader's own lie from the author's of the same place.
const READERS_OWN: usize = 500_000;
const READING: &str = include_str!("reading.js");
const RUN: &str = include_str!("run.js");

/// A statement or cell that a page cannot work out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftOut {
    /// Its name, or its first words.
    pub name: String,
    /// The line of the document it stands in.
    pub line: Option<usize>,
    /// Why.
    pub why: String,
}

/// The parts of a page's computation.
pub(super) struct Model<'n> {
    pub(super) notebook: &'n Notebook,
    pub(super) writer: ProgramWriter<'n>,
    pub(super) fields: Vec<Field>,
    pub(super) left_out: Vec<LeftOut>,
    /// The functions of the cells, by their number.
    functions: Vec<String>,
}

impl<'n> Model<'n> {
    pub(super) fn new(notebook: &'n Notebook) -> Model<'n> {
        let cells = cells_in_order(notebook);
        let fields = fields(notebook, &cells);
        let places = fields
            .iter()
            .enumerate()
            .map(|(number, field)| (field.place, number))
            .collect();
        let mut model = Model {
            notebook,
            writer: ProgramWriter::new(notebook, cells.iter().copied(), places),
            fields,
            left_out: Vec::new(),
            functions: Vec::with_capacity(cells.len()),
        };
        for cell in cells {
            let function = match model.writer.cell(cell) {
                Ok(function) => function,
                Err(why) => {
                    model.leave_out(cell, why);
                    "null".to_owned()
                }
            };
            model.functions.push(function);
        }
        model.leave_out_studies();
        model
    }

    /// Studies that only the program works out.
    fn leave_out_studies(&mut self) {
        for (number, record) in self.notebook.statements().iter().enumerate() {
            let id = StatementId(number as u32);
            if record.part != 0 || record.removed || record.tag != Tag::Study {
                continue;
            }
            let tree = self.notebook.tree(id);
            let why = match &tree.kind {
                StatementKind::Sweep(_) | StatementKind::Plot(_) => continue,
                StatementKind::Trace(_) => "what runs in time is worked out in the program",
                StatementKind::Fit(_) => "fits are worked out in the program",
                StatementKind::Spread(_) => "trials are run in the program",
                _ => "it is worked out in the program",
            };
            let source = self.notebook.source_of(id);
            self.left_out.push(LeftOut {
                name: source.lines().next().unwrap_or_default().trim().to_owned(),
                line: self.notebook.line_of(id),
                why: why.to_owned(),
            });
        }
    }

    fn leave_out(&mut self, cell: CellId, why: Unwritable) {
        let record = self.notebook.cell(cell);
        let source = self.notebook.source_of(record.statement);
        let name = match record.name.is_empty() {
            true => source.lines().next().unwrap_or_default().to_owned(),
            false => record.name.to_string(),
        };
        let line = self.notebook.line_of(record.statement);
        self.left_out.push(LeftOut {
            name,
            line,
            why: why.to_owned(),
        });
    }

    /// The script that works the cells out; nothing in it touches a page.
    pub(super) fn script(&mut self) -> String {
        let mut used: Vec<Dimension> = vec![Dimension::PLAIN];
        let registry = self.notebook.registry();
        let quantities = self
            .fields
            .iter()
            .filter_map(|field| field.quantity.as_ref());
        used.extend(quantities.map(|quantity| registry.dimension(&quantity.unit)));
        drop(registry);
        let mut vocabulary = Vocabulary::new(self.notebook, &used);
        let fields = std::mem::take(&mut self.fields);
        let written = fields
            .iter()
            .map(|field| self.field(field, &mut vocabulary));
        let written = literal::list(written.collect::<Vec<_>>());
        self.fields = fields;
        let names = self.writer.cells().map(|cell| {
            let name = &self.notebook.cell(cell).name;
            literal::text(name)
        });
        let names = literal::list(names.collect::<Vec<_>>());
        let mut script = String::from("\"use strict\";\n");
        for part in RUNTIME {
            script.push_str(part);
        }
        script.push_str(&operations());
        script.push_str(READING);
        script.push_str(&vocabulary.script(&own_words(self.notebook)));
        script.push_str(&format!("const fields={written};\nconst names={names};\n"));
        script.push_str(&format!(
            "const cells=[\n{}];\n",
            self.functions.join(",\n")
        ));
        script.push_str(&format!("const texts={};\n", self.writer.texts()));
        script.push_str(RUN);
        script
    }

    /// A field as the script has it.
    fn field(&mut self, field: &Field, vocabulary: &mut Vocabulary) -> String {
        let kind = match field.kind {
            FieldKind::Number => "number",
            FieldKind::List => "list",
            FieldKind::Readings => "readings",
            FieldKind::Switch => "switch",
            FieldKind::Text => "text",
        };
        let name = literal::text(&self.notebook.cell(field.cell).name);
        let text = literal::text(&field.text);
        let source = self.writer.source(field.place);
        let mut written = format!("{{kind:\"{kind}\",name:{name},text:{text},source:{source}");
        if field.kind == FieldKind::Readings {
            // Readings without a ± of the author's have room for one of the reader's.
            let inner = match field.readings {
                Some(place) => self.writer.source(place),
                None => source + READERS_OWN,
            };
            written.push_str(&format!(",rows:{inner}"));
        }
        if let Some(amount) = &field.amount {
            written.push_str(&format!(",amount:{}", literal::text(amount)));
        }
        let own = field.span.of(self.notebook.text_of(field.statement));
        written.push_str(&format!(",source0:{}", literal::text(own)));
        if field.row.is_some() {
            written.push_str(",inTable:true");
        }
        if self.notebook.cell(field.cell).role == Role::Handbook {
            written.push_str(",isDefault:true");
        }
        // A meaning holds numbers that were read as doubles already.
        let meaning =
            meaning_text(&field.meaning).unwrap_or_else(|_| "{kind:\"limit\"}".to_owned());
        written.push_str(&format!(",meaning:{meaning}"));
        if let Some(tag) = &field.tag {
            written.push_str(&format!(",tag:{}", literal::text(tag)));
        }
        if let Some(quantity) = &field.quantity {
            written.push_str(&self.needs(field, quantity, vocabulary));
        }
        written.push('}');
        written
    }

    /// What a field of a number needs.
    fn needs(&self, field: &Field, quantity: &Quantity, vocabulary: &mut Vocabulary) -> String {
        let registry = self.notebook.registry();
        let dimension = vocabulary.dimension(&registry.dimension(&quantity.unit));
        let size = vocabulary.size(&quantity.unit);
        let offset = vocabulary.offset(&quantity.unit);
        let bare = registry.bare(&quantity.unit);
        let step = match bare.is_one() {
            true => String::new(),
            false => registry.show(&bare, None),
        };
        let number = |value: f64| literal::number(value).unwrap_or_else(|| "1".to_owned());
        let mut written = format!(
            ",dimension:{dimension},factor:{},offset:{},unit:{},step:{},isPoint:{},isPercent:{}",
            number(size),
            number(offset),
            literal::text(&self.notebook.unit_text(&quantity.unit, &quantity.state)),
            literal::text(&step),
            is_point(quantity),
            registry.is_percent(&quantity.unit),
        );
        if let Some(accepted) = self.accepted(field, quantity) {
            let accepted = accepted.iter().map(|one| one.to_string());
            written.push_str(&format!(",accepts:{}", literal::list(accepted)));
        }
        if let Some(reference) = quantity.reference() {
            let row = reference.row();
            let noun = literal::text(&format!("{}, {}", row.noun, row.counts));
            written.push_str(&format!(",noun:{noun}"));
        }
        written
    }

    /// The references that may be typed into a field.
    fn accepted(&self, field: &Field, quantity: &Quantity) -> Option<Vec<i32>> {
        let registry = self.notebook.registry();
        let family = registry.carried_family(&quantity.unit);
        match &quantity.state {
            State::Plain => Some(vec![OPEN]),
            State::Is(reference) => {
                let mut accepted = vec![*reference as i32];
                let open = family.is_some_and(|family| family.open_may_be().contains(reference));
                if open {
                    accepted.push(OPEN);
                }
                Some(accepted)
            }
            State::Open(_) | State::ToTell { .. } => {
                let mut accepted = vec![OPEN];
                let claimed = self.claimed(field);
                if claimed.is_empty() {
                    let any = family
                        .map(|family| family.open_may_be())
                        .unwrap_or_default();
                    accepted.extend(any.iter().map(|one| *one as i32));
                }
                accepted.extend(claimed.iter().map(|one| *one as i32));
                Some(accepted)
            }
        }
    }

    /// What an open literal was taken as.
    fn claimed(&self, field: &Field) -> Vec<Reference> {
        let taken = self.notebook.taken_as();
        let of_statement = taken.iter().filter(|(id, ..)| *id == field.statement);
        of_statement.map(|(.., reference)| *reference).collect()
    }
}

/// The cells that a page works out: those of the notebook itself and all that they rest on, in
/// the order of need.
fn cells_in_order(notebook: &Notebook) -> Vec<CellId> {
    let mut wanted: FxHashSet<CellId> = FxHashSet::default();
    let mut open: Vec<CellId> = notebook
        .cells()
        .filter(|(_, cell)| {
            cell.part == 0 && cell.role != Role::Handbook && cell.statement != StatementId(u32::MAX)
        })
        .map(|(id, _)| id)
        .collect();
    while let Some(cell) = open.pop() {
        if wanted.insert(cell) {
            open.extend(notebook.cell(cell).uses.iter().copied());
            if let Some(plan) = &notebook.cell(cell).plan {
                open.extend(plan.cells());
            }
        }
    }
    let mut cells: Vec<CellId> = wanted.into_iter().collect();
    cells.sort_by_key(|cell| (notebook.cell(*cell).level, *cell));
    cells
}
