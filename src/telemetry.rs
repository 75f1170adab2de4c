//! One structured line an event on standard error; no names, phones, villages, tokens or passwords in any of them.
//!
//! The filter is written as in `brimline=debug,actix_server=warn`. Nothing below `warn` of other people's crates is
//! let through unless asked for, because a library does not know what in its message is personal.

use std::io::{IsTerminal, stderr};

use tracing_subscriber::EnvFilter;

/// What is logged when nobody says otherwise.
pub const USUAL_FILTER: &str = "warn,brimline=info";

/// The text is no filter.
#[derive(Debug, thiserror::Error)]
#[error(
    "“{filter}” is no log filter; write a level (warn, info, debug) or for example “warn,brimline=debug”"
)]
pub struct BadFilter {
    filter: String,
}

/// Begins to log: lines for people on a terminal, one JSON object a line in a pipe or a file.
///
/// # Errors
/// When the filter cannot be read. A second call in one process changes nothing.
pub fn begin(filter: &str) -> Result<(), BadFilter> {
    let read = EnvFilter::builder().parse(filter).map_err(|_| BadFilter {
        filter: filter.to_owned(),
    })?;
    let lines = tracing_subscriber::fmt()
        .with_env_filter(read)
        .with_writer(stderr);
    // Only the first subscriber of a process counts; a test that runs two commands keeps the first.
    let _ = if stderr().is_terminal() {
        lines.with_target(false).try_init()
    } else {
        lines.json().flatten_event(true).try_init()
    };
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_filter_that_means_nothing_is_refused_with_an_example() {
        let refused = begin("brimline=loud").map_err(|error| error.to_string());
        assert!(
            refused
                .as_ref()
                .is_err_and(|said| said.contains("brimline=debug")),
            "{refused:?}"
        );
        assert!(EnvFilter::builder().parse(USUAL_FILTER).is_ok());
    }
}
