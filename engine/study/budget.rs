//! The uncertainty budget of a cell: a row for each source, and what improving the first would
//! bring. Rows and columns are those of JCGM 100:2008, 7.2.7 and table H.1. Numbers are in the
//! units that are shown; nothing is rounded here.

use super::draft::Draft;
use crate::check::CellId;
use crate::exact::{SecondOrder, Summary, Value};
use crate::notebook::{Notebook, Shown, SourceName};
use rustc_hash::FxHashSet;

/// A budget.
#[derive(Clone, Debug)]
pub struct Budget {
    /// The cell.
    pub cell: CellId,
    /// The row, if it is a column, from 0.
    pub row: Option<usize>,
    /// The cell as it is shown.
    pub shown: Shown,
    /// The unit of standard uncertainties and contributions: of differences of the cell.
    pub unit: String,
    /// A row for each source, the largest share first; those that cancel stay in.
    pub rows: Vec<BudgetRow>,
    /// Combined standard uncertainty, degrees of freedom, coverage factor and expanded
    /// uncertainty.
    pub together: Summary,
    /// What the second order would change, where it was followed.
    pub second: Option<SecondOrder>,
    /// What to improve first, and what that brings.
    pub improve: Option<Improvement>,
}

/// One source.
#[derive(Clone, Debug)]
pub struct BudgetRow {
    /// Its name in words.
    pub source: SourceName,
    /// The value it stands behind.
    pub value: Shown,
    /// Its standard uncertainty; nothing for readings that cannot be told apart.
    pub standard: Option<f64>,
    /// The unit of that.
    pub standard_unit: String,
    /// Change of the cell per change of the source.
    pub sensitivity: Option<f64>,
    /// The unit of that, such as `cfm/psi`; empty for a plain number.
    pub sensitivity_unit: String,
    /// Sensitivity times standard uncertainty, without its sign.
    pub contribution: f64,
    /// Its part of the variance; of readings taken together half of what they share counts to
    /// each.
    pub share: f64,
    /// Whether nothing of it is left in the cell.
    pub cancels: bool,
    /// The cells through which it comes in, where it cancels between several.
    pub shared_by: Vec<String>,
}

/// What to improve first.
#[derive(Clone, Debug)]
pub struct Improvement {
    /// The rows, by number; equal ones together.
    pub rows: Vec<usize>,
    /// Their part of the variance.
    pub share: f64,
    /// What the sources would together amount to with half of these.
    pub halved: Summary,
    /// The cell as it would then be shown.
    pub shown: Shown,
}

/// Why there is no budget.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoBudget {
    /// The value is exact.
    Exact,
    /// The cell has no value.
    NoValue,
    /// It is a column: a row has to be named.
    Column,
    /// It is no number.
    NoNumber,
}

impl Notebook {
    /// The budget of a cell; of one row, if it is a column.
    pub fn budget(&self, cell: CellId, row: Option<usize>) -> Result<Budget, NoBudget> {
        let value = match (self.value(cell), row) {
            (value @ Value::Column(_), Some(row)) => value.row(row),
            (value, _) => value.clone(),
        };
        let number = match value {
            Value::Uncertain(number) => number,
            Value::Number(_) => return Err(NoBudget::Exact),
            Value::Failed(_) => return Err(NoBudget::NoValue),
            Value::Column(_) => return Err(NoBudget::Column),
            _ => return Err(NoBudget::NoNumber),
        };
        let ty = self.cell(cell).ty.clone().ok_or(NoBudget::NoValue)?;
        let quantity = ty.as_quantity().ok_or(NoBudget::NoNumber)?;
        Ok(Draft {
            notebook: self,
            cell,
            row,
            number,
            quantity,
            above: self.above(cell),
        }
        .budget())
    }

    /// The cells that a cell rests on, itself included.
    fn above(&self, cell: CellId) -> FxHashSet<CellId> {
        let mut seen: FxHashSet<CellId> = FxHashSet::default();
        let mut open = vec![cell];
        while let Some(cell) = open.pop() {
            if seen.insert(cell) {
                open.extend(&self.cell(cell).uses);
            }
        }
        seen
    }
}
