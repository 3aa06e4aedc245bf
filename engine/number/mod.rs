//! Decimals of 28 digits with a wide exponent: read, worked with, rounded and shown. Knows
//! nothing of units.

mod rational;

pub use rational::{Factor, Rational};
