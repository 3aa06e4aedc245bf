//! Straight-line programs over cells: what is left of a typed tree when calls are written out,
//! branches are selections and unit changes are factors. Knows nothing of text and units.
//!
//! A plan has several readers: `exact` runs it on decimals, `lanes` on blocks of doubles, and the
//! live page has it written out as a script. What each step does is defined once, in
//! [`operation`].

mod builder;
mod join;
mod operands;
pub mod operation;

pub use builder::compile;
pub use join::{Joined, join};

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
    /// A value as it would be with other cells.
    With(Box<Scenario>),
    /// The value of a cell at which a sub-plan gives zero.
    Sought(Box<Sought>),
    /// Values along axes: a column of columns.
    Sweep(Box<Sweep>),
    /// One column of a column of columns.
    Pick(Register, u32),
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

/// A program within a program: what it reads of the registers around comes in as inputs.
#[derive(Clone, Debug)]
pub struct SubPlan {
    /// The program.
    pub plan: Plan,
    /// The registers that become its inputs.
    pub inputs: Vec<Register>,
}

/// A value as it would be with other cells.
#[derive(Clone, Debug)]
pub struct Scenario {
    /// The value.
    pub value: SubPlan,
    /// The cells with their other values.
    pub overrides: Vec<(CellId, Register)>,
}

/// The value of a cell at which a difference is zero.
#[derive(Clone, Debug)]
pub struct Sought {
    /// The cell.
    pub cell: CellId,
    /// What must become zero.
    pub difference: SubPlan,
    /// Where to look; around the present value, without one.
    pub range: Option<(Register, Register)>,
    /// The unit of the cell, for messages.
    pub unit: Arc<str>,
}

/// Values along one axis or two, the last running fastest.
#[derive(Clone, Debug)]
pub struct Sweep {
    /// The cells that are overridden, with their values.
    pub axes: Vec<(CellId, AxisValues)>,
    /// What is worked out at each point.
    pub show: Vec<SubPlan>,
}

/// The values of an axis.
#[derive(Clone, Copy, Debug)]
pub enum AxisValues {
    /// From, to, by.
    Steps(Register, Register, Register),
    /// A column.
    Over(Register),
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
    /// The program that gives a cell as it is.
    pub fn of_cell(cell: CellId) -> Plan {
        let mut plan = Plan::default();
        plan.steps.push(Step {
            operation: Operation::Cell(cell),
            site: 0,
        });
        plan
    }

    /// The cells it reads, each once, in the order of first use.
    pub fn cells(&self) -> Vec<CellId> {
        let mut cells = Vec::new();
        self.collect_cells(&mut cells);
        cells
    }

    fn collect_cells(&self, cells: &mut Vec<CellId>) {
        for step in &self.steps {
            if let Operation::Cell(cell) = &step.operation
                && !cells.contains(cell)
            {
                cells.push(*cell);
            }
            for inner in step.operation.sub_plans() {
                inner.collect_cells(cells);
            }
        }
    }

    /// Whether it asks what values would be with other cells, so that it rests on more than the
    /// cells it names.
    pub fn has_scenarios(&self) -> bool {
        self.steps.iter().any(|step| {
            matches!(
                step.operation,
                Operation::With(_) | Operation::Sought(_) | Operation::Sweep(_)
            ) || step
                .operation
                .sub_plans()
                .iter()
                .any(|inner| inner.has_scenarios())
        })
    }

    /// Whether it asks about uncertainty, so that sensitivities count for its value.
    pub fn describes(&self) -> bool {
        self.steps.iter().any(|step| {
            matches!(step.operation, Operation::Describe(..))
                || step
                    .operation
                    .sub_plans()
                    .iter()
                    .any(|inner| inner.describes())
        })
    }

    /// The cells that it gives other values.
    pub fn overridden(&self) -> Vec<CellId> {
        let mut cells = Vec::new();
        for step in &self.steps {
            match &step.operation {
                Operation::With(scenario) => {
                    cells.extend(scenario.overrides.iter().map(|(cell, _)| *cell))
                }
                Operation::Sought(sought) => cells.push(sought.cell),
                Operation::Sweep(sweep) => cells.extend(sweep.axes.iter().map(|(cell, _)| *cell)),
                _ => {}
            }
            for inner in step.operation.sub_plans() {
                cells.extend(inner.overridden());
            }
        }
        cells
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

impl Operation {
    /// The same with its registers elsewhere. Cells inside sub-plans stay cells.
    fn moved(&self, to: impl Fn(Register) -> Register) -> Operation {
        let mut operation = self.clone();
        match &mut operation {
            Operation::Constant(_) | Operation::Cell(_) | Operation::Input(_) => {}
            Operation::Unary(_, x)
            | Operation::WholePower(x, _)
            | Operation::Scale(x, _)
            | Operation::Affine(x, _)
            | Operation::Not(x)
            | Operation::Reduce(_, x, _)
            | Operation::Readings(x, ..)
            | Operation::Pick(x, _) => *x = to(*x),
            Operation::Binary(_, x, y) | Operation::Compare(_, x, y) | Operation::Size(_, x, y) => {
                (*x, *y) = (to(*x), to(*y));
            }
            Operation::Select(x, y, z) | Operation::Interpolate(x, y, z) => {
                (*x, *y, *z) = (to(*x), to(*y), to(*z));
            }
            Operation::And(all)
            | Operation::Or(all)
            | Operation::Column(all)
            | Operation::Describe(_, all) => all.iter_mut().for_each(|one| *one = to(*one)),
            Operation::Row(column, keys) => {
                *column = to(*column);
                keys.iter_mut()
                    .for_each(|(head, key)| (*head, *key) = (to(*head), to(*key)));
            }
            Operation::Root(root) => {
                (root.from, root.to) = (to(root.from), to(root.to));
                root.inputs.iter_mut().for_each(|one| *one = to(*one));
            }
            Operation::With(scenario) => {
                scenario
                    .overrides
                    .iter_mut()
                    .for_each(|(_, one)| *one = to(*one));
                scenario
                    .value
                    .inputs
                    .iter_mut()
                    .for_each(|one| *one = to(*one));
            }
            Operation::Sought(sought) => {
                if let Some((from, end)) = &mut sought.range {
                    (*from, *end) = (to(*from), to(*end));
                }
                sought
                    .difference
                    .inputs
                    .iter_mut()
                    .for_each(|one| *one = to(*one));
            }
            Operation::Sweep(sweep) => {
                for (_, values) in &mut sweep.axes {
                    match values {
                        AxisValues::Steps(a, b, c) => (*a, *b, *c) = (to(*a), to(*b), to(*c)),
                        AxisValues::Over(column) => *column = to(*column),
                    }
                }
                for show in &mut sweep.show {
                    show.inputs.iter_mut().for_each(|one| *one = to(*one));
                }
            }
            Operation::Uncertain(uncertain) => {
                uncertain.value = to(uncertain.value);
                uncertain.amount = to(uncertain.amount);
            }
        }
        operation
    }

    /// The programs within it.
    fn sub_plans(&self) -> Vec<&Plan> {
        match self {
            Operation::Root(root) => vec![&root.plan],
            Operation::With(scenario) => vec![&scenario.value.plan],
            Operation::Sought(sought) => vec![&sought.difference.plan],
            Operation::Sweep(sweep) => sweep.show.iter().map(|one| &one.plan).collect(),
            _ => Vec::new(),
        }
    }
}
