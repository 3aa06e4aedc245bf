//! The steps that a step reads.

use super::{Operation, Register};
use std::cell::RefCell;

impl Operation {
    /// The registers it reads, in order, those that go into its sub-plans included.
    pub fn operands(&self) -> Vec<Register> {
        let seen = RefCell::new(Vec::new());
        self.moved(|register| {
            seen.borrow_mut().push(register);
            register
        });
        seen.into_inner()
    }
}
