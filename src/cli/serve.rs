//! `brimline serve`: the register for care.

use std::net::SocketAddr;
use std::path::PathBuf;

use anyhow::{Context, Result};

use super::Outcome;
use super::data::Data;
use super::terminal::{say, tell};
use crate::registry::staff;
use crate::settings::Settings;
use crate::web::{self, Clock, House};

#[derive(clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    data: Data,
    /// Address and port to listen on
    #[arg(
        long,
        value_name = "ADDR",
        env = "BRIMLINE_LISTEN",
        default_value = "127.0.0.1:8731"
    )]
    listen: SocketAddr,
    /// Certificate chain, a PEM file; pages are then served over TLS
    #[arg(
        long,
        value_name = "FILE",
        env = "BRIMLINE_TLS_CERT",
        requires = "tls_key"
    )]
    tls_cert: Option<PathBuf>,
    /// Its private key, a PEM file
    #[arg(
        long,
        value_name = "FILE",
        env = "BRIMLINE_TLS_KEY",
        requires = "tls_cert"
    )]
    tls_key: Option<PathBuf>,
    /// Name of the district, for headings
    #[arg(long, value_name = "NAME", env = "BRIMLINE_DISTRICT")]
    district: Option<String>,
}

pub(super) fn run(args: &Args) -> Result<Outcome> {
    let tls = match (&args.tls_cert, &args.tls_key) {
        (Some(chain), Some(key)) => Some(
            web::tls_from_files(chain, key)
                .context("cannot use the certificate; check --tls-cert and --tls-key")?,
        ),
        _ => None,
    };
    let registry = args.data.open()?;
    if !registry.read(staff::has_keeper)? {
        let folder = args.data.folder();
        say(&format!(
            "No keeper can sign in yet. Open the first account in another shell:\n  \
            brimline staff add --data {folder} --sign-in NAME --name \"FULL NAME\" --role keeper"
        ))?;
    }
    let scheme = if tls.is_some() { "https" } else { "http" };
    if tls.is_none() && !args.listen.ip().is_loopback() {
        tell(
            "Without --tls-cert and --tls-key passwords and names travel open to everybody on this network.",
        );
    }
    let settings = Settings {
        secure_cookies: tls.is_some(),
        district: args.district.clone(),
        ..Settings::default()
    };
    let house = House::new(registry, Clock::of_the_machine(), settings);
    listen(house, args.listen, tls, |address| {
        say(&format!("Brimline answers at {scheme}://{address}/"))
    })
}

/// Serves until Ctrl-C or SIGTERM; `ready` says where.
pub(super) fn listen(
    house: House,
    address: SocketAddr,
    tls: Option<rustls::ServerConfig>,
    ready: impl FnOnce(SocketAddr) -> std::io::Result<()>,
) -> Result<Outcome> {
    let said = |address| {
        // Whoever closed our output still wants the pages.
        let _ = ready(address);
    };
    web::run(house, address, tls, said).with_context(|| {
        format!("cannot serve at {address}; is the port free? choose another with --listen")
    })?;
    Ok(Outcome::Done)
}
