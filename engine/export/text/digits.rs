//! Numbers on their decimal marker.

use super::layout::{Layout, padded, padded_before, width};
use crate::report::{Shown, ShownKind};

/// A number in two parts: what stands before the decimal marker, and the rest with it.
#[derive(Clone, Debug, Default)]
struct Split {
    whole: String,
    rest: String,
}

impl Split {
    fn of(layout: &Layout, digits: &str) -> Split {
        let text = layout.show(&layout.number(digits));
        let at = text.find(['.', 'e']).unwrap_or(text.len());
        let (whole, rest) = text.split_at(at);
        Split {
            whole: whole.to_owned(),
            rest: rest.to_owned(),
        }
    }
}

/// A value ready to be aligned with others.
#[derive(Clone, Debug)]
pub(super) enum Figure {
    /// A number, perhaps with an amount behind `±`.
    Number(Box<(String, Option<String>)>),
    /// A text, a state word, a column in braces.
    Word(String),
}

impl Figure {
    /// A value as shown, without its unit.
    pub(super) fn of(shown: &Shown) -> Figure {
        let number = shown.kind == ShownKind::Number && !shown.value.starts_with('{');
        match number {
            true => Figure::Number(Box::new((shown.value.clone(), shown.plus_minus.clone()))),
            false => Figure::Word(shown.value.clone()),
        }
    }
}

/// How wide the parts of aligned numbers are.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Alignment {
    whole: usize,
    rest: usize,
    amount_whole: usize,
    amount_rest: usize,
    amounts: bool,
}

impl Alignment {
    /// The alignment that fits all these.
    pub(super) fn of<'f>(
        layout: &Layout,
        figures: impl IntoIterator<Item = &'f Figure>,
    ) -> Alignment {
        let mut alignment = Alignment::default();
        for figure in figures {
            let Figure::Number(number) = figure else {
                continue;
            };
            let value = Split::of(layout, &number.0);
            alignment.whole = alignment.whole.max(width(&value.whole));
            alignment.rest = alignment.rest.max(width(&value.rest));
            if let Some(amount) = &number.1 {
                let amount = Split::of(layout, amount);
                alignment.amounts = true;
                alignment.amount_whole = alignment.amount_whole.max(width(&amount.whole));
                alignment.amount_rest = alignment.amount_rest.max(width(&amount.rest));
            }
        }
        alignment
    }

    /// Columns that an aligned number takes.
    pub(super) fn width(&self, layout: &Layout) -> usize {
        let value = self.whole + self.rest;
        match self.amounts {
            true => value + width(&self.sign(layout)) + self.amount_whole + self.amount_rest,
            false => value,
        }
    }

    fn sign(&self, layout: &Layout) -> String {
        layout.show(" ± ")
    }

    /// A number in its place; words stand as they are.
    pub(super) fn set(&self, layout: &Layout, figure: &Figure) -> String {
        let number = match figure {
            Figure::Number(number) => number,
            Figure::Word(word) => return layout.show(word),
        };
        let value = Split::of(layout, &number.0);
        let mut text = padded_before(&value.whole, self.whole);
        text.push_str(&padded(&value.rest, self.rest));
        if let Some(amount) = &number.1 {
            let amount = Split::of(layout, amount);
            text.push_str(&self.sign(layout));
            text.push_str(&padded_before(&amount.whole, self.amount_whole));
            text.push_str(&padded(&amount.rest, self.amount_rest));
        }
        text
    }
}
