//! The functions that the language has built in: what each takes and gives. How each is worked
//! out stands in the operation table of `plan`.

use super::message::{self, Doing};
use super::typed_tree::{Binary, Description, Node, NodeKind, Reduction, Unary};
use super::types::{Kind, Marks, Quantity, State, Type};
use super::{Checker, Outcome, Typed};
use crate::number::Number;
use crate::source::Span;
use crate::syntax::Argument;
use crate::units::{Dimension, Family, Reference, Unit};

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
        |c, s, g| c.to_angle(s, g, Unary::Asin),
        (1, 1),
    ),
    native(
        "acos",
        "acos(x)",
        "the angle with this cosine",
        |c, s, g| c.to_angle(s, g, Unary::Acos),
        (1, 1),
    ),
    native(
        "atan",
        "atan(x)",
        "the angle with this tangent",
        |c, s, g| c.to_angle(s, g, Unary::Atan),
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
        |c, s, g| c.to_step(s, g, Binary::Round),
        (1, 2),
    ),
    native(
        "floor",
        "floor(x, step)",
        "the next multiple of a step below",
        |c, s, g| c.to_step(s, g, Binary::Floor),
        (1, 2),
    ),
    native(
        "ceil",
        "ceil(x, step)",
        "the next multiple of a step above",
        |c, s, g| c.to_step(s, g, Binary::Ceil),
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
        |c, s, g| c.to_state(s, g, Reference::Free),
    ),
    stateful(
        "standard_air",
        "standard_air(flow, pressure: p, temperature: t)",
        "a flow or volume at the standard state",
        |c, s, g| c.to_state(s, g, Reference::Standard),
    ),
    stateful(
        "normal_air",
        "normal_air(flow, pressure: p, temperature: t)",
        "a flow or volume at the normal state",
        |c, s, g| c.to_state(s, g, Reference::Normal),
    ),
    stateful(
        "anr_air",
        "anr_air(flow, pressure: p, temperature: t)",
        "a flow or volume at the ANR state of ISO 8778",
        |c, s, g| c.to_state(s, g, Reference::Anr),
    ),
    stateful(
        "actual_air",
        "actual_air(flow, pressure: p, temperature: t)",
        "a flow or volume as it is at a pressure and temperature",
        |c, s, g| c.to_state(s, g, Reference::Actual),
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
    pub(super) fn native(
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

    fn number(&mut self, given: &Given, name: &str) -> Outcome<(Typed, Quantity)> {
        let quantity =
            self.require_quantity(&given.typed, given.span, &format!("given to `{name}`"))?;
        Ok((given.typed.clone(), quantity))
    }

    /// A function that keeps unit and reference.
    fn same(&mut self, span: Span, given: &[Given], function: Unary) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "abs")?;
        if let State::Is(reference) = quantity.state
            && reference.row().class == crate::units::Class::Point
        {
            let operand = self.operand(&quantity, given[0].span);
            return self.fail(message::abs_of_point(&operand, span));
        }
        Ok(unary(span, function, typed.node, typed.ty))
    }

    fn root(
        &mut self,
        span: Span,
        given: &[Given],
        function: Unary,
        degree: i32,
    ) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "a root")?;
        self.refuse_point_scaled(&quantity, given[0].span, "a root of")?;
        let dimension = self.registry.dimension(&quantity.unit);
        if dimension.is_plain() {
            let typed = self.as_ones(typed);
            return Ok(unary(span, function, typed.node, plain_like(&typed.ty)));
        }
        let Some(unit) = quantity.unit.power(1, degree) else {
            return self.fail(message::unit_too_large(given[0].span));
        };
        let state = super::product::rooted_state(&self.registry.dimension(&unit));
        let mut result = Quantity::new(unit, state);
        result.marks = Marks::default().with(quantity.marks);
        let ty = Type {
            kind: Kind::Quantity(result),
            column: typed.ty.column,
        };
        Ok(unary(span, function, typed.node, ty))
    }

    /// A function of a plain number.
    fn plain(&mut self, span: Span, given: &[Given], function: Unary) -> Outcome<Typed> {
        let typed = self.plain_number(
            &given[0],
            "a plain number, such as a ratio of two like values",
        )?;
        let ty = plain_like(&typed.ty);
        Ok(unary(span, function, typed.node, ty))
    }

    fn plain_number(&mut self, given: &Given, expected: &str) -> Outcome<Typed> {
        let (typed, quantity) = self.number(given, "a function")?;
        if !self.registry.dimension(&quantity.unit).is_plain() {
            let operand = self.operand(&quantity, given.span);
            return self.fail(message::not_plain(&operand, expected));
        }
        Ok(self.as_ones(typed))
    }

    fn of_angle(&mut self, span: Span, given: &[Given], function: Unary) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "an angle function")?;
        if self.registry.dimension(&quantity.unit) != Dimension::ANGLE {
            let operand = self.operand(&quantity, given[0].span);
            return self.fail(message::not_an_angle(&operand));
        }
        let turn = self.registry.listed("rev");
        let node = self.scaled(typed.node, &quantity.unit, &turn);
        Ok(unary(
            span,
            function,
            node,
            Type::plain().columned(typed.ty.column),
        ))
    }

    fn to_angle(&mut self, span: Span, given: &[Given], function: Unary) -> Outcome<Typed> {
        let typed = self.plain_number(&given[0], "a plain number between −1 and 1")?;
        let radian = self.registry.radian();
        let ty = Type::quantity(Quantity::new(radian, State::Plain)).columned(typed.ty.column);
        Ok(unary(span, function, typed.node, ty))
    }

    fn atan2(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        let pair = (given[0].typed.clone(), given[1].typed.clone());
        let (rise, run) = self.meet(
            (pair.0, given[0].span),
            (pair.1, given[1].span),
            Doing::Argument,
        )?;
        let column = rise.ty.column || run.ty.column;
        let ty =
            Type::quantity(Quantity::new(self.registry.radian(), State::Plain)).columned(column);
        Ok(binary(span, Binary::Atan2, rise.node, run.node, ty))
    }

    /// `min` and `max`: one column is reduced, several values go element by element.
    fn extreme(
        &mut self,
        span: Span,
        given: &[Given],
        reduction: Reduction,
        pairwise: Binary,
    ) -> Outcome<Typed> {
        let (values, skip) = self.split_gaps(given)?;
        if let [one] = values[..] {
            return self.reduce(span, one, reduction, skip);
        }
        let mut all = self.all_meet(&values)?;
        let own = all
            .first()
            .and_then(|typed| typed.ty.as_quantity().cloned());
        for typed in &mut all {
            *typed = self.rising(typed.clone());
        }
        let column = all.iter().any(|typed| typed.ty.column);
        let mut rest = all.into_iter();
        let Some(first) = rest.next() else {
            return self.not_enough(span, "min");
        };
        let ty = first.ty.clone().columned(column);
        let node = rest.fold(first.node, |left, right| Node {
            kind: NodeKind::Binary(pairwise, Box::new(left), Box::new(right.node)),
            span,
        });
        Ok(self.back_in(Typed { node, ty }, own))
    }

    /// A value chosen in a unit that counts upwards, in the unit it was typed in.
    fn back_in(&self, typed: Typed, own: Option<Quantity>) -> Typed {
        match own {
            Some(own) => self.held_in(typed, &own.unit),
            None => typed,
        }
    }

    fn not_enough(&mut self, span: Span, name: &str) -> Outcome<Typed> {
        self.fail(message::wrong_count(span, name, "min(a, b, …)", 0))
    }

    /// `sum` and `mean`: points have a mean but no sum.
    fn total(&mut self, span: Span, given: &[Given], reduction: Reduction) -> Outcome<Typed> {
        let (values, skip) = self.split_gaps(given)?;
        for one in &values {
            let quantity = self.require_quantity(&one.typed, one.span, "in a sum")?;
            self.refuse_total((&quantity, one.span), &values, reduction)?;
        }
        if let [one] = values[..] {
            return self.reduce(span, one, reduction, skip);
        }
        let all = self.all_meet(&values)?;
        let column = all.iter().any(|typed| typed.ty.column);
        let count = i64::try_from(all.len()).unwrap_or(i64::MAX);
        let mut rest = all.into_iter();
        let Some(first) = rest.next() else {
            return self.not_enough(span, "sum");
        };
        let ty = first.ty.clone().columned(column);
        let sum = rest.fold(first.node, |left, right| Node {
            kind: NodeKind::Binary(Binary::Add, Box::new(left), Box::new(right.node)),
            span,
        });
        if reduction == Reduction::Sum {
            return Ok(Typed { node: sum, ty });
        }
        let divisor = Node {
            kind: NodeKind::Number(Number::from(count)),
            span,
        };
        Ok(binary(span, Binary::Divide, sum, divisor, ty))
    }

    fn refuse_total(
        &mut self,
        (quantity, span): (&Quantity, Span),
        all: &[&Given],
        reduction: Reduction,
    ) -> Outcome<()> {
        let class = quantity.reference().map(|reference| reference.row().class);
        match class {
            Some(crate::units::Class::Level) => {
                let texts: Vec<String> = all.iter().map(|one| self.snippet(one.span)).collect();
                let mean = reduction == Reduction::Mean;
                self.fail(message::levels_totalled(span, &texts, mean))
            }
            Some(crate::units::Class::Point) if reduction == Reduction::Sum => {
                let operand = self.operand(quantity, span);
                self.fail(message::point_scaled(&operand, "a sum with"))
            }
            _ => Ok(()),
        }
    }

    fn split_gaps<'g>(&mut self, given: &'g [Given]) -> Outcome<(Vec<&'g Given>, bool)> {
        let mut skip = false;
        let mut values = Vec::with_capacity(given.len());
        for one in given {
            match (&one.name, &one.typed.node.kind) {
                (None, _) => values.push(one),
                (Some(_), NodeKind::Switch(on)) => skip = *on,
                (Some(name), _) => {
                    let name = name.clone();
                    return self.fail(message::not_written_switch(one.span, &name));
                }
            }
        }
        Ok((values, skip))
    }

    fn all_meet(&mut self, given: &[&Given]) -> Outcome<Vec<Typed>> {
        let mut all: Vec<Typed> = Vec::with_capacity(given.len());
        let Some((first, rest)) = given.split_first() else {
            return Ok(all);
        };
        self.require_quantity(&first.typed, first.span, "among others")?;
        let mut head = first.typed.clone();
        for one in rest {
            let (left, right) = self.meet(
                (head.clone(), first.span),
                (one.typed.clone(), one.span),
                Doing::Among,
            )?;
            head.ty = left.ty.columned(head.ty.column);
            all.push(right);
        }
        all.insert(0, head);
        Ok(all)
    }

    fn reduce(
        &mut self,
        span: Span,
        one: &Given,
        reduction: Reduction,
        skip: bool,
    ) -> Outcome<Typed> {
        if !one.typed.ty.column {
            let noun = self.noun(&one.typed.ty);
            let text = self.snippet(one.span);
            return self.fail(message::needs_column(one.span, &text, &noun));
        }
        let ty = match reduction {
            Reduction::Count => Type::plain(),
            _ => {
                self.require_quantity(&one.typed, one.span, "in a column that is summed up")?;
                one.typed.ty.clone().columned(false)
            }
        };
        let own = ty.as_quantity().cloned();
        let typed = match reduction {
            Reduction::Minimum | Reduction::Maximum => self.rising(one.typed.clone()),
            _ => one.typed.clone(),
        };
        let ty = match (&reduction, typed.ty.as_quantity()) {
            (Reduction::Count, _) | (_, None) => ty,
            (_, Some(quantity)) => Type::quantity(quantity.clone()),
        };
        let kind = NodeKind::Reduce(reduction, Box::new(typed.node), skip);
        let node = Node { kind, span };
        Ok(self.back_in(Typed { node, ty }, own))
    }

    fn count(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        let (values, skip) = self.split_gaps(given)?;
        match values.first() {
            Some(one) => self.reduce(span, one, Reduction::Count, skip),
            None => self.not_enough(span, "count"),
        }
    }

    /// Rounding takes a step, unless the value is a plain number.
    fn to_step(&mut self, span: Span, given: &[Given], function: Binary) -> Outcome<Typed> {
        let (value, quantity) = self.number(&given[0], "rounding")?;
        let plain = self.registry.dimension(&quantity.unit).is_plain();
        let step = match given.get(1) {
            Some(step) => self.step_for((&quantity, given[0].span), step)?,
            None if plain && quantity.unit == Unit::one() => Node {
                kind: NodeKind::Number(Number::ONE),
                span,
            },
            None => {
                let operand = self.operand(&quantity, given[0].span);
                let unit = self
                    .registry
                    .show(&self.registry.bare(&quantity.unit), None);
                let name = match function {
                    Binary::Floor => "floor",
                    Binary::Ceil => "ceil",
                    _ => "round",
                };
                return self.fail(message::needs_step(&operand, name, &unit, span));
            }
        };
        let ty = value.ty.clone();
        Ok(binary(span, function, value.node, step, ty))
    }

    /// The step in the unit of the value; of a reading, a difference.
    fn step_for(&mut self, value: (&Quantity, Span), step: &Given) -> Outcome<Node> {
        let by = self.require_quantity(&step.typed, step.span, "as a step")?;
        self.require_same_dimension(value, (&by, step.span), Doing::Argument)?;
        self.refuse_point_as_step(&by, step.span)?;
        Ok(self.scaled(step.typed.node.clone(), &by.unit, &value.0.unit))
    }

    /// A step is a difference, never a place on a scale.
    pub(super) fn refuse_point_as_step(&mut self, step: &Quantity, span: Span) -> Outcome<()> {
        let reference = step.reference();
        if reference.is_none_or(|reference| reference.step() == reference) {
            return Ok(());
        }
        let operand = self.operand(step, span);
        self.fail(message::step_is_point(&operand))
    }

    fn interpolate(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        for one in &given[1..] {
            if !one.typed.ty.column {
                let noun = self.noun(&one.typed.ty);
                let text = self.snippet(one.span);
                return self.fail(message::needs_column(one.span, &text, &noun));
            }
        }
        self.require_quantity(&given[2].typed, given[2].span, "to be interpolated")?;
        let (points, at) = self.meet(
            (given[1].typed.clone(), given[1].span),
            (given[0].typed.clone(), given[0].span),
            Doing::Argument,
        )?;
        let ty = given[2].typed.ty.clone().columned(at.ty.column);
        let parts = Box::new([at.node, points.node, given[2].typed.node.clone()]);
        Ok(Typed {
            node: Node {
                kind: NodeKind::Interpolate(parts),
                span,
            },
            ty,
        })
    }

    fn size(&mut self, span: Span, given: &[Given], above: bool) -> Outcome<Typed> {
        if !given[0].typed.ty.column {
            let noun = self.noun(&given[0].typed.ty);
            let text = self.snippet(given[0].span);
            return self.fail(message::needs_column(given[0].span, &text, &noun));
        }
        let (sizes, wanted) = self.meet(
            (given[0].typed.clone(), given[0].span),
            (given[1].typed.clone(), given[1].span),
            Doing::Argument,
        )?;
        let own = sizes.ty.as_quantity().cloned();
        let (sizes, wanted) = (self.rising(sizes), self.rising(wanted));
        let ty = sizes.ty.clone().columned(wanted.ty.column);
        let kind = NodeKind::Size(above, Box::new([sizes.node, wanted.node]));
        let node = Node { kind, span };
        Ok(self.back_in(Typed { node, ty }, own))
    }

    /// A reading of a dial or a thermometer counted from true zero.
    pub(super) fn absolute_of(&mut self, span: Span, reading: Typed) -> Outcome<Typed> {
        self.absolute(
            span,
            &[Given {
                typed: reading,
                span,
                name: None,
            }],
        )
    }

    fn absolute(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "absolute")?;
        match quantity.reference() {
            Some(Reference::Gauge) => {
                self.with_atmosphere(span, typed, &quantity, Binary::Add, Reference::Absolute)
            }
            Some(Reference::Thermometer) => {
                let unit = self.registry.listed("K");
                let node = self.from_thermometer(typed.node, &quantity.unit, &unit);
                Ok(stated(
                    node,
                    unit,
                    Reference::Thermodynamic,
                    typed.ty.column,
                ))
            }
            _ => {
                let operand = self.operand(&quantity, given[0].span);
                self.fail(message::conversion_of(
                    &operand,
                    "absolute",
                    "a gauge reading, or a thermometer reading",
                    span,
                ))
            }
        }
    }

    fn gauge(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "gauge")?;
        match &quantity.state {
            State::Is(Reference::Absolute) | State::Open(_)
                if self.registry.dimension(&quantity.unit).family() == Some(Family::Pressure) =>
            {
                self.with_atmosphere(span, typed, &quantity, Binary::Subtract, Reference::Gauge)
            }
            _ => {
                let operand = self.operand(&quantity, given[0].span);
                self.fail(message::conversion_of(
                    &operand,
                    "gauge",
                    "an absolute pressure",
                    span,
                ))
            }
        }
    }

    /// A pressure plus or minus the air outside, in the pressure's own unit.
    fn with_atmosphere(
        &mut self,
        span: Span,
        typed: Typed,
        quantity: &Quantity,
        operation: Binary,
        reference: Reference,
    ) -> Outcome<Typed> {
        let column = typed.ty.column;
        let bare = self.registry.bare(&quantity.unit);
        let pressure = self.scaled(typed.node, &quantity.unit, &bare);
        let outside = self.default_cell("atmosphere", span)?;
        let outside_unit = self
            .require_quantity(&outside, span, "as `atmosphere`")?
            .unit;
        let outside = self.scaled(outside.node, &outside_unit, &bare);
        let kind = NodeKind::Binary(operation, Box::new(pressure), Box::new(outside));
        let unit = self.registry.named(&bare, reference);
        Ok(stated(Node { kind, span }, unit, reference, column))
    }

    fn thermometer(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "thermometer")?;
        let temperature = self.registry.dimension(&quantity.unit) == Dimension::TEMPERATURE;
        match &quantity.state {
            State::Is(Reference::Thermodynamic) | State::Open(_) if temperature => {
                let unit = self.registry.thermometer_for(&quantity.unit);
                let mut node = self.to_thermometer(typed.node, &quantity.unit, &unit);
                node.span = span;
                Ok(stated(node, unit, Reference::Thermometer, typed.ty.column))
            }
            _ => {
                let operand = self.operand(&quantity, given[0].span);
                self.fail(message::conversion_of(
                    &operand,
                    "thermometer",
                    "a temperature counted from absolute zero, in K or °R",
                    span,
                ))
            }
        }
    }

    fn overpressure(&mut self, span: Span, given: &[Given]) -> Outcome<Typed> {
        let (typed, quantity) = self.number(&given[0], "overpressure")?;
        if quantity.reference() != Some(Reference::Gauge) {
            let operand = self.operand(&quantity, given[0].span);
            return self.fail(message::conversion_of(
                &operand,
                "overpressure",
                "a gauge reading",
                span,
            ));
        }
        Ok(self.bare(typed, State::Is(Reference::Difference)))
    }

    fn describe(&mut self, span: Span, given: &[Given], what: Description) -> Outcome<Typed> {
        let first = &given[0];
        if what == Description::Probability {
            self.require_switch(&first.typed, first.span)?;
            let ty = Type::plain().columned(first.typed.ty.column);
            return Ok(described(span, what, vec![first.typed.node.clone()], ty));
        }
        let quantity = self.require_quantity(&first.typed, first.span, "whose ± is asked")?;
        let column = first.typed.ty.column;
        match what {
            Description::Value => Ok(described(
                span,
                what,
                vec![first.typed.node.clone()],
                first.typed.ty.clone(),
            )),
            Description::Standard | Description::Expanded => {
                let step = quantity
                    .reference()
                    .map_or(quantity.state.clone(), |reference| {
                        State::Is(reference.step())
                    });
                let bare = self.bare(first.typed.clone(), step);
                Ok(described(span, what, vec![bare.node], bare.ty))
            }
            Description::Coverage | Description::DegreesOfFreedom => Ok(described(
                span,
                what,
                vec![first.typed.node.clone()],
                Type::plain().columned(column),
            )),
            Description::Compatible => {
                let (a, b) = self.meet(
                    (first.typed.clone(), first.span),
                    (given[1].typed.clone(), given[1].span),
                    Doing::Compare,
                )?;
                let column = a.ty.column || b.ty.column;
                Ok(described(
                    span,
                    what,
                    vec![a.node, b.node],
                    Type::switch().columned(column),
                ))
            }
            Description::Share | Description::Correlation => {
                self.require_quantity(&given[1].typed, given[1].span, "whose ± is asked")?;
                let nodes = vec![first.typed.node.clone(), given[1].typed.node.clone()];
                let column = column || given[1].typed.ty.column;
                Ok(described(span, what, nodes, Type::plain().columned(column)))
            }
            Description::Probability => self.not_enough(span, "probability"),
        }
    }

    /// A flow or volume of air at another state. The rule itself is a formula of the handbook.
    fn to_state(&mut self, span: Span, given: &[Given], target: Reference) -> Outcome<Typed> {
        let named = |name: &str| given.iter().find(|one| one.name.as_deref() == Some(name));
        let Some(flow) = given.iter().find(|one| one.name.is_none()) else {
            return self.not_enough(span, "free_air");
        };
        self.state_change(
            span,
            flow,
            (named("pressure"), named("temperature")),
            target,
        )
    }
}

impl Given {
    pub(super) fn typed(&self) -> &Typed {
        &self.typed
    }

    pub(super) fn span(&self) -> Span {
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
