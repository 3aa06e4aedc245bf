//! How a byte is read, and which sign it begins.

use super::token::Kind;

/// How a byte is read.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Class {
    Blank,
    Letter,
    Digit,
    Sign,
    Wide,
}

const CLASSES: [Class; 256] = classes();

const fn classes() -> [Class; 256] {
    let mut table = [Class::Sign; 256];
    let mut at = 0;
    while at < 256 {
        table[at] = match at as u8 {
            0..=32 | 127 => Class::Blank,
            b'a'..=b'z' | b'A'..=b'Z' | b'_' => Class::Letter,
            b'0'..=b'9' => Class::Digit,
            128..=255 => Class::Wide,
            _ => Class::Sign,
        };
        at += 1;
    }
    table
}

pub(super) fn class(byte: u8) -> Class {
    CLASSES[usize::from(byte)]
}

pub(super) fn plain_kind(typed: &str) -> Kind {
    match typed {
        "-" => Kind::Minus,
        "*" => Kind::Times,
        "/" => Kind::Over,
        "<=" => Kind::LessOrEqual,
        ">=" => Kind::GreaterOrEqual,
        "!=" => Kind::Unequal,
        _ => Kind::PlusMinus,
    }
}

/// The sign that begins with `byte`, and how many bytes it has.
pub(super) fn sign_kind(byte: u8, second: u8, third: u8) -> (Kind, usize) {
    match (byte, second) {
        (b'=', b'=') if third == b'=' => (Kind::Foreign, 3),
        (b'=', b'=') => (Kind::EqualEqual, 2),
        (b'=', b'<' | b'>') | (b'<', b'>') => (Kind::Foreign, 2),
        (b'=', _) => (Kind::Equal, 1),
        (b'<', b'=') => (Kind::LessOrEqual, 2),
        (b'<', _) => (Kind::Less, 1),
        (b'>', b'=') => (Kind::GreaterOrEqual, 2),
        (b'>', _) => (Kind::Greater, 1),
        (b'!', b'=') => (Kind::Unequal, 2),
        (b'*', b'*') | (b'&', b'&') | (b'|', b'|') => (Kind::Foreign, 2),
        (b'!' | b'&', _) => (Kind::Foreign, 1),
        (b'+', _) => (Kind::Plus, 1),
        (b'-', _) => (Kind::Minus, 1),
        (b'*', _) => (Kind::Times, 1),
        (b'/', _) => (Kind::Over, 1),
        (b'^', _) => (Kind::Power, 1),
        (b',', _) => (Kind::Comma, 1),
        (b':', _) => (Kind::Colon, 1),
        (b'.', _) => (Kind::Dot, 1),
        (b'|', _) => (Kind::Bar, 1),
        (b'(', _) => (Kind::OpenRound, 1),
        (b')', _) => (Kind::CloseRound, 1),
        (b'[', _) => (Kind::OpenSquare, 1),
        (b']', _) => (Kind::CloseSquare, 1),
        (b'{', _) => (Kind::OpenCurly, 1),
        (b'}', _) => (Kind::CloseCurly, 1),
        (b'%', _) => (Kind::UnitSign, 1),
        (b'$', _) => (Kind::Dollar, 1),
        _ => (Kind::Unknown, 1),
    }
}
