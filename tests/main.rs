//! One binary for all tests; they mirror the engine.

mod architecture;
mod handbook;
mod number;
mod numerics;
mod report;
mod source;
mod syntax;
mod tables;
mod uncertainty;
mod units;
