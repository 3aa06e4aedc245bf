//! What `check` hands on: trees in which every name is an id, every unit change a factor, and
//! nothing about units is left to decide.

use super::scope::{CellId, FormulaDefinition};
use super::types::{Place, Type};
use crate::number::{Factor, Number, Rational};
use crate::source::Span;
use crate::syntax::Comparison;
use std::rc::Rc;
use std::sync::Arc;

/// A node and the place it came from.
#[derive(Clone, Debug)]
pub struct Node {
    /// What is done.
    pub kind: NodeKind,
    /// Its place, in the statement or in the body of the formula it stands in.
    pub span: Span,
}

/// What is done. Numbers are in the unit that the type beside the tree says.
#[derive(Clone, Debug)]
pub enum NodeKind {
    /// A number.
    Number(Number),
    /// A text.
    Text(Arc<str>),
    /// A switch.
    Switch(bool),
    /// An empty field of the table column named.
    Gap,
    /// The value of a cell.
    Cell(CellId),
    /// A parameter, a local cell or an unknown of the formula around it, by its number.
    Local(usize),
    /// A function of one number.
    Unary(Unary, Box<Node>),
    /// A function of two numbers.
    Binary(Binary, Box<Node>, Box<Node>),
    /// A whole power.
    WholePower(Box<Node>, i32),
    /// Times a factor: between two units.
    Scale(Box<Node>, Factor),
    /// Times a ratio, plus a ratio: between two scales.
    Affine(Box<Node>, Rational, Rational),
    /// Whether two values compare so.
    Compare(Comparison, Box<Node>, Box<Node>),
    /// Whether the operand does not hold.
    Not(Box<Node>),
    /// Whether all hold.
    And(Vec<Node>),
    /// Whether any holds.
    Or(Vec<Node>),
    /// The second where the first holds, else the third.
    Select(Box<[Node; 3]>),
    /// A column of these.
    Column(Vec<Node>),
    /// One value of a column; `true` leaves gaps out.
    Reduce(Reduction, Box<Node>, bool),
    /// The value of `column` in the row where each key column has its key.
    Row {
        /// The column looked in.
        column: Box<Node>,
        /// Key columns with the keys wanted in them.
        keys: Vec<(Node, Node)>,
    },
    /// Straight lines between points: at, points, values.
    Interpolate(Box<[Node; 3]>),
    /// The next listed size above (`true`) or below: sizes, wanted.
    Size(bool, Box<[Node; 2]>),
    /// A formula with its arguments in order; `None` where the default stands.
    Call(Rc<TypedFormula>, Vec<Option<Node>>),
    /// The value of an unknown at which a difference is zero.
    Root(Box<Root>),
    /// A value as it would be with other cells.
    With(Box<Scenario>),
    /// The value of a cell at which a difference is zero.
    Sought(Box<Sought>),
    /// Values along one axis or two: a column of columns, axes first.
    Sweep(Box<Sweep>),
    /// One column of a sweep.
    Pick(Box<Node>, usize),
    /// A value with an uncertainty of its own.
    Uncertain(Box<Uncertain>),
    /// The mean of repeated readings, with their scatter.
    Readings(Box<Readings>),
    /// A number that describes the uncertainty of its operands.
    Describe(Description, Vec<Node>),
}

/// Functions of one number.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unary {
    /// Minus the number.
    Negate,
    /// Without its sign.
    Magnitude,
    /// Square root.
    SquareRoot,
    /// Cube root.
    CubeRoot,
    /// Power of e.
    Exp,
    /// Natural logarithm.
    Ln,
    /// Decimal logarithm.
    Log10,
    /// Sine of so many turns.
    Sin,
    /// Cosine of so many turns.
    Cos,
    /// Tangent of so many turns.
    Tan,
    /// Arc sine in radians.
    Asin,
    /// Arc cosine in radians.
    Acos,
    /// Arc tangent in radians.
    Atan,
}

/// Functions of two numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Binary {
    /// Sum.
    Add,
    /// Difference.
    Subtract,
    /// Product.
    Multiply,
    /// Quotient.
    Divide,
    /// Power.
    Power,
    /// The smaller.
    Minimum,
    /// The larger.
    Maximum,
    /// Angle of a point: rise, run.
    Atan2,
    /// Nearest multiple of a step, half to even.
    Round,
    /// Next multiple below.
    Floor,
    /// Next multiple above.
    Ceil,
}

/// One value of a column.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Reduction {
    /// The smallest.
    Minimum,
    /// The largest.
    Maximum,
    /// The sum.
    Sum,
    /// The arithmetic mean.
    Mean,
    /// How many.
    Count,
}

/// What is asked about an uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Description {
    /// The value alone.
    Value,
    /// The standard uncertainty.
    Standard,
    /// The expanded uncertainty at 95 %.
    Expanded,
    /// The coverage factor.
    Coverage,
    /// The effective degrees of freedom.
    DegreesOfFreedom,
    /// A source's part of the variance.
    Share,
    /// The probability that a condition holds.
    Probability,
    /// The correlation of two values.
    Correlation,
    /// Whether two values agree within their uncertainties.
    Compatible,
}

/// A root to be found.
#[derive(Clone, Debug)]
pub struct Root {
    /// The number of the unknown among the locals.
    pub unknown: usize,
    /// Left side minus right side.
    pub difference: Node,
    /// One end of the range.
    pub from: Node,
    /// The other end.
    pub to: Node,
}

/// A value as it would be with other cells.
#[derive(Clone, Debug)]
pub struct Scenario {
    /// The value.
    pub value: Node,
    /// The cells with their other values, worked out beforehand.
    pub overrides: Vec<(CellId, Node)>,
}

/// The value of a cell at which a difference is zero.
#[derive(Clone, Debug)]
pub struct Sought {
    /// The cell.
    pub cell: CellId,
    /// Left side minus right side.
    pub difference: Node,
    /// Where to look; around the present value, without one.
    pub range: Option<(Node, Node)>,
    /// The unit of the cell, for messages.
    pub unit: Arc<str>,
}

/// A sweep.
#[derive(Clone, Debug)]
pub struct Sweep {
    /// One axis or two.
    pub axes: Vec<Axis>,
    /// What is worked out at each point.
    pub show: Vec<Node>,
}

/// What an axis runs over.
#[derive(Clone, Debug)]
pub struct Axis {
    /// The cell that is overridden.
    pub cell: CellId,
    /// Its values, in the unit it is held in.
    pub values: AxisNodes,
}

/// The values of an axis.
#[derive(Clone, Debug)]
pub enum AxisNodes {
    /// From, to, by.
    Steps(Box<[Node; 3]>),
    /// A column.
    Over(Box<Node>),
}

/// A value with an uncertainty of its own.
#[derive(Clone, Debug)]
pub struct Uncertain {
    /// The value.
    pub value: Node,
    /// The amount behind `±`, in the unit of the value's differences.
    pub amount: Node,
    /// Whether `amount` is a share of the value.
    pub relative: bool,
    /// How it is meant.
    pub meaning: Meaning,
    /// The source's place.
    pub place: Place,
    /// How the value was written, where it is a literal.
    pub written: Option<Written>,
}

/// How a value before `±` was written.
#[derive(Clone, Debug, PartialEq)]
pub struct Written {
    /// The size of one unit of its last digit; nothing for zero and for workshop fractions, which
    /// name a size rather than a reading.
    pub last_digit: Option<Number>,
    /// Whether it is a point on a scale, whose zero says nothing about its size.
    pub on_scale: bool,
}

/// Repeated readings.
#[derive(Clone, Debug)]
pub struct Readings {
    /// The column of readings.
    pub column: Node,
    /// The source's place.
    pub place: Place,
    /// What tells its rows: columns of one table were read together, row by row.
    pub rows: Place,
}

/// How the amount behind `±` is meant.
#[derive(Clone, Debug, PartialEq)]
pub struct Meaning {
    /// What the amount is.
    pub kind: MeaningKind,
    /// Degrees of freedom; infinite where none are named.
    pub dof: Option<Number>,
}

/// What the amount behind `±` is.
#[derive(Clone, Debug, PartialEq)]
pub enum MeaningKind {
    /// Half the width of hard limits, all values alike.
    Limit,
    /// So many standard uncertainties.
    Coverage(Number),
    /// Half the width of an interval of this probability (0 to 1).
    Probability(Number),
    /// The full width of one digit.
    Step,
    /// Half the width of limits, the middle likelier.
    Triangular,
    /// Half the width of limits, the ends likelier.
    UShaped,
}

/// A formula checked for arguments of certain types.
#[derive(Debug)]
pub struct TypedFormula {
    /// What it was written as.
    pub definition: Rc<FormulaDefinition>,
    /// The defaults of parameters, by their number; used where the call gives none.
    pub defaults: Vec<Option<Node>>,
    /// The local cells in the order of need; they are numbered behind the parameters.
    pub locals: Vec<Node>,
    /// How many locals and unknowns there are, parameters included.
    pub slots: usize,
    /// The result.
    pub result: Node,
    /// Its type.
    pub result_type: Type,
    /// Conditions of validity with their texts.
    pub limits: Vec<(Node, Arc<str>)>,
    /// Cautions, with the condition under which they are said.
    pub cautions: Vec<(Option<Node>, Arc<str>)>,
}
