//! Where the program keeps what is its own: the history of the shell and its journals.

use std::path::PathBuf;

/// The folder for the program's own data, which need not exist yet; nothing where the system has
/// no home for it.
#[cfg(feature = "terminal")]
pub fn data_folder() -> Option<PathBuf> {
    use etcetera::BaseStrategy;
    let strategy = etcetera::choose_base_strategy().ok()?;
    Some(strategy.data_dir().join("gaugebook"))
}

/// Without a terminal there is no history and no journal.
#[cfg(not(feature = "terminal"))]
pub fn data_folder() -> Option<PathBuf> {
    None
}
