//! Documents, pasted characters, names and the drawing of messages.

mod document;
mod loose;
mod messages;
mod paste;
mod properties;
