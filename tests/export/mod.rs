//! Exports: reports in other formats, and what comes back from them.

mod formulas;
mod script;
