//! `brimline serve`: the register for care.

use std::net::SocketAddr;
use std::path::PathBuf;

use anyhow::{Context, Result};

use super::Outcome;
use super::data::Data;
use super::terminal::{say, tell};
use crate::registry::staff;
use crate::settings::Settings;
use crate::web::{Clock, House, server};

#[derive(clap::Args)]
pub(super) struct Args {
    #[command(flatten)]
    data: Data,
    /// Address and port to listen on
    #[arg(long, value_name = "ADDR", env = "BRIMLINE_LISTEN", default_value = "127.0.0.1:8731")]
    listen: SocketAddr,
    /// Certificate chain, a PEM file; pages are then served over TLS
    #[arg(long, value_name = "FILE", env = "BRIMLINE_TLS_CERT", requires = "tls_key")]
    tls_cert: Option<PathBuf>,
    /// Its private key, a PEM file
    #[arg(long, value_name = "FILE", env = "BRIMLINE_TLS_KEY", requires = "tls_cert")]
    tls_key: Option<PathBuf>,
    /// Name of the district, for headings
    #[arg(long, value_name = "NAME", env = "BRIMLINE_DISTRICT")]
    district: Option<String>,
}

pub(super) fn run(args: &Args) -> Result<Outcome> {
    let tls = match (&args.tls_cert, &args.tls_key) {
        (Some(chain), Some(key)) => Some(server::tls_from_files(chain, key).context("cannot use the certificate; check --tls-cert and --tls-key")?),
        _ => None,
    };
    let registry = args.data.open()?;
    if registry.read(staff::nobody_can_sign_in)? {
        let folder = args.data.folder();
        tell(&format!("Nobody can sign in yet. Open the first account in another shell: brimline staff add --data {folder} --sign-in NAME --name \"FULL NAME\" --role keeper"));
    }
    let scheme = if tls.is_some() { "https" } else { "http" };
    if tls.is_none() && !args.listen.ip().is_loopback() {
        tell("Without --tls-cert and --tls-key passwords and names travel open to everybody on this network.");
    }
    let settings = Settings { secure_cookies: tls.is_some(), district: args.district.clone(), ..Settings::default() };
    let house = House::new(registry, Clock::of_the_machine(), settings);
    listen(house, args.listen, tls, |address| say(&format!("Brimline answers at {scheme}://{address}/")))
}
