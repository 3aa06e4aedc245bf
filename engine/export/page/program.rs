//! Plans written out as a script: one straight line of steps for each cell, a function of the
//! world around it. What the steps do is in the operation table; what runs around them, in the
//! script files beside this one.

use super::field::step_of;
use super::literal;
use crate::check::{Binary, CellId, Description, MeaningKind, Place, Reduction, Unary};
use crate::notebook::{Notebook, StatementId};
use crate::number::{Factor, Number, Rational};
use crate::plan::operation::{BINARIES, BinaryId, UNARIES, UnaryId};
use crate::plan::{AxisValues, Constant, Operation, Plan, Register, SubPlan};
use crate::syntax::Comparison;
use indexmap::IndexSet;
use rustc_hash::FxHashMap;

/// Why a plan cannot be written out.
pub type Unwritable = &'static str;

/// A number too large for a double, or one that is none.
const NO_DOUBLE: Unwritable = "a number in it is beyond what a browser can hold";
/// A sweep too long to be kept.
const TOO_MANY_POINTS: Unwritable = "it has more points than a page works out";

/// Sources of one place have numbers of their own, one an element.
const ELEMENTS: usize = 1_000_000;

/// The functions of the operation table, as the script calls them.
pub fn operations() -> String {
    let mut script = String::new();
    for row in UNARIES {
        let name = function_name(&format!("{:?}", row.function));
        let line = format!(
            "const {name}=ofOne(x=>{},(x,y)=>{});\n",
            row.script, row.slope
        );
        script.push_str(&line);
    }
    for row in BINARIES {
        let name = function_name(&format!("{:?}", row.function));
        let [first, second] = row.slopes;
        let divides = name == "divide";
        let line = format!(
            "const {name}=ofTwo((x,y)=>{},(x,y,z)=>[{first},{second}],{divides});\n",
            row.script
        );
        script.push_str(&line);
    }
    script
}

/// `SquareRoot` as `squareRoot`.
fn function_name(variant: &str) -> String {
    let mut letters = variant.chars();
    match letters.next() {
        Some(first) => first.to_lowercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// Writes the plans of one notebook.
pub struct ProgramWriter<'n> {
    notebook: &'n Notebook,
    /// The number of each cell that is written.
    cells: IndexSet<CellId>,
    /// The texts that messages name: places, limits, cautions, formulas.
    texts: IndexSet<String>,
    places: IndexSet<Place>,
    /// What stands for a literal: the field that holds it.
    fields: FxHashMap<Place, usize>,
}

impl<'n> ProgramWriter<'n> {
    /// A writer for these cells, in the order of need. A literal at a place in `fields` is read
    /// from that field.
    pub fn new(
        notebook: &'n Notebook,
        cells: impl IntoIterator<Item = CellId>,
        fields: FxHashMap<Place, usize>,
    ) -> ProgramWriter<'n> {
        ProgramWriter {
            notebook,
            cells: cells.into_iter().collect(),
            // Number 0 is no text.
            texts: std::iter::once(String::new()).collect(),
            places: IndexSet::new(),
            fields,
        }
    }

    /// The cells, in the order of their numbers.
    pub fn cells(&self) -> impl Iterator<Item = CellId> + '_ {
        self.cells.iter().copied()
    }

    /// The number of a cell.
    pub fn number(&self, cell: CellId) -> Option<usize> {
        self.cells.get_index_of(&cell)
    }

    /// The number of a text that the script can say.
    pub fn text(&mut self, text: &str) -> usize {
        match self.texts.get_index_of(text) {
            Some(index) => index,
            None => self.texts.insert_full(text.to_owned()).0,
        }
    }

    /// All texts as a list.
    pub fn texts(&self) -> String {
        literal::list(self.texts.iter().map(|text| literal::text(text)))
    }

    /// The number that the sources of a place begin at.
    pub fn source(&mut self, place: Place) -> usize {
        (self.places.insert_full(place).0 + 1) * ELEMENTS
    }

    /// The function of a cell: its value, its limits, its cautions.
    ///
    /// # Errors
    /// Why it cannot be written; `null` stands for a cell without a plan.
    pub fn cell(&mut self, cell: CellId) -> Result<String, Unwritable> {
        let record = self.notebook.cell(cell);
        let Some(plan) = record.plan.clone() else {
            return Ok("null".to_owned());
        };
        if has_stream(self.notebook, cell) {
            return Err(TOO_MANY_POINTS);
        }
        self.plan(&plan, record.statement)
    }

    /// The function of a plan whose places point into a statement.
    ///
    /// # Errors
    /// As [`ProgramWriter::cell`].
    pub fn plan(&mut self, plan: &Plan, statement: StatementId) -> Result<String, Unwritable> {
        let record = self.notebook.statement(statement);
        let base = match record.edited {
            Some(_) => 0,
            None => record.span.start,
        };
        let around = Around {
            statement,
            base,
            text: self.notebook.text_of(statement),
        };
        self.function(plan, around)
    }

    /// The function of a plan that stands in no statement; its places point into `text`.
    ///
    /// # Errors
    /// As [`ProgramWriter::cell`].
    pub fn beside(&mut self, plan: &Plan, text: &str) -> Result<String, Unwritable> {
        let around = Around {
            statement: StatementId(u32::MAX),
            base: 0,
            text,
        };
        self.function(plan, around)
    }

    fn function(&mut self, plan: &Plan, around: Around<'_>) -> Result<String, Unwritable> {
        let mut used: Vec<Register> = vec![plan.result];
        used.extend(plan.limits.iter().map(|limit| limit.kept));
        used.extend(plan.cautions.iter().filter_map(|caution| caution.when));
        let mut body = Body::new(self, plan, around, "w", (Vec::new(), 0));
        body.steps(&used)?;
        let result = body.at(plan.result);
        let kept: Vec<String> = plan
            .limits
            .iter()
            .map(|limit| body.at(limit.kept))
            .collect();
        let said: Vec<Option<String>> = plan
            .cautions
            .iter()
            .map(|caution| caution.when.map(|when| body.at(when)))
            .collect();
        let lines = body.finish();
        let limits = kept.into_iter().zip(&plan.limits).map(|(kept, limit)| {
            let (text, formula) = (self.text(&limit.text), self.text(limit.formula.name()));
            format!("[{kept},{text},{formula}]")
        });
        let limits = literal::list(limits.collect::<Vec<_>>());
        let cautions = said.into_iter().zip(&plan.cautions).map(|(when, caution)| {
            let (text, formula) = (self.text(&caution.text), self.text(caution.formula.name()));
            format!(
                "[{},{text},{formula}]",
                when.unwrap_or_else(|| "true".to_owned())
            )
        });
        let cautions = literal::list(cautions.collect::<Vec<_>>());
        Ok(format!(
            "w=>{{{lines}return[{result},{limits},{cautions}]}}"
        ))
    }
}

/// Whether a cell holds more rows than are kept.
fn has_stream(notebook: &Notebook, cell: CellId) -> bool {
    use crate::exact::Value;
    fn streams(value: &Value) -> bool {
        match value {
            Value::Streamed(_) => true,
            Value::Column(items) => items.iter().any(streams),
            _ => false,
        }
    }
    streams(notebook.value(cell))
}

/// The text that places of a plan point into.
#[derive(Clone, Copy)]
struct Around<'w> {
    statement: StatementId,
    /// Where places of the statement are counted from.
    base: u32,
    text: &'w str,
}

/// The steps of one plan.
struct Body<'w, 'n> {
    writer: &'w mut ProgramWriter<'n>,
    plan: &'w Plan,
    /// What places point into.
    around: Around<'w>,
    /// The name of the world that cells are read from.
    world: &'w str,
    /// What the inputs are called.
    inputs: Vec<String>,
    /// What each step so far is called, or is.
    names: Vec<String>,
    /// How many programs stand around this one.
    depth: usize,
    /// What was written already, by its text: the same words give the same value.
    known: FxHashMap<String, String>,
    lines: String,
}

impl<'w, 'n> Body<'w, 'n> {
    fn new(
        writer: &'w mut ProgramWriter<'n>,
        plan: &'w Plan,
        around: Around<'w>,
        world: &'w str,
        (inputs, depth): (Vec<String>, usize),
    ) -> Body<'w, 'n> {
        Body {
            writer,
            plan,
            around,
            world,
            inputs,
            names: Vec::with_capacity(plan.steps.len()),
            depth,
            known: FxHashMap::default(),
            lines: String::new(),
        }
    }

    /// Writes the steps that these rest on.
    fn steps(&mut self, wanted: &[Register]) -> Result<(), Unwritable> {
        let needed = needed(self.plan, wanted, |step| self.field_of(step).is_some());
        for (number, step) in self.plan.steps.iter().enumerate() {
            if !needed[number] {
                self.names.push("null".to_owned());
                continue;
            }
            let written = match self.field_of(number) {
                Some(field) => format!("fields[{field}].value"),
                None => self.operation(&step.operation, step.site)?,
            };
            if is_plain(&step.operation) {
                self.names.push(written);
                continue;
            }
            if let Some(name) = self.known.get(&written) {
                self.names.push(name.clone());
                continue;
            }
            let name = format!("{}{}", letter(self.depth), self.known.len());
            let before = if self.lines.is_empty() { "const " } else { "," };
            self.lines.push_str(&format!("{before}{name}={written}"));
            self.known.insert(written, name.clone());
            self.names.push(name);
        }
        Ok(())
    }

    /// The steps as one declaration.
    fn finish(mut self) -> String {
        if !self.lines.is_empty() {
            self.lines.push(';');
        }
        self.lines
    }

    fn at(&self, register: Register) -> String {
        match self.names.get(register as usize) {
            Some(name) => name.clone(),
            None => "null".to_owned(),
        }
    }

    /// The field whose literal a step gives.
    fn field_of(&self, step: usize) -> Option<usize> {
        let place = step_of(self.plan, step, self.around.statement, self.around.base)?;
        self.writer.fields.get(&place).copied()
    }

    /// The number of the words at a site.
    fn place(&mut self, site: u32) -> usize {
        let words = match self.plan.sites.get(site as usize) {
            Some(site) => match &site.call {
                Some((definition, _)) => definition.snippet(site.span),
                None => site.span.of(self.around.text),
            },
            None => "",
        };
        let words: Vec<&str> = words.split_whitespace().collect();
        let words = words.join(" ");
        self.writer.text(&words)
    }

    fn list(&self, registers: &[Register]) -> String {
        literal::list(registers.iter().map(|register| self.at(*register)))
    }

    fn operation(&mut self, operation: &Operation, site: u32) -> Result<String, Unwritable> {
        // `,12` behind the arguments of what may fail: the number of the words at its place.
        let place = match may_fail(operation) {
            true => format!(",{}", self.place(site)),
            false => String::new(),
        };
        Ok(match operation {
            Operation::Constant(constant) => constant_text(constant)?,
            Operation::Cell(cell) => match self.writer.number(*cell) {
                Some(number) => format!("{}({number})", self.world),
                None => "null".to_owned(),
            },
            Operation::Input(index) => {
                let input = self.inputs.get(*index as usize);
                input.cloned().unwrap_or_else(|| "null".to_owned())
            }
            Operation::Unary(function, x) => {
                format!("{}({}{place})", unary_name(*function), self.at(*x))
            }
            Operation::Binary(function, x, y) => {
                let (x, y) = (self.at(*x), self.at(*y));
                format!("{}({x},{y}{place})", binary_name(*function))
            }
            Operation::WholePower(x, exponent) => {
                format!("wholePower({},{exponent}{place})", self.at(*x))
            }
            Operation::Scale(x, factor) => {
                format!("line({},{})", self.at(*x), factor_text(factor)?)
            }
            Operation::Affine(x, line) => {
                let (factor, offset) = (ratio_text(&line.0)?, ratio_text(&line.1)?);
                format!("line({},{factor},{offset})", self.at(*x))
            }
            Operation::Compare(sign, x, y) => {
                let (x, y) = (self.at(*x), self.at(*y));
                format!(
                    "compare({},{x},{y}{place})",
                    literal::text(sign_text(*sign))
                )
            }
            Operation::Not(x) => format!("not({}{place})", self.at(*x)),
            Operation::And(parts) => format!("every({}{place})", self.list(parts)),
            Operation::Or(parts) => format!("any({}{place})", self.list(parts)),
            Operation::Select(when, then, otherwise) => {
                let parts = [self.at(*when), self.at(*then), self.at(*otherwise)];
                format!("select({}{place})", parts.join(","))
            }
            Operation::Column(items) => self.list(items),
            Operation::Reduce(reduction, x, skip) => {
                let kind = literal::text(reduction_name(*reduction));
                format!("reduce({kind},{},{skip}{place})", self.at(*x))
            }
            Operation::Row(column, keys) => {
                let keys = keys.iter().map(|(head, key)| self.list(&[*head, *key]));
                let keys = literal::list(keys);
                format!("row({},{keys}{place})", self.at(*column))
            }
            Operation::Interpolate(at, points, values) => {
                let parts = [self.at(*at), self.at(*points), self.at(*values)];
                format!("interpolate({}{place})", parts.join(","))
            }
            Operation::Size(above, sizes, wanted) => {
                let (sizes, wanted) = (self.at(*sizes), self.at(*wanted));
                format!("listedSize({above},{sizes},{wanted}{place})")
            }
            Operation::Pick(whole, index) => {
                format!("picked({},{index})", self.at(*whole))
            }
            Operation::Uncertain(uncertain) => {
                let (value, amount) = (self.at(uncertain.value), self.at(uncertain.amount));
                let source = self.writer.source(uncertain.place);
                let meaning = meaning_text(&uncertain.meaning)?;
                let relative = uncertain.relative;
                format!("uncertain({value},{amount},{relative},{meaning},{source}{place})")
            }
            Operation::Readings(column, at, rows) => {
                let (source, rows) = (self.writer.source(*at), self.writer.source(*rows));
                format!("readings({},{source},{rows}{place})", self.at(*column))
            }
            Operation::Describe(what, parts) => {
                let what = literal::text(description_name(*what));
                format!("describe({what},{}{place})", self.list(parts))
            }
            Operation::Root(_)
            | Operation::With(_)
            | Operation::Sought(_)
            | Operation::Sweep(_) => self.with_sub_plan(operation, &place)?,
        })
    }

    /// The operations that hold plans of their own.
    fn with_sub_plan(&mut self, operation: &Operation, place: &str) -> Result<String, Unwritable> {
        match operation {
            Operation::Root(root) => {
                let unknown = format!("x{}", self.depth);
                let mut inputs = vec![unknown.clone()];
                inputs.extend(root.inputs.iter().map(|input| self.at(*input)));
                let world = self.world;
                let body = self.sub_body(&root.plan, world, inputs)?;
                let (from, to) = (self.at(root.from), self.at(root.to));
                Ok(format!("root({from},{to},{unknown}=>{body}{place})"))
            }
            Operation::With(scenario) => {
                let changed: Vec<CellId> =
                    scenario.overrides.iter().map(|(cell, _)| *cell).collect();
                let cone = self.cone(&changed, &scenario.value.plan.cells());
                let overrides = scenario.overrides.iter().map(|(cell, register)| {
                    format!("[{},{}]", self.cell_number(*cell), self.at(*register))
                });
                let overrides = literal::list(overrides);
                let (other, body) = self.over(&scenario.value)?;
                let world = self.world;
                Ok(format!(
                    "({other}=>{body})(overlay({world},{overrides},{cone}))"
                ))
            }
            Operation::Sought(sought) => {
                let cone = self.cone(&[sought.cell], &sought.difference.plan.cells());
                let range = match sought.range {
                    Some((from, to)) => self.list(&[from, to]),
                    None => "null".to_owned(),
                };
                let cell = self.cell_number(sought.cell);
                let (other, body) = self.over(&sought.difference)?;
                let unit = literal::text(&sought.unit);
                let world = self.world;
                Ok(format!(
                    "sought({world},{cell},{cone},{other}=>{body},{range},{unit}{place})"
                ))
            }
            Operation::Sweep(sweep) => {
                let changed: Vec<CellId> = sweep.axes.iter().map(|(cell, _)| *cell).collect();
                let wanted: Vec<CellId> =
                    sweep.show.iter().flat_map(|one| one.plan.cells()).collect();
                let cone = self.cone(&changed, &wanted);
                let axes = sweep.axes.iter().map(|(cell, values)| {
                    let values = match values {
                        AxisValues::Steps(from, to, by) => self.list(&[*from, *to, *by]),
                        AxisValues::Over(column) => self.list(&[*column]),
                    };
                    format!("[{},{values}]", self.cell_number(*cell))
                });
                let axes = literal::list(axes);
                let mut shows = Vec::with_capacity(sweep.show.len());
                for show in &sweep.show {
                    let (other, body) = self.over(show)?;
                    shows.push(format!("{other}=>{body}"));
                }
                let shows = literal::list(shows);
                let world = self.world;
                Ok(format!("sweep({world},{axes},{cone},{shows}{place})"))
            }
            _ => Ok("null".to_owned()),
        }
    }

    /// A sub-plan as the body of a function of another world, and what that world is called.
    fn over(&mut self, sub: &SubPlan) -> Result<(String, String), Unwritable> {
        let other = format!("o{}", self.depth);
        let inputs = sub.inputs.iter().map(|input| self.at(*input)).collect();
        let body = self.sub_body(&sub.plan, &other, inputs)?;
        Ok((other, body))
    }

    fn sub_body(
        &mut self,
        plan: &Plan,
        world: &str,
        inputs: Vec<String>,
    ) -> Result<String, Unwritable> {
        let depth = self.depth + 1;
        let mut body = Body::new(self.writer, plan, self.around, world, (inputs, depth));
        body.steps(&[plan.result])?;
        let result = body.at(plan.result);
        let lines = body.finish();
        Ok(format!("{{{lines}return {result}}}"))
    }

    fn cell_number(&self, cell: CellId) -> String {
        match self.writer.number(cell) {
            Some(number) => number.to_string(),
            None => "-1".to_owned(),
        }
    }

    /// The cells that follow, as a list of their numbers.
    fn cone(&self, changed: &[CellId], wanted: &[CellId]) -> String {
        let cone = self.writer.notebook.cone(changed, wanted);
        literal::list(
            cone.iter()
                .filter_map(|cell| self.writer.number(*cell))
                .map(|number| number.to_string()),
        )
    }
}

/// The letter that the steps of a program begin with: programs within programs see those around.
fn letter(depth: usize) -> String {
    const LETTERS: [&str; 8] = ["r", "a", "b", "c", "d", "e", "f", "g"];
    match LETTERS.get(depth) {
        Some(letter) => (*letter).to_owned(),
        None => format!("q{depth}_"),
    }
}

/// Which steps the wanted ones rest on; a step that a field stands for rests on nothing.
fn needed(plan: &Plan, wanted: &[Register], is_field: impl Fn(usize) -> bool) -> Vec<bool> {
    let mut needed = vec![false; plan.steps.len()];
    for register in wanted {
        if let Some(one) = needed.get_mut(*register as usize) {
            *one = true;
        }
    }
    for number in (0..plan.steps.len()).rev() {
        if !needed[number] || is_field(number) {
            continue;
        }
        for register in plan.steps[number].operation.operands() {
            if let Some(one) = needed.get_mut(register as usize) {
                *one = true;
            }
        }
    }
    needed
}

/// Whether an operation may fail by itself, so that its place is worth saying.
fn may_fail(operation: &Operation) -> bool {
    match operation {
        Operation::Unary(function, _) => {
            !matches!(function.row().function, Unary::Negate | Unary::Magnitude)
        }
        Operation::Binary(function, ..) => !matches!(
            function.row().function,
            Binary::Add | Binary::Subtract | Binary::Multiply | Binary::Minimum | Binary::Maximum
        ),
        Operation::Constant(_)
        | Operation::Cell(_)
        | Operation::Input(_)
        | Operation::Scale(..)
        | Operation::Affine(..)
        | Operation::Not(_)
        | Operation::And(_)
        | Operation::Or(_)
        | Operation::Select(..)
        | Operation::Column(_)
        | Operation::Pick(..) => false,
        _ => true,
    }
}

/// Whether a step is written where it is read instead of having a name.
fn is_plain(operation: &Operation) -> bool {
    matches!(operation, Operation::Constant(_) | Operation::Input(_))
}

fn unary_name(function: UnaryId) -> String {
    function_name(&format!("{:?}", function.row().function))
}

fn binary_name(function: BinaryId) -> String {
    function_name(&format!("{:?}", function.row().function))
}

fn constant_text(constant: &Constant) -> Result<String, Unwritable> {
    match constant {
        Constant::Number(number) => double_text(*number),
        Constant::Text(text) => Ok(literal::text(text)),
        Constant::Switch(on) => Ok(on.to_string()),
        Constant::Gap => Ok("null".to_owned()),
    }
}

fn double_text(number: Number) -> Result<String, Unwritable> {
    literal::number(number.to_f64()).ok_or(NO_DOUBLE)
}

fn factor_text(factor: &Factor) -> Result<String, Unwritable> {
    let number = Number::ONE.scaled(factor).map_err(|_| NO_DOUBLE)?;
    double_text(number)
}

fn ratio_text(ratio: &Rational) -> Result<String, Unwritable> {
    let number = Number::from_rational(ratio).map_err(|_| NO_DOUBLE)?;
    double_text(number)
}

/// How the amount behind `±` is meant, as the script has it.
pub fn meaning_text(meaning: &crate::check::Meaning) -> Result<String, Unwritable> {
    let (kind, level) = match &meaning.kind {
        MeaningKind::Limit => ("limit", None),
        MeaningKind::Step => ("step", None),
        MeaningKind::Triangular => ("triangular", None),
        MeaningKind::UShaped => ("ushaped", None),
        MeaningKind::Coverage(k) => ("coverage", Some(k)),
        MeaningKind::Probability(level) => ("probability", Some(level)),
    };
    let mut text = format!("{{kind:\"{kind}\"");
    if let Some(level) = level {
        text.push_str(&format!(",level:{}", double_text(*level)?));
    }
    if let Some(dof) = &meaning.dof {
        text.push_str(&format!(",dof:{}", double_text(*dof)?));
    }
    text.push('}');
    Ok(text)
}

fn sign_text(sign: Comparison) -> &'static str {
    match sign {
        Comparison::Less => "lt",
        Comparison::LessOrEqual => "le",
        Comparison::Greater => "gt",
        Comparison::GreaterOrEqual => "ge",
        Comparison::Equal => "eq",
        Comparison::Unequal => "ne",
    }
}

fn reduction_name(reduction: Reduction) -> &'static str {
    match reduction {
        Reduction::Minimum => "minimum",
        Reduction::Maximum => "maximum",
        Reduction::Sum => "sum",
        Reduction::Mean => "mean",
        Reduction::Count => "count",
    }
}

fn description_name(what: Description) -> &'static str {
    match what {
        Description::Value => "value",
        Description::Standard => "standard",
        Description::Expanded => "expanded",
        Description::Coverage => "coverage",
        Description::DegreesOfFreedom => "degreesOfFreedom",
        Description::Share => "share",
        Description::Probability => "probability",
        Description::Correlation => "correlation",
        Description::Compatible => "compatible",
    }
}
