//! Every formula of the handbook, written out as a script and run in a JavaScript engine, against
//! the program's own runner on doubles: random arguments around those of its example, within 1e-12.

use super::script::{open, run};
use gaugebook::check::{CellId, Kind};
use gaugebook::exact::Value;
use gaugebook::lanes::{self, Scratch, Uniform};
use gaugebook::library::{EntryKind, Library};
use gaugebook::notebook::{CellState, Notebook};
use gaugebook::plan;
use gaugebook::syntax::{Argument, Expr, ExprKind, StatementKind, parse_entry};
use std::fmt::Write as _;

const POINTS: usize = 40;

/// A call of a formula with its arguments as cells.
struct Call {
    formula: String,
    arguments: Vec<String>,
}

/// A notebook with one call of each formula, its arguments those of its first example.
fn notebook_of_calls() -> (Notebook, Vec<Call>, Vec<String>) {
    let library = Library::new();
    let mut text = String::from("```gaugebook\n");
    let mut calls = Vec::new();
    let mut without = Vec::new();
    for entry in library
        .entries()
        .iter()
        .filter(|entry| entry.kind == EntryKind::Formula)
    {
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
    (open(&text), calls, without)
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
    let (notebook, calls, without) = notebook_of_calls();
    assert!(
        without.is_empty(),
        "formulas without an example: {without:?}"
    );
    let mut random = Random(7);
    let mut script = String::from("const out=[];\n");
    let mut expected: Vec<(String, Vec<f64>, Vec<f64>)> = Vec::new();
    let mut left: Vec<String> = Vec::new();
    for call in &calls {
        let result = notebook
            .find(&format!("r_{}", call.formula))
            .expect("named");
        assert_eq!(
            notebook.cell(result).state,
            CellState::Ok,
            "{}: {:?}",
            call.formula,
            notebook.messages(result)
        );
        let varied: Vec<(CellId, f64)> = call
            .arguments
            .iter()
            .filter_map(|name| {
                let cell = notebook.find(name)?;
                let ty = notebook.cell(cell).ty.as_deref()?;
                let scalar = matches!(ty.kind, Kind::Quantity(_)) && !ty.column;
                scalar.then(|| Some((cell, notebook.value(cell).number()?.to_f64())))?
            })
            .collect();
        let cells: Vec<CellId> = varied.iter().map(|(cell, _)| *cell).collect();
        let plan = notebook.cell(result).plan.clone().expect("a plan");
        let joined = plan::join(&cells, &[], &[&plan]);
        let program = lanes::build(&joined, &|cell| uniform(notebook.value(cell)), false);
        let Ok(program) = program else {
            left.push(call.formula.clone());
            continue;
        };
        let mut scratch = Scratch::default();
        for point in 0..POINTS {
            // The first point is the example itself; whole numbers stay whole.
            let values: Vec<f64> = varied
                .iter()
                .map(|(_, value)| match point {
                    0 => *value,
                    _ if value.fract() == 0.0 && value.abs() <= 12.0 => {
                        (value + (random.next() * 3.0).floor()).max(1.0)
                    }
                    _ => value * (0.6 + random.next()),
                })
                .collect();
            let wanted = program.at(&values, &mut scratch);
            let overrides: Vec<String> = call
                .arguments
                .iter()
                .zip(std::iter::repeat(()))
                .filter_map(|(name, ())| notebook.find(name))
                .filter_map(|cell| {
                    let at = cells.iter().position(|one| *one == cell)?;
                    let name = &notebook.cell(cell).name;
                    Some(format!("[names.indexOf(\"{name}\"),{:?}]", values[at]))
                })
                .collect();
            writeln!(
                script,
                "{{const o=new Map([{}]),w=c=>o.has(c)?o.get(c):values[c];\
                 const r=cells[names.indexOf(\"r_{}\")](w)[0];\
                 out.push(holdsOf(r)!==undefined?Number(holdsOf(r)):numberOf(r)??('no '+r.why));}}",
                overrides.join(","),
                call.formula
            )
            .expect("text grows");
            expected.push((call.formula.clone(), values, vec![wanted]));
        }
    }
    script.push_str("return JSON.stringify(out);");
    let answers: Vec<serde_json::Value> =
        serde_json::from_str(&run(&notebook, &script)).expect("a list");
    assert_eq!(answers.len(), expected.len());
    let mut wrong = Vec::new();
    let mut compared: std::collections::BTreeMap<&str, usize> = Default::default();
    for ((formula, values, wanted), answer) in expected.iter().zip(&answers) {
        let wanted = wanted[0];
        match answer.as_f64() {
            None if !wanted.is_finite() => {}
            Some(found) if wanted.is_finite() => {
                let near = (found - wanted).abs() <= 1e-12 * wanted.abs().max(1e-280);
                if !near {
                    wrong.push(format!("{formula}{values:?}: {found:e}, not {wanted:e}"));
                }
                *compared.entry(formula).or_default() += 1;
            }
            _ => wrong.push(format!("{formula}{values:?}: {answer}, not {wanted:e}")),
        }
    }
    assert!(
        wrong.is_empty(),
        "{} differ:\n{}",
        wrong.len(),
        wrong.join("\n")
    );
    let rare: Vec<_> = calls
        .iter()
        .map(|call| call.formula.as_str())
        .filter(|formula| !left.iter().any(|one| one == formula))
        .filter(|formula| compared.get(formula).copied().unwrap_or(0) < POINTS / 4)
        .collect();
    assert!(rare.is_empty(), "too few points with a value: {rare:?}");
    assert!(left.is_empty(), "not on lanes: {left:?}");
}
