//! The second order, when somebody asks: the uncertain cells that one rests on are run again,
//! beside the notebook, with their curves. Kept until something changes.

use super::Notebook;
use super::world::Around;
use crate::check::CellId;
use crate::exact::{self, Axis, Followed, SecondOrder, Stream, Value, World};
use crate::plan::{Plan, SubPlan};
use rustc_hash::{FxHashMap, FxHashSet};
use std::rc::Rc;

/// The cells, with their curves where these are known.
struct WithCurves<'n> {
    base: Around<'n>,
    known: &'n FxHashMap<CellId, Rc<Followed>>,
}

impl World for WithCurves<'_> {
    fn value(&self, cell: CellId) -> Value {
        match self.known.get(&cell) {
            Some(followed) => followed.value.clone(),
            None => self.base.value(cell),
        }
    }

    fn plan(&self, cell: CellId) -> Option<Rc<Plan>> {
        self.base.plan(cell)
    }

    fn cone(&self, changed: &[CellId], wanted: &[CellId]) -> Rc<[CellId]> {
        self.base.cone(changed, wanted)
    }

    fn stream(&self, _: &[(CellId, Axis)], _: &[&SubPlan], _: &[Value]) -> Option<Rc<dyn Stream>> {
        // Long columns carry no doubt that could be followed.
        None
    }
}

impl Notebook {
    /// The second order of a cell's uncertainty; of one row, if it is a column. Nothing for exact
    /// values, and for those with more sources than are followed.
    pub fn second_order(&self, id: CellId, row: Option<usize>) -> Option<SecondOrder> {
        let followed = self.followed(id)?;
        let value = match row {
            Some(row) => followed.value.row(row),
            None => followed.value.clone(),
        };
        match value {
            Value::Uncertain(uncertain) => uncertain.second_order(&self.sources),
            _ => None,
        }
    }

    /// What a cell is worth with its curve; nothing for an exact one.
    pub(super) fn followed(&self, id: CellId) -> Option<Rc<Followed>> {
        if !self.value(id).is_uncertain() {
            return None;
        }
        if let Some(known) = self.followed.borrow().get(&id) {
            return Some(known.clone());
        }
        for cell in self.uncertain_above(id) {
            self.follow(cell);
        }
        self.followed.borrow().get(&id).cloned()
    }

    /// A cell and the uncertain ones it rests on that are not followed yet, in the order of need.
    fn uncertain_above(&self, id: CellId) -> Vec<CellId> {
        let known = self.followed.borrow();
        let mut seen: FxHashSet<CellId> = FxHashSet::default();
        let mut found = Vec::new();
        let mut open = vec![id];
        seen.insert(id);
        while let Some(cell) = open.pop() {
            found.push(cell);
            for used in &self.cell(cell).uses {
                let wanted = self.value(*used).is_uncertain() && !known.contains_key(used);
                if wanted && seen.insert(*used) {
                    open.push(*used);
                }
            }
        }
        found.sort_by_key(|cell| (self.cell(*cell).level, *cell));
        found
    }

    fn follow(&self, id: CellId) {
        let Some(plan) = self.cell(id).plan.clone() else {
            return;
        };
        let made = {
            let world = WithCurves {
                base: self.world(),
                known: &self.followed.borrow(),
            };
            exact::follow(&plan, &world, &self.sources)
        };
        self.followed.borrow_mut().insert(id, Rc::new(made));
    }
}
