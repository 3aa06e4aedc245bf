//! Answers for people typing, as plain data: what could come next, how a formula is called, what a
//! word means. The shell and an editor show them; nothing here knows of terminals or protocols.

mod candidates;
mod complete;
mod contents;
mod context;
mod formula;
mod guide;
mod help;
mod prose;
mod search;
mod signature;
mod unit;
mod verb;

pub use complete::{Candidate, CandidateKind, Completion, complete};
pub use contents::{ChapterListed, Contents, EntryListed, chapter, contents};
pub use formula::{FormulaHelp, ParameterHelp, signature_line};
pub use guide::{GUIDE, Guide};
pub use help::{Answer, CellHelp, Help, help};
pub use search::Hit;
pub use signature::{Signature, hint, signature};
pub use unit::{UnitHelp, UnitLine};
pub use verb::{VERBS, Verb};
