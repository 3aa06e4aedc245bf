//! Statements of one logical line: cells, defaults, checks, uses, units, examples, and bare
//! expressions; and the heads of tables. What almost is one is explained.

use nom::Parser;
use nom::combinator::opt;
use nom::sequence::preceded;

use super::expression::{condition, list, value};
use super::input::{Parsed, Tokens, demand, reserved};
use super::literal::{self, Place};
use super::shape::{begins_cell, compares};
use super::{fault, mistaken, operand, study, unit};
use crate::source::{Code, Diagnostic, Span};
use crate::syntax::token::{Kind, Reserved, SHELL_WORDS, STATEMENT_WORDS};
use crate::syntax::tree::{
    Cell, Check, Example, Expectation, Expr, ExprKind, Name, StatementKind, Text, UnitDefinition,
    Use,
};

type Statement<'t> = Parsed<'t, StatementKind>;

/// What reads a statement that begins with its word.
type Reading = for<'t> fn(Tokens<'t>) -> Statement<'t>;

/// The statement words of one line, each with its parser.
const WORDS: [(&str, Reading); 10] = [
    ("default", default),
    ("check", check),
    ("use", use_document),
    ("unit", unit_definition),
    ("example", example),
    ("sweep", study::sweep),
    ("plot", study::plot),
    ("fit", study::fit),
    ("budget", study::budget),
    ("spread", study::spread),
];

/// A statement of one logical line.
pub(in crate::syntax) fn line(input: Tokens<'_>) -> Statement<'_> {
    if begins_cell(input) {
        let (input, cell) = cell(input)?;
        return Ok((input, StatementKind::Cell(cell)));
    }
    if input.kind() == Kind::Word {
        let word = input.text(input.token());
        if let Some((_, parser)) = WORDS.iter().find(|(known, _)| *known == word) {
            return parser(input);
        }
    }
    if let Some(problem) = mistaken::beginning(input) {
        return Err(problem);
    }
    let (input, value) = value(input)?;
    Ok((input, StatementKind::Expression(value)))
}

/// `name [unit] = value`
pub(super) fn cell(input: Tokens<'_>) -> Parsed<'_, Cell> {
    let (input, name) = defined_name(input, "a name")?;
    let (input, column) = if input.kind() == Kind::Dot {
        let (input, column) = operand::name(input.after(), "a column")?;
        (input, Some(column))
    } else {
        (input, None)
    };
    let (input, unit) = unit::optional_bracket(input)?;
    let (input, _) = demand(Kind::Equal, "`=` and a value")(input)?;
    let (input, value) = value(input)?;
    Ok((
        input,
        Cell {
            name,
            column,
            unit,
            value,
        },
    ))
}

/// A name at the beginning of a line, where the words of statements and orders are taken.
pub(super) fn defined_name<'t>(input: Tokens<'t>, wanted: &'static str) -> Parsed<'t, Name> {
    let word = input.text(input.token());
    if input.kind() == Kind::Word
        && (STATEMENT_WORDS.contains(&word) || SHELL_WORDS.contains(&word))
    {
        return Err(fault::reserved_name(input));
    }
    operand::name(input, wanted)
}

fn default(input: Tokens<'_>) -> Statement<'_> {
    let inner = input.after();
    if !begins_cell(inner) {
        return Err(fault::unexpected(
            inner,
            "a cell, as in `default currency = \"CAD\"`",
        ));
    }
    let (input, cell) = cell(inner)?;
    Ok((input, StatementKind::Default(cell)))
}

fn check(input: Tokens<'_>) -> Statement<'_> {
    if input.kind_at(1) == Kind::Word && input.kind_at(2) == Kind::Word && !compares(input) {
        return Err(fault::fault(
            Diagnostic::error(
                Code::Syntax,
                input.token().span,
                "`check` without a comparison",
            )
            .expected("what must hold, as in `check draw <= 16 cfm`"),
        ));
    }
    let (input, condition) = condition(input.after())?;
    let (input, text) = opt(quoted).parse(input)?;
    Ok((input, StatementKind::Check(Check { condition, text })))
}

/// A text, or nothing.
fn quoted(input: Tokens<'_>) -> Parsed<'_, Text> {
    if input.kind() == Kind::Text {
        operand::text(input, "a text")
    } else {
        Err(nom::Err::Error(super::input::Problem::Elsewhere))
    }
}

fn use_document(input: Tokens<'_>) -> Statement<'_> {
    let (input, path) = operand::text(
        input.after(),
        "the document in quotes, as in `use \"my-shop.md\"`",
    )?;
    if !input.is_word("as") {
        return Ok((input, StatementKind::Use(Use { path, name: None })));
    }
    let (input, name) = operand::name(input.after(), "a name for its cells")?;
    let name = Some(name);
    Ok((input, StatementKind::Use(Use { path, name })))
}

fn unit_definition(input: Tokens<'_>) -> Statement<'_> {
    let (input, names) = list(input.after(), |input| {
        operand::name(input, "a name for the unit")
    })?;
    let (input, size) = if input.kind() == Kind::Equal {
        let (input, size) = amount(input.after(), "an amount, as in `unit bag = 50 lb`")?;
        (input, Some(size))
    } else {
        (input, None)
    };
    Ok((input, StatementKind::Unit(UnitDefinition { names, size })))
}

/// A number with its unit, without ±.
fn amount<'t>(input: Tokens<'t>, expected: &'static str) -> Parsed<'t, Expr> {
    if !operand::begins_literal(input.kind()) {
        return Err(fault::unexpected(input, expected));
    }
    literal::quantity(input, None, Place::Operand)
}

fn example(input: Tokens<'_>) -> Statement<'_> {
    let (input, subject) = value(input.after())?;
    let (input, _) = fault::demand_word(input, Reserved::Gives, "`gives` and what comes out")?;
    let (input, expected) = expectation(input)?;
    let (input, within) = opt(preceded(reserved(Reserved::Within), |input| {
        amount(input, "how far it may be off, as in `within 0.5 %`")
    }))
    .parse(input)?;
    let example = Example {
        subject,
        expected,
        within,
    };
    Ok((input, StatementKind::Example(Box::new(example))))
}

fn expectation(input: Tokens<'_>) -> Parsed<'_, Expectation> {
    if input.is_word("limit") {
        let (input, text) = operand::text(input.after(), "the text of the limit in quotes")?;
        return Ok((input, Expectation::Limit(text)));
    }
    if input.is_word("error") {
        let (input, span) = code(input.after())?;
        let word = span.of(input.page.text).into();
        return Ok((input, Expectation::Error(word, span)));
    }
    const EXPECTED: &str = "a number, a text, `true`, `false`, `limit \"…\"` or `error` and a code";
    let place = input;
    let minus = (input.kind() == Kind::Minus).then(|| input.token());
    let number = if minus.is_some() {
        input.after()
    } else {
        input
    };
    let (input, value) = if operand::begins_literal(number.kind()) {
        literal::literal(number, minus, Place::Item)?
    } else {
        operand::postfix(input, None)?
    };
    let is_plain = matches!(
        value.kind,
        ExprKind::Literal(_)
            | ExprKind::Text(_)
            | ExprKind::Switch(_)
            | ExprKind::Column(_)
            | ExprKind::Refused(_)
    );
    if !is_plain {
        return Err(fault::unexpected(place, EXPECTED));
    }
    Ok((input, Expectation::Value(value)))
}

/// A code such as `unit-or-cell`: words joined by `-`, reserved ones too.
fn code(input: Tokens<'_>) -> Parsed<'_, Span> {
    let start = input.token().span;
    let mut rest = input;
    loop {
        if !matches!(rest.kind(), Kind::Word | Kind::Reserved(_)) {
            return Err(fault::unexpected(
                rest,
                "the code of an error, as in `error dimension`",
            ));
        }
        rest = rest.after();
        if rest.kind() != Kind::Minus || rest.token().after_blank() {
            return Ok((rest, rest.span_from(start)));
        }
        rest = rest.after();
    }
}

/// `table name`, perhaps `from "file"`.
pub(in crate::syntax) fn table_head(input: Tokens<'_>) -> Parsed<'_, (Name, Option<Text>)> {
    let (input, name) = operand::name(input.after(), "a name for the table")?;
    let (input, file) = opt(preceded(reserved(Reserved::From), |input| {
        operand::text(input, "the file in quotes, as in `from \"readings.csv\"`")
    }))
    .parse(input)?;
    Ok((input, (name, file)))
}
