//! The rows of `numerics-checks.csv` that this layer can answer, and the list of those it can't.

use super::read;
use crate::tables::{Row, rows_of};
use gaugebook::number::{Factor, Number, Rational, Trouble};
use num_bigint::BigInt;

type Worked = Result<Number, Trouble>;

/// Runs every row of some groups through `answer`, which gives the text found and the text
/// expected, or nothing for a row that is left out; those must be exactly the ones listed.
fn run(
    groups: &[&str],
    left_out: &[(&str, &str)],
    answer: impl Fn(&Row) -> Option<(String, String)>,
) {
    let mut unanswered = Vec::new();
    for row in rows_of("numerics-checks.csv", groups) {
        match answer(&row) {
            Some((found, expected)) => {
                assert_eq!(found, expected, "{} {}", &row["id"], &row["problem"]);
            }
            None => unanswered.push(row["id"].to_owned()),
        }
    }
    let listed: Vec<&str> = left_out.iter().map(|(id, _)| *id).collect();
    assert_eq!(unanswered, listed);
}

/// Texts for comparing a number with the expected one: equal where the difference is within the
/// row's tolerance.
fn within(found: Number, row: &Row) -> (String, String) {
    let expected = read(&row["expected"]);
    let tolerance = match &row["tolerance"] {
        "1 unit in the last place" => {
            let parts = expected
                .full()
                .replace('.', "")
                .trim_start_matches('0')
                .len() as i32;
            let leading = expected.log10().expect("above zero").floor_to(Number::ONE);
            let leading = leading.ok().and_then(Number::to_i64).expect("whole") as i32;
            Number::ONE
                .shifted(leading - parts.max(28) + 1)
                .expect("in range")
        }
        text => read(text),
    };
    let difference = found.minus(expected).expect("in range").magnitude();
    if difference <= tolerance {
        (String::new(), String::new())
    } else {
        (found.full(), expected.full())
    }
}

/// `1/3*3`, `0.1 + 0.2`: from left to right.
fn chain(text: &str) -> Option<Number> {
    let mut spaced = text.replace("largest", "79228162514264337593543950335");
    for sign in ["+", "*", "/", " - "] {
        spaced = spaced.replace(sign, &format!(" {} ", sign.trim()));
    }
    let mut words = spaced.split_whitespace();
    let mut value = Number::read(words.next()?).ok()?;
    while let Some(operation) = words.next() {
        let operand = Number::read(words.next()?).ok()?;
        value = match operation {
            "+" => value.plus(operand),
            "-" => value.minus(operand),
            "*" => value.times(operand),
            "/" => value.over(operand),
            _ => return None,
        }
        .ok()?;
    }
    Some(value)
}

/// Rows of the group for 28 digits that are decided otherwise here.
const NOT_28_DIGITS: [(&str, &str); 9] = [
    (
        "N259",
        "exp runs through doubles: 15 digits, checked in the table of functions",
    ),
    ("N260", "ln runs through doubles"),
    ("N262", "log10 runs through doubles"),
    ("N264", "real powers run through doubles"),
    ("N265", "real powers run through doubles"),
    ("N266", "sin runs through doubles"),
    ("N268", "rounded to 28 digits; telling so is the language's"),
    (
        "N274",
        "no zeros at the end: they are no part of a value here",
    ),
    ("N275", "no zeros at the end"),
];

#[test]
fn twenty_eight_digits() {
    run(&["28-digit decimal"], &NOT_28_DIGITS, |row| {
        let problem = &row["problem"];
        if let Some(text) = problem.strip_prefix("parse ") {
            return parsed(text.split(" (").next()?, row);
        }
        let exact = |text: &str| Some((text.to_owned(), row["expected"].to_owned()));
        let found: Worked = match problem {
            "print -0" => return exact(&read("-0").full()),
            "1.0 = 1.00" => return exact(&(read("1.0") == read("1.00")).to_string()),
            "1 / 0" => {
                return exact(
                    Number::ONE
                        .over(Number::ZERO)
                        .map_or("error", |_| "a value"),
                );
            }
            "1.10 + 2.20" | "1.10 * 2.0" => return None,
            "79228162514264337593543950335 (largest)" => chain("largest").ok_or(Trouble::Domain),
            "100 psi in Pa by num/den" => read("100").scaled(&Factor {
                ratio: Rational::new(
                    BigInt::from(8_896_443_230_521_i64),
                    BigInt::from(1_290_320_000_i64),
                )?,
                pi: 0,
            }),
            "1 in^3 in m^3" => read("0.0254").power_whole(3),
            "1 um^3 in m^3" => read("1e-6").power_whole(3),
            "sqrt(2)" => read("2").square_root(),
            "2^0.5 by power" => read("2").power(read("0.5")),
            "ln(10)" => Number::TEN.ln(),
            _ => chain(problem).ok_or(Trouble::Domain),
        };
        found.ok().map(|found| within(found, row))
    });
}

fn parsed(text: &str, row: &Row) -> Option<(String, String)> {
    let expected = match &row["expected"] {
        "decide; print 0.5 and 5" => {
            let found = format!("{} and {}", read(".5").full(), read("5.").full());
            return Some((found, "0.5 and 5".to_owned()));
        }
        expected if expected.contains("rounding note") => return None,
        expected => expected.trim_end_matches(" or an error"),
    };
    let found = Number::read(text).map_or("error".to_owned(), Number::full);
    Some((found, expected.to_owned()))
}

const NOT_EXACT: [(&str, &str); 1] = [("N167", "rounds half up; we round half to even")];

#[test]
fn exact_decimals() {
    run(&["decimal exact"], &NOT_EXACT, |row| {
        let problem = &row["problem"];
        if let Some((value, count)) = problem.split_once(" summed ") {
            let count: u32 = count.strip_suffix(" times")?.parse().ok()?;
            let sum = (0..count).try_fold(Number::ZERO, |sum, _| sum.plus(read(value)));
            return Some(within(sum.ok()?, row));
        }
        if let Some(value) = problem.strip_suffix(" to 2 places half-even") {
            return Some((read(value).fixed(2), row["expected"].to_owned()));
        }
        chain(problem).map(|found| within(found, row))
    });
}

const NOT_FORMATS: [(&str, &str); 6] = [
    ("N295", "engineering notation is not offered"),
    ("N296", "engineering notation is not offered"),
    ("N297", "engineering notation is not offered"),
    ("N298", "engineering notation is not offered"),
    ("N299", "grouping is the report's"),
    ("N300", "grouping is the report's"),
];

#[test]
fn formats() {
    run(&["format"], &NOT_FORMATS, |row| {
        let problem = &row["problem"];
        if problem == "-.234 grouped" {
            return Some((read("-.234").full(), row["expected"].to_owned()));
        }
        let (value, digits) = problem.split_once(" to ")?;
        let digits = digits.split(' ').next()?.parse().ok()?;
        Some((read(value).significant(digits), row["expected"].to_owned()))
    });
}

const NOT_CONSTANTS: [(&str, &str); 3] = [
    ("N303", "exp runs through doubles"),
    ("N304", "ln runs through doubles"),
    ("N308", "log10 runs through doubles"),
];

#[test]
fn constants() {
    run(&["constant"], &NOT_CONSTANTS, |row| {
        let found = match &row["problem"] {
            "pi" => Ok(Number::PI),
            "pi/180" => Number::PI.over(read("180")),
            "ln 10" => Number::TEN.ln(),
            text => read(text.strip_prefix("sqrt ")?).square_root(),
        };
        Some(within(found.ok()?, row))
    });
}

/// Rows of decTest whose result depends on something else than the value rounded half to even.
const NOT_DECTEST: [(&str, &str); 28] = [
    ("N170", "a tie, rounded half up"),
    ("N201", "there is no negative zero here"),
    ("N202", "engineering notation is not offered"),
    ("N203", "engineering notation is not offered"),
    ("N204", "engineering notation is not offered"),
    ("N206", "keeps a zero at the end"),
    ("N210", "there is no negative zero here"),
    ("N212", "rounds down"),
    ("N213", "rounds down"),
    ("N214", "rounds down"),
    ("N215", "rounds down"),
    ("N216", "rounds half down"),
    ("N217", "rounds half down"),
    ("N218", "rounds half down"),
    ("N219", "rounds half down"),
    ("N224", "a tie, rounded half up"),
    ("N228", "rounds up"),
    ("N229", "rounds up"),
    ("N230", "rounds up"),
    ("N231", "rounds up"),
    ("N232", "rounds to the floor"),
    ("N233", "rounds to the floor"),
    ("N234", "rounds to the floor"),
    ("N235", "rounds to the floor"),
    ("N236", "rounds to the ceiling"),
    ("N237", "rounds to the ceiling"),
    ("N238", "rounds to the ceiling"),
    ("N239", "rounds to the ceiling"),
];

#[test]
fn dectest() {
    run(&["decTest"], &NOT_DECTEST, |row| {
        let (found, expected) = dectest_row(row)?;
        let rule = row["input"].split([' ', ',']).nth(1)?;
        match rule {
            "half_even" => Some((found, expected)),
            // Both ways of rounding halves differ in ties only, and the list says which.
            "half_up" => (found == expected).then_some((found, expected)),
            _ => None,
        }
    });
}

fn dectest_row(row: &Row) -> Option<(String, String)> {
    let words: Vec<&str> = row["problem"].split(' ').collect();
    let expected = row["expected"].to_owned();
    let (a, b) = (words.get(1)?, words.get(2).unwrap_or(&"0"));
    let (x, y) = (read(a), read(b));
    let found = match *words.first()? {
        "quantize" => return quantized(x, b, &expected),
        "add" => x.plus(y),
        "multiply" => x.times(y),
        "divide" => x.over(y),
        "remainder" => x.remainder(y),
        "squareroot" if !expected.starts_with('-') => x.square_root(),
        "reduce" | "toSci" => return Some((x.full(), expected)),
        _ => return None,
    };
    // The operands are short, so nothing was rounded yet: their precision is applied once.
    let precision = row["input"].rsplit(' ').next()?.parse().ok()?;
    let found = read(&found.ok()?.significant(precision));
    Some((found.full(), read(&expected).full()))
}

/// Rounded to the place of `pattern`.
fn quantized(value: Number, pattern: &str, expected: &str) -> Option<(String, String)> {
    let place = match pattern.split_once('e') {
        Some((_, exponent)) => exponent.parse().ok()?,
        None => -(pattern.split_once('.')?.1.len() as i32),
    };
    if place <= 0 {
        return Some((value.fixed(place.unsigned_abs()), expected.to_owned()));
    }
    let step = Number::ONE.shifted(place).ok()?;
    Some((value.round_to(step).ok()?.full(), read(expected).full()))
}

/// The exact value of a fraction of whole numbers.
fn whole(value: i64) -> Rational {
    Rational::whole(value)
}

#[test]
fn float_traps_by_exact_ratios() {
    run(&["float traps"], &[], |row| {
        let found = match row["problem"].split(' ').next()? {
            "Rump" => rump()?,
            _ => muller(row["input"].strip_prefix("n=")?.parse().ok()?)?,
        };
        let found = Number::from_rational(&found).ok()?;
        // Digits as printed in the row.
        let digits = row["expected"].chars().filter(char::is_ascii_digit).count() as u32;
        let digits = digits - u32::from(row["expected"].contains("0."));
        Some((found.significant(digits), row["expected"].to_owned()))
    });
}

fn rump() -> Option<Rational> {
    let (a, b) = (whole(77617), whole(33096));
    let square = a.power(2)?;
    let inner = whole(11)
        .times(&square)
        .times(&b.power(2)?)
        .minus(&b.power(6)?)
        .minus(&whole(121).times(&b.power(4)?))
        .minus(&whole(2));
    read("333.75")
        .rational()
        .times(&b.power(6)?)
        .plus(&square.times(&inner))
        .plus(&read("5.5").rational().times(&b.power(8)?))
        .plus(&a.over(&whole(2).times(&b))?)
        .into()
}

fn muller(count: u32) -> Option<Rational> {
    let (mut before, mut last) = (whole(4), Rational::new(BigInt::from(17), BigInt::from(4))?);
    for _ in 1..count {
        let inner = whole(815).minus(&whole(1500).over(&before)?);
        let next = whole(108).minus(&inner.over(&last)?);
        (before, last) = (last, next);
    }
    Some(last)
}
