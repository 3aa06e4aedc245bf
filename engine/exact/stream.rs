//! Columns too long to be kept: they are worked out in blocks, each time one value of the whole
//! is asked for.

use super::value::Value;
use crate::check::Reduction;
use std::fmt;
use std::rc::Rc;

/// Columns worked out in blocks.
pub trait Stream {
    /// How many rows there are.
    fn rows(&self) -> usize;

    /// One value of a column.
    fn reduce(&self, column: usize, reduction: Reduction) -> Value;
}

/// One column of a stream.
#[derive(Clone)]
pub struct Streamed {
    /// The columns.
    pub stream: Rc<dyn Stream>,
    /// Which.
    pub column: usize,
}

impl PartialEq for Streamed {
    fn eq(&self, other: &Streamed) -> bool {
        Rc::ptr_eq(&self.stream, &other.stream) && self.column == other.column
    }
}

impl fmt::Debug for Streamed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "column {} of {} rows", self.column, self.stream.rows())
    }
}
