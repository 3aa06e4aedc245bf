//! x
pub mod arguments;
pub mod exit;
pub mod verb;
