//! The worked line of a cell: the formula with its names beside the same with the numbers put in.

use super::fraction::{Block, block, inline, tied};
use super::layout::{Layout, TIE, padded, width};
use super::messages::message;
use super::sheet::Sheet;
use crate::report::{Kept, Step, Why, WhyFormula, Written};
use crate::source::wrap;

/// Fewest columns of the words that begin the rows.
const LEAST_LABEL: usize = 12;
/// Most columns of them: a longer one stands on a line of its own.
const MOST_LABEL: usize = 20;
/// Blanks between the names and the numbers.
const GAP: usize = 6;

/// A cell worked out, for reading beside a pencil; messages about it come last.
pub fn why(why: &Why, layout: Layout) -> String {
    let mut sheet = Sheet::new(layout);
    let label = label_width(why);
    let mut rows = Rows {
        sheet: &mut sheet,
        label,
    };
    rows.add_own(why);
    for (number, formula) in why.formulas.iter().enumerate() {
        let main = number == 0 && why.step.is_none();
        rows.add_formula(why, formula, main);
    }
    let mut text = sheet.finish();
    for one in &why.messages {
        text.push_str(&message(one, layout));
    }
    text
}

fn label_width(why: &Why) -> usize {
    let steps = why.formulas.iter().flat_map(|formula| &formula.steps);
    let names = steps.chain(&why.step).map(|step| width(&step.name));
    let widest = names.filter(|width| *width + 2 <= MOST_LABEL).max();
    (widest.unwrap_or(0) + 2).max(LEAST_LABEL)
}

struct Rows<'s> {
    sheet: &'s mut Sheet,
    label: usize,
}

impl Rows<'_> {
    /// The cell's own line, and what comes out.
    fn add_own(&mut self, why: &Why) {
        if let Some(step) = &why.step {
            self.add_step(step, why.given);
        }
        if why.step.is_some() || why.formulas.is_empty() {
            self.add_result(why);
        }
    }

    fn add_result(&mut self, why: &Why) {
        let value = self.sheet.value(&why.result);
        self.add_row("result", &value);
        if let Some(row) = &why.row {
            let text = self
                .sheet
                .show(&format!("the numbers put in are those of “{row}”"));
            self.add_row("row", &text);
        }
        if let Some(remark) = &why.remark {
            let text = self.sheet.show(remark);
            self.add_row("remark", &text);
        }
    }

    fn add_formula(&mut self, why: &Why, formula: &WhyFormula, main: bool) {
        if !main {
            self.sheet.gap();
        }
        for (number, step) in formula.steps.iter().enumerate() {
            self.add_step(step, false);
            if number == 0 {
                self.add_assumed(formula);
            }
        }
        if main {
            self.add_result(why);
        }
        for limit in &formula.limits {
            let condition = self.sheet.show(&limit.condition);
            let kept = match limit.kept {
                Kept::Yes => "kept".to_owned(),
                Kept::Close => format!("kept, but close: {}", limit.text),
                Kept::No => format!("not kept: {}", limit.text),
                Kept::Unknown => continue,
            };
            let kept = self.sheet.show(&kept);
            self.add_row("limit", &format!("{condition}: {kept}"));
        }
        let source = self.sheet.show(&formula.source);
        self.add_row("source", &source);
        for caution in &formula.cautions {
            let caution = self.sheet.show(caution);
            self.add_row("caution", &caution);
        }
    }

    /// Parameters whose arguments have names of their own.
    fn add_assumed(&mut self, formula: &WhyFormula) {
        let said: Vec<String> = formula
            .assumed
            .iter()
            .map(|one| format!("{} is {}", one.parameter, one.argument))
            .collect();
        if !said.is_empty() {
            let text = self.sheet.show(&said.join(", "));
            self.add_row("with", &text);
        }
    }

    /// A label, and text that hangs beside it.
    fn add_row(&mut self, label: &str, text: &str) {
        let label = padded(label, self.label);
        self.sheet
            .paragraph(&format!("{label}{text}"), 2, 2 + self.label);
    }

    /// A line of a formula behind its label.
    fn add_line(&mut self, label: &str, line: &str) {
        let label = padded(label, self.label);
        self.sheet.line(&format!("  {label}{line}"));
    }

    /// Names and numbers side by side where there is room, else one below the other.
    fn add_step(&mut self, step: &Step, given: bool) {
        let layout = self.sheet.layout;
        let room = layout.columns() - 2 - self.label;
        let value = step.value.as_ref().map(|value| {
            let exact = crate::report::Shown {
                plus_minus: None,
                tag: None,
                ..value.clone()
            };
            self.sheet.value(&exact)
        });
        let label = self.label_of(&step.name);
        let ends = value.map(|value| format!(" = {value}")).unwrap_or_default();
        let names = block(&layout, &step.written);
        if given || step.written == step.numbers {
            self.add_part(&label, "", &step.written, &ends);
            return;
        }
        let numbers = block(&layout, &step.numbers);
        if names.width() + GAP + numbers.width() + width(&ends) <= room {
            let gap = Block::line(" ".repeat(GAP));
            let ends = Block::line(ends);
            self.add_block(&label, &Block::beside(&[names, gap, numbers, ends]));
            return;
        }
        let flat = [&step.written, &step.numbers].map(|one| inline(&layout, one));
        let on_one_line = width(&flat[0]) <= room && width(&flat[1]) + width(&ends) + 2 <= room;
        if on_one_line {
            self.add_line(&label, &flat[0]);
            self.add_line("", &format!("= {}{ends}", flat[1]));
            return;
        }
        self.add_part(&label, "", &step.written, "");
        self.add_part("", "= ", &step.numbers, &ends);
    }

    /// The label of a step; one that is too long stands above it.
    fn label_of(&mut self, name: &str) -> String {
        let name = self.sheet.show(name);
        if width(&name) + 2 <= self.label {
            return name;
        }
        self.sheet.line(&format!("  {name}"));
        String::new()
    }

    /// A formula in two dimensions behind its label, which stands where reading begins.
    fn add_block(&mut self, label: &str, block: &Block) {
        for (number, line) in block.lines().iter().enumerate() {
            self.add_line(if number == 0 { label } else { "" }, line);
        }
    }

    /// A formula alone on its lines: in two dimensions if it fits, else on one line, broken.
    fn add_part(&mut self, label: &str, begins: &str, written: &Written, ends: &str) {
        let layout = self.sheet.layout;
        let room = layout.columns() - 2 - self.label;
        let set = Block::beside(&[
            Block::line(begins.to_owned()),
            block(&layout, written),
            Block::line(ends.to_owned()),
        ]);
        if set.width() <= room {
            self.add_block(label, &set);
            return;
        }
        // A number is not parted from its unit.
        let text = format!(
            "{}{}{}",
            begins.replace(' ', TIE),
            tied(&layout, written),
            ends.replace(' ', TIE).replacen(TIE, " ", 1)
        );
        for (number, line) in wrap(&text, room, room - 2).iter().enumerate() {
            let label = if number == 0 { label } else { "" };
            let hang = if number == 0 { "" } else { "  " };
            self.add_line(label, &format!("{hang}{line}"));
        }
    }
}
