//! Expressions for the eye: products with ×, quotients as fractions. The names stay as typed, or
//! numbers are put in for them. No format and no width is decided here.

use super::spelled::Spelled;
use super::{put_in, worth};
use crate::syntax::{
    Argument, BinaryOperator, Comparison, Expr, ExprKind, Literal, print_expr, print_unit,
};

/// An expression as it is to be set.
#[derive(Clone, Debug, PartialEq)]
pub enum Written {
    /// A name, a number with its unit, a sign: never broken.
    Word(String),
    /// One after the other; signs between operands have a blank on either side.
    Run(Vec<Written>),
    /// Above and below a line.
    Fraction(Box<Written>, Box<Written>),
    /// A base and its exponent.
    Power(Box<Written>, Box<Written>),
    /// In round brackets.
    Bracketed(Box<Written>),
    /// A name with arguments.
    Call(String, Vec<Written>),
}

impl Written {
    fn word(text: impl Into<String>) -> Written {
        Written::Word(text.into())
    }

    /// Whether it holds together without brackets.
    pub fn is_one(&self) -> bool {
        match self {
            Written::Word(text) => !text.starts_with(['-', '−']),
            Written::Run(_) | Written::Fraction(..) => false,
            Written::Power(..) | Written::Bracketed(_) | Written::Call(..) => true,
        }
    }
}

/// Writes expressions.
pub(super) struct Writer<'w, 'n> {
    /// Where numbers come from; names stay without it.
    numbers: Option<&'w Spelled<'n>>,
}

impl<'w, 'n> Writer<'w, 'n> {
    /// Names stay.
    pub(super) fn names() -> Writer<'w, 'n> {
        Writer { numbers: None }
    }

    /// Numbers are put in.
    pub(super) fn numbers(around: &'w Spelled<'n>) -> Writer<'w, 'n> {
        Writer {
            numbers: Some(around),
        }
    }

    /// A whole line or body: a formula that it does nothing but call keeps its arguments.
    pub(super) fn write_whole(&self, expr: &Expr) -> Written {
        match (&expr.kind, self.numbers) {
            (ExprKind::Call(name, arguments), _) => self.call(&name.text, arguments),
            (ExprKind::In(inner, _), Some(_)) => self.write_whole(inner),
            _ => self.write(expr),
        }
    }

    fn write(&self, expr: &Expr) -> Written {
        match &expr.kind {
            ExprKind::Bracketed(inner) => self.bracketed(inner),
            ExprKind::In(inner, unit) if self.numbers.is_none() => Written::Run(vec![
                self.write(inner),
                Written::word(format!(" [{}]", print_unit(unit))),
            ]),
            ExprKind::In(inner, _) => self.write(inner),
            ExprKind::Negative(inner) => Written::Run(vec![Written::word("−"), self.write(inner)]),
            ExprKind::Binary(operator, left, right) => self.binary(*operator, left, right),
            ExprKind::Not(inner) => Written::Run(vec![Written::word("not "), self.write(inner)]),
            ExprKind::Comparison(operands, signs) => self.comparison(operands, signs),
            ExprKind::If(parts) => self.conditional(parts),
            ExprKind::Call(name, arguments) => self
                .worth_of_call(expr, &name.text)
                .unwrap_or_else(|| self.call(&name.text, arguments)),
            ExprKind::Name(_) | ExprKind::Member(..) | ExprKind::Keyed(..) => self.name(expr),
            ExprKind::Literal(literal) => self.literal(expr, literal),
            _ => Written::word(print_expr(expr)),
        }
    }

    fn bracketed(&self, inner: &Expr) -> Written {
        match self.write(inner) {
            one @ Written::Bracketed(_) => one,
            Written::Word(text) if self.numbers.is_some() && !text.starts_with(['-', '−']) => {
                Written::Word(text)
            }
            other => Written::Bracketed(Box::new(other)),
        }
    }

    fn name(&self, expr: &Expr) -> Written {
        let name = print_expr(expr);
        let Some(around) = self.numbers else {
            return Written::Word(name);
        };
        if name == "pi" {
            return Written::Word(name);
        }
        let number = match around.as_put_in(&name) {
            Some(number) => Some(number),
            None => around
                .spell(expr)
                .and_then(|text| worth(around, &text))
                .and_then(|shown| put_in(&shown)),
        };
        Written::Word(number.unwrap_or(name))
    }

    /// What a formula called within an expression gives; built-in functions stay as they are.
    fn worth_of_call(&self, expr: &Expr, name: &str) -> Option<Written> {
        let around = self.numbers?;
        if crate::check::is_native(name) {
            return None;
        }
        let shown = worth(around, &around.spell(expr)?)?;
        put_in(&shown).map(Written::Word)
    }

    /// A literal; with numbers put in, its ± is left out, as everybody's is.
    fn literal(&self, expr: &Expr, literal: &Literal) -> Written {
        match self.numbers {
            None => Written::word(print_expr(expr)),
            Some(_) => Written::word(exact_literal(expr, literal)),
        }
    }

    fn binary(&self, operator: BinaryOperator, left: &Expr, right: &Expr) -> Written {
        let sign = match operator {
            BinaryOperator::Over => {
                let above = without_brackets(self.write(left));
                let below = without_brackets(self.write(right));
                return Written::Fraction(Box::new(above), Box::new(below));
            }
            BinaryOperator::Power => {
                let base = self.factor(self.write(left));
                let exponent = without_brackets(self.write(right));
                return Written::Power(Box::new(base), Box::new(exponent));
            }
            BinaryOperator::Plus => " + ",
            BinaryOperator::Minus => " − ",
            BinaryOperator::Times => " × ",
            BinaryOperator::And => " and ",
            BinaryOperator::Or => " or ",
        };
        let mut run = match self.write(left) {
            Written::Run(parts) => parts,
            other => vec![other],
        };
        run.push(Written::word(sign));
        match self.write(right) {
            negative @ Written::Word(_) if !negative.is_one() => {
                run.push(Written::Bracketed(Box::new(negative)));
            }
            other => run.push(other),
        }
        Written::Run(run)
    }

    /// What a power stands behind: a number with a unit, or below zero, needs its brackets.
    fn factor(&self, base: Written) -> Written {
        match &base {
            Written::Word(text) if text.contains(' ') || !base.is_one() => {
                Written::Bracketed(Box::new(base))
            }
            Written::Run(_) | Written::Fraction(..) => Written::Bracketed(Box::new(base)),
            _ => base,
        }
    }

    fn comparison(&self, operands: &[Expr], signs: &[Comparison]) -> Written {
        let mut run = Vec::new();
        for (index, operand) in operands.iter().enumerate() {
            if let Some(sign) = index.checked_sub(1).and_then(|before| signs.get(before)) {
                run.push(Written::word(format!(" {} ", sign_of(*sign))));
            }
            run.push(self.write(operand));
        }
        Written::Run(run)
    }

    fn conditional(&self, parts: &[Expr; 3]) -> Written {
        let [condition, first, second] = parts;
        Written::Run(vec![
            Written::word("if "),
            self.write(condition),
            Written::word(" then "),
            self.write(first),
            Written::word(" else "),
            self.write(second),
        ])
    }

    fn call(&self, name: &str, arguments: &[Argument]) -> Written {
        let written = arguments.iter().map(|argument| {
            let value = self.write(&argument.value);
            match &argument.name {
                Some(name) => Written::Run(vec![Written::word(format!("{}: ", name.text)), value]),
                None => value,
            }
        });
        Written::Call(name.to_owned(), written.collect())
    }
}

/// A literal without its ±, with the unit that stands behind the amount.
pub(super) fn exact_literal(expr: &Expr, literal: &Literal) -> String {
    let mut exact = literal.clone();
    if exact.unit.is_none()
        && let Some(amount) = &literal.plus_minus
        && let ExprKind::Literal(amount) = &amount.amount.kind
    {
        exact.unit = amount.unit.clone();
    }
    exact.plus_minus = None;
    print_expr(&Expr {
        span: expr.span,
        kind: ExprKind::Literal(Box::new(exact)),
    })
}

fn without_brackets(written: Written) -> Written {
    match written {
        Written::Bracketed(inner) => *inner,
        other => other,
    }
}

fn sign_of(sign: Comparison) -> &'static str {
    match sign {
        Comparison::Less => "<",
        Comparison::LessOrEqual => "<=",
        Comparison::Greater => ">",
        Comparison::GreaterOrEqual => ">=",
        Comparison::Equal => "==",
        Comparison::Unequal => "!=",
    }
}
