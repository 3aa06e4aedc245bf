//! The engine of gaugebook: a document goes in, cells recompute in dependency order, tables
//! come out.
//!
//! ```text
//! document.md ─ source ─> syntax ─> check ─> plan ─> notebook ─> report ─> shell · cli · export
//!               (spans)   (trees)   (typed)  (ops)   (values)    (tables)
//! ```
//!
//! The blank-line groups of `mod` lines below are the layers. A module uses only groups above
//! its own; `tests/architecture.rs` reads these groups and holds the code to them.

pub mod number;
pub mod numerics;
pub mod source;

pub mod syntax;
pub mod units;

pub mod check;

pub mod plan;

pub mod exact;
pub mod lanes;

pub mod library;

pub mod notebook;

pub mod study;

pub mod assist;
pub mod report;

pub mod export;

pub mod files;

pub mod shell;

pub mod cli;
