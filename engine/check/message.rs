//! The messages of `check`: one function a mistake, each with what was found, what was expected
//! and the repair. The words are for someone who runs a shop.

use crate::source::{Code, Diagnostic, Span};
use crate::syntax::Name;
use crate::units::{Class, Reference};

/// What was done with two values where they met.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Doing {
    Plus,
    Minus,
    Over,
    Compare,
    Branches,
    Target,
    Key,
    Argument,
    Among,
    PlusMinus,
}

impl Doing {
    /// “a length added to a time”
    fn clause(self, first: &str, second: &str) -> String {
        match self {
            Doing::Plus => format!("{second} added to {first}"),
            Doing::Minus => format!("{first} minus {second}"),
            Doing::Over => format!("{first} divided by {second}"),
            Doing::Compare => format!("{first} compared with {second}"),
            Doing::Branches => format!("{first} or {second} in one choice"),
            Doing::Target => format!("{first} sought to equal {second}"),
            Doing::Key => format!("{second} looked up among keys of {first}"),
            Doing::Argument => format!("{first} and {second} given to one function"),
            Doing::Among => format!("{first} and {second} side by side"),
            Doing::PlusMinus => format!("{second} as the ± of {first}"),
        }
    }

    /// For a value that is no number.
    pub(super) fn where_number(self) -> &'static str {
        match self {
            Doing::Plus => "in a sum",
            Doing::Minus => "in a difference",
            _ => "where a number was expected",
        }
    }

    fn sign(self) -> Option<&'static str> {
        match self {
            Doing::Plus => Some("+"),
            Doing::Minus => Some("-"),
            Doing::Over => Some("/"),
            Doing::Compare => Some("<="),
            _ => None,
        }
    }
}

/// What a value has to fit: a bracket, or a parameter.
#[derive(Clone, Debug)]
pub(super) enum Target {
    /// A bracket.
    Bracket,
    /// A parameter of a formula.
    Parameter { formula: String, parameter: String },
    /// A cell that is given another value.
    Override(String),
}

impl Target {
    /// “`start` of bleed_down needs a gauge reading”, “a length under a head for a time”.
    fn clause(&self, noun: &str, needs: &str, unit: &str) -> String {
        match self {
            Target::Bracket => format!("{noun} under `[{unit}]`"),
            Target::Parameter { formula, parameter } => {
                format!("`{parameter}` of {formula} needs {needs}")
            }
            Target::Override(cell) => format!("{noun} for {cell}, which is {needs}"),
        }
    }
}

/// One of the values a message is about.
#[derive(Clone, Debug)]
pub(super) struct Operand {
    pub(super) span: Span,
    pub(super) text: String,
    pub(super) noun: String,
    pub(super) counts: Option<&'static str>,
    pub(super) reference: Option<Reference>,
    pub(super) unit: String,
    /// Its unit with each reference it might have been typed with.
    pub(super) respelled: Vec<(Reference, String)>,
}

impl Operand {
    /// The same literal with the unit of another reference: `126 psi` as `126 psig`.
    fn retyped(&self, reference: Reference) -> Option<String> {
        let (_, unit) = self.respelled.iter().find(|(one, _)| *one == reference)?;
        let digits = self.text.strip_prefix('-').unwrap_or(&self.text);
        digits
            .starts_with(|c: char| c.is_ascii_digit())
            .then_some(())?;
        let end = self
            .text
            .rfind(|c: char| c.is_ascii_digit())
            .map(|at| at + 1)?;
        let number = self.text[..end].trim_end();
        let tail = self.text[end..].trim();
        // `126 psi` and `80 gal`, but nothing with ± or operators behind the number.
        let plain = number
            .split_whitespace()
            .all(|word| word.chars().all(|c| "0123456789.+-/e_".contains(c)));
        let one_unit = !tail.contains(['±', '+', '(', '*']);
        (plain && one_unit).then(|| format!("{number} {unit}"))
    }

    fn is_literal(&self) -> bool {
        self.text
            .trim_start_matches('-')
            .starts_with(|c: char| c.is_ascii_digit())
    }

    fn with_value(&self, diagnostic: Diagnostic) -> Diagnostic {
        diagnostic.value(self.text.clone(), self.text.clone())
    }
}

/// The function that takes a value from one reference to another, if there is one.
fn conversion(from: Reference, to: Reference) -> Option<&'static str> {
    use Reference::*;
    let air = |one: Reference| matches!(one, Free | Actual | Standard | Normal | Anr);
    match (from, to) {
        (Gauge, Absolute) | (Thermometer, Thermodynamic) => Some("absolute"),
        (Absolute, Gauge) => Some("gauge"),
        (Thermodynamic, Thermometer) => Some("thermometer"),
        (Gauge, Difference) => Some("overpressure"),
        (one, Free) if air(one) => Some("free_air"),
        (one, Standard) if air(one) => Some("standard_air"),
        (one, Normal) if air(one) => Some("normal_air"),
        (one, Anr) if air(one) => Some("anr_air"),
        (one, Actual) if air(one) => Some("actual_air"),
        _ => None,
    }
}

/// The call that takes an operand to another reference; line air needs its pressure too.
fn converted(operand: &Operand, to: Reference) -> Option<String> {
    let from = operand.reference?;
    let function = conversion(from, to)?;
    let line = from == Reference::Actual || to == Reference::Actual;
    let more = if line {
        ", pressure: p, temperature: t"
    } else {
        ""
    };
    Some(format!("{function}({}{more})", operand.text))
}

fn both(diagnostic: Diagnostic, operands: &[Operand; 2]) -> Diagnostic {
    let diagnostic = operands[0].with_value(diagnostic);
    operands[1].with_value(diagnostic)
}

fn span_of(operands: &[Operand; 2]) -> Span {
    operands[0].span.to(operands[1].span)
}

/// Two kinds of quantity.
pub(super) fn unlike_dimensions(
    doing: Doing,
    operands: &[Operand; 2],
    currencies: bool,
    percent: bool,
    hint: Option<String>,
) -> Diagnostic {
    let [a, b] = operands;
    let span = span_of(operands);
    if currencies {
        return two_currencies(doing, operands);
    }
    if percent {
        return percent_of_something(doing, operands);
    }
    let message = doing.clause(&a.noun, &b.noun);
    let mut diagnostic = both(Diagnostic::error(Code::Dimension, span, message), operands)
        .label("{0} and {1}")
        .expected(hint.unwrap_or_else(|| "two values of one kind".to_owned()));
    if let Some(mixed) = mixed_number(doing, operands) {
        diagnostic = diagnostic
            .label(format!(
                "read as {} − ({}): {} has no unit",
                a.text, b.text, a.text
            ))
            .expected("two lengths, or one length written with a blank")
            .repair(mixed);
        diagnostic.values.clear();
    }
    diagnostic
}

/// `1-1/2 in`, which means one and a half.
fn mixed_number(doing: Doing, operands: &[Operand; 2]) -> Option<String> {
    let [a, b] = operands;
    let whole = a.text.chars().all(|c| c.is_ascii_digit()) && !a.text.is_empty();
    let fraction = b.text.split_whitespace().next().is_some_and(|word| {
        word.split_once('/').is_some_and(|(up, down)| {
            [up, down]
                .iter()
                .all(|part| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit()))
        })
    });
    (doing == Doing::Minus && whole && fraction).then(|| format!("{} {}", a.text, b.text))
}

fn two_currencies(doing: Doing, operands: &[Operand; 2]) -> Diagnostic {
    let [a, b] = operands;
    both(
        Diagnostic::error(
            Code::Currency,
            span_of(operands),
            format!("two currencies: {} and {}", a.unit, b.unit),
        ),
        operands,
    )
    .label("{0} and {1}")
    .expected("one currency; no rate of exchange is built in")
    .repair_with(
        format!(
            "{} {} {} * rate",
            a.text,
            doing.sign().unwrap_or("+"),
            b.text
        ),
        format!("with a cell such as `rate = 1.35 {}/{}`", a.unit, b.unit),
    )
}

/// `x + 8 %`
pub(super) fn percent_of_something(doing: Doing, operands: &[Operand; 2]) -> Diagnostic {
    let [a, b] = operands;
    let sign = if doing == Doing::Minus { "-" } else { "+" };
    Diagnostic::error(
        Code::Percent,
        span_of(operands),
        format!("a percentage beside {}", a.noun),
    )
    .label(format!("{} of what?", b.text))
    .expected("two values of one kind, or a factor")
    .repair(format!("{} * (1 {sign} {})", a.text, b.text))
}

/// Text beside a number, a switch beside text.
pub(super) fn unlike_kinds(doing: Doing, first: &str, second: &str, span: Span) -> Diagnostic {
    Diagnostic::error(Code::Kind, span, doing.clause(first, second))
        .label(second)
        .expected(format!("{first}, like the other"))
}

/// Two references where one was expected.
pub(super) fn unlike_references(doing: Doing, operands: &[Operand; 2]) -> Diagnostic {
    let [a, b] = operands;
    if let (Some(x), Some(y)) = (a.reference, b.reference)
        && (x == Reference::Room) != (y == Reference::Room)
    {
        return room_against_air(doing, operands);
    }
    let power = [a, b].iter().any(|one| {
        matches!(
            one.reference,
            Some(Reference::Apparent | Reference::Reactive)
        )
    });
    let mut diagnostic = both(
        Diagnostic::error(
            Code::Reference,
            span_of(operands),
            doing.clause(&a.noun, &b.noun),
        ),
        operands,
    )
    .label(format!("{{0}}{}, {{1}}{}", counted(a), counted(b)))
    .expected(if power {
        "one kind of power; between active and apparent power stands the power factor".to_owned()
    } else {
        "one reference on both sides: nothing converts silently".to_owned()
    });
    for repair in reference_repairs(doing, a, b) {
        diagnostic = diagnostic.repair(repair);
    }
    if power {
        diagnostic =
            diagnostic.repair_with("apparent * 0.85 W/VA", "with the power factor of the plate");
    }
    diagnostic
}

fn counted(operand: &Operand) -> String {
    operand
        .counts
        .map(|counts| format!(" {counts}"))
        .unwrap_or_default()
}

/// Each side taken to the other's reference, likeliest first: a literal is retyped, a name is
/// converted.
fn reference_repairs(doing: Doing, a: &Operand, b: &Operand) -> Vec<String> {
    let join = |left: &str, right: &str| match doing.sign() {
        Some(sign) => format!("{left} {sign} {right}"),
        None => format!("{left}, {right}"),
    };
    let mut repairs = Vec::new();
    if let (Some(x), Some(y)) = (a.reference, b.reference) {
        if let Some(retyped) = b.is_literal().then(|| b.retyped(x)).flatten() {
            repairs.push(join(&a.text, &retyped));
        }
        if let Some(retyped) = a.is_literal().then(|| a.retyped(y)).flatten() {
            repairs.push(join(&retyped, &b.text));
        }
        if let Some(call) = converted(b, x) {
            repairs.push(join(&a.text, &call));
        }
        if let Some(call) = converted(a, y) {
            repairs.push(join(&call, &b.text));
        }
    }
    repairs.truncate(2);
    repairs
}

/// `tank / draw`, `draw * 10 min <= tank`
pub(super) fn room_against_air(doing: Doing, operands: &[Operand; 2]) -> Diagnostic {
    let [a, b] = operands;
    let room = if a.reference == Some(Reference::Room) {
        a
    } else {
        b
    };
    let mut diagnostic = both(
        Diagnostic::error(
            Code::Reference,
            span_of(operands),
            doing.clause(&a.noun, &b.noun),
        ),
        operands,
    )
    .label(format!("{{0}}{}, {{1}}{}", counted(a), counted(b)))
    .expected("the air that leaves the vessel between two pressures, not the room in it");
    if doing == Doing::Over && a.reference == Some(Reference::Room) {
        diagnostic = diagnostic
            .repair_with(
                "hold_time(tank, pump, draw, start, stop)",
                "how long a receiver lasts",
            )
            .repair_with(
                "run_time(tank, pump, draw, cut_in, cut_out)",
                "how long the pump runs",
            );
    }
    diagnostic.repair_with(
        format!("free_volume({}, start, stop)", room.text),
        "the free air it gives",
    )
}

/// A value under a bracket, or given to a parameter, of another dimension.
pub(super) fn wrong_dimension(
    operand: &Operand,
    expected: &str,
    unit: &str,
    target: &Target,
    currencies: bool,
    hint: Option<String>,
) -> Diagnostic {
    let code = if currencies {
        Code::Currency
    } else {
        Code::Dimension
    };
    let bare = operand.unit == "1" && operand.is_literal();
    let mut diagnostic = operand
        .with_value(Diagnostic::error(
            code,
            operand.span,
            target.clause(&operand.noun, expected, unit),
        ))
        .label(if bare {
            "{0} has no unit".to_owned()
        } else {
            format!("{{0}} is {}", operand.noun)
        })
        .expected(hint.unwrap_or_else(|| format!("{expected}, such as a value in `{unit}`")));
    if bare {
        diagnostic = diagnostic.repair(format!("{} {unit}", operand.text));
    }
    diagnostic
}

/// A value under a bracket, or given to a parameter, that counts from another reference.
pub(super) fn wrong_reference(
    operand: &Operand,
    wanted: Reference,
    unit: &str,
    target: &Target,
) -> Diagnostic {
    let row = wanted.row();
    let mut diagnostic = operand
        .with_value(Diagnostic::error(
            Code::Reference,
            operand.span,
            target.clause(&operand.noun, row.noun, unit),
        ))
        .label(match operand.is_literal() {
            true => operand.noun.clone(),
            false => format!("{{0}} is {}", operand.noun),
        })
        .expected(format!("{unit}: {}", what_it_is(wanted)));
    if let Some(retyped) = operand.retyped(wanted) {
        diagnostic = diagnostic.replace(operand.span, retyped);
    }
    if let Some(call) = converted(operand, wanted) {
        diagnostic = diagnostic.replace(operand.span, call);
    }
    if operand.reference == Some(Reference::Room) {
        diagnostic = diagnostic.repair_with(
            format!("free_volume({}, start, stop)", operand.text),
            "the free air it gives",
        );
    }
    if let (Some(Reference::Difference), Reference::Absolute) = (operand.reference, wanted)
        && !operand.is_literal()
    {
        diagnostic = diagnostic.repair_with(
            format!("{} + atmosphere", operand.text),
            "if it was counted from the air outside",
        );
    }
    if matches!(
        wanted,
        Reference::Active | Reference::Apparent | Reference::Reactive
    ) {
        diagnostic = diagnostic.repair_with(
            format!("{} * 0.85 W/VA", operand.text),
            "apparent power times the power factor is active power",
        );
    }
    if let (Some(Reference::Gauge), true) = (operand.reference, wanted == Reference::Difference)
        && operand.is_literal()
    {
        diagnostic
            .repairs
            .sort_by_key(|repair| repair.text.contains('('));
    }
    diagnostic
}

/// The reference in the words of the shop.
fn what_it_is(reference: Reference) -> &'static str {
    match reference {
        Reference::Gauge => "what the dial shows, counted from the air outside",
        Reference::Absolute => "counted from empty space; the dial shows less by the air outside",
        Reference::Difference => "a rise or fall between two pressures",
        Reference::Thermometer => "what the thermometer shows",
        Reference::Thermodynamic => "counted from absolute zero",
        Reference::Interval => "a rise or fall between two temperatures",
        Reference::Room => "the room in a vessel",
        other => other.row().counts,
    }
}

/// A percentage where points were asked for, or the reverse.
pub(super) fn share_and_points(span: Span, text: &str, points: bool) -> Diagnostic {
    let message = if points {
        "a percentage shown in percentage points"
    } else {
        "percentage points shown as a percentage"
    };
    Diagnostic::error(Code::Reference, span, message)
        .label(format!("`{text}`"))
        .expected("points for the difference of two percentages, `%` for a share of something")
}

/// A flow or volume whose state has to be said first.
pub(super) fn say_which(
    span: Span,
    text: &str,
    unit: &str,
    room_rate: bool,
    volume: bool,
) -> Diagnostic {
    let thing = if volume { "volume" } else { "flow" };
    let diagnostic = Diagnostic::error(
        Code::SayWhich,
        span,
        format!("a {thing} whose state has to be said"),
    )
    .label(format!(
        "`{text}` comes out of a product: is it free air, line air, standard air?"
    ))
    .expected(format!(
        "a bracket that says which, at the cell or behind a {thing} in brackets"
    ));
    if room_rate {
        return diagnostic.repair_with(
            format!("[{unit} actual]"),
            "the room of a vessel per time is line air",
        );
    }
    diagnostic
        .repair_with(format!("[{unit} free]"), "air at this shop's atmosphere")
        .repair_with(
            format!("[{unit} actual]"),
            "air at the pressure in the line",
        )
}

/// The room of a vessel per time called free air: the forgotten pressure ratio.
pub(super) fn room_rate(span: Span, text: &str, unit: &str, wanted: Reference) -> Diagnostic {
    Diagnostic::error(
        Code::Reference,
        span,
        format!("the room of a vessel per time called {}", wanted.row().noun),
    )
    .label(format!(
        "`{text}` is how fast room is emptied, at the pressure in the line"
    ))
    .expected(format!(
        "for `{unit}`, multiply by (start − stop)/atmosphere"
    ))
    .repair_with(
        "bleed_down(tank, start, stop, held)",
        "the formula for a timed bleed-down",
    )
}

/// A ratio to one state where another is named.
pub(super) fn mixed_states(span: Span, made_with: &str, told: Reference) -> Diagnostic {
    Diagnostic::warning(
        Code::MixedStates,
        span,
        format!("made with {made_with}, but called {}", told.row().noun),
    )
    .label("the two states differ, so the figure is off by their ratio")
    .expected("a result in the state it was made with, converted afterwards")
    .repair_with(
        "standard_air(draw)",
        "from free to standard air; `normal_air`, `anr_air`, `free_air` likewise",
    )
}

/// A word that is a unit and a cell too.
pub(super) fn unit_or_cell(span: Span, word: &str, before: &str) -> Diagnostic {
    let operator = before.trim_end().chars().last().unwrap_or('/');
    let start = before.trim_end().trim_end_matches(operator);
    Diagnostic::error(
        Code::UnitOrCell,
        span,
        format!("`{word}` is a unit and a cell too"),
    )
    .label("which of them?")
    .expected("blanks around the sign for the cell, a bracket for the unit")
    .repair_with(
        format!("{start} {operator} {word}"),
        "divided or multiplied by the cell",
    )
    .repair_with(
        format!("({start}{operator}{word})"),
        "give the cell another name to keep the unit",
    )
}

/// A unit name with several meanings.
pub(super) fn ambiguous_unit(
    word: &str,
    span: Span,
    reads: &str,
    offers: &[(String, String)],
) -> Diagnostic {
    let mut diagnostic = Diagnostic::error(
        Code::AmbiguousUnit,
        span,
        format!("`{word}` is not read as a unit"),
    )
    .label(reads)
    .expected("a name with one meaning");
    for (text, what) in offers {
        diagnostic = diagnostic.repair_with(text.clone(), what.clone());
    }
    diagnostic
}

/// No unit of that name.
pub(super) fn unknown_unit(
    word: &str,
    span: Span,
    nearest: Option<String>,
    variants: &[String],
) -> Diagnostic {
    let mut diagnostic =
        Diagnostic::error(Code::UnknownUnit, span, format!("no unit is called {word}"))
            .label("neither in the table of units nor defined here");
    for variant in variants {
        diagnostic = diagnostic.replace(span, variant.clone());
    }
    if let (Some(nearest), true) = (nearest, variants.is_empty()) {
        diagnostic = diagnostic.replace(span, nearest);
    }
    if diagnostic.repairs.is_empty() {
        diagnostic = diagnostic.expected(format!("a unit; to make one of your own: `unit {word}`"));
    }
    diagnostic
}

/// No cell of that name.
pub(super) fn unknown_name(
    span: Span,
    name: &str,
    nearest: Option<&str>,
    place: Option<String>,
    is_formula: bool,
    is_unit: bool,
) -> Diagnostic {
    let diagnostic =
        Diagnostic::error(Code::UnknownName, span, format!("no cell is called {name}"))
            .label("neither here nor a default of the handbook");
    if is_formula {
        return diagnostic
            .expected(format!("{name} is a formula: call it with its arguments"))
            .repair(format!("{name}(…)"));
    }
    if is_unit {
        return diagnostic
            .expected(format!("{name} is a unit: a unit follows a number"))
            .repair(format!("1 {name}"));
    }
    match nearest {
        Some(nearest) => {
            let remark = place.map(|place| format!("({place})")).unwrap_or_default();
            diagnostic.repair_with(nearest, remark)
        }
        None => diagnostic
            .expected("a cell of this notebook")
            .repair(format!("{name} = …")),
    }
}

/// No formula of that name.
pub(super) fn unknown_formula(
    span: Span,
    name: &str,
    nearest: Option<&str>,
    is_cell: bool,
) -> Diagnostic {
    let diagnostic = Diagnostic::error(
        Code::UnknownName,
        span,
        format!("no formula is called {name}"),
    )
    .label("neither here, nor in the handbook, nor built in");
    if is_cell {
        return diagnostic
            .expected(format!("{name} is a cell: to multiply, write the sign"))
            .repair(format!("{name} * (…)"));
    }
    match nearest {
        Some(nearest) => diagnostic.replace(span, nearest),
        None => diagnostic.expected("a formula; `help` and a word of the trade finds one"),
    }
}

/// `(a + b).name`
pub(super) fn member_of_value(span: Span, text: &str) -> Diagnostic {
    Diagnostic::error(Code::Kind, span, "a dot behind something that is no table")
        .label(format!("`{text}`"))
        .expected("a table's column, as in `guns.bore`")
}

/// A table used like a value.
pub(super) fn whole_table(span: Span, name: &str, columns: &[&str]) -> Diagnostic {
    let diagnostic = Diagnostic::error(
        Code::Kind,
        span,
        format!("the whole table {name} used like a value"),
    )
    .label("a table has columns")
    .expected("one of its columns");
    columns
        .iter()
        .skip(1)
        .take(3)
        .fold(diagnostic, |diagnostic, column| {
            diagnostic.repair(format!("{name}.{column}"))
        })
}

/// A key behind something that is no table.
pub(super) fn not_a_table(span: Span, text: &str) -> Diagnostic {
    Diagnostic::error(Code::Kind, span, format!("no table is called {text}"))
        .label("a bracket with a key follows a table's name")
        .expected("a table, as in `guns[\"small\"].bore`")
}

/// A column that the table does not have.
pub(super) fn unknown_column(
    span: Span,
    table: &str,
    column: &str,
    columns: &[&str],
) -> Diagnostic {
    Diagnostic::error(
        Code::UnknownName,
        span,
        format!("{table} has no column {column}"),
    )
    .label(format!("its columns are {}", columns.join(", ")))
    .expected("one of them")
}

/// More keys than columns.
pub(super) fn too_many_keys(span: Span, table: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Key,
        span,
        format!("more keys than {table} has columns"),
    )
    .expected("one key for each key column")
}

/// A formula that needs itself.
pub(super) fn recursion(span: Span, name: &str) -> Diagnostic {
    Diagnostic::error(Code::Recursion, span, format!("{name} needs itself"))
        .label("called while it is being worked out")
        .expected("a formula that ends; `solve` finds a value that depends on itself")
}

/// A name that is no parameter.
pub(super) fn unknown_parameter(name: &Name, signature: &str, names: &[&str]) -> Diagnostic {
    let diagnostic = Diagnostic::error(
        Code::Argument,
        name.span,
        format!("no parameter is called {}", name.text),
    )
    .label(signature)
    .expected("one of its parameters, or arguments in order");
    match crate::source::nearest(&name.text, names.iter().copied()) {
        Some(nearest) => diagnostic.replace(name.span, nearest),
        None => diagnostic,
    }
}

/// More arguments than parameters.
pub(super) fn too_many_arguments(span: Span, signature: &str) -> Diagnostic {
    Diagnostic::error(Code::Argument, span, "one argument too many").label(signature)
}

/// A parameter given twice.
pub(super) fn argument_twice(span: Span, name: &str, signature: &str) -> Diagnostic {
    Diagnostic::error(Code::Argument, span, format!("{name} is given twice")).label(signature)
}

/// A parameter that was not given.
pub(super) fn missing_argument(span: Span, name: &str, signature: &str) -> Diagnostic {
    Diagnostic::error(Code::Argument, span, format!("{name} is not given")).label(signature)
}

/// A built-in function with the wrong number of arguments.
pub(super) fn wrong_count(span: Span, name: &str, signature: &str, count: usize) -> Diagnostic {
    let given = match count {
        0 => "nothing".to_owned(),
        1 => "one value".to_owned(),
        n => format!("{n} values"),
    };
    Diagnostic::error(Code::Argument, span, format!("{given} given to {name}")).label(signature)
}

/// `skip_gaps: x`
pub(super) fn not_written_switch(span: Span, name: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Argument,
        span,
        format!("{name} takes `true` or `false`, written out"),
    )
    .repair(format!("{name}: true"))
}

/// A single value where a column was expected.
pub(super) fn needs_column(span: Span, text: &str, noun: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Kind,
        span,
        "a single value where a column was expected",
    )
    .label(format!("`{text}` is {noun}"))
    .expected("several values, as in `{1, 2, 3} mm`, or a table's column")
}

/// Two readings added.
pub(super) fn points_added(operands: &[Operand; 2], typed: bool) -> Diagnostic {
    let [a, b] = operands;
    let mut diagnostic = both(
        Diagnostic::error(
            Code::Point,
            span_of(operands),
            format!("{} added to {}", another(&b.noun), a.noun),
        ),
        operands,
    )
    .label("{0} + {1}: two places on a scale have no sum")
    .expected("a reading and a difference");
    if typed && let Some(step) = step_typed(b) {
        diagnostic = diagnostic.repair_with(format!("{} + {step}", a.text), "that much more");
    }
    for function in converters(a) {
        diagnostic = diagnostic.repair(format!("{function}({}) + {function}({})", a.text, b.text));
    }
    diagnostic
}

fn another(noun: &str) -> String {
    noun.strip_prefix("a ")
        .map_or_else(|| noun.to_owned(), |rest| format!("another {rest}"))
}

/// A literal reading as the difference of that size.
fn step_typed(operand: &Operand) -> Option<String> {
    let reference = operand.reference?;
    operand.retyped(reference.step())
}

/// The functions that make an amount of a reading.
fn converters(operand: &Operand) -> &'static [&'static str] {
    match operand.reference {
        Some(Reference::Gauge) => &["absolute", "overpressure"],
        Some(Reference::Thermometer) => &["absolute"],
        _ => &[],
    }
}

/// One reading divided by another.
pub(super) fn points_divided(operands: &[Operand; 2]) -> Diagnostic {
    let [a, b] = operands;
    let level = a
        .reference
        .is_some_and(|reference| reference.row().class == Class::Level);
    let code = if level { Code::Level } else { Code::Point };
    let mut diagnostic = both(
        Diagnostic::error(
            code,
            span_of(operands),
            format!("{} divided by {}", one(&a.noun), another(&b.noun)),
        ),
        operands,
    )
    .label(format!(
        "{{0}} / {{1}}{}",
        a.counts
            .map(|counts| format!(", {counts}"))
            .unwrap_or_default()
    ))
    .expected(match a.reference {
        Some(Reference::Gauge) => "two absolute pressures, or two differences",
        Some(Reference::Thermometer) => "two temperatures counted from absolute zero",
        _ => "a difference of the two: levels are logarithms already",
    });
    for function in converters(a) {
        diagnostic = diagnostic.repair(format!("{function}({}) / {function}({})", a.text, b.text));
    }
    if level {
        diagnostic = diagnostic.repair(format!("{} - {}", a.text, b.text));
    }
    diagnostic
}

fn one(noun: &str) -> String {
    noun.strip_prefix("a ")
        .map_or_else(|| noun.to_owned(), |rest| format!("one {rest}"))
}

/// A reading or a level scaled, multiplied or raised to a power.
pub(super) fn point_scaled(operand: &Operand, how: &str) -> Diagnostic {
    let level = operand
        .reference
        .is_some_and(|reference| reference.row().class == Class::Level);
    let code = if level { Code::Level } else { Code::Point };
    let mut diagnostic = operand
        .with_value(Diagnostic::error(
            code,
            operand.span,
            format!("{how} {}", operand.noun),
        ))
        .label(match operand.counts {
            Some(counts) => format!("{{0}} is {counts}: twice the number is not twice as much"),
            None => "{0}".to_owned(),
        })
        .expected(match operand.reference {
            Some(Reference::Gauge) => "an absolute pressure, or a difference",
            Some(Reference::Thermometer) => {
                "a temperature counted from absolute zero, or a difference"
            }
            _ => "a gain in dB, or a function for levels",
        });
    for function in converters(operand) {
        diagnostic = diagnostic.repair(format!("{function}({})", operand.text));
    }
    if level {
        diagnostic = diagnostic.repair(format!("combined_level({{{0}, {0}}})", operand.text));
    }
    diagnostic
}

/// A reading and a pressure or temperature that counts from true zero.
pub(super) fn point_and_total(doing: Doing, operands: &[Operand; 2]) -> Diagnostic {
    let [a, b] = operands;
    let (point, total) = if a
        .reference
        .is_some_and(|reference| reference.row().class == Class::Point)
    {
        (a, b)
    } else {
        (b, a)
    };
    let diagnostic = both(
        Diagnostic::error(
            Code::Reference,
            span_of(operands),
            doing.clause(&a.noun, &b.noun),
        ),
        operands,
    )
    .label(format!("{{0}}{}, {{1}}{}", counted(a), counted(b)))
    .expected("one reference on both sides: nothing converts silently");
    if doing == Doing::Plus {
        return diagnostic.repair_with(
            format!("absolute({})", point.text),
            "counts the reading from true zero",
        );
    }
    let sign = doing.sign().unwrap_or("-");
    let call = format!("absolute({})", point.text);
    let (left, right) = if point.span == a.span {
        (call, total.text.clone())
    } else {
        (total.text.clone(), call)
    };
    diagnostic.repair(format!("{left} {sign} {right}"))
}

/// `+ 273.15 K` on a reading.
pub(super) fn zero_of_scale(point: &Operand, step: &Operand) -> Diagnostic {
    Diagnostic::error(
        Code::Point,
        point.span.to(step.span),
        format!("{} added by hand to {}", step.text, point.noun),
    )
    .label("this would move the reading, not count it from absolute zero")
    .expected("a temperature counted from absolute zero")
    .repair(format!("absolute({})", point.text))
}

/// `+ 14.7 psi` on a gauge reading.
pub(super) fn atmosphere_by_hand(point: &Operand, step: &Operand) -> Diagnostic {
    Diagnostic::note(
        Code::BarePressure,
        point.span.to(step.span),
        format!("{} added to {}", step.text, point.noun),
    )
    .label("the result is still a gauge reading, that much higher")
    .expected("for the pressure counted from empty space, the shop's own atmosphere")
    .repair(format!("absolute({})", point.text))
}

/// Two levels added.
pub(super) fn levels_added(operands: &[Operand; 2]) -> Diagnostic {
    let [a, b] = operands;
    both(
        Diagnostic::error(
            Code::Level,
            span_of(operands),
            "two sound levels added like amounts",
        ),
        operands,
    )
    .label("{0} + {1}: levels are logarithms")
    .expected("the level of both sources together, or a gain in dB")
    .repair_with(
        format!("combined_level({{{}, {}}})", a.text, b.text),
        "two sources at once",
    )
    .repair_with(format!("{} + 3 dB", a.text), "that much louder")
}

/// Levels summed up or averaged.
pub(super) fn levels_totalled(operand: &Operand, mean: bool) -> Diagnostic {
    let (how, function) = if mean {
        ("averaged", "mean_level")
    } else {
        ("added", "combined_level")
    };
    Diagnostic::error(
        Code::Level,
        operand.span,
        format!("sound levels {how} like amounts"),
    )
    .label("levels are logarithms")
    .expected("their energies added")
    .repair(format!("{function}({})", operand.text))
}

/// Two bare pressures divided.
pub(super) fn bare_ratio(span: Span) -> Diagnostic {
    Diagnostic::note(
        Code::BarePressure,
        span,
        "the ratio of two pressures typed without gauge or absolute",
    )
    .label("if these are gauge readings, the ratio is wrong")
    .expected("`psia` for absolute pressures, or `absolute(…)` of readings in `psig`")
}

/// A bare pressure multiplied with a flow or volume.
pub(super) fn bare_pressure(operand: &Operand) -> Diagnostic {
    let mut diagnostic = Diagnostic::note(
        Code::BarePressure,
        operand.span,
        format!("{} is a difference", operand.text),
    )
    .label("multiplied with a flow or a volume")
    .expected("if it is a reading or a pressure in itself, its reference");
    for reference in [Reference::Gauge, Reference::Absolute] {
        if let Some(retyped) = operand.retyped(reference) {
            diagnostic = diagnostic.replace(operand.span, retyped);
        }
    }
    diagnostic
}

/// `a / b / c`
pub(super) fn second_solidus(span: Span, texts: &[String; 3]) -> Diagnostic {
    let [a, b, c] = texts;
    Diagnostic::warning(Code::Solidus, span, "two divisions in a row")
        .label(format!("read from left to right: ({a} / {b}) / {c}"))
        .expected("brackets, so that a reader sees it")
        .repair(format!("{a} / ({b} * {c})"))
        .repair(format!("{a} / ({b} / {c})"))
}

/// `x^(2 m)`
pub(super) fn exponent_with_unit(operand: &Operand) -> Diagnostic {
    operand
        .with_value(Diagnostic::error(
            Code::Dimension,
            operand.span,
            "an exponent with a unit",
        ))
        .label(format!("{{0}} is {}", operand.noun))
        .expected("a plain number")
}

/// A power of something with a unit must be known while checking.
pub(super) fn power_must_be_written(span: Span, base: &Operand) -> Diagnostic {
    Diagnostic::error(
        Code::Dimension,
        span,
        format!("an uncertain power of {}", base.noun),
    )
    .label(format!(
        "`{}` has a unit, so its power must be written as a number",
        base.text
    ))
    .expected("a whole number, or a half, a third or a quarter; or a plain number as the base")
    .repair(format!("({} / (1 {}))^n", base.text, base.unit))
}

/// A plain number was expected.
pub(super) fn not_plain(operand: &Operand, expected: &str) -> Diagnostic {
    operand
        .with_value(Diagnostic::error(
            Code::Dimension,
            operand.span,
            format!("{} where a plain number was expected", operand.noun),
        ))
        .label(format!("{{0}} is {}", operand.noun))
        .expected(expected)
}

/// An angle was expected.
pub(super) fn not_an_angle(operand: &Operand) -> Diagnostic {
    operand
        .with_value(Diagnostic::error(
            Code::Dimension,
            operand.span,
            format!("{} where an angle was expected", operand.noun),
        ))
        .label("{0}")
        .expected("an angle, such as `30 deg` or `0.5 rad`")
}

/// `abs` of a reading.
pub(super) fn abs_of_point(operand: &Operand) -> Diagnostic {
    Diagnostic::error(
        Code::Point,
        operand.span,
        format!("`abs` of {}", operand.noun),
    )
    .label("without its sign, or counted from empty space?")
    .expected("one of the two")
    .repair_with(
        format!("absolute({})", operand.text),
        "counted from true zero",
    )
    .repair_with(
        format!("abs(overpressure({}))", operand.text),
        "the size of the reading",
    )
}

/// Rounding of something with a unit.
pub(super) fn needs_step(operand: &Operand, unit: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Step,
        operand.span,
        format!("{} rounded without a step", operand.noun),
    )
    .label("to a multiple of what?")
    .expected("a step behind it")
    .repair(format!("{}, 1 {unit}", operand.text))
}

/// A conversion of something it does not take.
pub(super) fn conversion_of(operand: &Operand, function: &str, takes: &str) -> Diagnostic {
    let mut diagnostic = operand
        .with_value(Diagnostic::error(
            Code::Reference,
            operand.span,
            format!("`{function}` of {}", operand.noun),
        ))
        .label(format!("{{0}} is {}", operand.noun))
        .expected(takes);
    let wanted = match function {
        "absolute" | "overpressure" => Some(Reference::Gauge),
        "gauge" => Some(Reference::Absolute),
        _ => None,
    };
    if let Some(retyped) = wanted.and_then(|wanted| operand.retyped(wanted)) {
        diagnostic = diagnostic.replace(operand.span, retyped);
    }
    diagnostic
}

/// A conversion of air that needs the state it is in.
pub(super) fn state_not_given(span: Span, function: &str, text: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Argument,
        span,
        format!("`{function}` of line air needs its pressure and temperature"),
    )
    .label("air in a line is described by both")
    .repair(format!(
        "{function}({text}, pressure: 90 psig, temperature: 80 °F)"
    ))
}

/// A conversion of a flow that does not say what it is.
pub(super) fn state_of_open(operand: &Operand, function: &str) -> Diagnostic {
    let mut diagnostic = Diagnostic::error(
        Code::Reference,
        operand.span,
        format!("`{function}` of {}", operand.noun),
    )
    .label(format!("`{}`", operand.text))
    .expected("a flow or volume that says which air it is");
    for reference in [Reference::Standard, Reference::Normal, Reference::Actual] {
        if let Some(retyped) = operand.retyped(reference) {
            diagnostic = diagnostic.replace(operand.span, retyped);
        }
    }
    if operand.reference == Some(Reference::Room) {
        diagnostic = diagnostic.repair_with(
            format!("free_volume({}, start, stop)", operand.text),
            "the free air it gives",
        );
    }
    diagnostic
}

/// A text or a switch where a unit was told.
pub(super) fn not_a_quantity(span: Span, noun: &str, target: &Target, unit: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Kind,
        span,
        target.clause(noun, &format!("a value in {unit}"), unit),
    )
    .label(noun)
    .expected(format!("a number, with a unit such as {unit}"))
}

/// A local `solve` without a range.
pub(super) fn root_needs_range(span: Span, name: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Range,
        span,
        format!("where to look for {name} is not said"),
    )
    .expected("a range")
    .repair(format!(
        "solve {name} [psig] for … = … from 10 psig to 150 psig"
    ))
}

/// Local cells that need each other.
pub(super) fn local_cycle(span: Span, name: &str) -> Diagnostic {
    Diagnostic::error(Code::Cycle, span, format!("{name} needs itself"))
        .label("the lines of this body go round in a circle")
        .expected("`solve` for a value that depends on itself")
}

/// A number that cannot be held.
pub(super) fn number_out_of_range(span: Span, text: &str) -> Diagnostic {
    Diagnostic::error(Code::Range, span, "a number too large or too small to hold")
        .label(format!("`{text}`"))
        .expected("a size between 1e-300 and 1e300")
}

/// A unit behind the column and at an item too.
pub(super) fn unit_twice(span: Span, text: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Bracket,
        span,
        "an item of a column whose unit stands behind the column",
    )
    .label(format!("`{text}`"))
    .expected("plain numbers inside, or a unit at every item and none behind")
}

/// `{}`
pub(super) fn empty_column(span: Span) -> Diagnostic {
    Diagnostic::error(Code::Kind, span, "a column without items").expected("at least one value")
}

/// A column as an item of a column.
pub(super) fn column_in_column(span: Span) -> Diagnostic {
    Diagnostic::error(Code::Kind, span, "a column as an item of a column").expected("single values")
}

/// `±` in a body.
pub(super) fn plus_minus_in_body(span: Span) -> Diagnostic {
    Diagnostic::error(Code::PlusMinus, span, "a ± in the body of a formula")
        .label("it would be a new doubt at every call")
        .expected("a parameter's default, or a cell given to the formula")
}

/// `100 psig ± 1 %`
pub(super) fn relative_point(span: Span, operand: &Operand, amount: &str) -> Diagnostic {
    let step = operand
        .reference
        .and_then(|reference| {
            operand
                .respelled
                .iter()
                .find(|(one, _)| *one == reference.step())
        })
        .map_or_else(|| operand.unit.clone(), |(_, unit)| unit.clone());
    let number = operand.text.split_whitespace().next().unwrap_or("100");
    Diagnostic::error(
        Code::Relative,
        span,
        format!("a relative ± on {}", operand.noun),
    )
    .label("a share of what? A reading has no size of its own")
    .expected("an amount, or a share of a span")
    .repair_with(format!("{} ± 1 {step}", operand.text), "an amount")
    .repair_with(
        format!("{} ± {amount} of {number} {step}", operand.text),
        "a share of this span",
    )
}

/// `12 % ± 2 %`
pub(super) fn relative_percent(span: Span, value: &str, amount: &str) -> Diagnostic {
    let points = amount.replace('%', "pp");
    Diagnostic::error(
        Code::Relative,
        span,
        "a percentage behind the ± of a percentage",
    )
    .label(format!("{amount} of {value}, or percentage points?"))
    .expected("one of the two")
    .repair_with(format!("{value} ± {points}"), "percentage points")
    .repair_with(
        format!("{value} ± {amount} of {value}"),
        "a share of the value",
    )
}

/// `140 ± 1 %`
pub(super) fn relative_bare(span: Span, value: &str, amount: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Relative,
        span,
        "a percentage behind the ± of a number without a unit",
    )
    .label("is the value a percentage too, or the ± a share of it?")
    .expected("one of the two")
    .repair_with(
        format!("{value} % ± {}", amount.replace('%', "pp")),
        "both percentages",
    )
    .repair_with(
        format!("{value} ± {amount} of {value}"),
        "a share of the value",
    )
}

/// A tag with a value that means nothing.
pub(super) fn tag_value(span: Span, what: &str, expected: &str) -> Diagnostic {
    Diagnostic::error(
        Code::PlusMinus,
        span,
        format!("{what} of this ± means nothing"),
    )
    .expected(format!("a number {expected}"))
}

/// A unit with too many words or too high a power.
pub(super) fn unit_too_large(span: Span) -> Diagnostic {
    Diagnostic::error(
        Code::Dimension,
        span,
        "a unit with too many words or too high a power",
    )
    .label("no quantity of a shop has it")
    .expected("fewer factors, or steps in cells of their own with a head")
}

/// A cell that replaces a default of the handbook with something of another kind.
pub(super) fn default_of_other_kind(name: &str, operand: &Operand, model: &Operand) -> Diagnostic {
    operand
        .with_value(Diagnostic::error(
            Code::Dimension,
            operand.span,
            format!("{} as the handbook's `{name}`", operand.noun),
        ))
        .label(format!("{{0}} is {}", operand.noun))
        .expected(format!(
            "{}, as formulas of the handbook count on it; or another name",
            model.noun
        ))
        .repair(format!("my_{name} = {}", operand.text))
}

/// A cell that replaces a default of the handbook but counts from another reference.
pub(super) fn default_of_other_reference(
    name: &str,
    operand: &Operand,
    wanted: Reference,
) -> Diagnostic {
    let barometer = name == "atmosphere";
    let mut diagnostic = operand
        .with_value(Diagnostic::error(
            Code::Reference,
            operand.span,
            format!("{} as the handbook's `{name}`", operand.noun),
        ))
        .label(if operand.is_literal() { operand.noun.clone() } else { format!("{{0}} is {}", operand.noun) })
        .expected(if barometer {
            "an absolute pressure, measured at the shop: weather reports give it reduced to sea level, \
             which is too high by 1 inHg for each 1000 ft"
                .to_owned()
        } else {
            format!("{}, as formulas of the handbook count on it", wanted.row().noun)
        });
    if let Some(retyped) = operand.retyped(wanted) {
        diagnostic = diagnostic.replace(operand.span, retyped);
    }
    if let Some(call) = converted(operand, wanted) {
        diagnostic = diagnostic.replace(operand.span, call);
    }
    if barometer {
        diagnostic =
            diagnostic.repair_with("altitude_pressure(5280 ft)", "from the height of the shop");
    }
    diagnostic
}

/// A value of another kind for an overridden cell.
pub(super) fn override_of_other_shape(span: Span, is: &str, wanted: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Kind,
        span,
        format!("{is} for a cell that holds {wanted}"),
    )
    .expected(format!(
        "{wanted}: only the value changes, not what the cell is"
    ))
}

/// A text or a column sought or swept.
pub(super) fn not_sought(span: Span, noun: &str) -> Diagnostic {
    Diagnostic::error(
        Code::Kind,
        span,
        format!("{noun} cannot be sought or stepped through"),
    )
    .expected("a cell with one number")
}

/// A column among what a sweep shows.
pub(super) fn column_swept(span: Span, text: &str) -> Diagnostic {
    Diagnostic::error(Code::Kind, span, "a column in a sweep")
        .label(format!("`{text}` has many rows at every point"))
        .expected("one value a point")
        .repair(format!("max({text})"))
}
