//! The tests, one binary: what goes in, what comes out.

mod architecture;
mod handbook;
mod source;
mod units;
