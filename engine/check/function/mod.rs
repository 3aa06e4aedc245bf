//! The functions that the language has built in: what each takes and gives. How each is worked
//! out stands in the operation table of `plan`.

mod doubt;
mod listed;
mod plain;
mod rounding;
mod scale;
mod together;

use super::message;
use super::typed_tree::{Binary, Description, Node, NodeKind, Reduction, Unary};
use super::types::{Marks, Quantity, State, Type};
use super::{Checker, Outcome, Typed};
use crate::source::Span;
use crate::syntax::Argument;
use crate::units::{Reference, Unit};

/// A built-in function.
pub struct Native {
    /// Its name.
    pub name: &'static str,
    /// How it is called.
    pub signature: &'static str,
    /// What it is for, in one sentence.
    pub about: &'static str,
    check: fn(&mut Checker<'_>, Span, &[Given]) -> Outcome<Typed>,
    /// The fewest and most unnamed arguments.
    arity: (usize, usize),
    /// Names that arguments may have.
    named: &'static [&'static str],
}

/// An argument of a built-in function.
pub struct Given {
    typed: Typed,
    span: Span,
    name: Option<Box<str>>,
}

const MANY: usize = usize::MAX;

/// Every built-in function, in the order of the language guide.
pub const NATIVES: &[Native] = &[
    native(
        "abs",
        "abs(x)",
        "the amount without its sign",
        |c, s, g| c.same(s, g, Unary::Magnitude),
        (1, 1),
    ),
    native(
        "sqrt",
        "sqrt(x)",
        "the square root",
        |c, s, g| c.root(s, g, Unary::SquareRoot, 2),
        (1, 1),
    ),
    native(
        "cbrt",
        "cbrt(x)",
        "the cube root",
        |c, s, g| c.root(s, g, Unary::CubeRoot, 3),
        (1, 1),
    ),
    native(
        "exp",
        "exp(x)",
        "e to the power of a plain number",
        |c, s, g| c.plain(s, g, Unary::Exp),
        (1, 1),
    ),
    native(
        "ln",
        "ln(x)",
        "the natural logarithm of a plain number",
        |c, s, g| c.plain(s, g, Unary::Ln),
        (1, 1),
    ),
    native(
        "log10",
        "log10(x)",
        "the decimal logarithm of a plain number",
        |c, s, g| c.plain(s, g, Unary::Log10),
        (1, 1),
    ),
    native(
        "sin",
        "sin(angle)",
        "the sine of an angle",
        |c, s, g| c.of_angle(s, g, Unary::Sin),
        (1, 1),
    ),
    native(
        "cos",
        "cos(angle)",
        "the cosine of an angle",
        |c, s, g| c.of_angle(s, g, Unary::Cos),
        (1, 1),
    ),
    native(
        "tan",
        "tan(angle)",
        "the tangent of an angle",
        |c, s, g| c.of_angle(s, g, Unary::Tan),
        (1, 1),
    ),
    native(
        "asin",
        "asin(x)",
        "the angle with this sine",
        |c, s, g| c.angle_of(s, g, Unary::Asin),
        (1, 1),
    ),
    native(
        "acos",
        "acos(x)",
        "the angle with this cosine",
        |c, s, g| c.angle_of(s, g, Unary::Acos),
        (1, 1),
    ),
    native(
        "atan",
        "atan(x)",
        "the angle with this tangent",
        |c, s, g| c.angle_of(s, g, Unary::Atan),
        (1, 1),
    ),
    native(
        "atan2",
        "atan2(rise, run)",
        "the angle of a slope, in all four quarters",
        |c, s, g| c.atan2(s, g),
        (2, 2),
    ),
    skipping(
        "min",
        "min(a, b, …) or min(column)",
        "the smallest",
        |c, s, g| c.extreme(s, g, Reduction::Minimum, Binary::Minimum),
        (1, MANY),
    ),
    skipping(
        "max",
        "max(a, b, …) or max(column)",
        "the largest",
        |c, s, g| c.extreme(s, g, Reduction::Maximum, Binary::Maximum),
        (1, MANY),
    ),
    skipping(
        "sum",
        "sum(a, b, …) or sum(column)",
        "the sum",
        |c, s, g| c.total(s, g, Reduction::Sum),
        (1, MANY),
    ),
    skipping(
        "mean",
        "mean(a, b, …) or mean(column)",
        "the arithmetic mean",
        |c, s, g| c.total(s, g, Reduction::Mean),
        (1, MANY),
    ),
    skipping(
        "count",
        "count(column)",
        "how many rows a column has",
        |c, s, g| c.count(s, g),
        (1, 1),
    ),
    native(
        "round",
        "round(x, step)",
        "the nearest multiple of a step",
        |c, s, g| c.stepped(s, g, Binary::Round),
        (1, 2),
    ),
    native(
        "floor",
        "floor(x, step)",
        "the next multiple of a step below",
        |c, s, g| c.stepped(s, g, Binary::Floor),
        (1, 2),
    ),
    native(
        "ceil",
        "ceil(x, step)",
        "the next multiple of a step above",
        |c, s, g| c.stepped(s, g, Binary::Ceil),
        (1, 2),
    ),
    native(
        "interpolate",
        "interpolate(x, xs, ys)",
        "the value between the points of two columns, in straight lines",
        |c, s, g| c.interpolate(s, g),
        (3, 3),
    ),
    native(
        "size_above",
        "size_above(sizes, x)",
        "the next listed size that is at least x",
        |c, s, g| c.size(s, g, true),
        (2, 2),
    ),
    native(
        "size_below",
        "size_below(sizes, x)",
        "the next listed size that is at most x",
        |c, s, g| c.size(s, g, false),
        (2, 2),
    ),
    native(
        "absolute",
        "absolute(reading)",
        "a gauge reading counted from empty space, a thermometer reading from absolute zero",
        |c, s, g| c.absolute(s, g),
        (1, 1),
    ),
    native(
        "gauge",
        "gauge(pressure)",
        "an absolute pressure as the dial shows it",
        |c, s, g| c.gauge(s, g),
        (1, 1),
    ),
    native(
        "thermometer",
        "thermometer(temperature)",
        "a thermodynamic temperature as a reading",
        |c, s, g| c.thermometer(s, g),
        (1, 1),
    ),
    native(
        "overpressure",
        "overpressure(reading)",
        "a gauge reading as a difference from the air outside",
        |c, s, g| c.overpressure(s, g),
        (1, 1),
    ),
    stateful(
        "free_air",
        "free_air(flow, pressure: p, temperature: t)",
        "a flow or volume as free air of this shop",
        |c, s, g| c.at_state(s, g, Reference::Free),
    ),
    stateful(
        "standard_air",
        "standard_air(flow, pressure: p, temperature: t)",
        "a flow or volume at the standard state",
        |c, s, g| c.at_state(s, g, Reference::Standard),
    ),
    stateful(
        "normal_air",
        "normal_air(flow, pressure: p, temperature: t)",
        "a flow or volume at the normal state",
        |c, s, g| c.at_state(s, g, Reference::Normal),
    ),
    stateful(
        "anr_air",
        "anr_air(flow, pressure: p, temperature: t)",
        "a flow or volume at the ANR state of ISO 8778",
        |c, s, g| c.at_state(s, g, Reference::Anr),
    ),
    stateful(
        "actual_air",
        "actual_air(flow, pressure: p, temperature: t)",
        "a flow or volume as it is at a pressure and temperature",
        |c, s, g| c.at_state(s, g, Reference::Actual),
    ),
    native(
        "value",
        "value(x)",
        "x without its ±",
        |c, s, g| c.describe(s, g, Description::Value),
        (1, 1),
    ),
    native(
        "standard_uncertainty",
        "standard_uncertainty(x)",
        "the standard uncertainty of x",
        |c, s, g| c.describe(s, g, Description::Standard),
        (1, 1),
    ),
    native(
        "expanded_uncertainty",
        "expanded_uncertainty(x)",
        "half the 95 % interval of x",
        |c, s, g| c.describe(s, g, Description::Expanded),
        (1, 1),
    ),
    native(
        "coverage",
        "coverage(x)",
        "the coverage factor of the 95 % interval of x",
        |c, s, g| c.describe(s, g, Description::Coverage),
        (1, 1),
    ),
    native(
        "degrees_of_freedom",
        "degrees_of_freedom(x)",
        "the effective degrees of freedom of x",
        |c, s, g| c.describe(s, g, Description::DegreesOfFreedom),
        (1, 1),
    ),
    native(
        "share",
        "share(x, source)",
        "the part of the variance of x that comes from a source",
        |c, s, g| c.describe(s, g, Description::Share),
        (2, 2),
    ),
    native(
        "probability",
        "probability(condition)",
        "the probability that a comparison holds",
        |c, s, g| c.describe(s, g, Description::Probability),
        (1, 1),
    ),
    native(
        "correlation",
        "correlation(a, b)",
        "how far two values err together, from −1 to 1",
        |c, s, g| c.describe(s, g, Description::Correlation),
        (2, 2),
    ),
    native(
        "compatible",
        "compatible(a, b)",
        "whether two values agree within their uncertainties",
        |c, s, g| c.describe(s, g, Description::Compatible),
        (2, 2),
    ),
];

type Check = fn(&mut Checker<'_>, Span, &[Given]) -> Outcome<Typed>;

const fn native(
    name: &'static str,
    signature: &'static str,
    about: &'static str,
    check: Check,
    arity: (usize, usize),
) -> Native {
    Native {
        name,
        signature,
        about,
        check,
        arity,
        named: &[],
    }
}

const fn skipping(
    name: &'static str,
    signature: &'static str,
    about: &'static str,
    check: Check,
    arity: (usize, usize),
) -> Native {
    Native {
        name,
        signature,
        about,
        check,
        arity,
        named: &["skip_gaps"],
    }
}

const fn stateful(
    name: &'static str,
    signature: &'static str,
    about: &'static str,
    check: Check,
) -> Native {
    Native {
        name,
        signature,
        about,
        check,
        arity: (1, 1),
        named: &["pressure", "temperature"],
    }
}

/// The built-in function of that name.
pub fn find(name: &str) -> Option<&'static Native> {
    NATIVES.iter().find(|native| native.name == name)
}

/// Whether a name is that of a built-in function.
pub fn is_native(name: &str) -> bool {
    find(name).is_some()
}

/// The default cells and formulas of the handbook that a built-in function works with.
pub fn native_needs(name: &str) -> &'static [&'static str] {
    match name {
        "absolute" | "gauge" => &["atmosphere"],
        "free_air" | "standard_air" | "normal_air" | "anr_air" | "actual_air" => &[
            "atmosphere",
            "air_temperature",
            "standard_pressure",
            "standard_temperature",
            "normal_pressure",
            "normal_temperature",
            "anr_pressure",
            "anr_temperature",
            "state_change",
        ],
        _ => &[],
    }
}

/// The names of all built-in functions.
pub fn names() -> impl Iterator<Item = &'static str> {
    NATIVES.iter().map(|native| native.name)
}

impl Checker<'_> {
    pub(in crate::check) fn native(
        &mut self,
        span: Span,
        native: &'static Native,
        arguments: &[Argument],
    ) -> Outcome<Typed> {
        let mut given = Vec::with_capacity(arguments.len());
        for argument in arguments {
            if let Some(name) = &argument.name
                && !native.named.contains(&&*name.text)
            {
                return self.fail(message::unknown_parameter(
                    name,
                    native.signature,
                    native.named,
                ));
            }
            let typed = self.expr(&argument.value)?;
            let name = argument.name.as_ref().map(|name| name.text.clone());
            given.push(Given {
                typed,
                span: argument.value.span,
                name,
            });
        }
        let unnamed = given.iter().filter(|given| given.name.is_none()).count();
        if unnamed < native.arity.0 || unnamed > native.arity.1 {
            return self.fail(message::wrong_count(
                span,
                native.name,
                native.signature,
                unnamed,
            ));
        }
        (native.check)(self, span, &given)
    }

    pub(super) fn number(&mut self, given: &Given, name: &str) -> Outcome<(Typed, Quantity)> {
        let quantity =
            self.require_quantity(&given.typed, given.span, &format!("given to `{name}`"))?;
        Ok((given.typed.clone(), quantity))
    }

    pub(super) fn not_enough(&mut self, span: Span, name: &str) -> Outcome<Typed> {
        self.fail(message::wrong_count(span, name, "min(a, b, …)", 0))
    }
}

impl Given {
    pub(in crate::check) fn typed(&self) -> &Typed {
        &self.typed
    }

    pub(in crate::check) fn span(&self) -> Span {
        self.span
    }
}

fn unary(span: Span, function: Unary, node: Node, ty: Type) -> Typed {
    Typed {
        node: Node {
            kind: NodeKind::Unary(function, Box::new(node)),
            span,
        },
        ty,
    }
}

fn binary(span: Span, function: Binary, left: Node, right: Node, ty: Type) -> Typed {
    let kind = NodeKind::Binary(function, Box::new(left), Box::new(right));
    Typed {
        node: Node { kind, span },
        ty,
    }
}

fn described(span: Span, what: Description, nodes: Vec<Node>, ty: Type) -> Typed {
    Typed {
        node: Node {
            kind: NodeKind::Describe(what, nodes),
            span,
        },
        ty,
    }
}

fn stated(node: Node, unit: Unit, reference: Reference, column: bool) -> Typed {
    let quantity = Quantity::new(unit, State::Is(reference));
    Typed {
        node,
        ty: Type::quantity(quantity).columned(column),
    }
}

fn plain_like(ty: &Type) -> Type {
    let marks = ty
        .as_quantity()
        .map(|quantity| quantity.marks)
        .unwrap_or_default();
    let mut quantity = Quantity::new(Unit::one(), State::Plain);
    quantity.marks = Marks::default().with(marks);
    Type::quantity(quantity).columned(ty.column)
}
