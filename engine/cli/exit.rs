//! The exit status of the program, decided once.

use std::process::ExitCode;

/// How a run of the program ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Exit {
    /// All is well.
    Fine,
    /// A notebook has an error, or a check or an example fails.
    Wrong,
    /// The program was called wrongly, or a file could not be read or written.
    Unusable,
}

impl Exit {
    /// The number that other programs see: 0, 1 or 2.
    pub fn status(self) -> u8 {
        match self {
            Exit::Fine => 0,
            Exit::Wrong => 1,
            Exit::Unusable => 2,
        }
    }

    /// The end of something that was wrong or was not.
    pub fn of(is_wrong: bool) -> Exit {
        match is_wrong {
            true => Exit::Wrong,
            false => Exit::Fine,
        }
    }

    /// The more serious of two ends.
    #[must_use]
    pub fn and(self, other: Exit) -> Exit {
        self.max(other)
    }
}

impl From<Exit> for ExitCode {
    fn from(exit: Exit) -> ExitCode {
        ExitCode::from(exit.status())
    }
}
