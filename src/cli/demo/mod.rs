//! `brimline demo`: an invented district with two years of its register, served on this machine only.

mod birth;
mod build;
mod calendar;
mod care;
mod chance;
mod driver;
mod ending;
mod folder;
mod hands;
mod labour;
mod plan;
mod rates;
mod sending;
mod settle;
mod signing;
mod staged;
mod story;
mod tables;
mod words;

use std::net::SocketAddr;
use std::path::PathBuf;

use anyhow::{Result, bail};

use super::terminal::{Progress, say};
use super::{Outcome, clock, serve};
use crate::registry::passwords::PasswordCost;
use crate::settings::{Practice, Settings};
use crate::web::{Clock, House};
use folder::Folder;

/// Of every account of the scenario; it protects nothing but invented people.
const PASSWORD: &str = "demo only, not for care";

#[derive(clap::Args)]
pub(super) struct Args {
    /// Address and port to listen on; only of this machine
    #[arg(
        long,
        value_name = "ADDR",
        env = "BRIMLINE_LISTEN",
        default_value = "127.0.0.1:8731"
    )]
    listen: SocketAddr,
    /// Keep the register in this new folder, for the other commands; else it is thrown away at the end
    #[arg(long, value_name = "DIR", env = "BRIMLINE_KEEP")]
    keep: Option<PathBuf>,
}

pub(super) fn run(args: &Args) -> Result<Outcome> {
    if !args.listen.ip().is_loopback() {
        bail!(
            "everybody knows the password of the demo, so it is served on this machine only; choose an address such as 127.0.0.1:8731"
        );
    }
    let folder = Folder::of(args.keep.clone())?;
    let registry = folder.open()?;
    let progress = Progress::of("Inventing two years of Sallow Vale", true);
    let build::Scenario { sign_ins, refused } =
        build::scenario(&registry, clock::now(), calendar::PREGNANCIES, progress)?;
    for entry in refused {
        // Ours to mend, and no reason to leave somebody without a demo.
        tracing::warn!(entry, "the register refused an invented entry");
    }
    let settings = Settings {
        practice: Some(Practice {
            sign_ins: sign_ins.clone(),
            password: PASSWORD.to_owned(),
        }),
        district: Some("Sallow Vale".to_owned()),
        password_cost: PasswordCost::PRACTICE,
        ..Settings::default()
    };
    let house = House::new(registry, Clock::of_the_machine(), settings);
    serve::listen(house, args.listen, None, |address| {
        say(&format!(
            "Practice. Invented people, not for care.\n\nSign in as one of: {}\nPassword of all: {PASSWORD}\n\nBrimline answers at http://{address}/",
            sign_ins.join(", ")
        ))
    })
}
