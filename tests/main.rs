//! One binary for all tests; they mirror the engine.

mod architecture;
mod cli;
mod export;
mod files;
mod handbook;
mod notebook;
mod number;
mod numerics;
mod report;
mod shell;
mod source;
mod syntax;
mod tables;
mod uncertainty;
mod units;
