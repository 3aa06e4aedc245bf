//! One binary for all tests; they mirror the engine.

mod number;
mod numerics;
mod tables;
