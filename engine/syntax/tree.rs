//! The trees. Every node knows its place in the document; what is only notation (brackets,
//! spelling of signs) is kept where the printer needs it. Names are not looked up here.

use crate::source::{Diagnostic, Span};

/// A name as defined or used; `text` is in normal form C.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Name {
    /// The name.
    pub text: Box<str>,
    /// Its place.
    pub span: Span,
}

/// A name with the names behind its dots: `guns.bore`, `shop.tank`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Path {
    /// At least one name.
    pub names: Vec<Name>,
    /// From the first to the last.
    pub span: Span,
}

/// Text between double quotes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Text {
    /// What stands between the quotes.
    pub value: Box<str>,
    /// Quotes included.
    pub span: Span,
}

/// One statement and what is wrong with its writing.
#[derive(Clone, Debug, PartialEq)]
pub struct Statement {
    /// From its first sign to the last of its last line, remark and comments behind it included.
    pub span: Span,
    /// What it says.
    pub kind: StatementKind,
    /// The text of the comment behind a cell, without `#` and blanks.
    pub remark: Option<Span>,
    /// Messages about the writing; an error among them means that the statement has no effect
    /// beyond the names and dimensions that could still be read.
    pub diagnostics: Vec<Diagnostic>,
}

/// What a statement says.
#[derive(Clone, Debug, PartialEq)]
pub enum StatementKind {
    /// `name [unit] = value`
    Cell(Cell),
    /// `default name [unit] = value`
    Default(Cell),
    /// `formula name(…) [unit]` with its body.
    Formula(Box<Formula>),
    /// `table name` with its rows.
    Table(Box<Table>),
    /// `check condition "text"`
    Check(Check),
    /// `use "path" as name`
    Use(Use),
    /// `unit name, names = size`
    Unit(UnitDefinition),
    /// `example expression gives value`
    Example(Box<Example>),
    /// `sweep axis show columns`
    Sweep(Sweep),
    /// `plot columns against axis`
    Plot(Box<Plot>),
    /// `fit cells to data = model`
    Fit(Fit),
    /// `trace name over time` with its lines.
    Trace(Box<Trace>),
    /// `budget cell`
    Budget(Path),
    /// `spread cell`
    Spread(Path),
    /// A value on a line of its own: the shell answers it, a notebook refuses it.
    Expression(Expr),
    /// Something that could not be read; the name it would have defined, if that can be told: of
    /// a cell, a table or a trace, or of a formula whose head is broken.
    Broken(Option<Name>),
}

/// `name [unit] = value`, at the top or in a formula.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell {
    /// The cell's name.
    pub name: Name,
    /// For a computed column `guns.duty`: the column's name.
    pub column: Option<Name>,
    /// The head bracket.
    pub unit: Option<UnitExpr>,
    /// What stands to the right of `=`.
    pub value: Expr,
}

/// `check condition "text"`
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// What must hold.
    pub condition: Expr,
    /// What is wrong when it does not.
    pub text: Option<Text>,
}

/// `use "path" as name`
#[derive(Clone, Debug, PartialEq)]
pub struct Use {
    /// The document.
    pub path: Text,
    /// The prefix of its cells.
    pub name: Option<Name>,
}

/// `unit name, names = size`
#[derive(Clone, Debug, PartialEq)]
pub struct UnitDefinition {
    /// The first is the one shown.
    pub names: Vec<Name>,
    /// Without a size it is a dimension of its own.
    pub size: Option<Expr>,
}

/// A formula with its clauses and its body.
#[derive(Clone, Debug, PartialEq)]
pub struct Formula {
    /// Its name.
    pub name: Name,
    /// Its parameters, in order.
    pub parameters: Vec<Parameter>,
    /// The unit and reference of the result.
    pub unit: Option<UnitExpr>,
    /// `source`, `limit` and `caution`, in order.
    pub clauses: Vec<Clause>,
    /// Local cells, in any order of need.
    pub locals: Vec<Cell>,
    /// The last line.
    pub result: Expr,
}

/// One parameter of a formula.
#[derive(Clone, Debug, PartialEq)]
pub struct Parameter {
    /// Its name.
    pub name: Name,
    /// Its unit and reference; without one it takes anything.
    pub unit: Option<UnitExpr>,
    /// The value it has when the call says nothing.
    pub default: Option<Expr>,
}

/// What a formula says about itself.
#[derive(Clone, Debug, PartialEq)]
pub enum Clause {
    /// Where it comes from.
    Source(Text),
    /// Where it is valid.
    Limit {
        /// What must hold.
        condition: Expr,
        /// What to say outside.
        text: Text,
    },
    /// What can hurt.
    Caution {
        /// When it is said; always, without a condition.
        when: Option<Expr>,
        /// The caution.
        text: Text,
    },
}

/// A table written in the document, or named from a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// Its name.
    pub name: Name,
    /// The file it is read from.
    pub file: Option<Text>,
    /// The columns; the first is the key.
    pub head: Vec<TableColumn>,
    /// The rows, each with as many fields as there are columns.
    pub rows: Vec<Row>,
}

/// The head of a column.
#[derive(Clone, Debug, PartialEq)]
pub struct TableColumn {
    /// Its name.
    pub name: Name,
    /// With a unit it holds quantities, without one text.
    pub unit: Option<UnitExpr>,
}

/// One row.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// The whole line.
    pub span: Span,
    /// Its fields.
    pub fields: Vec<Field>,
}

/// One field of a row.
#[derive(Clone, Debug, PartialEq)]
pub struct Field {
    /// Its text without the blanks around it.
    pub span: Span,
    /// What it holds.
    pub kind: FieldKind,
}

/// What a field holds.
#[derive(Clone, Debug, PartialEq)]
pub enum FieldKind {
    /// Nothing, or `-`.
    Gap,
    /// Text as written, under a head without a unit.
    Text(Box<str>),
    /// A literal, under a head with a unit.
    Quantity(Expr),
}

/// `example expression gives value within tolerance`
#[derive(Clone, Debug, PartialEq)]
pub struct Example {
    /// What is worked out.
    pub subject: Expr,
    /// What it must give.
    pub expected: Expectation,
    /// How far it may be off, where the source is coarse.
    pub within: Option<Expr>,
}

/// What an example must give.
#[derive(Clone, Debug, PartialEq)]
pub enum Expectation {
    /// A literal, a text or a switch.
    Value(Expr),
    /// A result outside the limit with this text.
    Limit(Text),
    /// An error with this code (kebab-case).
    Error(Box<str>, Span),
}

/// What one axis of a sweep runs over.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// The cell that is overridden.
    pub cell: Path,
    /// Its values.
    pub values: AxisValues,
}

/// The values of an axis.
#[derive(Clone, Debug, PartialEq)]
pub enum AxisValues {
    /// `from a to b by step`
    Steps {
        /// First value.
        from: Expr,
        /// Not beyond this one.
        to: Expr,
        /// Distance of two.
        by: Expr,
    },
    /// `over column`
    Over(Expr),
}

/// `sweep name: axes show columns`
#[derive(Clone, Debug, PartialEq)]
pub struct Sweep {
    /// The name by which cells reach its columns.
    pub name: Option<Name>,
    /// One or two.
    pub axes: Vec<Axis>,
    /// What is worked out.
    pub show: Vec<Expr>,
}

/// `plot curves against axis`
#[derive(Clone, Debug, PartialEq)]
pub struct Plot {
    /// The curves.
    pub show: Vec<Expr>,
    /// The axis below.
    pub axis: Axis,
}

/// `fit cells to data = model`
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// The cells that are varied.
    pub cells: Vec<Path>,
    /// The measured column.
    pub data: Path,
    /// What should equal it.
    pub model: Expr,
}

/// `trace name over time` with its lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// Its name.
    pub name: Name,
    /// How long.
    pub over: Expr,
    /// Its lines.
    pub lines: Vec<TraceLine>,
}

/// A line of a trace.
#[derive(Clone, Debug, PartialEq)]
pub enum TraceLine {
    /// `name [unit] starts value`
    Starts {
        /// The quantity or switch.
        name: Name,
        /// Its unit.
        unit: Option<UnitExpr>,
        /// Its first value.
        value: Expr,
    },
    /// `name changes at rate`
    Changes {
        /// The quantity.
        name: Name,
        /// Its rate.
        rate: Expr,
    },
    /// `name turns on when condition`
    Turns {
        /// The switch.
        name: Name,
        /// Which way.
        on: bool,
        /// When.
        when: Expr,
    },
    /// `stop when condition`
    Stop(Expr),
    /// `mark name when condition`
    Mark {
        /// The mark.
        name: Name,
        /// When.
        when: Expr,
    },
    /// `show names every step`
    Show {
        /// What.
        names: Vec<Path>,
        /// How often.
        every: Expr,
    },
}

/// An expression.
#[derive(Clone, Debug, PartialEq)]
pub struct Expr {
    /// Its place.
    pub span: Span,
    /// What it is.
    pub kind: ExprKind,
}

/// What an expression is.
#[derive(Clone, Debug, PartialEq)]
pub enum ExprKind {
    /// A number with or without a unit and ±.
    Literal(Box<Literal>),
    /// `"text"`
    Text(Box<str>),
    /// `true false on off`
    Switch(bool),
    /// A cell, parameter, local or table.
    Name(Box<str>),
    /// `left.name`
    Member(Box<Expr>, Name),
    /// `left[key, key].name`
    Keyed(Box<Expr>, Vec<Expr>, Name),
    /// `name(arguments)`
    Call(Name, Vec<Argument>),
    /// `{items} unit ± amount`
    Column(Box<Column>),
    /// `readings(column) ± amount`
    Readings(Box<Expr>, Option<Box<PlusMinus>>),
    /// `(value)`
    Bracketed(Box<Expr>),
    /// `-operand`
    Negative(Box<Expr>),
    /// `left operator right`
    Binary(BinaryOperator, Box<Expr>, Box<Expr>),
    /// `not operand`
    Not(Box<Expr>),
    /// `a < b <= c`: one operand more than comparisons.
    Comparison(Vec<Expr>, Vec<Comparison>),
    /// `if condition then first else second`
    If(Box<[Expr; 3]>),
    /// `value [unit]`
    In(Box<Expr>, UnitExpr),
    /// `value with cell = value, …`
    With(Box<Expr>, Vec<Override>),
    /// `solve name for left = right from a to b`
    Solve(Box<Solve>),
    /// Something refused with a message; the reading that all its readings share in dimension.
    Refused(Option<Box<Expr>>),
}

/// An operator between two values.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BinaryOperator {
    /// `+`
    Plus,
    /// `-`
    Minus,
    /// `*`
    Times,
    /// `/`
    Over,
    /// `^`
    Power,
    /// `and`
    And,
    /// `or`
    Or,
}

/// A comparison sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Comparison {
    /// `<`
    Less,
    /// `<=`
    LessOrEqual,
    /// `>`
    Greater,
    /// `>=`
    GreaterOrEqual,
    /// `==`
    Equal,
    /// `!=`
    Unequal,
}

/// One argument of a call.
#[derive(Clone, Debug, PartialEq)]
pub struct Argument {
    /// The parameter, if named.
    pub name: Option<Name>,
    /// The value.
    pub value: Expr,
}

/// `cell = value` behind `with`.
#[derive(Clone, Debug, PartialEq)]
pub struct Override {
    /// The cell.
    pub cell: Path,
    /// Its other value.
    pub value: Expr,
}

/// `solve name [unit] for left = right from a to b`
#[derive(Clone, Debug, PartialEq)]
pub struct Solve {
    /// The cell or local that is sought.
    pub unknown: Path,
    /// The unit of a local unknown.
    pub unit: Option<UnitExpr>,
    /// What must become equal to `right`.
    pub left: Expr,
    /// The target.
    pub right: Expr,
    /// Where to look.
    pub range: Option<(Expr, Expr)>,
}

/// `{items} unit ± amount`
#[derive(Clone, Debug, PartialEq)]
pub struct Column {
    /// The items, plain numbers where the unit stands behind.
    pub items: Vec<Expr>,
    /// The unit of all.
    pub unit: Option<UnitExpr>,
    /// The ± of each.
    pub plus_minus: Option<PlusMinus>,
}

/// A number as typed, with its unit and ±.
///
/// A unit word behind a tight `/` or `*` may turn out to be a cell; only `check`, which knows the
/// units, tells. In `140 ± 1 psig` the unit stands with the amount alone and belongs to both.
#[derive(Clone, Debug, PartialEq)]
pub struct Literal {
    /// A `-` directly before it.
    pub negative: bool,
    /// The number.
    pub number: Numeral,
    /// Its unit; a currency sign before the number is its first term.
    pub unit: Option<UnitExpr>,
    /// Its uncertainty; few numbers have one, so it stands apart.
    pub plus_minus: Option<Box<PlusMinus>>,
}

/// A number as typed, in plain signs.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Numeral {
    /// Digits, at most one point, perhaps `e` and an exponent; empty for a bare fraction.
    pub digits: Box<str>,
    /// The workshop fraction behind it: `1 1/2`.
    pub fraction: Option<(u32, u32)>,
    /// Its place.
    pub span: Span,
}

/// What stands behind `±`.
#[derive(Clone, Debug, PartialEq)]
pub struct PlusMinus {
    /// From the sign to the end of the tag.
    pub span: Span,
    /// A literal, a name or a bracketed value.
    pub amount: Expr,
    /// The span that a percentage is of: `± 2 % of 200 psi`.
    pub of: Option<Expr>,
    /// How it is meant.
    pub tag: Option<Tag>,
}

/// How an uncertainty is meant: `(k = 2)`, `(95 %, dof = 18)`, `(step)` …
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tag {
    /// The bracket.
    pub span: Span,
    /// Its first word; absent in `(dof = 5)`.
    pub kind: Option<TagKind>,
    /// Degrees of freedom.
    pub dof: Option<Numeral>,
}

/// The meaning of an uncertainty.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TagKind {
    /// `k = 2`: so many standard uncertainties.
    Coverage(Numeral),
    /// `95 %`: an interval of that probability.
    Probability(Numeral),
    /// The full width of one digit.
    Step,
    /// Limits with the middle likelier.
    Triangular,
    /// Limits with the ends likelier.
    UShaped,
}

/// A unit as written: `gal/min`, `kW/(100 cfm)`, `cfm free`, `1`.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct UnitExpr {
    /// Its place, brackets not included.
    pub span: Span,
    /// At least one term.
    pub terms: Vec<UnitTerm>,
    /// `gauge abs free actual standard normal anr torque` behind the terms, as written.
    pub reference: Option<Name>,
}

/// One term of a unit.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct UnitTerm {
    /// How it is joined to what stands before it.
    pub joint: Joint,
    /// What it is.
    pub kind: UnitTermKind,
    /// Its power as a fraction; `(1, 1)` where none is written.
    pub exponent: (i32, i32),
    /// Its place, power included.
    pub span: Span,
}

/// How a unit term is joined to the one before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Joint {
    /// It is the first.
    First,
    /// A blank: times.
    Blank,
    /// `*` or `·`
    Times,
    /// `/`
    Over,
    /// `per`, which may also come first: `12 per h`.
    Per,
}

/// What a unit term is.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum UnitTermKind {
    /// A word, `%` or a currency sign.
    Word(Box<str>),
    /// `1`, as in `[1]` or `[1/ft]`.
    One,
    /// `(100 cfm)`: a whole number, or 1, times a unit.
    Group(u32, UnitExpr),
}
