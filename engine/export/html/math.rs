//! Worked lines as MathML, from the same tree that text is set from.

use crate::report::Written;
use maud::{Markup, html};

/// An expression as a line of formulas, which breaks between its parts where it is too long.
pub fn math(written: &Written) -> Markup {
    let mut pieces = Vec::new();
    split(written, &mut pieces);
    html! {
        @for piece in pieces { math displaystyle="true" { mrow { (piece) } } " " }
    }
}

/// The parts between which a line may break: those of a run, the arguments of a call.
fn split(written: &Written, pieces: &mut Vec<Markup>) {
    match written {
        Written::Run(parts) => parts.iter().for_each(|one| split(one, pieces)),
        Written::Call(name, arguments) if arguments.len() > 2 => {
            for (number, argument) in arguments.iter().enumerate() {
                pieces.push(html! {
                    @if number == 0 { (name_of(name)) mo stretchy="false" { "(" } }
                    (part(argument))
                    @if number + 1 == arguments.len() {
                        mo stretchy="false" { ")" }
                    } @else {
                        mo { "," }
                    }
                });
            }
        }
        _ => pieces.push(part(written)),
    }
}

fn part(written: &Written) -> Markup {
    match written {
        Written::Word(text) => word(text),
        Written::Run(parts) => html! { mrow { @for one in parts { (part(one)) } } },
        Written::Fraction(above, below) => html! { mfrac { (part(above)) (part(below)) } },
        Written::Power(base, exponent) => html! { msup { (part(base)) (part(exponent)) } },
        Written::Bracketed(inner) => html! {
            mrow { mo { "(" } (part(inner)) mo { ")" } }
        },
        Written::Call(name, arguments) => call(name, arguments),
    }
}

fn call(name: &str, arguments: &[Written]) -> Markup {
    match (name, arguments) {
        ("sqrt", [inner]) => html! { msqrt { (part(inner)) } },
        ("cbrt", [inner]) => html! { mroot { (part(inner)) mn { "3" } } },
        _ => html! {
            mrow {
                (name_of(name))
                mo { "(" }
                @for (number, argument) in arguments.iter().enumerate() {
                    @if number > 0 { mo { "," } }
                    (part(argument))
                }
                mo { ")" }
            }
        },
    }
}

/// A name, a number with its unit, or a sign.
fn word(text: &str) -> Markup {
    let trimmed = text.trim();
    let first = trimmed.chars().next().unwrap_or(' ');
    if first.is_ascii_digit() || (first == '.' && trimmed.len() > 1) {
        return number(trimmed);
    }
    match trimmed {
        "+" | "−" | "-" | "×" | "·" | "<" | ">" | "=" => html! { mo { (trimmed) } },
        "<=" => html! { mo { "≤" } },
        ">=" => html! { mo { "≥" } },
        "==" => html! { mo { "=" } },
        "!=" => html! { mo { "≠" } },
        "pi" => html! { mi { "π" } },
        _ if first == '−' || first == '-' => html! {
            mrow { mo form="prefix" { "−" } (number(trimmed.trim_start_matches(['−', '-']))) }
        },
        _ if trimmed.contains(' ') || text.starts_with(' ') || text.ends_with(' ') => html! {
            mtext { (spaced(text)) }
        },
        _ => name_of(trimmed),
    }
}

/// Digits as a number, the unit behind them upright.
fn number(text: &str) -> Markup {
    let (digits, unit) = split_number(text);
    html! {
        @if unit.is_empty() {
            mn { (digits) }
        } @else {
            mrow { mn { (digits) } mspace width="0.25em" {} mtext { (unit) } }
        }
    }
}

/// A number and its unit: the first word, and the one behind it if that is a fraction.
fn split_number(text: &str) -> (&str, &str) {
    let words = |from: usize| {
        text.get(from..)
            .and_then(|rest| rest.find(' '))
            .map(|at| from + at)
    };
    let first = words(0).unwrap_or(text.len());
    let end = match words(first + 1).or(Some(text.len()).filter(|_| first < text.len())) {
        Some(second) if is_fraction(text.get(first..second).unwrap_or("").trim()) => second,
        _ => first,
    };
    let (digits, unit) = text.split_at(end);
    (digits, unit.trim())
}

fn is_fraction(word: &str) -> bool {
    let all_digits =
        |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    word.split_once('/')
        .is_some_and(|(up, down)| all_digits(up) && all_digits(down))
}

/// A name as tables show it.
fn name_of(name: &str) -> Markup {
    let shown = name.replace('_', " ");
    html! {
        @if shown.chars().count() == 1 { mi { (shown) } } @else { mtext { (shown) } }
    }
}

/// Blanks at the ends count in text around operands.
fn spaced(text: &str) -> String {
    text.replace(' ', "\u{a0}")
}
