//! Text, and what is said about it: documents and their fences, positions, diagnostics as data,
//! and the one place that draws carets. Knows nothing of numbers, units or cells.

mod ascii;
mod code;
mod diagnostic;
mod excerpt;
pub mod fold;
mod lines;
mod names;
mod render;
mod span;
mod visible;
mod wrap;

pub use ascii::ascii;
pub use code::Code;
pub use diagnostic::{Diagnostic, Inside, Repair, Severity};
pub use lines::Lines;
pub use names::nearest;
pub use render::{SourceText, Style, render};
pub use span::Span;
pub use wrap::wrap;
