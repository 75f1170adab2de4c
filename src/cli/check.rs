//! `brimline check`: whether the database and the trail are whole.

use anyhow::{Context, Result, bail};

use super::Outcome;
use super::data::Data;
use super::terminal::say;
use crate::registry::integrity;

#[derive(clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    data: Data,
}

pub(super) fn run(args: &Args) -> Result<Outcome> {
    let registry = args.data.open_existing()?;
    let found = registry
        .read(integrity::check)
        .context("the register cannot be read; keep the folder as it is and bring back the last copy into another one")?;
    for fault in &found.faults {
        say(fault)?;
    }
    if !found.faults.is_empty() {
        let number = found.faults.len();
        bail!(
            "{number} faults; keep the folder as it is, work on with the last good copy, and ask for help"
        );
    }
    say(&format!(
        "Whole: database, references, vocabularies, and {} lines of the trail.",
        found.trail
    ))?;
    Ok(Outcome::Done)
}
