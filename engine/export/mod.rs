//! Reports as bytes, one module a format. A report goes in; nothing here knows of notebooks.

pub mod json;
pub mod page;
pub mod text;
