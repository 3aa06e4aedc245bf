//! The `syntax` layer: what is read, what is refused and how it says so, and the way back to text.

mod accepted;
mod entries;
mod formats;
mod hostile;
mod lines;
mod names;
mod properties;
mod refused;
mod repairs;

mod support;
mod trees;
