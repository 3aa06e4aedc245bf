//! The shell without a terminal: entries, differences, sessions as transcripts.

mod difference;
mod gather;
mod journal;
mod transcripts;
