//! Formulas in two dimensions: a quotient above and below a line. Fractions inside fractions, and
//! all of them where that is asked for, stay on one line.

use super::layout::{Layout, TIE, width};
use crate::report::Written;

/// Text in a box; all lines are equally wide.
#[derive(Clone, Debug)]
pub(super) struct Block {
    lines: Vec<String>,
    /// The line that stands level with the text around it.
    level: usize,
}

impl Block {
    pub(super) fn line(text: String) -> Block {
        Block {
            lines: vec![text],
            level: 0,
        }
    }

    pub(super) fn width(&self) -> usize {
        self.lines.first().map_or(0, |line| width(line))
    }

    pub(super) fn lines(&self) -> &[String] {
        &self.lines
    }

    /// Blocks side by side, their levels on one line.
    pub(super) fn beside(blocks: &[Block]) -> Block {
        let level = blocks.iter().map(|block| block.level).max().unwrap_or(0);
        let below = blocks.iter().map(|block| block.lines.len() - block.level);
        let height = level + below.max().unwrap_or(1);
        let mut lines = vec![String::new(); height];
        for block in blocks {
            let first = level - block.level;
            for (number, line) in lines.iter_mut().enumerate() {
                let own = number
                    .checked_sub(first)
                    .and_then(|number| block.lines.get(number));
                match own {
                    Some(own) => line.push_str(own),
                    None => line.push_str(&" ".repeat(block.width())),
                }
            }
        }
        Block { lines, level }
    }

    fn over(layout: &Layout, above: String, below: String) -> Block {
        let wide = width(&above).max(width(&below));
        let sign = if layout.unicode { "─" } else { "-" };
        let centred = |text: &str| {
            let room = wide - width(text);
            let left = room / 2;
            format!("{:left$}{text}{:right$}", "", "", right = room - left)
        };
        Block {
            lines: vec![centred(&above), sign.repeat(wide), centred(&below)],
            level: 1,
        }
    }
}

/// A formula in two dimensions.
pub(super) fn block(layout: &Layout, written: &Written) -> Block {
    if layout.plain {
        return Block::line(inline(layout, written));
    }
    match written {
        Written::Fraction(above, below) => {
            Block::over(layout, inline(layout, above), inline(layout, below))
        }
        Written::Run(parts) => {
            let blocks: Vec<Block> = parts.iter().map(|part| block(layout, part)).collect();
            Block::beside(&blocks)
        }
        other => Block::line(inline(layout, other)),
    }
}

/// A formula on one line, to be broken only between its words.
pub(super) fn tied(layout: &Layout, written: &Written) -> String {
    inline(layout, &with_ties(written))
}

/// Blanks inside words replaced by ties.
fn with_ties(written: &Written) -> Written {
    let all = |parts: &[Written]| parts.iter().map(with_ties).collect();
    let boxed = |one: &Written| Box::new(with_ties(one));
    match written {
        Written::Word(text) => {
            let inner = text.trim_matches(' ');
            let at = text.find(inner).unwrap_or(0);
            let (before, behind) = (&text[..at], &text[at + inner.len()..]);
            Written::Word(format!("{before}{}{behind}", inner.replace(' ', TIE)))
        }
        Written::Run(parts) => Written::Run(all(parts)),
        Written::Fraction(above, below) => Written::Fraction(boxed(above), boxed(below)),
        Written::Power(base, exponent) => Written::Power(boxed(base), boxed(exponent)),
        Written::Bracketed(inner) => Written::Bracketed(boxed(inner)),
        Written::Call(name, arguments) => Written::Call(name.clone(), all(arguments)),
    }
}

/// A formula on one line.
pub(super) fn inline(layout: &Layout, written: &Written) -> String {
    match written {
        Written::Word(text) => word(layout, text),
        Written::Run(parts) => parts.iter().map(|part| inline(layout, part)).collect(),
        Written::Fraction(above, below) => {
            format!(
                "{} / {}",
                factor(layout, above, true),
                factor(layout, below, false)
            )
        }
        Written::Power(base, exponent) => power(layout, base, exponent),
        Written::Bracketed(inner) => format!("({})", inline(layout, inner)),
        Written::Call(name, arguments) => {
            let arguments: Vec<String> = arguments.iter().map(|one| inline(layout, one)).collect();
            format!("{}({})", layout.show(name), arguments.join(", "))
        }
    }
}

/// A sign, a name or a number.
fn word(layout: &Layout, text: &str) -> String {
    let signs = text.trim();
    if !layout.unicode && signs == "×" {
        return text.replace('×', "*");
    }
    let digits = text.starts_with('-') || text.starts_with(|sign: char| sign.is_ascii_digit());
    match digits {
        true => layout.show(&layout.number(text)),
        false => layout.show(text),
    }
}

/// What stands beside a solidus: in brackets unless it holds together.
fn factor(layout: &Layout, written: &Written, above: bool) -> String {
    let text = inline(layout, written);
    match written.is_one() || (above && is_product(written)) {
        true => text,
        false => format!("({text})"),
    }
}

/// A product may stand before a solidus as it is.
fn is_product(written: &Written) -> bool {
    match written {
        Written::Run(parts) => parts.iter().all(|part| match part {
            Written::Word(text) => !text.starts_with(' ') || text == " × ",
            other => other.is_one(),
        }),
        _ => false,
    }
}

fn power(layout: &Layout, base: &Written, exponent: &Written) -> String {
    let base = inline(layout, base);
    let raised = match exponent {
        Written::Word(text) if layout.unicode => raised(text),
        _ => None,
    };
    match (raised, exponent.is_one()) {
        (Some(raised), _) => format!("{base}{raised}"),
        (None, true) => format!("{base}^{}", inline(layout, exponent)),
        (None, false) => format!("{base}^({})", inline(layout, exponent)),
    }
}

/// A whole number in small raised digits.
fn raised(text: &str) -> Option<String> {
    const SIGNS: [char; 10] = ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'];
    text.chars()
        .map(|sign| match sign {
            '-' | '−' => Some('⁻'),
            _ => SIGNS.get(sign.to_digit(10)? as usize).copied(),
        })
        .collect()
}
