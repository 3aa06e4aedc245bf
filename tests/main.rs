//! One binary for all tests; they mirror the engine.

mod architecture;
mod check;
mod errors;
mod handbook;
mod number;
mod numerics;
mod reference;
mod report;
mod source;
mod spec;
mod support;
mod syntax;
mod tables;
mod uncertainty;
mod units;
