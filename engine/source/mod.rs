//! Text, and what is said about it: documents and their fences, positions, diagnostics as data,
//! and the one place that draws carets. Knows nothing of numbers, units or cells.

mod code;
mod diagnostic;
mod span;

pub use code::Code;
pub use diagnostic::{Diagnostic, Inside, Repair, Severity};
pub use span::Span;
