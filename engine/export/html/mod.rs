//! What every HTML file of ours is made of: the head with its content security policy, prose,
//! tables, worked lines, charts. Everything of a notebook is escaped; nothing here loads anything.

mod chart;
mod checks;
mod digest;
mod frame;
mod math;
mod prose;
mod remarks;
mod studies;
mod values;
mod worked;

pub use chart::chart;
pub use checks::{
    chance_text, checks_table, condition_text, found_text, outcome_class, outcome_shape,
    outcome_word,
};
pub use digest::{base64, sha256};
pub use frame::{Frame, frame};
pub use math::math;
pub use prose::{inline_text, prose};
pub use remarks::{ended, remarks_list};
pub use studies::study;
pub use values::{
    column_head, in_column, kind_of, notebook_table, pads, rows_table, shown_name, signed,
    unit_and_tag, value_line,
};
pub use worked::{Working, worked};
