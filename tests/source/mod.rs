//! Documents, pasted characters, names and the drawing of messages.

mod messages;
mod paste;
