//! All tests, one binary.

mod syntax;
