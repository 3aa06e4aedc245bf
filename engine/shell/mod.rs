//! x
pub mod difference;
pub mod gather;
pub mod screen;
