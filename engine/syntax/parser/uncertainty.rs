//! `±`: the amount behind it, what a percentage is of, and the tag that says how it is meant.

use nom::Parser;
use nom::combinator::opt;
use nom::sequence::preceded;

use super::input::{Parsed, Tokens, reserved, sign};
use super::literal::{self, Place};
use super::{fault, group, operand};
use crate::syntax::token::{Kind, Reserved};
use crate::syntax::tree::{Expr, ExprKind, Numeral, Path, PlusMinus, Tag, TagKind};

/// `± amount of span (tag)`, if it follows.
pub(super) fn optional(input: Tokens<'_>) -> Parsed<'_, Option<PlusMinus>> {
    if input.kind() != Kind::PlusMinus {
        return Ok((input, None));
    }
    let (input, plus_minus) = plus_minus(input)?;
    if input.kind() == Kind::PlusMinus {
        return Err(fault::second_plus_minus(input));
    }
    Ok((input, Some(plus_minus)))
}

/// `± amount of span (tag)`.
pub(super) fn plus_minus(input: Tokens<'_>) -> Parsed<'_, PlusMinus> {
    let start = input.token().span;
    let (input, amount) = amount(input.after())?;
    let (input, of) = opt(preceded(reserved(Reserved::Of), quantity)).parse(input)?;
    let (input, tag) = if input.kind() == Kind::OpenRound {
        let (input, tag) = tag(input)?;
        (input, Some(tag))
    } else {
        (input, None)
    };
    let span = input.span_from(start);
    let plus_minus = PlusMinus {
        span,
        amount,
        of,
        tag,
    };
    Ok((input, plus_minus))
}

fn quantity(input: Tokens<'_>) -> Parsed<'_, Expr> {
    if !operand::begins_literal(input.kind()) {
        return Err(fault::unexpected(
            input,
            "an amount, as in `2 % of 200 psi`",
        ));
    }
    literal::quantity(input, None, Place::Amount)
}

fn amount(input: Tokens<'_>) -> Parsed<'_, Expr> {
    match input.kind() {
        kind if operand::begins_literal(kind) => literal::quantity(input, None, Place::Amount),
        Kind::Word if !is_call(input) => {
            let (input, path) = operand::path(input, "a cell")?;
            Ok((input, member_of(path)))
        }
        Kind::OpenRound => input.nested(group::bracketed),
        _ => Err(fault::no_amount_behind(input)),
    }
}

/// A call, not a cell with a tag written close to it.
fn is_call(input: Tokens<'_>) -> bool {
    input.kind_at(1) == Kind::OpenRound
        && !input.token_at(1).after_blank()
        && !begins_tag(input.after())
}

/// Whether the bracket that is next reads as a tag.
pub(super) fn begins_tag(input: Tokens<'_>) -> bool {
    match input.kind_at(1) {
        Kind::Word => {
            let word = input.text(input.token_at(1));
            match input.kind_at(2) {
                Kind::Equal => matches!(word, "k" | "dof"),
                _ => tag_word(word).is_some(),
            }
        }
        Kind::Number => input.kind_at(2) == Kind::UnitSign,
        _ => false,
    }
}

fn member_of(path: Path) -> Expr {
    let mut names = path.names.into_iter();
    let mut whole = Expr {
        span: path.span,
        kind: ExprKind::Refused(None),
    };
    if let Some(first) = names.next() {
        whole = Expr {
            span: first.span,
            kind: ExprKind::Name(first.text),
        };
    }
    names.fold(whole, |whole, name| Expr {
        span: whole.span.to(name.span),
        kind: ExprKind::Member(Box::new(whole), name),
    })
}

fn tag(input: Tokens<'_>) -> Parsed<'_, Tag> {
    let opening = input.token();
    if !begins_tag(input) {
        return Err(fault::no_tag(input));
    }
    let inner = input.after();
    let is_dof = inner.is_word("dof");
    let (rest, kind) = if is_dof {
        (inner, None)
    } else {
        let (rest, kind) = tag_kind(inner)?;
        (rest, Some(kind))
    };
    let (rest, dof) = if is_dof {
        let (rest, dof) = degrees_of_freedom(rest)?;
        (rest, Some(dof))
    } else {
        opt(preceded(sign(Kind::Comma), degrees_of_freedom)).parse(rest)?
    };
    let (rest, closing) = fault::demand_closing(rest, opening, "`, dof = 18` or `)`")?;
    let span = opening.span.to(closing.span);
    Ok((rest, Tag { span, kind, dof }))
}

fn tag_word(word: &str) -> Option<TagKind> {
    match word {
        "step" => Some(TagKind::Step),
        "triangular" => Some(TagKind::Triangular),
        "u_shaped" => Some(TagKind::UShaped),
        _ => None,
    }
}

fn tag_kind(input: Tokens<'_>) -> Parsed<'_, TagKind> {
    if let Some(kind) = (input.kind() == Kind::Word)
        .then(|| tag_word(input.text(input.token())))
        .flatten()
    {
        return Ok((input.after(), kind));
    }
    if input.is_word("k") {
        let (input, number) = number(input.skip(2))?;
        return Ok((input, TagKind::Coverage(number)));
    }
    let (input, number) = number(input)?;
    if input.kind() != Kind::UnitSign || input.text(input.token()) != "%" {
        return Err(fault::unexpected(input, "`%`, as in `(95 %)`"));
    }
    Ok((input.after(), TagKind::Probability(number)))
}

fn degrees_of_freedom(input: Tokens<'_>) -> Parsed<'_, Numeral> {
    if !input.is_word("dof") || input.kind_at(1) != Kind::Equal {
        return Err(fault::unexpected(
            input,
            "`dof = 18`, the degrees of freedom",
        ));
    }
    number(input.skip(2))
}

fn number(input: Tokens<'_>) -> Parsed<'_, Numeral> {
    let token = input.token();
    if token.kind != Kind::Number {
        return Err(fault::unexpected(input, "a number"));
    }
    let numeral = Numeral {
        digits: literal::plain_digits(input.text(token), token),
        fraction: None,
        span: token.span,
    };
    Ok((input.after(), numeral))
}
