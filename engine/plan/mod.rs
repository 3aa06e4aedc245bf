//! Straight-line programs over cells: what is left of a typed tree when calls are written out,
//! branches are selections and unit changes are factors. Knows nothing of text and units.
//!
//! A plan has several readers: `exact` runs it on decimals, `lanes` on blocks of doubles, and the
//! live page has it written out as a script. What each step does is defined once, in
//! [`operation`].

mod builder;
pub mod operation;

pub use builder::compile;

use crate::check::{CellId, Description, FormulaDefinition, Meaning, Place, Reduction, Written};
use crate::number::{Factor, Number, Rational};
use crate::source::Span;
use crate::syntax::Comparison;
use std::rc::Rc;
use std::sync::Arc;

/// The number of a step; its value is what the step gives.
pub type Register = u32;

/// A program.
#[derive(Clone, Debug, Default)]
pub struct Plan {
    /// What is done, in order. A step reads only steps before it.
    pub steps: Vec<Step>,
    /// Where each step comes from.
    pub sites: Vec<Site>,
    /// The step whose value is the result.
    pub result: Register,
    /// Validity ranges of the formulas called.
    pub limits: Vec<Limit>,
    /// Cautions of the formulas called.
    pub cautions: Vec<Caution>,
}

/// One step, and the site it comes from.
#[derive(Clone, Debug)]
pub struct Step {
    /// What is done.
    pub operation: Operation,
    /// The number of its site.
    pub site: u32,
}

/// What a step does.
#[derive(Clone, Debug)]
pub enum Operation {
    /// A value known beforehand.
    Constant(Constant),
    /// The value of a cell.
    Cell(CellId),
    /// An input of a sub-plan, by its number.
    Input(u32),
    /// A function of one number.
    Unary(operation::UnaryId, Register),
    /// A function of two numbers.
    Binary(operation::BinaryId, Register, Register),
    /// A whole power.
    WholePower(Register, i32),
    /// Times a factor.
    Scale(Register, Arc<Factor>),
    /// Times a ratio, plus a ratio.
    Affine(Register, Arc<(Rational, Rational)>),
    /// Whether two values compare so.
    Compare(Comparison, Register, Register),
    /// Whether a condition does not hold.
    Not(Register),
    /// Whether all hold.
    And(Box<[Register]>),
    /// Whether any holds.
    Or(Box<[Register]>),
    /// The second where the first holds, else the third.
    Select(Register, Register, Register),
    /// A column.
    Column(Box<[Register]>),
    /// One value of a column; `true` leaves gaps out.
    Reduce(Reduction, Register, bool),
    /// The value of a column in the row where each key column has its key.
    Row(Register, Box<[(Register, Register)]>),
    /// Straight lines: at, points, values.
    Interpolate(Register, Register, Register),
    /// The next listed size above (`true`) or below: sizes, wanted.
    Size(bool, Register, Register),
    /// Where a sub-plan gives zero.
    Root(Box<Root>),
    /// A value with an uncertainty of its own.
    Uncertain(Box<Uncertain>),
    /// The mean of readings, with their scatter: their place, and the place that tells rows.
    Readings(Register, Place, Place),
    /// A number that describes uncertainty.
    Describe(Description, Box<[Register]>),
}

/// A value known beforehand.
#[derive(Clone, Debug, PartialEq)]
pub enum Constant {
    /// A number.
    Number(Number),
    /// A text.
    Text(Arc<str>),
    /// A switch.
    Switch(bool),
    /// An empty field.
    Gap,
}

/// A root to be found.
#[derive(Clone, Debug)]
pub struct Root {
    /// What must become zero; input 0 is the unknown, the others follow.
    pub plan: Plan,
    /// The registers that become the inputs behind the unknown.
    pub inputs: Vec<Register>,
    /// One end of the range.
    pub from: Register,
    /// The other end.
    pub to: Register,
}

/// A value with an uncertainty of its own.
#[derive(Clone, Debug)]
pub struct Uncertain {
    /// The value.
    pub value: Register,
    /// The amount behind `±`.
    pub amount: Register,
    /// Whether the amount is a share of the value.
    pub relative: bool,
    /// How it is meant.
    pub meaning: Meaning,
    /// Where it was typed.
    pub place: Place,
    /// How the value was written.
    pub written: Option<Written>,
}

/// Where a step comes from: a place in the statement, or in the body of a formula that is called
/// at a site of its own.
#[derive(Clone, Debug)]
pub struct Site {
    /// The place, in the statement or the body.
    pub span: Span,
    /// The formula and the site of its call.
    pub call: Option<(Rc<FormulaDefinition>, u32)>,
}

/// A validity range.
#[derive(Clone, Debug)]
pub struct Limit {
    /// Whether it is kept.
    pub kept: Register,
    /// What to say when it is not.
    pub text: Arc<str>,
    /// The formula it belongs to.
    pub formula: Rc<FormulaDefinition>,
    /// The site of the call.
    pub site: u32,
}

/// A caution.
#[derive(Clone, Debug)]
pub struct Caution {
    /// When it is said; always, without one.
    pub when: Option<Register>,
    /// The caution.
    pub text: Arc<str>,
    /// The formula it belongs to.
    pub formula: Rc<FormulaDefinition>,
}

impl Plan {
    /// The cells it reads, each once, in the order of first use.
    pub fn cells(&self) -> Vec<CellId> {
        let mut cells = Vec::new();
        self.collect_cells(&mut cells);
        cells
    }

    fn collect_cells(&self, cells: &mut Vec<CellId>) {
        for step in &self.steps {
            match &step.operation {
                Operation::Cell(cell) if !cells.contains(cell) => cells.push(*cell),
                Operation::Root(root) => root.plan.collect_cells(cells),
                _ => {}
            }
        }
    }

    /// The outermost place of a site, in the statement itself.
    pub fn place(&self, site: u32) -> Span {
        let mut at = site;
        loop {
            match self.sites.get(at as usize) {
                Some(Site {
                    call: Some((_, outer)),
                    ..
                }) if *outer < at => at = *outer,
                Some(site) => return site.span,
                None => return Span::default(),
            }
        }
    }
}
