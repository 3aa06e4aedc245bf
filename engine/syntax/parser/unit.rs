//! Units as written: behind a number, behind money, in square brackets. Whether a word is a unit
//! is settled later; here a word ends a unit only if it is reserved, called, or has a member.

use super::input::{Parsed, Problem, Tokens};
use super::shape::looks_like_statement;
use super::uncertainty::begins_tag;
use super::{exponent, fault, refusal};
use crate::source::Span;
use crate::syntax::fold;
use crate::syntax::token::{Kind, Marks, REFERENCE_WORDS, Reserved, Token};
use crate::syntax::tree::{Joint, Name, UnitExpr, UnitTerm, UnitTermKind};

/// Where a unit stands, which decides how free its blanks are.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Setting {
    /// Behind a number: operators stand tight.
    Literal,
    /// In a round bracket of such a unit.
    Group,
    /// In square brackets: blanks are free, and nothing else can be meant.
    Bracket,
}

/// Whether a unit begins here, behind a number.
pub(super) fn begins(input: Tokens<'_>) -> bool {
    match input.kind() {
        Kind::Reserved(Reserved::Per) => true,
        kind => is_word(kind, input),
    }
}

fn is_word(kind: Kind, input: Tokens<'_>) -> bool {
    match kind {
        Kind::Word => !is_taken(input) && !begins_statement(input),
        Kind::UnitSign => true,
        Kind::Dollar => !matches!(input.kind_at(1), Kind::Number | Kind::CommaNumber),
        _ => false,
    }
}

/// Whether a word is a call or has a member; the tag of a ± may stand close to a unit.
fn is_taken(input: Tokens<'_>) -> bool {
    let is_joined = input
        .previous()
        .is_some_and(|token| matches!(token.kind, Kind::Times | Kind::Over));
    input.is_called_or_opened(0) && (is_joined || !begins_tag(input.after()))
}

/// A line that belongs to another by its indentation, but begins like a statement.
fn begins_statement(input: Tokens<'_>) -> bool {
    input.token().begins_line() && input.index() > 0 && looks_like_statement(input)
}

/// The unit behind a number, if one follows.
pub(super) fn behind_number(input: Tokens<'_>) -> Parsed<'_, Option<UnitExpr>> {
    if !begins(input) {
        return Ok((input, None));
    }
    let (rest, unit) = terms(input, Vec::with_capacity(1), Setting::Literal)?;
    Ok((rest, (!unit.terms.is_empty()).then_some(unit)))
}

/// What stands behind an amount of money, with the currency sign as first term.
pub(super) fn behind_money<'t>(input: Tokens<'t>, dollar: Token) -> Parsed<'t, UnitExpr> {
    let sign = UnitTerm {
        joint: Joint::First,
        kind: UnitTermKind::Word("$".into()),
        exponent: (1, 1),
        span: dollar.span,
    };
    let is_tail = input.kind() == PER || (input.kind() == Kind::Over && input.is_tight_operator());
    if is_tail {
        return terms(input, vec![sign], Setting::Literal);
    }
    Ok((
        input,
        UnitExpr {
            span: dollar.span,
            terms: vec![sign],
            reference: None,
        },
    ))
}

const PER: Kind = Kind::Reserved(Reserved::Per);

/// The rest of a unit whose first terms have been read.
pub(super) fn go_on(input: Tokens<'_>, unit: UnitExpr) -> Parsed<'_, UnitExpr> {
    if unit.reference.is_some() {
        return Ok((input, unit));
    }
    terms(input, unit.terms, Setting::Literal)
}

/// `[unit]`.
pub(super) fn bracket(input: Tokens<'_>) -> Parsed<'_, UnitExpr> {
    let opening = input.token();
    if opening.partner == Token::ALONE {
        return Err(fault::unclosed(input, opening, "a unit and `]`"));
    }
    let inner = input.after().until(opening.partner);
    if inner.is_empty() {
        return Err(fault::empty_bracket(input));
    }
    let (left, unit) = terms(inner, Vec::with_capacity(1), Setting::Bracket)?;
    if unit.terms.is_empty() || !left.is_empty() {
        return Err(fault::no_unit(left, opening));
    }
    Ok((input.behind(opening), unit))
}

/// `[unit]`, if a bracket follows.
pub(super) fn optional_bracket(input: Tokens<'_>) -> Parsed<'_, Option<UnitExpr>> {
    if input.kind() != Kind::OpenSquare {
        return Ok((input, None));
    }
    let (input, unit) = bracket(input)?;
    Ok((input, Some(unit)))
}

/// As many terms as follow, and the reference behind them.
fn terms<'t>(
    mut input: Tokens<'t>,
    mut terms: Vec<UnitTerm>,
    setting: Setting,
) -> Parsed<'t, UnitExpr> {
    let first_index = input.index();
    let start = terms.first().map_or(input.token().span, |term| term.span);
    let mut reference = None;
    while let Some((at, joint)) = next_joint(input, terms.is_empty(), setting) {
        if joint == Joint::Blank && is_reference(at) {
            reference = Some(Name {
                text: at.text(at.token()).into(),
                span: at.token().span,
            });
            input = at.after();
            break;
        }
        match term(at, joint, terms.is_empty(), setting) {
            Ok((rest, term)) => {
                terms.push(term);
                input = rest;
            }
            Err(nom::Err::Error(_)) => break,
            Err(problem) => return Err(problem),
        }
    }
    if setting != Setting::Group {
        say_subscripts(input, first_index);
    }
    let span = if input.index() == first_index {
        start
    } else {
        input.span_from(start)
    };
    Ok((
        input,
        UnitExpr {
            span,
            terms,
            reference,
        },
    ))
}

fn is_reference(input: Tokens<'_>) -> bool {
    input.kind() == Kind::Word
        && !input.is_called_or_opened(0)
        && REFERENCE_WORDS.contains(&input.text(input.token()))
}

/// How the next term is joined, and where it begins.
fn next_joint<'t>(
    input: Tokens<'t>,
    is_first: bool,
    setting: Setting,
) -> Option<(Tokens<'t>, Joint)> {
    let free = setting == Setting::Bracket;
    match input.kind() {
        PER => Some((input.after(), Joint::Per)),
        _ if is_first => Some((input, Joint::First)),
        Kind::Times if free || input.is_tight_operator() => Some((input.after(), Joint::Times)),
        Kind::Over if free || input.is_tight_operator() => Some((input.after(), Joint::Over)),
        Kind::OpenRound if setting != Setting::Literal => Some((input, Joint::Blank)),
        kind if is_word(kind, input) => Some((input, Joint::Blank)),
        _ => None,
    }
}

fn term<'t>(
    input: Tokens<'t>,
    joint: Joint,
    is_first: bool,
    setting: Setting,
) -> Parsed<'t, UnitTerm> {
    let token = input.token();
    let (rest, kind) = match token.kind {
        Kind::Number if is_first && setting == Setting::Bracket && input.text(token) == "1" => {
            (input.after(), UnitTermKind::One)
        }
        Kind::OpenRound if joint != Joint::First || setting != Setting::Literal => {
            group(input, setting)?
        }
        kind if is_word(kind, input) => {
            let (rest, word) = cut_degree(input, setting)
                .unwrap_or_else(|| (input.after(), fold::word(input.text(token)).into()));
            (rest, UnitTermKind::Word(word))
        }
        _ => return Err(nom::Err::Error(Problem::Elsewhere)),
    };
    let (rest, exponent) = if setting == Setting::Literal && is_first && rest.kind() == Kind::Power
    {
        (rest, (1, 1))
    } else {
        exponent(rest, joint, setting)?
    };
    let span = rest.span_from(token.span);
    Ok((
        rest,
        UnitTerm {
            joint,
            kind,
            exponent,
            span,
        },
    ))
}

/// `° C` and `deg F`, which would be an angle times a charge.
fn cut_degree(input: Tokens<'_>, setting: Setting) -> Option<(Tokens<'_>, Box<str>)> {
    let scale = input.token_at(1);
    let fits = matches!(
        &*fold::word(input.text(input.token())),
        "°" | "deg" | "degrees"
    ) && scale.kind == Kind::Word
        && matches!(input.text(scale), "C" | "F" | "R")
        && setting != Setting::Group;
    fits.then(|| {
        let whole = format!("°{}", input.text(scale));
        refusal::cut_degree(input.page, input.token().span.to(scale.span), &whole);
        (input.skip(2), whole.into())
    })
}

/// `(unit)` or `(100 unit)`. Behind a number it may as well be an expression, so it is given up
/// without a word where it does not fit.
fn group(input: Tokens<'_>, setting: Setting) -> Parsed<'_, UnitTermKind> {
    let elsewhere = || Err(nom::Err::Error(Problem::Elsewhere));
    let opening = input.token();
    let failed = input.page.failed_group.get();
    let known = (input.index()..opening.partner).contains(&failed) && setting != Setting::Bracket;
    if opening.partner == Token::ALONE || known {
        return elsewhere();
    }
    input.nested(|input| {
        let mut inner = input.after().until(opening.partner);
        let mut times = 1;
        if inner.kind() == Kind::Number && inner.token().marks.has(Marks::WHOLE) {
            match inner.text(inner.token()).parse() {
                Ok(count) if count > 0 => times = count,
                _ => return elsewhere(),
            }
            inner = inner.after();
        }
        let inside = match setting {
            Setting::Bracket => Setting::Bracket,
            _ => Setting::Group,
        };
        let (left, unit) = terms(inner, Vec::new(), inside)?;
        if unit.terms.is_empty() || !left.is_empty() {
            input.page.failed_group.set(left.index());
            return elsewhere();
        }
        Ok((input.behind(opening), UnitTermKind::Group(times, unit)))
    })
}

/// The power behind a unit word, `(1, 1)` where none is written.
fn exponent<'t>(input: Tokens<'t>, joint: Joint, setting: Setting) -> Parsed<'t, (i32, i32)> {
    if !exponent::begins(input) {
        return Ok((input, (1, 1)));
    }
    match exponent::read(input) {
        Some(read) => Ok(read),
        // Behind a number `/t^x` may divide by the cell t to the power x.
        None if setting != Setting::Bracket && matches!(joint, Joint::Over | Joint::Times) => {
            Err(nom::Err::Error(Problem::Elsewhere))
        }
        None => Err(fault::odd_exponent(input)),
    }
}

fn say_subscripts(input: Tokens<'_>, first: u32) {
    let run = first as usize..input.index() as usize;
    for token in input.page.tokens.get(run).unwrap_or(&[]) {
        if token.marks.has(Marks::SUBSCRIPT) {
            refusal::subscript_at(input.page, token.span);
        }
    }
}

/// The span of several unit words, for a message.
pub(super) fn span_of(unit: Option<&UnitExpr>, number: Span) -> Span {
    unit.map_or(number, |unit| number.to(unit.span))
}
