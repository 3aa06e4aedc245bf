//! A notebook handed on: one module a format. Most take a report; those that hand on the notebook
//! itself, to be opened or worked out elsewhere, take the notebook. Bytes come out; where they go
//! is for others to say.

pub mod csv;
pub mod curves;
pub mod flow;
pub mod html;
pub mod json;
mod kind;
pub mod page;
pub mod paste;
pub mod report;
pub mod text;
pub mod ticks;

pub use kind::{KINDS, Kind, Made, kind};
