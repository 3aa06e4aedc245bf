//! The `numerics` layer.

mod distribution;
mod interpolation;
mod inverse;
mod roots;
mod scan;
