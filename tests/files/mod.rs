//! Files: what is read, what is saved, and what survives.

mod journal;
mod read;
mod save;

pub(crate) mod folder;
