//! The shell without a terminal: entries, differences, sessions as transcripts.

mod anything;
mod difference;
mod gather;
mod journal;
mod saving;
mod transcripts;
