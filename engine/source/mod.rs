//! Text, and what is said about it: documents and their fences, positions, diagnostics as data,
//! and the one place that draws carets. Knows nothing of numbers, units or cells.

mod ascii;
mod code;
mod diagnostic;
pub mod fold;
mod lines;
mod names;
mod span;
mod wrap;

pub use ascii::ascii;
pub use code::Code;
pub use diagnostic::{Diagnostic, Inside, Repair, Severity};
pub use lines::Lines;
pub use names::nearest;
pub use span::Span;
pub use wrap::wrap;
