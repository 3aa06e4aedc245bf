//! One binary for all tests; they mirror the engine.

mod architecture;
mod check;
mod cli;
mod errors;
mod export;
mod files;
mod handbook;
mod notebook;
mod number;
mod numerics;
mod reference;
mod report;
mod shell;
mod source;
mod spec;
mod support;
mod syntax;
mod tables;
mod uncertainty;
mod units;
