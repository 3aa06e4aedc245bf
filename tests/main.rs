//! The tests, one binary: what goes in, what comes out.

mod source;
mod units;
