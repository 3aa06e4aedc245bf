//! One binary for all tests; they mirror the engine.

mod architecture;
mod export;
mod handbook;
mod number;
mod numerics;
mod source;
mod tables;
mod units;
