//! The program. It hands its arguments to [`gaugebook::cli`] and turns the answer into an exit
//! status; nothing else lives here.

use std::process::ExitCode;

fn main() -> ExitCode {
    gaugebook::cli::run(std::env::args_os()).into()
}
