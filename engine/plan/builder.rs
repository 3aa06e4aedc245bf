//! From a typed tree to a plan.

use super::{
    AxisValues, Caution, Constant, Limit, Operation, Plan, Register, Root, Scenario, Site, Sought,
    Step, SubPlan, Sweep, Uncertain,
};
use crate::check::{self, CellId, FormulaDefinition, Node, NodeKind, TypedFormula};
use crate::source::Span;
use rustc_hash::FxHashMap;
use std::rc::Rc;
use std::sync::Arc;

/// The program of a typed tree.
pub fn compile(node: &Node) -> Plan {
    let mut builder = Builder::default();
    builder.plan.result = builder.node(node);
    builder.plan
}

/// What a local name stands for.
#[derive(Clone, Copy)]
enum Local {
    /// A step of this plan.
    Here(Register),
    /// A local of the plan around, brought in as an input when it is read.
    Around(usize),
}

#[derive(Default)]
struct Builder {
    plan: Plan,
    locals: Vec<Local>,
    cells: FxHashMap<CellId, Register>,
    /// Locals of the plan around that were read, by their number there, with their input here.
    brought: Vec<(usize, Register)>,
    /// The formula whose body is being written out, and the site of its call.
    call: Option<(Rc<FormulaDefinition>, u32)>,
    /// How many inputs stand before those that are brought in.
    unknowns: u32,
    /// The conditions of the branches around: what is said in a branch counts only if it is taken.
    branches: Vec<(Register, bool)>,
}

impl Builder {
    fn node(&mut self, node: &Node) -> Register {
        match &node.kind {
            NodeKind::Number(number) => {
                self.step(node.span, Operation::Constant(Constant::Number(*number)))
            }
            NodeKind::Text(text) => {
                self.step(node.span, Operation::Constant(Constant::Text(text.clone())))
            }
            NodeKind::Switch(on) => {
                self.step(node.span, Operation::Constant(Constant::Switch(*on)))
            }
            NodeKind::Gap => self.step(node.span, Operation::Constant(Constant::Gap)),
            NodeKind::Cell(cell) => self.cell(*cell, node.span),
            NodeKind::Local(index) => self.local(*index, node.span),
            NodeKind::Unary(function, inner) => {
                let inner = self.node(inner);
                self.step(node.span, Operation::Unary((*function).into(), inner))
            }
            NodeKind::Binary(function, left, right) => {
                let (left, right) = (self.node(left), self.node(right));
                self.step(
                    node.span,
                    Operation::Binary((*function).into(), left, right),
                )
            }
            NodeKind::WholePower(inner, exponent) => {
                let inner = self.node(inner);
                self.step(node.span, Operation::WholePower(inner, *exponent))
            }
            NodeKind::Scale(inner, factor) => {
                let inner = self.node(inner);
                self.step(node.span, Operation::Scale(inner, Arc::new(factor.clone())))
            }
            NodeKind::Affine(inner, factor, offset) => {
                let inner = self.node(inner);
                self.step(
                    node.span,
                    Operation::Affine(inner, Arc::new((factor.clone(), offset.clone()))),
                )
            }
            NodeKind::Compare(sign, left, right) => {
                let (left, right) = (self.node(left), self.node(right));
                self.step(node.span, Operation::Compare(*sign, left, right))
            }
            NodeKind::Not(inner) => {
                let inner = self.node(inner);
                self.step(node.span, Operation::Not(inner))
            }
            NodeKind::And(parts) => {
                let parts = self.nodes(parts);
                self.step(node.span, Operation::And(parts))
            }
            NodeKind::Or(parts) => {
                let parts = self.nodes(parts);
                self.step(node.span, Operation::Or(parts))
            }
            NodeKind::Select(parts) => {
                let [when, then, otherwise] = &**parts;
                let when = self.node(when);
                let then = self.branch(when, true, then);
                let otherwise = self.branch(when, false, otherwise);
                self.step(node.span, Operation::Select(when, then, otherwise))
            }
            NodeKind::Column(items) => {
                let items = self.nodes(items);
                self.step(node.span, Operation::Column(items))
            }
            NodeKind::Reduce(reduction, column, skip) => {
                let column = self.node(column);
                self.step(node.span, Operation::Reduce(*reduction, column, *skip))
            }
            NodeKind::Row { column, keys } => {
                let column = self.node(column);
                let keys = keys
                    .iter()
                    .map(|(head, key)| (self.node(head), self.node(key)))
                    .collect();
                self.step(node.span, Operation::Row(column, keys))
            }
            NodeKind::Interpolate(parts) => {
                let [at, points, values] = &**parts;
                let (at, points, values) = (self.node(at), self.node(points), self.node(values));
                self.step(node.span, Operation::Interpolate(at, points, values))
            }
            NodeKind::Size(above, parts) => {
                let [sizes, wanted] = &**parts;
                let (sizes, wanted) = (self.node(sizes), self.node(wanted));
                self.step(node.span, Operation::Size(*above, sizes, wanted))
            }
            NodeKind::Call(formula, arguments) => self.call(node.span, formula, arguments),
            NodeKind::Root(root) => self.root(node.span, root),
            NodeKind::With(scenario) => {
                let overrides = scenario
                    .overrides
                    .iter()
                    .map(|(cell, node)| (*cell, self.node(node)))
                    .collect();
                let value = self.sub_plan(&scenario.value);
                self.step(
                    node.span,
                    Operation::With(Box::new(Scenario { value, overrides })),
                )
            }
            NodeKind::Sought(sought) => {
                let range = sought
                    .range
                    .as_ref()
                    .map(|(from, to)| (self.node(from), self.node(to)));
                let difference = self.sub_plan(&sought.difference);
                let found = Sought {
                    cell: sought.cell,
                    difference,
                    range,
                    unit: sought.unit.clone(),
                };
                self.step(node.span, Operation::Sought(Box::new(found)))
            }
            NodeKind::Sweep(sweep) => self.sweep(node.span, sweep),
            NodeKind::Pick(whole, index) => {
                let whole = self.node(whole);
                self.step(node.span, Operation::Pick(whole, *index as u32))
            }
            NodeKind::Uncertain(uncertain) => self.uncertain(node.span, uncertain),
            NodeKind::Readings(readings) => {
                let column = self.node(&readings.column);
                self.step(
                    node.span,
                    Operation::Readings(column, readings.place, readings.rows),
                )
            }
            NodeKind::Describe(what, parts) => {
                let parts = self.nodes(parts);
                self.step(node.span, Operation::Describe(*what, parts))
            }
        }
    }

    fn branch(&mut self, when: Register, taken: bool, node: &Node) -> Register {
        self.branches.push((when, taken));
        let register = self.node(node);
        self.branches.pop();
        register
    }

    /// Whether the branches around are all taken; nothing where there are none.
    fn taken(&mut self, span: Span) -> Option<Register> {
        let branches = self.branches.clone();
        let parts: Vec<Register> = branches
            .into_iter()
            .map(|(when, taken)| {
                if taken {
                    when
                } else {
                    self.step(span, Operation::Not(when))
                }
            })
            .collect();
        match parts[..] {
            [] => None,
            [one] => Some(one),
            _ => Some(self.step(span, Operation::And(parts.into()))),
        }
    }

    fn nodes(&mut self, nodes: &[Node]) -> Box<[Register]> {
        nodes.iter().map(|node| self.node(node)).collect()
    }

    fn step(&mut self, span: Span, operation: Operation) -> Register {
        let site = self.site(span);
        self.plan.steps.push(Step { operation, site });
        (self.plan.steps.len() - 1) as Register
    }

    fn site(&mut self, span: Span) -> u32 {
        self.plan.sites.push(Site {
            span,
            call: self.call.clone(),
        });
        (self.plan.sites.len() - 1) as u32
    }

    fn cell(&mut self, cell: CellId, span: Span) -> Register {
        if let Some(register) = self.cells.get(&cell) {
            return *register;
        }
        let register = self.step(span, Operation::Cell(cell));
        self.cells.insert(cell, register);
        register
    }

    fn local(&mut self, index: usize, span: Span) -> Register {
        match self.locals.get(index) {
            Some(Local::Here(register)) => *register,
            Some(Local::Around(around)) => self.bring(*around, span),
            // `check` numbers only locals that exist.
            None => self.step(span, Operation::Constant(Constant::Gap)),
        }
    }

    fn bring(&mut self, around: usize, span: Span) -> Register {
        if let Some((_, register)) = self.brought.iter().find(|(index, _)| *index == around) {
            return *register;
        }
        let input = self.brought.len() as u32 + self.unknowns;
        let register = self.step(span, Operation::Input(input));
        self.brought.push((around, register));
        register
    }

    /// Writes a formula's body out where it is called.
    fn call(
        &mut self,
        span: Span,
        formula: &Rc<TypedFormula>,
        arguments: &[Option<Node>],
    ) -> Register {
        let arguments: Vec<Option<Register>> = arguments
            .iter()
            .map(|argument| argument.as_ref().map(|node| self.node(node)))
            .collect();
        let site = self.site(span);
        let locals = std::mem::take(&mut self.locals);
        let call = self.call.replace((formula.definition.clone(), site));
        for (index, argument) in arguments.into_iter().enumerate() {
            let register = match (argument, formula.defaults.get(index)) {
                (Some(register), _) => register,
                (None, Some(Some(default))) => self.node(default),
                (None, _) => self.step(span, Operation::Constant(Constant::Gap)),
            };
            self.locals.push(Local::Here(register));
        }
        for local in &formula.locals {
            let register = self.node(local);
            self.locals.push(Local::Here(register));
        }
        let result = self.node(&formula.result);
        self.clauses(formula, span, site);
        self.locals = locals;
        self.call = call;
        result
    }

    /// What a formula says about itself, where the branches around its call are taken.
    fn clauses(&mut self, formula: &TypedFormula, span: Span, site: u32) {
        if formula.limits.is_empty() && formula.cautions.is_empty() {
            return;
        }
        let taken = self.taken(span);
        for (condition, text) in &formula.limits {
            let mut kept = self.node(condition);
            if let Some(taken) = taken {
                let not = self.step(span, Operation::Not(taken));
                kept = self.step(span, Operation::Or([not, kept].into()));
            }
            let limit = Limit {
                kept,
                text: text.clone(),
                formula: formula.definition.clone(),
                site,
            };
            self.plan.limits.push(limit);
        }
        for (when, text) in &formula.cautions {
            let own = when.as_ref().map(|when| self.node(when));
            let when = match (own, taken) {
                (Some(own), Some(taken)) => {
                    Some(self.step(span, Operation::And([taken, own].into())))
                }
                (one, other) => one.or(other),
            };
            let caution = Caution {
                when,
                text: text.clone(),
                formula: formula.definition.clone(),
            };
            self.plan.cautions.push(caution);
        }
    }

    /// A builder for a sub-plan; the locals around it come in as inputs.
    fn inner(&self, locals: usize, unknowns: u32) -> Builder {
        let mut inner = Builder {
            locals: (0..locals).map(Local::Around).collect(),
            call: self.call.clone(),
            unknowns,
            ..Builder::default()
        };
        // The sites of the calls around are needed to find the outermost place.
        inner.plan.sites = self.plan.sites.clone();
        inner
    }

    /// The registers here of what a sub-plan brought in.
    fn inputs_of(&mut self, inner: &Builder, span: Span) -> Vec<Register> {
        inner
            .brought
            .iter()
            .map(|(index, _)| self.local(*index, span))
            .collect()
    }

    fn sub_plan(&mut self, node: &Node) -> SubPlan {
        let mut inner = self.inner(self.locals.len(), 0);
        inner.plan.result = inner.node(node);
        let inputs = self.inputs_of(&inner, node.span);
        SubPlan {
            plan: inner.plan,
            inputs,
        }
    }

    fn root(&mut self, span: Span, root: &check::Root) -> Register {
        let from = self.node(&root.from);
        let to = self.node(&root.to);
        let mut inner = self.inner(root.unknown, 1);
        let unknown = inner.step(span, Operation::Input(0));
        inner.locals.push(Local::Here(unknown));
        inner.plan.result = inner.node(&root.difference);
        let inputs = self.inputs_of(&inner, span);
        let found = Root {
            plan: inner.plan,
            inputs,
            from,
            to,
        };
        self.step(span, Operation::Root(Box::new(found)))
    }

    fn sweep(&mut self, span: Span, sweep: &check::Sweep) -> Register {
        let mut axes = Vec::with_capacity(sweep.axes.len());
        for axis in &sweep.axes {
            let values = match &axis.values {
                check::AxisNodes::Steps(parts) => {
                    let [from, to, by] = &**parts;
                    AxisValues::Steps(self.node(from), self.node(to), self.node(by))
                }
                check::AxisNodes::Over(column) => AxisValues::Over(self.node(column)),
            };
            axes.push((axis.cell, values));
        }
        let show = sweep.show.iter().map(|one| self.sub_plan(one)).collect();
        self.step(span, Operation::Sweep(Box::new(Sweep { axes, show })))
    }

    fn uncertain(&mut self, span: Span, uncertain: &check::Uncertain) -> Register {
        let value = self.node(&uncertain.value);
        let amount = self.node(&uncertain.amount);
        let step = Uncertain {
            value,
            amount,
            relative: uncertain.relative,
            meaning: uncertain.meaning.clone(),
            place: uncertain.place,
            written: uncertain.written.clone(),
        };
        self.step(span, Operation::Uncertain(Box::new(step)))
    }
}
