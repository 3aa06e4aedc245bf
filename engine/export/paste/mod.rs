//! A notebook as something to paste: a forum post in BBCode, a document in Markdown. Both open
//! again as the same notebook. A notebook goes in, since its statements come out again; how a
//! forum mangles them is borne in mind here: lines of cells are short, results and prose are never
//! read as statements.

mod bbcode;
mod lines;
mod markdown;
mod table;

pub use bbcode::post;
pub use markdown::markdown;
