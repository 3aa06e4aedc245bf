//! Fields of tables: heads of columns, and quantities under a head with a unit.

use super::fault;
use super::input::{Parsed, Tokens};
use super::literal::{self, Place};
use super::{operand, unit};
use crate::source::{Code, Diagnostic};
use crate::syntax::fold;
use crate::syntax::token::Kind;
use crate::syntax::tree::{Expr, Name, TableColumn};

/// The head of a column: `bore [mm]`.
pub(in crate::syntax) fn column_head(input: Tokens<'_>) -> Parsed<'_, TableColumn> {
    if input.is_empty() {
        return Err(fault::unexpected(input, "a name for the column"));
    }
    let (input, name) = match input.kind_at(1) {
        Kind::Word | Kind::Number if input.kind() == Kind::Word => joined_name(input),
        _ => operand::name(input, "a name for the column")?,
    };
    let (input, unit) = unit::optional_bracket(input)?;
    Ok((input, TableColumn { name, unit }))
}

/// A name with blanks in it, which is said.
fn joined_name(input: Tokens<'_>) -> (Tokens<'_>, Name) {
    let mut parts = Vec::new();
    let mut rest = input;
    while matches!(rest.kind(), Kind::Word | Kind::Number) {
        parts.push(fold::word(rest.text(rest.token())));
        rest = rest.after();
    }
    let span = rest.span_from(input.token().span);
    let joined = parts.join("_");
    input.page.say(
        Diagnostic::error(Code::Syntax, span, "a blank inside a name")
            .expected("letters, digits and `_`")
            .replace(span, joined.clone()),
    );
    let text = joined.into();
    (rest, Name { text, span })
}

/// A quantity under a head with a unit.
pub(in crate::syntax) fn quantity_field(input: Tokens<'_>) -> Parsed<'_, Expr> {
    let minus = (input.kind() == Kind::Minus).then(|| input.token());
    let number = if minus.is_some() {
        input.after()
    } else {
        input
    };
    if operand::begins_literal(number.kind()) {
        return literal::literal(number, minus, Place::Field);
    }
    match input.kind() {
        Kind::Word => Err(fault::fault(
            Diagnostic::error(
                Code::Syntax,
                input.token().span,
                format!(
                    "`{}` under a head with a unit",
                    fault::excerpt(input.page, input.token().span)
                ),
            )
            .expected("a number; `-` where there is none"),
        )),
        _ => Err(fault::unexpected(
            input,
            "a number; `-` where there is none",
        )),
    }
}
