//! Brackets, powers, ± and lists in a form that cannot be read.

use super::{Fault, bracket_span, clipped, excerpt, fault, span_to_partner, syntax, unexpected};
use crate::source::{Code, Diagnostic};
use crate::syntax::parser::input::Tokens;
use crate::syntax::printer::print_expr;
use crate::syntax::token::{Kind, Token};
use crate::syntax::tree::{Expr, ExprKind};

/// `[unit]` in the middle of an expression.
pub(in crate::syntax::parser) fn bracket_inside(
    input: Tokens<'_>,
    inner: &Expr,
    opening: Token,
) -> Fault {
    let span = input.span_from(opening.span);
    let whole = inner.span.to(span);
    let mut diagnostic = Diagnostic::error(
        Code::Bracket,
        span,
        "a unit bracket where no expression ends",
    )
    .label("says in which unit a whole expression is shown")
    .expected("the bracket at the end, or parentheses around what it belongs to");
    if !matches!(inner.kind, ExprKind::Refused(_)) {
        diagnostic = diagnostic.replace(
            whole,
            format!("({} {})", print_expr(inner), span.of(input.page.text)),
        );
    }
    fault(diagnostic)
}

/// `[]`
pub(in crate::syntax::parser) fn empty_bracket(input: Tokens<'_>) -> Fault {
    let span = bracket_span(input);
    fault(
        syntax(span, "an empty bracket")
            .expected("a unit; `[1]` says that it is a plain number")
            .replace(span, "[1]"),
    )
}

/// Square brackets with something else than a unit in them.
pub(in crate::syntax::parser) fn no_unit(input: Tokens<'_>, opening: Token) -> Fault {
    let token = input.token();
    if matches!(token.kind, Kind::Text | Kind::Hash) {
        return fault(
            syntax(span_to_partner(input, opening), "a row without a column")
                .expected("a dot and a column behind the key, as in `guns[\"small\"].bore`"),
        );
    }
    if token.kind == Kind::End {
        return unexpected(input, "a unit word");
    }
    fault(
        syntax(
            token.span,
            format!("`{}` is no part of a unit", excerpt(input.page, token.span)),
        )
        .expected("unit words joined by blanks, `*`, `/` or `per`"),
    )
}

/// A power of a unit that is not a small whole number or fraction.
pub(in crate::syntax::parser) fn odd_exponent(input: Tokens<'_>) -> Fault {
    let span = input.token().span;
    let span = match input.kind() {
        Kind::Power if !matches!(input.kind_at(1), Kind::End) => span.to(input.token_at(1).span),
        _ => span,
    };
    let diagnostic = syntax(span, "a power that cannot be read")
        .expected("a small whole number or a fraction in brackets, as in `s^2` or `K^(1/2)`");
    fault(match span.of(input.page.text) {
        "^0.5" => diagnostic.replace(span, "^(1/2)"),
        "^1.5" => diagnostic.replace(span, "^(3/2)"),
        _ => diagnostic,
    })
}

/// `x²^3`
pub(in crate::syntax::parser) fn power_of_power(
    input: Tokens<'_>,
    base: &Expr,
    exponent: &Expr,
) -> Fault {
    let whole = base.span.to(exponent.span);
    fault(
        syntax(input.token().span, "a power of a power")
            .expected("parentheses that say which is taken first")
            .replace(
                whole,
                format!("({}^{})", print_expr(base), print_expr(exponent)),
            ),
    )
}

/// `$` without an amount.
pub(in crate::syntax::parser) fn no_amount(input: Tokens<'_>) -> Fault {
    unexpected(input, "an amount of money behind `$`")
}

/// `±` without an amount.
pub(in crate::syntax::parser) fn no_amount_behind(input: Tokens<'_>) -> Fault {
    let diagnostic = match input.kind() {
        Kind::Minus | Kind::Plus => {
            Diagnostic::error(Code::PlusMinus, input.token().span, "a sign behind ±")
                .expected("an amount without a sign: ± goes both ways")
        }
        Kind::Word => {
            return fault(
                Diagnostic::error(Code::PlusMinus, input.token().span, "a call behind ±")
                    .expected("a number, a cell, or parentheses around the call"),
            );
        }
        _ => return unexpected(input, "an amount, a cell or a bracket behind ±"),
    };
    fault(diagnostic)
}

/// `1 ± 2 ± 3`
pub(in crate::syntax::parser) fn second_plus_minus(input: Tokens<'_>) -> Fault {
    fault(
        Diagnostic::error(
            Code::PlusMinus,
            input.token().span,
            "a second ± behind one value",
        )
        .expected("one ±; another error is a cell of its own that is added"),
    )
}

/// A bracket behind ± that is no tag.
pub(in crate::syntax::parser) fn no_tag(input: Tokens<'_>) -> Fault {
    fault(
        Diagnostic::error(
            Code::PlusMinus,
            bracket_span(input),
            "a bracket behind ± that says nothing about it",
        )
        .expected("`(k = 2)`, `(95 %)`, `(step)`, `(triangular)` or `(u_shaped)`"),
    )
}

/// `with` inside a list, where its commas would be lost.
pub(in crate::syntax::parser) fn scenario_in_list(input: Tokens<'_>, value: &Expr) -> Fault {
    fault(
        syntax(input.token().span, "`with` inside a list")
            .label("its commas would be those of the list")
            .expected(format!(
                "parentheses: `({} with …)`",
                clipped(&print_expr(value))
            )),
    )
}
