//! Reports as bytes, one module a format. A report goes in; nothing here knows of notebooks.

pub mod csv;
pub mod curves;
pub mod flow;
pub mod html;
pub mod json;
pub mod page;
pub mod paste;
pub mod report;
pub mod text;
pub mod ticks;
