//! What a line looks like from its first tokens, before it is read: whether it begins a cell, a
//! statement word with its next sign, or nothing of the kind.

use super::input::Tokens;
use crate::syntax::token::{Kind, Reserved, Token};

/// Whether a line begins `name =`, `name [unit] =` or `name.column =`, a reserved word in the
/// place of the name included.
pub(in crate::syntax) fn begins_cell(input: Tokens<'_>) -> bool {
    if !matches!(input.kind(), Kind::Word | Kind::Reserved(_)) {
        return false;
    }
    let mut rest = input.after();
    if rest.kind() == Kind::Dot && !rest.token().after_blank() && rest.kind_at(1) == Kind::Word {
        rest = rest.skip(2);
    }
    if rest.kind() == Kind::OpenSquare && rest.token().partner != Token::ALONE {
        rest = rest.behind(rest.token());
    }
    rest.kind() == Kind::Equal
}

/// Whether a line is a statement where prose stands around it: a cell, or a statement word with
/// the signs it needs.
pub(in crate::syntax) fn looks_like_statement(input: Tokens<'_>) -> bool {
    if input.kind() == Kind::Word && begins_cell(input) {
        return true;
    }
    if input.kind() != Kind::Word {
        return false;
    }
    let rest = input.after();
    let is_name = rest.kind() == Kind::Word;
    let has = |wanted: Kind| holds(rest, &[wanted]);
    match input.text(input.token()) {
        "check" => {
            compares(rest)
                || (is_name && rest.is_called_or_opened(0) && rest.kind_at(1) == Kind::OpenRound)
        }
        "use" => matches!(rest.kind(), Kind::Text | Kind::OpenText),
        "table" => is_name && matches!(rest.kind_at(1), Kind::End | Kind::Reserved(Reserved::From)),
        "formula" => is_name && rest.is_called_or_opened(0) && rest.kind_at(1) == Kind::OpenRound,
        "default" => is_name && begins_cell(rest),
        "unit" => is_name && matches!(rest.kind_at(1), Kind::End | Kind::Equal | Kind::Comma),
        "example" => has(Kind::Reserved(Reserved::Gives)),
        "sweep" => is_name && has(Kind::Reserved(Reserved::Show)),
        "plot" => has(Kind::Reserved(Reserved::Against)),
        "fit" => is_name && has(Kind::Equal),
        "trace" => is_name && rest.kind_at(1) == Kind::Reserved(Reserved::Over),
        "budget" | "spread" => is_name && is_path(rest),
        _ => false,
    }
}

const COMPARISONS: [Kind; 8] = [
    Kind::Less,
    Kind::LessOrEqual,
    Kind::Greater,
    Kind::GreaterOrEqual,
    Kind::EqualEqual,
    Kind::Equal,
    Kind::Unequal,
    Kind::Foreign,
];

/// Whether a comparison stands in the line.
pub(super) fn compares(input: Tokens<'_>) -> bool {
    holds(input, &COMPARISONS)
}

fn holds(input: Tokens<'_>, wanted: &[Kind]) -> bool {
    (0..)
        .map(|ahead| input.kind_at(ahead))
        .take_while(|kind| *kind != Kind::End)
        .any(|kind| wanted.contains(&kind))
}

fn is_path(input: Tokens<'_>) -> bool {
    let mut rest = input.after();
    while rest.kind() == Kind::Dot && rest.kind_at(1) == Kind::Word {
        rest = rest.skip(2);
    }
    rest.is_empty()
}
