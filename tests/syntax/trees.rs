//! Random trees, for the properties. They need not be ones that a text would give: the printer
//! adds the parentheses they need.

use gaugebook::source::Span;
use gaugebook::syntax::{
    Argument, BinaryOperator, Column, Comparison, Expr, ExprKind, Joint, Literal, Name, Numeral,
    Override, Path, PlusMinus, Solve, Tag, TagKind, UnitExpr, UnitTerm, UnitTermKind,
};
use proptest::prelude::*;
use proptest::sample::select;

const NOWHERE: Span = Span { start: 0, end: 0 };

fn expr(kind: ExprKind) -> Expr {
    Expr {
        span: NOWHERE,
        kind,
    }
}

fn name() -> BoxedStrategy<Name> {
    select(vec!["tank", "start", "p1", "d_2", "Δp", "gun", "t", "min"])
        .prop_map(|text| Name {
            text: text.into(),
            span: NOWHERE,
        })
        .boxed()
}

fn path() -> BoxedStrategy<Path> {
    prop::collection::vec(name(), 1..3)
        .prop_map(|names| Path {
            names,
            span: NOWHERE,
        })
        .boxed()
}

fn digits() -> BoxedStrategy<Box<str>> {
    select(vec![
        "0", "1", "12.5", "0.125", "1e3", "1.2e-3", "1200", "55.00",
    ])
    .prop_map(|digits| digits.into())
    .boxed()
}

fn numeral(digits: Box<str>, fraction: Option<(u32, u32)>) -> Numeral {
    Numeral {
        digits,
        fraction,
        span: NOWHERE,
    }
}

fn power() -> BoxedStrategy<(i32, i32)> {
    prop_oneof![
        6 => Just((1, 1)),
        1 => Just((2, 1)),
        1 => Just((-1, 1)),
        1 => Just((1, 2)),
        1 => Just((-3, 2)),
    ]
    .boxed()
}

fn word() -> BoxedStrategy<UnitTermKind> {
    select(vec![
        "psi", "in2", "°C", "%", "kW", "h", "bags", "s", "lbf", "μm",
    ])
    .prop_map(|word| UnitTermKind::Word(word.into()))
    .boxed()
}

fn term(joint: Joint, kind: UnitTermKind, exponent: (i32, i32)) -> UnitTerm {
    UnitTerm {
        joint,
        kind,
        exponent,
        span: NOWHERE,
    }
}

fn plain_unit() -> BoxedStrategy<UnitExpr> {
    let joint = select(vec![Joint::Blank, Joint::Times, Joint::Over, Joint::Per]);
    let more = prop::collection::vec((joint, word(), power()), 0..3);
    let reference = prop::option::weighted(0.2, select(vec!["free", "abs", "torque", "anr"]));
    // Behind a number only a whole power can be told from a power of number and unit.
    let first_power = select(vec![(1, 1), (1, 1), (1, 1), (2, 1), (-1, 1)]);
    (word(), first_power, more, reference)
        .prop_map(|(first, exponent, more, reference)| {
            let mut terms = vec![term(Joint::First, first, exponent)];
            terms.extend(
                more.into_iter()
                    .map(|(joint, kind, power)| term(joint, kind, power)),
            );
            UnitExpr {
                span: NOWHERE,
                terms,
                reference: reference.map(|text| Name {
                    text: text.into(),
                    span: NOWHERE,
                }),
            }
        })
        .boxed()
}

/// A unit that may hold a bracket, begin with `per`, or be money.
pub(crate) fn unit() -> BoxedStrategy<UnitExpr> {
    let group = (
        plain_unit(),
        select(vec![1_u32, 100]),
        power(),
        plain_unit(),
    );
    prop_oneof![
        6 => plain_unit(),
        1 => plain_unit().prop_map(|mut unit| {
            unit.terms[0].joint = Joint::Per;
            unit
        }),
        1 => group.prop_map(|(mut unit, times, power, inner)| {
            unit.terms.push(term(Joint::Over, UnitTermKind::Group(times, inner), power));
            unit
        }),
        1 => plain_unit().prop_map(|mut unit| {
            unit.terms[0].joint = Joint::Over;
            unit.terms.insert(0, term(Joint::First, UnitTermKind::Word("$".into()), (1, 1)));
            unit
        }),
    ]
    .boxed()
}

/// A unit as it may stand in square brackets only.
fn bracket_unit() -> BoxedStrategy<UnitExpr> {
    prop_oneof![
        4 => unit(),
        1 => plain_unit().prop_map(|mut unit| {
            unit.terms[0].joint = Joint::Over;
            unit.terms.insert(0, term(Joint::First, UnitTermKind::One, (1, 1)));
            unit
        }),
        1 => Just(UnitExpr {
            span: NOWHERE,
            terms: vec![term(Joint::First, UnitTermKind::One, (1, 1))],
            reference: None,
        }),
    ]
    .boxed()
}

fn quantity() -> BoxedStrategy<Literal> {
    let fraction = select(vec![(1, 8), (3, 4), (1, 2), (1, 3), (5, 64)]);
    let with_fraction =
        (prop::option::of(Just("2")), fraction, unit()).prop_map(|(whole, fraction, unit)| {
            (
                numeral(whole.unwrap_or("").into(), Some(fraction)),
                Some(unit),
            )
        });
    let decimal = (digits(), prop::option::weighted(0.7, unit()))
        .prop_map(|(digits, unit)| (numeral(digits, None), unit));
    prop_oneof![6 => decimal, 1 => with_fraction]
        .prop_map(|(number, unit)| Literal {
            negative: false,
            number,
            unit,
            plus_minus: None,
        })
        .boxed()
}

fn tag() -> BoxedStrategy<Tag> {
    let kind = prop_oneof![
        Just(TagKind::Coverage(numeral("2".into(), None))),
        Just(TagKind::Probability(numeral("95".into(), None))),
        Just(TagKind::Step),
        Just(TagKind::Triangular),
        Just(TagKind::UShaped),
    ];
    (prop::option::of(kind), any::<bool>())
        .prop_map(|(kind, dof)| Tag {
            span: NOWHERE,
            dof: (dof || kind.is_none()).then(|| numeral("18".into(), None)),
            kind,
        })
        .boxed()
}

fn amount(inner: impl Strategy<Value = Expr> + 'static) -> BoxedStrategy<Expr> {
    prop_oneof![
        4 => quantity().prop_map(|literal| expr(ExprKind::Literal(Box::new(literal)))),
        1 => name().prop_map(|name| expr(ExprKind::Name(name.text))),
        1 => inner.prop_map(|inner| expr(ExprKind::Bracketed(Box::new(inner)))),
    ]
    .boxed()
}

fn plus_minus(inner: impl Strategy<Value = Expr> + 'static) -> BoxedStrategy<PlusMinus> {
    let of = quantity().prop_map(|literal| expr(ExprKind::Literal(Box::new(literal))));
    (
        amount(inner),
        prop::option::weighted(0.2, of),
        prop::option::weighted(0.3, tag()),
    )
        .prop_map(|(amount, of, tag)| PlusMinus {
            span: NOWHERE,
            amount,
            of,
            tag,
        })
        .boxed()
}

fn leaf() -> BoxedStrategy<Expr> {
    let literal = (
        quantity(),
        any::<bool>(),
        prop::option::weighted(0.3, plus_minus(no_inner())),
    )
        .prop_map(|(mut literal, negative, plus_minus)| {
            literal.negative = negative;
            literal.plus_minus = plus_minus.map(Box::new);
            expr(ExprKind::Literal(Box::new(literal)))
        });
    prop_oneof![
        5 => literal,
        4 => name().prop_map(|name| expr(ExprKind::Name(name.text))),
        1 => any::<bool>().prop_map(|on| expr(ExprKind::Switch(on))),
        1 => Just(expr(ExprKind::Text("#6 – “a”".into()))),
    ]
    .boxed()
}

fn no_inner() -> BoxedStrategy<Expr> {
    name()
        .prop_map(|name| expr(ExprKind::Name(name.text)))
        .boxed()
}

/// Any expression.
pub(crate) fn expression() -> BoxedStrategy<Expr> {
    leaf()
        .prop_recursive(3, 24, 3, |inner| {
            prop_oneof![operators(inner.clone()), forms(inner)]
        })
        .boxed()
}

fn operators(inner: impl Strategy<Value = Expr> + Clone + 'static) -> BoxedStrategy<Expr> {
    use BinaryOperator as B;
    use Comparison as C;
    let sign = select(vec![
        B::Plus,
        B::Minus,
        B::Times,
        B::Over,
        B::Power,
        B::And,
        B::Or,
    ]);
    let compare = select(vec![
        C::Less,
        C::LessOrEqual,
        C::Greater,
        C::GreaterOrEqual,
        C::Equal,
        C::Unequal,
    ]);
    let chain = prop::collection::vec((compare, inner.clone()), 1..3);
    prop_oneof![
        6 => (sign, inner.clone(), inner.clone()).prop_map(|(sign, left, right)| {
            expr(ExprKind::Binary(sign, Box::new(left), Box::new(right)))
        }),
        1 => inner.clone().prop_map(|inner| expr(ExprKind::Negative(Box::new(inner)))),
        1 => inner.clone().prop_map(|inner| expr(ExprKind::Not(Box::new(inner)))),
        1 => inner.clone().prop_map(|inner| expr(ExprKind::Bracketed(Box::new(inner)))),
        1 => (inner.clone(), chain).prop_map(|(first, chain)| {
            let (signs, rest): (Vec<_>, Vec<_>) = chain.into_iter().unzip();
            let operands = std::iter::once(first).chain(rest).collect();
            expr(ExprKind::Comparison(operands, signs))
        }),
        1 => (inner.clone(), inner.clone(), inner).prop_map(|(when, first, second)| {
            expr(ExprKind::If(Box::new([when, first, second])))
        }),
    ]
    .boxed()
}

fn forms(inner: impl Strategy<Value = Expr> + Clone + 'static) -> BoxedStrategy<Expr> {
    let argument = (prop::option::weighted(0.3, name()), inner.clone())
        .prop_map(|(name, value)| Argument { name, value });
    let keys = prop::collection::vec(inner.clone(), 1..3);
    let column = (
        prop::collection::vec(inner.clone(), 1..4),
        prop::option::of(unit()),
        prop::option::weighted(0.3, plus_minus(inner.clone())),
    );
    let overrides = prop::collection::vec((path(), inner.clone()), 1..3);
    let range = prop::option::of((inner.clone(), inner.clone()));
    let solve = (
        path(),
        prop::option::of(bracket_unit()),
        inner.clone(),
        inner.clone(),
        range,
    );
    prop_oneof![
        (inner.clone(), name())
            .prop_map(|(left, name)| expr(ExprKind::Member(Box::new(left), name))),
        (inner.clone(), keys, name()).prop_map(|(left, keys, name)| expr(ExprKind::Keyed(
            Box::new(left),
            keys,
            name
        ))),
        (name(), prop::collection::vec(argument, 0..3))
            .prop_map(|(name, arguments)| expr(ExprKind::Call(name, arguments))),
        column.prop_map(|(items, unit, plus_minus)| {
            expr(ExprKind::Column(Box::new(Column {
                items,
                unit,
                plus_minus,
            })))
        }),
        (inner.clone(), prop::option::of(plus_minus(inner.clone()))).prop_map(|(column, pm)| {
            expr(ExprKind::Readings(Box::new(column), pm.map(Box::new)))
        }),
        (inner.clone(), bracket_unit())
            .prop_map(|(inner, unit)| expr(ExprKind::In(Box::new(inner), unit))),
        (inner, overrides).prop_map(|(inner, overrides)| {
            let overrides = overrides
                .into_iter()
                .map(|(cell, value)| Override { cell, value })
                .collect();
            expr(ExprKind::With(Box::new(inner), overrides))
        }),
        solve.prop_map(|(unknown, unit, left, right, range)| {
            expr(ExprKind::Solve(Box::new(Solve {
                unknown,
                unit,
                left,
                right,
                range,
            })))
        }),
    ]
    .boxed()
}
