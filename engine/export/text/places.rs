//! Where the columns of a report's sections begin: as far apart as there is room for, the same for
//! all sections.

use super::columns::INDENT;
use super::digits::Figure;
use super::layout::{Layout, width};
use super::section::Prepared;
use crate::report::RowKind;

/// Remarks beside their cells have at least so much room.
pub(super) const LEAST_REMARK: usize = 20;
/// Columns of a name that is broken for want of room.
const LEAST_NAME: usize = 10;

/// Where the columns of all sections stand.
#[derive(Clone, Copy, Default)]
pub(super) struct Measures {
    pub(super) name: usize,
    pub(super) value: usize,
    pub(super) unit: usize,
    /// Columns of the widest word that stands for a number.
    pub(super) word: usize,
    /// Columns of the widest remark.
    pub(super) remark: usize,
}

/// How the cells of the report are laid out.
#[derive(Clone, Copy)]
pub(super) enum Plan {
    /// Name, value, unit, and the remark in the last column.
    Beside(Measures),
    /// Name, value, unit; the remark on a line of its own.
    Below(Measures),
    /// Everything below the name.
    Stacked,
}

impl Measures {
    pub(super) fn widen(&mut self, layout: &Layout, prepared: &Prepared) {
        self.value = self.value.max(prepared.alignment.width(layout));
        for kind in [RowKind::Given, RowKind::WorkedOut] {
            let lines = prepared.group(kind);
            if lines.is_empty() {
                continue;
            }
            let (name, value) = prepared.heads(kind);
            self.name = self.name.max(width(name));
            self.value = self.value.max(width(&layout.show(value)));
            for line in lines {
                self.name = self.name.max(width(&line.name));
                self.unit = self.unit.max(width(&line.unit));
                self.remark = self.remark.max(width(&line.remark));
                if let Figure::Word(word) = &line.figure {
                    self.word = self.word.max(width(word));
                }
            }
        }
        if self.unit > 0 {
            self.unit = self.unit.max("unit".len());
        }
    }

    /// Each column wider by `more`.
    fn spaced(self, more: usize) -> Measures {
        Measures {
            name: self.name + more,
            value: self.value + more,
            unit: if self.unit == 0 { 0 } else { self.unit + more },
            ..self
        }
    }

    /// Columns of value and unit together.
    pub(super) fn middle(&self) -> usize {
        match self.unit {
            0 => self.value,
            unit => self.value + 1 + unit,
        }
    }

    pub(super) fn whole(&self) -> usize {
        INDENT + self.name + 1 + self.middle()
    }
}

impl Plan {
    /// The most generous layout that fits: a value, unit or state word is never cut.
    pub(super) fn of(layout: &Layout, measures: Measures) -> Plan {
        let columns = layout.columns();
        if !layout.is_side_by_side() {
            return Plan::Stacked;
        }
        let spacings = || [2, 1, 0].into_iter().map(|more| measures.spaced(more));
        if layout.has_remark_column() && measures.remark > 0 {
            let takes = |one: &Measures, remark: usize| one.whole() + 1 + remark <= columns;
            let whole = spacings().find(|one| takes(one, measures.remark));
            let broken = || spacings().find(|one| takes(one, LEAST_REMARK));
            if let Some(fits) = whole.or_else(broken) {
                return Plan::Beside(fits);
            }
        }
        if let Some(fits) = spacings().find(|one| one.whole() <= columns) {
            return Plan::Below(fits);
        }
        let without_name = measures.whole() - measures.name;
        match columns.checked_sub(without_name) {
            Some(name) if name >= LEAST_NAME => Plan::Below(Measures { name, ..measures }),
            _ => Plan::Stacked,
        }
    }
}
