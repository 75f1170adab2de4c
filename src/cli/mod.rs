//! The commands: what stands behind `brimline --help`.
//!
//! A command does its work and says how it ended; only [`main`] turns that into an exit code: 0 done, 1 the work failed
//! and one line on standard error says what and what to do, 2 the command line is wrong.

mod assess;
mod check;
mod clock;
mod data;
mod demo;
mod post;
mod replay;
mod report;
mod serve;
mod staff;
mod terminal;

use std::error::Error;
use std::io;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;

use anyhow::Result;
use clap::{Parser, Subcommand};

use crate::telemetry;

/// How a command ended when it did not fail.
#[derive(Debug, PartialEq, Eq)]
enum Outcome {
    Done,
    /// Some of the work was refused, the rest is done; the sentence says how much and why.
    SomeRefused(String),
}

impl Outcome {
    fn of_refused(refused: usize, what: &str) -> Self {
        match refused {
            0 => Self::Done,
            number => Self::SomeRefused(format!("{number} {what}")),
        }
    }
}

/// Referral registry and monthly tables for the antenatal and labour care of a rural health post
#[derive(Parser)]
#[command(
    version,
    max_term_width = 100,
    after_help = "Support for trained staff. Follow your local protocol; the person at the bedside decides.\n\n\
        Examples:\n  brimline demo\n  brimline serve --data /var/lib/brimline"
)]
struct Brimline {
    #[command(subcommand)]
    command: Command,
    /// What is logged to standard error, for example “warn,brimline=debug”
    #[arg(long, global = true, value_name = "FILTER", env = "BRIMLINE_LOG", default_value = telemetry::USUAL_FILTER, hide_default_value = true)]
    log: String,
}

#[derive(Subcommand)]
enum Command {
    /// Try it: an invented district with two years of its register, on this machine only
    #[command(
        after_help = "Examples:\n  brimline demo\n  brimline demo --listen 127.0.0.1:9000 --keep practice"
    )]
    Demo(demo::Args),
    /// Serve the register for care
    #[command(
        after_help = "Ctrl-C or SIGTERM ends it after the running requests.\n\n\
            Examples:\n  brimline serve --data /var/lib/brimline\n  \
            brimline serve --data /var/lib/brimline --listen 192.0.2.10:8731 --tls-cert cert.pem --tls-key key.pem"
    )]
    Serve(serve::Args),
    /// Open, list, reset and stop accounts
    #[command(
        subcommand,
        after_help = "Example:\n  brimline staff list --data /var/lib/brimline"
    )]
    Staff(staff::Command),
    /// Write the tables of a month as files
    #[command(
        after_help = "Files are named after their table; those of one post stand in a folder of its name.\n\n\
            Examples:\n  brimline report --data /var/lib/brimline --month 2026-10 --out october\n  \
            brimline report --data /var/lib/brimline --month 2026-10 --post \"Quern Ford\" --out october --format csv,xlsx"
    )]
    Report(report::Args),
    /// Judge past visits again, by today’s rules or with another setting, and compare
    #[command(after_help = replay::ABOUT)]
    Replay(replay::Args),
    /// Judge cases from a file or a pipe, one JSON object a line; needs no register
    #[command(
        after_help = "Examples:\n  brimline assess cases.jsonl\n  brimline assess --explain - < cases.jsonl"
    )]
    Assess(assess::Args),
    /// Check that the database and the trail are whole
    #[command(after_help = "Example:\n  brimline check --data /var/lib/brimline")]
    Check(check::Args),
}

/// Reads the command line, does what it says, and answers with the exit code.
#[must_use]
pub fn main() -> ExitCode {
    let line = Brimline::parse(); // ends with 2 and its own words when the line is wrong
    say_panics_to_the_log();
    match catch_unwind(AssertUnwindSafe(|| run(&line))) {
        Ok(Ok(Outcome::Done)) => ExitCode::SUCCESS,
        Ok(Ok(Outcome::SomeRefused(sentence))) => failed(&sentence),
        // Whoever reads our output has seen enough.
        Ok(Err(error)) if is_closed_pipe(&error) => ExitCode::SUCCESS,
        Ok(Err(error)) => failed(&format!("{error:#}")),
        Err(_) => failed(
            "a fault of the program, not of yours; run it again with --log brimline=debug and report what it says",
        ),
    }
}

fn run(line: &Brimline) -> Result<Outcome> {
    telemetry::begin(&line.log)?;
    match &line.command {
        Command::Demo(args) => demo::run(args),
        Command::Serve(args) => serve::run(args),
        Command::Staff(command) => staff::run(command),
        Command::Report(args) => report::run(args),
        Command::Replay(args) => replay::run(args),
        Command::Assess(args) => assess::run(args),
        Command::Check(args) => check::run(args),
    }
}

/// One line, whatever the error holds.
fn failed(sentence: &str) -> ExitCode {
    let line: Vec<_> = sentence.split_whitespace().collect();
    terminal::tell(&format!("brimline: {}", line.join(" ")));
    ExitCode::FAILURE
}

fn is_closed_pipe(error: &anyhow::Error) -> bool {
    error.chain().any(|cause: &(dyn Error + 'static)| {
        let io = cause.downcast_ref::<io::Error>();
        io.is_some_and(|it| it.kind() == io::ErrorKind::BrokenPipe)
    })
}

/// A panic is our fault and belongs into the log, where it is found again; no backtrace frightens the person at work.
fn say_panics_to_the_log() {
    std::panic::set_hook(Box::new(|panic| {
        let place = panic
            .location()
            .map_or_else(String::new, ToString::to_string);
        // The place and not the message: a message may quote what was being worked on.
        tracing::error!(place, "a fault of the program");
    }));
}

#[cfg(test)]
mod tests {
    use anyhow::Context as _;
    use clap::CommandFactory as _;

    use super::*;

    #[test]
    fn the_command_line_holds_together() {
        Brimline::command().debug_assert();
    }

    #[test]
    fn a_closed_pipe_is_found_under_whatever_was_said_about_it() {
        let closed = io::Error::from(io::ErrorKind::BrokenPipe);
        let error = Err::<(), _>(closed)
            .context("cannot judge standard input")
            .err();
        assert!(error.is_some_and(|error| is_closed_pipe(&error)));
        assert!(!is_closed_pipe(&anyhow::anyhow!("something else")));
    }

    #[test]
    fn refused_work_is_counted_and_nothing_refused_is_done() {
        assert_eq!(Outcome::of_refused(0, "cases"), Outcome::Done);
        assert_eq!(
            Outcome::of_refused(2, "cases"),
            Outcome::SomeRefused("2 cases".into())
        );
    }
}
