//! `brimline assess`: judges cases from a file or a pipe; needs no registry.

use std::fs::File;
use std::io::{self, BufReader, BufWriter, Read, Write, stdin, stdout};
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};

use super::Outcome;
use super::terminal::{Progress, Watched};
use crate::clinical::wire;

const BUFFER: usize = 256 * 1024;

#[derive(clap::Args)]
pub(super) struct Args {
    /// A file of cases, one JSON object a line, or - for standard input
    file: PathBuf,
    /// Add to each result what every rule looked at and why it was or was not raised
    #[arg(long, env = "BRIMLINE_EXPLAIN")]
    explain: bool,
}

pub(super) fn run(args: &Args) -> Result<Outcome> {
    if args.file == Path::new("-") {
        return judge(stdin().lock(), None, args.explain).context("cannot judge standard input");
    }
    let name = args.file.display();
    let file = File::open(&args.file).with_context(|| {
        format!("cannot open {name}; check the name, or write - for standard input")
    })?;
    let length = file
        .metadata()
        .ok()
        .filter(std::fs::Metadata::is_file)
        .map(|it| it.len());
    judge(file, length, args.explain).with_context(|| format!("cannot judge {name}"))
}

fn judge(from: impl Read, length: Option<u64>, explain: bool) -> io::Result<Outcome> {
    let watched = Watched::new(from, length, Progress::of("Judging", true));
    let mut answers = BufWriter::with_capacity(BUFFER, stdout().lock());
    let refused = wire::judge_lines(
        BufReader::with_capacity(BUFFER, watched),
        &mut answers,
        explain,
    )?;
    answers.flush()?;
    Ok(Outcome::of_refused(
        refused,
        "cases could not be read; the answer to each says why",
    ))
}
