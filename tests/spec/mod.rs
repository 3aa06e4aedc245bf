//! (see below)
