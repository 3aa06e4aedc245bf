//! What the script of a page shows: which cells in which units, which checks with which numbers,
//! which studies.

use super::literal;
use super::model::Model;
use crate::check::{CellId, Kind, Type};
use crate::export::html::shown_name;
use crate::notebook::{Notebook, Role, StudyKind, Tag};
use crate::number::Number;
use crate::report::{CheckLine, Item, Outcome, Report, StudyTable, compared};
use crate::units::Unit;

/// Data for the script.
#[derive(Default)]
pub(super) struct Outcomes {
    /// Each as `[cell, factor, money, unit, name, unit in words]`.
    results: Vec<String>,
    checks: Vec<String>,
    studies: Vec<String>,
}

impl Outcomes {
    pub(super) fn new(model: &mut Model<'_>, report: &Report, studies: &[StudyTable]) -> Outcomes {
        let mut outcomes = Outcomes::default();
        outcomes.add_results(model, report);
        outcomes.add_checks(model, report);
        outcomes.add_studies(model, studies);
        outcomes
    }

    /// The script that holds the data.
    pub(super) fn script(&self) -> String {
        let lists = [
            ("results", &self.results),
            ("checks", &self.checks),
            ("studies", &self.studies),
        ];
        lists
            .into_iter()
            .map(|(name, items)| format!("const {name}={};\n", literal::list(items.clone())))
            .collect()
    }

    fn add_results(&mut self, model: &Model<'_>, report: &Report) {
        let notebook = model.notebook;
        let items = report.sections.iter().flat_map(|section| &section.items);
        for item in items {
            let names: Vec<&str> = match item {
                Item::Cell(row) => vec![&row.name],
                Item::Table(table) => table
                    .columns
                    .iter()
                    .map(|column| column.name.as_str())
                    .collect(),
            };
            for name in names {
                let Some(cell) = notebook.find(name) else {
                    continue;
                };
                let role = notebook.cell(cell).role;
                let shown = matches!(role, Role::WorkedOut | Role::ComputedColumn);
                if let (true, Some(number)) = (shown, model.writer.number(cell)) {
                    let display = display(notebook, notebook.cell(cell).ty.as_deref());
                    let name = literal::text(&shown_name(name));
                    let spoken = literal::text(&spoken(notebook, cell));
                    self.results
                        .push(format!("[{number},{display},{name},{spoken}]"));
                }
            }
        }
    }

    fn add_checks(&mut self, model: &mut Model<'_>, report: &Report) {
        let notebook = model.notebook;
        for check in &report.checks {
            let found = notebook.cells().find(|(_, cell)| {
                cell.part == 0
                    && notebook.statement(cell.statement).tag == Tag::Check
                    && notebook.line_of(cell.statement) == check.line
            });
            let number = found.and_then(|(id, _)| model.writer.number(id));
            let operands = match found {
                Some((id, _)) => self.operands(model, id),
                None => Vec::new(),
            };
            let keys = check.rows.iter().map(|row| literal::text(&row.key));
            self.checks.push(format!(
                "{{cell:{},text:{},condition:{},operands:{},keys:{}}}",
                number.map_or("-1".to_owned(), |number| number.to_string()),
                literal::text(check.text.as_deref().unwrap_or("")),
                literal::text(&check.condition),
                literal::list(operands),
                literal::list(keys)
            ));
        }
    }

    /// The values that a check compares: `[function of the world, factor, money, unit]`.
    fn operands(&self, model: &mut Model<'_>, check: CellId) -> Vec<String> {
        let notebook = model.notebook;
        let statement = notebook.cell(check).statement;
        let mut operands = Vec::new();
        for text in compared(notebook, statement) {
            let own = notebook.find(&text);
            let (function, ty) = match own {
                Some(cell) => {
                    let Some(number) = model.writer.number(cell) else {
                        continue;
                    };
                    (
                        format!("w=>[w({number})]"),
                        notebook.cell(cell).ty.as_deref().cloned(),
                    )
                }
                None => {
                    let Ok(worked) = notebook.work_expression(0, &text) else {
                        continue;
                    };
                    // Its places are counted in its own text: no field can be meant.
                    let Ok(function) = model.writer.beside(&worked.plan, &text) else {
                        continue;
                    };
                    (function, Some(worked.typed.ty.clone()))
                }
            };
            let number = ty
                .as_ref()
                .is_some_and(|ty| matches!(ty.kind, Kind::Quantity(_)));
            if number {
                let display = display(notebook, ty.as_ref());
                operands.push(format!("[{function},{display}]"));
            }
        }
        operands
    }

    fn add_studies(&mut self, model: &Model<'_>, studies: &[StudyTable]) {
        let notebook = model.notebook;
        let all = notebook.studies();
        for study in studies {
            let types = all
                .iter()
                .find(|(cell, _)| *cell == study.cell)
                .map(|(_, one)| &one.types[..]);
            let types = types.unwrap_or_default();
            let columns = study.columns.iter().enumerate().map(|(place, column)| {
                let display = display(notebook, types.get(place));
                format!("[{},{display}]", literal::text(&shown_name(&column.label)))
            });
            let number = model.writer.number(study.cell);
            self.studies.push(format!(
                "{{cell:{},axes:{},plot:{},columns:{}}}",
                number.map_or("-1".to_owned(), |number| number.to_string()),
                study.axes,
                study.kind == StudyKind::Plot,
                literal::list(columns)
            ));
        }
    }

    /// What stays in sight while one types: what does not hold.
    pub(super) fn status(&self, checks: &[CheckLine]) -> String {
        let count = |wanted: &Outcome| {
            checks
                .iter()
                .filter(|check| check.outcome == *wanted)
                .count()
        };
        let unknown = checks
            .iter()
            .filter(|check| matches!(check.outcome, Outcome::Unknown(_)))
            .count();
        let (fails, open) = (count(&Outcome::Fails), count(&Outcome::Open));
        let mut parts = Vec::new();
        match fails {
            0 => {}
            1 => parts.push("1 fails".to_owned()),
            _ => parts.push(format!("{fails} fail")),
        }
        if open > 0 {
            parts.push(format!("{open} too close to call"));
        }
        if unknown > 0 {
            parts.push(format!("{unknown} without an answer"));
        }
        match (parts.is_empty(), checks.len()) {
            (true, 0) => String::new(),
            (true, 1) => "the check holds".to_owned(),
            (true, count) => format!("all {count} checks hold"),
            _ => parts.join(", "),
        }
    }
}

/// The unit a cell is shown in, in words.
fn spoken(notebook: &Notebook, cell: CellId) -> String {
    let ty = notebook.cell(cell).ty.as_deref();
    match ty.and_then(Type::as_quantity) {
        Some(quantity) => {
            let (unit, _) = notebook.display_unit(quantity);
            notebook.registry().spoken(&unit)
        }
        None => String::new(),
    }
}

/// Factor to the unit shown, whether it is money, and that unit.
fn display(notebook: &Notebook, ty: Option<&Type>) -> String {
    let Some(quantity) = ty.and_then(Type::as_quantity) else {
        return "1,false,\"\"".to_owned();
    };
    let (unit, factor): (Unit, _) = notebook.display_unit(quantity);
    let factor = Number::ONE.scaled(&factor).map_or(1.0, Number::to_f64);
    let money = notebook.registry().dimension(&unit).is_money();
    let text = notebook.unit_text(&unit, &quantity.state);
    format!(
        "{},{money},{}",
        literal::number(factor).unwrap_or_else(|| "1".to_owned()),
        literal::text(&text)
    )
}
