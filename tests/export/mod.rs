//! Exports: reports in other formats, and what comes back from them.

mod browser;
mod devtools;
mod formulas;
mod script;
