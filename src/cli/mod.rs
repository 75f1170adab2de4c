//! The commands.

use std::process::ExitCode;

/// Reads the command line, does what it says.
#[must_use]
pub fn main() -> ExitCode {
    ExitCode::SUCCESS
}
