//! What a page shows, in the order of use: numbers to be typed, results, checks, pictures,
//! cautions; sources and worked lines folded away. It is filled with the author's numbers, so that
//! it reads without its script too.

use super::field::{Field, FieldKind};
use super::model::Model;
use super::outcome::Outcomes;
use crate::check::CellId;
use crate::export::curves::{caption, charts, is_cross};
use crate::export::html::{
    Working, chart, column_head, condition_text, ended, found_text, in_column, kind_of,
    outcome_class, outcome_shape, outcome_word, pads, prose, shown_name, signed, unit_and_tag,
    worked,
};
use crate::notebook::{CellState, Notebook, Role};
use crate::report::{
    CheckLine, ColumnKind, Item, Remark, Report, Row, RowKind, ShownKind, StudyTable, Table, why,
};
use crate::source::Piece;
use maud::{Markup, html};
use rustc_hash::FxHashMap;

/// A page while it is laid out.
pub(super) struct Layout<'l, 'n> {
    pub(super) model: &'l Model<'n>,
    pub(super) report: &'l Report,
    pub(super) studies: &'l [StudyTable],
    pub(super) outcomes: &'l Outcomes,
}

impl Layout<'_, '_> {
    fn notebook(&self) -> &Notebook {
        self.model.notebook
    }

    pub(super) fn body(&self, title: &str) -> Markup {
        html! {
            main {
                header { h1 { (title) } }
                noscript { p class="note" { "This page works its results out in the browser, and scripts are off: it shows the numbers of its author." } }
                (self.numbers())
                (self.results())
                (self.checks())
                (self.studies())
                (self.actions())
                (self.remarks())
                (self.left_out())
                (self.working())
                (self.story())
            }
            p class="status" id="status" { (self.status()) }
            p class="aside" id="live" role="status" aria-live="polite" {}
        }
    }

    /// The fields, under the headings of the notebook.
    fn numbers(&self) -> Markup {
        let many = self
            .report
            .sections
            .iter()
            .filter(|section| !section.items.is_empty())
            .count()
            > 1;
        html! {
            section aria-labelledby="numbers" {
                h2 id="numbers" { "Your numbers" }
                p class="quiet" { "These are the author’s: put in yours, in your own units. Nothing is sent anywhere." }
                @for section in &self.report.sections {
                    @let fields: Vec<Markup> = section.items.iter().filter_map(|item| self.number_item(item)).collect();
                    @if !fields.is_empty() {
                        div class="group" role="group" aria-label=(section.heading.as_deref().unwrap_or("Numbers")) {
                            @if let (true, Some(heading)) = (many, &section.heading) { h3 { (heading) } }
                            @for field in fields { (field) }
                        }
                    }
                }
            }
        }
    }

    fn number_item(&self, item: &Item) -> Option<Markup> {
        match item {
            Item::Table(table) => Some(self.table(table)),
            Item::Cell(row) => {
                let cell = self.notebook().find(&row.name)?;
                let fields = self.fields_of(cell);
                match fields.first() {
                    Some((number, field)) => {
                        Some(self.field(*number, field, row.remark.as_deref()))
                    }
                    None if row.kind == RowKind::Given => Some(fixed(row)),
                    None => None,
                }
            }
        }
    }

    fn fields_of(&self, cell: CellId) -> Vec<(usize, &Field)> {
        let fields = self.model.fields.iter().enumerate();
        fields.filter(|(_, field)| field.cell == cell).collect()
    }

    fn field(&self, number: usize, field: &Field, remark: Option<&str>) -> Markup {
        let name = shown_name(&self.notebook().cell(field.cell).name);
        let id = format!("f{number}");
        html! {
            div class="field" id=(format!("box{number}")) {
                label for=(id) {
                    span class="name" { (name) }
                    @if field.kind == FieldKind::Readings {
                        ", " (field.text.split(',').count()) " readings"
                    }
                    @if let Some(remark) = remark { span class="quiet" { ", " (remark) } }
                }
                div class="entry" { (self.inputs(number, field, &name)) }
                p class="note" id=(format!("n{number}")) {}
            }
        }
    }

    /// The boxes of a field: number, ±, unit.
    fn inputs(&self, number: usize, field: &Field, name: &str) -> Markup {
        let (id, note) = (format!("f{number}"), format!("n{number}"));
        let unit = self.unit_of(field);
        let spoken = self.spoken(field);
        let label = match spoken.is_empty() {
            true => name.to_owned(),
            false => format!("{name}, {spoken}"),
        };
        match field.kind {
            FieldKind::Switch => html! {
                select id=(id) aria-label=(label) aria-describedby=(note) {
                    @for word in ["on", "off"] { option value=(word) selected[field.text == word] { (word) } }
                }
            },
            FieldKind::Text => html! {
                input id=(id) class="words" value=(field.text) autocomplete="off" spellcheck="false"
                    aria-label=(label) aria-describedby=(note);
            },
            FieldKind::Number | FieldKind::List | FieldKind::Readings => html! {
                input id=(id) class=(if field.kind == FieldKind::Number { "number" } else { "words" })
                    value=(field.text) inputmode=(keypad(field)) autocomplete="off"
                    autocapitalize="off" spellcheck="false" aria-label=(label) aria-describedby=(note);
                span class="sign" aria-hidden="true" { "±" }
                input id=(format!("a{number}")) class="amount" value=(field.amount.as_deref().unwrap_or(""))
                    inputmode="decimal" autocomplete="off" autocapitalize="off" spellcheck="false"
                    aria-label=(amount_label(name, field, &spoken)) aria-describedby=(note);
                @let choices = self.model.unit_choices(field);
                @if choices.len() > 1 {
                    select id=(format!("u{number}")) class="unit" aria-label=(format!("{name}, unit")) {
                        @for (place, choice) in choices.iter().enumerate() {
                            option value=(choice) selected[place == 0] { (choice) }
                        }
                    }
                } @else {
                    span class="unit" id=(format!("u{number}")) { (unit) }
                }
                span class="tag" id=(format!("t{number}")) {
                    @if field.amount.is_some() { (field.tag.as_deref().unwrap_or("limit")) }
                }
            },
        }
    }

    fn unit_of(&self, field: &Field) -> String {
        match &field.quantity {
            Some(quantity) => self.notebook().unit_text(&quantity.unit, &quantity.state),
            None => String::new(),
        }
    }

    /// The unit of a field in words.
    fn spoken(&self, field: &Field) -> String {
        match &field.quantity {
            Some(quantity) => self.notebook().registry().spoken(&quantity.unit),
            None => String::new(),
        }
    }

    /// A table with its fields, its computed columns beside them.
    fn table(&self, table: &Table) -> Markup {
        html! {
            div class="scroll" {
                table class="grid entries" id=(format!("table-{}", table.name)) {
                    caption { (shown_name(&table.name)) }
                    thead { tr { @for column in &table.columns {
                        th scope="col" { (column_head(&column.heading, &column.shown_unit)) }
                    } } }
                    tbody { @for row in 0..table.rows { tr {
                        @for (place, column) in table.columns.iter().enumerate() {
                            (self.table_cell(table, place, row, &column.name))
                        }
                    } } }
                }
            }
        }
    }

    fn table_cell(&self, table: &Table, place: usize, row: usize, name: &str) -> Markup {
        let column = &table.columns[place];
        let cell = self.notebook().find(name);
        let shown = column.rows.get(row);
        let key = table.columns[0]
            .rows
            .get(row)
            .map_or(String::new(), |key| key.value.clone());
        let field = cell.and_then(|cell| {
            let fields = self.fields_of(cell);
            fields.into_iter().find(|(_, field)| field.row == Some(row))
        });
        if let Some((number, field)) = field {
            let label = format!("{}, {key}", shown_name(&column.heading));
            return html! {
                td {
                    span class="head" aria-hidden="true" { (column_head(&column.heading, &column.shown_unit)) }
                    span class="entry" {
                        input id=(format!("f{number}")) class="number" value=(field.text) inputmode=(keypad(field))
                            autocomplete="off" spellcheck="false" aria-label=(format!("{label}, {}", self.spoken(field)))
                            aria-describedby=(format!("n{number}"));
                        @if field.amount.is_some() {
                            span class="sign" aria-hidden="true" { "±" }
                            input id=(format!("a{number}")) class="amount" value=(field.amount.as_deref().unwrap_or(""))
                                inputmode="decimal" autocomplete="off" spellcheck="false"
                                aria-label=(amount_label(&label, field, &self.spoken(field)));
                        }
                    }
                    span class="note" id=(format!("n{number}")) {}
                }
            };
        }
        let text = shown
            .map(|shown| in_column(shown, kind_of(column)))
            .unwrap_or_default();
        let id = cell
            .and_then(|cell| self.model.writer.number(cell))
            .map(|cell| format!("c{cell}-{row}"));
        let head = html! {
            span class="head" aria-hidden="true" { (column_head(&column.heading, &column.shown_unit)) }
        };
        html! {
            @if place == 0 {
                th scope="row" { (head) span { (text) } }
            } @else if let (Some(id), ColumnKind::WorkedOut) = (id, column.kind) {
                td class="number" { (head) span id=(id) { (text) } }
            } @else {
                td class=(if column.kind == ColumnKind::Text { "text" } else { "number" }) { (head) span { (text) } }
            }
        }
    }

    /// What is worked out, under the headings of the notebook.
    fn results(&self) -> Markup {
        let sections: Vec<(Option<&str>, Vec<&Row>)> = self
            .report
            .sections
            .iter()
            .map(|section| {
                (
                    section.heading.as_deref(),
                    section.rows(RowKind::WorkedOut).collect(),
                )
            })
            .filter(|(_, rows): &(_, Vec<&Row>)| !rows.is_empty())
            .collect();
        let many = sections.len() > 1;
        html! {
            @if !sections.is_empty() {
                section aria-labelledby="results" {
                    h2 id="results" { "Worked out" span class="quiet" { " (± at 95 %)" } }
                    @for (heading, rows) in sections {
                        table class="values" {
                            @if let (true, Some(heading)) = (many, heading) { caption { (heading) } }
                            @let pads = pads(rows.iter().map(|row| row.shown.value.as_str()));
                            tbody { @for (row, pad) in rows.iter().zip(&pads) { (self.result(row, pad)) } }
                        }
                    }
                }
            }
        }
    }

    fn result(&self, row: &Row, pad: &str) -> Markup {
        let number = self
            .notebook()
            .find(&row.name)
            .and_then(|cell| self.model.writer.number(cell));
        let id = number.map_or(String::new(), |number| format!("c{number}"));
        let word = row.shown.kind == ShownKind::Word;
        html! {
            tr id=(id) {
                th scope="row" {
                    (shown_name(&row.name))
                    @if let Some(remark) = &row.remark { span class="quiet remark" { (remark) } }
                    span class="note" {}
                }
                td class="value" data-pad=(pad) { (signed(&row.shown.value)) }
                td class="amount" { @if let Some(amount) = &row.shown.plus_minus { "± " (amount) } }
                td class="unit" { @if !word { (unit_and_tag(&row.shown, row.kind)) } }
            }
        }
    }

    fn checks(&self) -> Markup {
        let checks = &self.report.checks;
        html! {
            @if !checks.is_empty() {
                section aria-labelledby="checks" {
                    h2 id="checks" { "Checks" }
                    table class="checks" role="table" aria-labelledby="checks" {
                        tbody { @for (number, check) in checks.iter().enumerate() { (check_row(number, check)) } }
                    }
                }
            }
        }
    }

    fn studies(&self) -> Markup {
        html! {
            @for (number, study) in self.studies.iter().enumerate() {
                figure class="study" id=(format!("s{number}")) {
                    figcaption { h2 { (caption(study)) } }
                    @for (place, picture) in charts(study).iter().enumerate() {
                        @if let Some(picture) = chart(picture, &format!("p{number}-{place}")) { (picture) }
                    }
                    @if charts(study).is_empty() {
                        (self.study_table(study))
                    } @else {
                        details { summary { "The same as a table" } (self.study_table(study)) }
                    }
                    p class="note" {}
                }
            }
        }
    }

    /// The frame of a study's table; its rows are the script's, but for readers without one.
    fn study_table(&self, study: &StudyTable) -> Markup {
        let rows = study.columns.first().map_or(0, |column| column.rows.len());
        html! {
            div class="scroll" tabindex="0" role="group" aria-label="table of the points" {
                table class=(if is_cross(study) { "grid cross" } else { "grid" }) {
                    thead { tr { @for column in &study.columns {
                        th scope="col" class="number" { (column_head(&column.label, &column.unit)) }
                    } } }
                    tbody { @for row in 0..rows { tr { @for (place, column) in study.columns.iter().enumerate() {
                        @let text = column.rows.get(row).map(|shown| in_column(shown, RowKind::WorkedOut)).unwrap_or_default();
                        @if place < study.axes { th scope="row" class="number" { (text) } }
                        @else { td class="number" { (text) } }
                    } } } }
                }
            }
        }
    }

    fn actions(&self) -> Markup {
        html! {
            p class="actions" {
                button type="button" id="copy" { "copy my numbers" }
                button type="button" id="again" { "start over" }
            }
            p class="note" id="copied" {}
            textarea id="post" class="post" readonly aria-label="my numbers, as a post" hidden {}
        }
    }

    /// Cautions are never folded away; defaults can be set.
    fn remarks(&self) -> Markup {
        let all: Vec<&Remark> = self
            .report
            .sections
            .iter()
            .flat_map(|section| &section.remarks)
            .chain(&self.report.check_remarks)
            .collect();
        html! {
            section class="remarks" {
                div id="cautions" {
                    @for remark in &all {
                        @if let Remark::Caution { text: Some(text), .. } = remark {
                            p class="caution" { strong { "Caution: " } (ended(text)) }
                        }
                    }
                }
                @for remark in &all {
                    @if let Remark::TakenAsAir { noun, flows } = remark {
                        p { "Taken as " (noun) ": "
                            @for (place, flow) in flows.iter().enumerate() {
                                @if place > 0 { ", " }
                                (flow.text) @if !flow.cell.is_empty() { " of " (shown_name(&flow.cell)) }
                            }
                            "." }
                    }
                }
                (self.defaults())
            }
        }
    }

    fn defaults(&self) -> Markup {
        let defaults: Vec<(usize, &Field)> = self
            .model
            .fields
            .iter()
            .enumerate()
            .filter(|(_, field)| self.notebook().cell(field.cell).role == Role::Handbook)
            .collect();
        let listed: Vec<String> = defaults
            .iter()
            .map(|(_, field)| {
                let name = shown_name(&self.notebook().cell(field.cell).name);
                format!("{name} {}", self.notebook().shown(field.cell, None).line())
            })
            .collect();
        html! {
            @if !defaults.is_empty() {
                details class="defaults" {
                    summary { "Taken as: " span id="taken" { (listed.join(", ")) } " " span class="set" { "[set]" } }
                    @for (number, field) in defaults { (self.field(number, field, None)) }
                }
            }
        }
    }

    fn left_out(&self) -> Markup {
        html! {
            @if !self.model.left_out.is_empty() {
                section class="note" {
                    p { "Not on this page, but in the notebook:" }
                    ul { @for one in &self.model.left_out { li { code { (one.name) } ": " (one.why) } } }
                }
            }
        }
    }

    fn working(&self) -> Markup {
        let notebook = self.notebook();
        let cells = notebook.cells().filter(|(_, cell)| {
            let own = cell.part == 0 && cell.state == CellState::Ok;
            own && matches!(cell.role, Role::WorkedOut | Role::ComputedColumn)
        });
        let mut known: FxHashMap<String, ()> = FxHashMap::default();
        let mut lines: Vec<(usize, Markup)> = Vec::new();
        for (id, cell) in cells {
            let mut why = why(notebook, id);
            // A formula is shown once, where it is first used.
            why.formulas
                .retain(|formula| known.insert(formula.name.clone(), ()).is_none());
            let line = notebook.line_of(cell.statement).unwrap_or(usize::MAX);
            lines.extend(worked(&why, Working::Formulas).map(|markup| (line, markup)));
        }
        lines.sort_by_key(|(line, _)| *line);
        html! {
            @if !lines.is_empty() {
                details class="working" {
                    summary { "Sources and worked lines" }
                    @for (_, line) in lines { (line) }
                }
            }
        }
    }

    /// The notebook as it was written, prose and cells.
    fn story(&self) -> Markup {
        let document = self.notebook().document();
        let text = document.text();
        html! {
            details class="story" {
                summary { "The notebook, as its author wrote it" }
                @for piece in document.pieces() {
                    @match piece {
                        Piece::Prose(span) => { (prose(span.of(text), 1)) }
                        Piece::Block(number) => {
                            @if let Some(block) = document.blocks().get(number) {
                                pre { @for line in &block.lines { (line.of(text)) "\n" } }
                            }
                        }
                    }
                }
            }
        }
    }

    /// What stays at the edge while one types.
    fn status(&self) -> String {
        self.outcomes.status(&self.report.checks)
    }
}

/// A given value that is no field: an expression of numbers.
fn fixed(row: &Row) -> Markup {
    html! {
        div class="field fixed" {
            span class="label" { (shown_name(&row.name)) @if let Some(remark) = &row.remark { span class="quiet" { ", " (remark) } } }
            span { (in_column(&row.shown, RowKind::Given)) " " (row.shown.unit) }
        }
    }
}

fn check_row(number: usize, check: &CheckLine) -> Markup {
    html! {
        tr id=(format!("k{number}")) role="row" class=(outcome_class(&check.outcome)) {
            td class="outcome" role="cell" {
                span aria-hidden="true" { (outcome_shape(&check.outcome)) } " "
                span class="word" { (outcome_word(&check.outcome)) }
            }
            th scope="row" role="rowheader" class="condition" { (condition_text(&check.condition)) }
            td class="chance" role="cell" { @if let Some(chance) = check.chance { (chance) } }
            td class="found" role="cell" { (found_text(&check.outcome, &check.found, check.text.as_deref())) }
        }
    }
}

/// Which keys a phone shows: digits, unless the number needs more than digits and a point.
fn keypad(field: &Field) -> &'static str {
    let point = field.quantity.as_ref().is_some_and(super::field::is_point);
    let more = field.text.contains(['/', '-']) || (point && is_temperature(field));
    match field.kind {
        FieldKind::Number if !more => "decimal",
        _ => "text",
    }
}

fn is_temperature(field: &Field) -> bool {
    use crate::units::Reference;
    let reference = field
        .quantity
        .as_ref()
        .and_then(|quantity| quantity.reference());
    reference == Some(Reference::Thermometer)
}

fn amount_label(name: &str, field: &Field, spoken: &str) -> String {
    let tag = field.tag.as_deref().unwrap_or("limit");
    match spoken.is_empty() {
        true => format!("{name}, plus or minus, {tag}"),
        false => format!("{name}, plus or minus, {tag}, {spoken}"),
    }
}
