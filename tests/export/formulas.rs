//! Every formula of the handbook at random arguments around those of its example: the runner on
//! doubles against the one on decimals, and against the script that a page runs, within 1e-12.

use super::script::run;
use gaugebook::check::{CellId, Kind};
use gaugebook::exact::{self, Axis, Stream, Value, World};
use gaugebook::lanes::{self, Scratch, Uniform};
use gaugebook::library::{CHAPTERS, EntryKind, Library};
use gaugebook::notebook::{CellState, NoFiles, Notebook};
use gaugebook::number::Number;
use gaugebook::plan::{self, Plan, SubPlan};
use gaugebook::source::Document;
use gaugebook::syntax::{Argument, Expr, ExprKind, StatementKind, parse_entry};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::rc::Rc;

const POINTS: usize = 24;

/// A call of a formula with its arguments as cells.
struct Call {
    formula: String,
    arguments: Vec<String>,
}

/// A chapter with one call of each of its formulas behind it, its arguments those of its first
/// example; and the formulas without one. Examples may name the chapter's own cells.
fn chapter_of_calls(number: usize) -> (Notebook, Vec<Call>, Vec<String>) {
    let library = Library::new();
    let chapter = &CHAPTERS[number];
    let mut text = format!("{}\n```gaugebook\n", chapter.text);
    let mut calls = Vec::new();
    let mut without = Vec::new();
    let formulas = library
        .entries()
        .iter()
        .filter(|entry| entry.kind == EntryKind::Formula);
    for entry in formulas.filter(|entry| entry.chapter == number) {
        let found = library
            .examples(entry)
            .into_iter()
            .find_map(|example| call_of(example, entry.name));
        let Some((arguments, line)) = found else {
            without.push(entry.name.to_owned());
            continue;
        };
        let mut names = Vec::new();
        for (number, argument) in arguments.iter().enumerate() {
            let name = format!("a_{}_{number}", entry.name);
            writeln!(text, "{name} = {argument}").expect("text grows");
            names.push(name);
        }
        writeln!(text, "r_{} = {line}", entry.name).expect("text grows");
        calls.push(Call {
            formula: entry.name.to_owned(),
            arguments: names,
        });
    }
    text.push_str("```\n");
    let notebook = Notebook::open(
        chapter.path,
        Document::new(text),
        &NoFiles,
        Rc::new(Library::new()),
    );
    (notebook, calls, without)
}

/// The arguments of a call of this formula in an example, and the call with names in their place.
fn call_of(example: &str, formula: &str) -> Option<(Vec<String>, String)> {
    let statement = parse_entry(example);
    let StatementKind::Example(tree) = &statement.kind else {
        return None;
    };
    let arguments = called(&tree.subject, formula)?;
    let texts = arguments
        .iter()
        .map(|argument| argument.value.span.of(example).to_owned())
        .collect();
    let named = arguments.iter().enumerate().map(|(number, argument)| {
        let own = format!("a_{formula}_{number}");
        match &argument.name {
            Some(name) => format!("{}: {own}", name.text),
            None => own,
        }
    });
    let line = format!("{formula}({})", named.collect::<Vec<_>>().join(", "));
    Some((texts, line))
}

/// The arguments of the first call of a formula, wherever it stands.
fn called<'e>(expr: &'e Expr, formula: &str) -> Option<&'e [Argument]> {
    match &expr.kind {
        ExprKind::Call(name, arguments) if &*name.text == formula => Some(arguments),
        ExprKind::Call(_, arguments) => {
            arguments.iter().find_map(|one| called(&one.value, formula))
        }
        ExprKind::In(inner, _) | ExprKind::Bracketed(inner) => called(inner, formula),
        ExprKind::Binary(_, left, right) => {
            called(left, formula).or_else(|| called(right, formula))
        }
        _ => None,
    }
}

fn uniform(value: &Value) -> Uniform {
    match value {
        Value::Number(number) => Uniform::Number(number.to_f64()),
        Value::Uncertain(uncertain) => Uniform::Number(uncertain.value.to_f64()),
        Value::Switch(on) => Uniform::Number(f64::from(u8::from(*on))),
        Value::Text(text) => Uniform::Text(text.clone()),
        Value::Column(items) if items.iter().any(|item| matches!(item, Value::Text(_))) => {
            Uniform::Texts(
                items
                    .iter()
                    .map(|item| match item {
                        Value::Text(text) => text.clone(),
                        _ => "".into(),
                    })
                    .collect(),
            )
        }
        Value::Column(items) => Uniform::Numbers(
            items
                .iter()
                .map(|item| item.number().map_or(f64::NAN, |number| number.to_f64()))
                .collect(),
        ),
        _ => Uniform::None,
    }
}

/// Numbers between 0 and 1, the same in every run.
struct Random(u64);

impl Random {
    fn next(&mut self) -> f64 {
        // Knuth's constants of a linear congruence, the upper bits.
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1u64 << 53) as f64
    }
}

#[test]
fn every_formula_of_the_handbook_gives_the_same_as_a_script() {
    let mut compared = 0;
    for number in 0..CHAPTERS.len() {
        compared += compare_chapter(number);
    }
    assert!(compared > 6000, "{compared} points");
}

/// Values of the arguments around those of the example, which is the first point.
fn points(varied: &[(CellId, f64)], random: &mut Random) -> Vec<Vec<f64>> {
    let points = (0..POINTS).map(|point| {
        let values = varied.iter().map(|(_, value)| match point {
            0 => *value,
            // Counts stay whole.
            _ if value.fract() == 0.0 && value.abs() <= 12.0 => {
                (value + (random.next() * 3.0).floor()).max(1.0)
            }
            _ => value * (0.6 + random.next()),
        });
        values.collect()
    });
    points.collect()
}

#[test]
fn every_formula_of_the_handbook_gives_the_same_in_decimals_and_on_lanes() {
    let mut compared = 0;
    let mut wrong = Vec::new();
    for number in 0..CHAPTERS.len() {
        let (notebook, calls, _) = chapter_of_calls(number);
        let mut random = Random(11);
        for call in &calls {
            let result = notebook.find(&format!("r_{}", call.formula));
            let result = result.expect("named");
            let varied = varied(&notebook, call);
            let cells: Vec<CellId> = varied.iter().map(|(cell, _)| *cell).collect();
            let plan = notebook.cell(result).plan.clone().expect("a plan");
            let joined = plan::join(&cells, &[], &[&plan]);
            let program = lanes::build(&joined, &|cell| uniform(notebook.value(cell)), false);
            // What lanes cannot run is worked out in decimals only.
            let Ok(program) = program else { continue };
            let mut scratch = Scratch::default();
            for values in points(&varied, &mut random) {
                let Some(wanted) = in_decimals(&notebook, call, &values) else {
                    continue;
                };
                compared += 1;
                let found = program.at(&values, &mut scratch);
                let apart = (found - wanted).abs();
                if apart.is_nan() || apart > 1e-12 * wanted.abs().max(1e-280) {
                    let name = &call.formula;
                    wrong.push(format!("{name}{values:?}: {found:e}, not {wanted:e}"));
                }
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} differ:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    assert!(compared > 6000, "{compared} points");
}

/// Compares every formula of a chapter; gives at how many points.
fn compare_chapter(number: usize) -> usize {
    let (notebook, calls, without) = chapter_of_calls(number);
    assert!(
        without.is_empty(),
        "formulas without an example: {without:?}"
    );
    let mut random = Random(7);
    let mut script = String::from("const out=[];\n");
    // Formula, arguments, and what is expected: nothing but a failure where that is no number.
    let mut expected: Vec<(&str, Vec<f64>, f64)> = Vec::new();
    let mut only_exact = Vec::new();
    for call in &calls {
        let result = notebook
            .find(&format!("r_{}", call.formula))
            .expect("named");
        let messages = notebook.messages(result);
        assert_eq!(
            notebook.cell(result).state,
            CellState::Ok,
            "{}: {messages:?}",
            call.formula
        );
        let varied = varied(&notebook, call);
        let cells: Vec<CellId> = varied.iter().map(|(cell, _)| *cell).collect();
        let plan = notebook.cell(result).plan.clone().expect("a plan");
        let joined = plan::join(&cells, &[], &[&plan]);
        let program = lanes::build(&joined, &|cell| uniform(notebook.value(cell)), false);
        let Ok(program) = program else {
            // Questions about an uncertainty, texts and columns: the decimal runner's answer.
            write_call(&mut script, &notebook, &call.formula, &[], &[]);
            only_exact.push(call.formula.as_str());
            let wanted = match uniform(notebook.value(result)) {
                Uniform::Number(number) => number,
                Uniform::Numbers(numbers) => numbers.iter().sum(),
                // A text counts as the sum of its characters.
                Uniform::Text(text) => text.bytes().map(f64::from).sum(),
                other => panic!("{}: {other:?}", call.formula),
            };
            expected.push((&call.formula, Vec::new(), wanted));
            continue;
        };
        let mut scratch = Scratch::default();
        for values in points(&varied, &mut random) {
            write_call(&mut script, &notebook, &call.formula, &cells, &values);
            let wanted = program.at(&values, &mut scratch);
            expected.push((&call.formula, values, wanted));
        }
    }
    script.push_str("return JSON.stringify(out);");
    let answers: Vec<serde_json::Value> =
        serde_json::from_str(&run(&notebook, &script)).expect("a list");
    assert_eq!(answers.len(), expected.len());
    let mut wrong = Vec::new();
    let mut compared: BTreeMap<&str, usize> = BTreeMap::new();
    for ((formula, values, wanted), answer) in expected.iter().zip(&answers) {
        match answer.as_f64() {
            None if !wanted.is_finite() => {}
            Some(found) if wanted.is_finite() => {
                if (found - wanted).abs() > 1e-12 * wanted.abs().max(1e-280) {
                    wrong.push(format!("{formula}{values:?}: {found:e}, not {wanted:e}"));
                }
                *compared.entry(formula).or_default() += 1;
            }
            // A minimum or maximum beside a value that does not exist passes for a value on lanes.
            None if !exists(&notebook, &calls, formula, values) => {}
            _ => wrong.push(format!("{formula}{values:?}: {answer}, not {wanted:e}")),
        }
    }
    let chapter = CHAPTERS[number].path;
    assert!(
        wrong.is_empty(),
        "{chapter}: {} differ:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    let rare: Vec<&str> = calls
        .iter()
        .map(|call| call.formula.as_str())
        .filter(|formula| {
            let least = if only_exact.contains(formula) {
                1
            } else {
                POINTS / 4
            };
            compared.get(formula).copied().unwrap_or(0) < least
        })
        .collect();
    assert!(
        rare.is_empty(),
        "{chapter}: too few points with a value: {rare:?}"
    );
    compared.values().sum()
}

/// Whether the decimal runner has a value there.
fn exists(notebook: &Notebook, calls: &[Call], formula: &str, values: &[f64]) -> bool {
    let call = calls
        .iter()
        .find(|call| call.formula == formula)
        .expect("called");
    in_decimals(notebook, call, values).is_some()
}

/// What the decimal runner gives there.
fn in_decimals(notebook: &Notebook, call: &Call, values: &[f64]) -> Option<f64> {
    let formula = &call.formula;
    let mut over: BTreeMap<CellId, Value> = BTreeMap::new();
    for ((cell, _), value) in varied(notebook, call).into_iter().zip(values) {
        let number = Number::from_f64(*value).expect("a number");
        over.insert(cell, Value::Number(number));
    }
    let result = notebook.find(&format!("r_{formula}")).expect("named");
    let plan = notebook.cell(result).plan.clone().expect("a plan");
    let world = Others { notebook, over };
    let mut sources = notebook.sources().clone();
    let value = exact::run(&plan, &world, &mut sources).value;
    value.number().map(|number| number.to_f64())
}

/// The cells of a notebook with other values of some.
struct Others<'n> {
    notebook: &'n Notebook,
    over: BTreeMap<CellId, Value>,
}

impl World for Others<'_> {
    fn value(&self, cell: CellId) -> Value {
        let other = self.over.get(&cell);
        other.unwrap_or_else(|| self.notebook.value(cell)).clone()
    }

    fn plan(&self, cell: CellId) -> Option<Rc<Plan>> {
        self.notebook.cell(cell).plan.clone()
    }

    fn cone(&self, changed: &[CellId], wanted: &[CellId]) -> Rc<[CellId]> {
        self.notebook.cone(changed, wanted)
    }

    fn stream(&self, _: &[(CellId, Axis)], _: &[&SubPlan], _: &[Value]) -> Option<Rc<dyn Stream>> {
        None
    }
}

/// The arguments of a call that are single numbers, with the values of the example.
fn varied(notebook: &Notebook, call: &Call) -> Vec<(CellId, f64)> {
    let arguments = call.arguments.iter().filter_map(|name| {
        let cell = notebook.find(name)?;
        let ty = notebook.cell(cell).ty.as_deref()?;
        let single = matches!(ty.kind, Kind::Quantity(_)) && !ty.column;
        let number = notebook.value(cell).number()?;
        single.then(|| (cell, number.to_f64()))
    });
    arguments.collect()
}

/// Writes a call with other values of some cells into a script.
fn write_call(
    script: &mut String,
    notebook: &Notebook,
    formula: &str,
    cells: &[CellId],
    values: &[f64],
) {
    let overrides: Vec<String> = cells
        .iter()
        .zip(values)
        .map(|(cell, value)| {
            let name = &notebook.cell(*cell).name;
            format!("[names.indexOf({name:?}),{value:?}]")
        })
        .collect();
    writeln!(
        script,
        "{{const o=new Map([{}]),w=c=>o.has(c)?o.get(c):values[c];\
         const r=cells[names.indexOf(\"r_{formula}\")](w)[0];\
         const one=x=>typeof x===\"string\"?[...x].reduce((s,c)=>s+c.charCodeAt(0),0):holdsOf(x)!==undefined?Number(holdsOf(x)):numberOf(x)??NaN;\
         const n=Array.isArray(r)?r.map(one).reduce((a,b)=>a+b,0):one(r);\
         out.push(n===n?n:'no '+r.why);}}",
        overrides.join(",")
    )
    .expect("text grows");
}
