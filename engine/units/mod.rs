//! What a unit means: dimensions, references, exact factors, the registry of unit words, and units
//! as text. Knows nothing of cells, and reads no expressions: a reader joins the words it finds.
//!
//! A [`Unit`] is a product of words as a person wrote it. A [`Registry`] holds what the words of
//! one notebook mean; it answers with [`Lookup`] for a word, and with dimension, factor and text
//! for a unit.

mod ask;
mod atom;
mod catalogue;
mod definition;
mod dimension;
mod factor;
mod intern;
mod measure;
mod merge;
mod naming;
mod prefix;
mod reference;
mod registry;
mod show;
mod suggest;
mod table;
mod unit;

pub use atom::Atom;
pub use catalogue::{Listed, catalogue, prefixes, refused_words, words};
pub use definition::DefinitionError;
pub use dimension::{Base, Dimension, WHOLE};
pub use reference::{Class, Family, ROWS, Reference, Row};
pub use registry::{Lookup, Registry};
pub use unit::{AtomId, Unit};
