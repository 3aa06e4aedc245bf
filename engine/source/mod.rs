//! Text, and what is said about it: documents and their fences, positions, diagnostics as data,
//! and the one place that draws carets. Knows nothing of numbers, units or cells.

mod ascii;
mod code;
mod cost;
mod diagnostic;
mod document;
mod encoding;
mod entity;
mod excerpt;
mod fence;
pub mod fold;
mod forum;
mod lines;
mod loose;
mod names;
mod outline;
mod render;
mod span;
mod visible;
mod wrap;

pub use ascii::ascii;
pub use code::Code;
pub use diagnostic::{Diagnostic, Inside, Repair, Severity};
pub use document::{
    Block, Document, Heading, MOST_BYTES, MOST_BYTES_OF_PROSE, MOST_CHARACTERS_IN_LINE, Piece,
};
pub use lines::Lines;
pub use names::nearest;
pub use render::{SourceText, Style, render};
pub use span::Span;
pub use visible::show_text;
pub use wrap::wrap;
