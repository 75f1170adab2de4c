//! Puts the house on a port.

use std::io;
use std::net::{SocketAddr, TcpListener};
use std::path::Path;

use actix_web::dev::{Server, ServerHandle};
use actix_web::middleware::from_fn;
use actix_web::{App, HttpServer};
use rustls::ServerConfig;
use rustls::pki_types::pem::PemObject as _;
use rustls::pki_types::{CertificateDer, PrivateKeyDer};

use crate::web::edge::{at_the_edge, packed};
use crate::web::routes;
use crate::web::session::recognise;
use crate::web::state::House;

/// Running requests may take this long once the server was told to stop.
const SECONDS_TO_FINISH: u64 = 10;

/// A server that answers once it is awaited, and the address it listens on.
///
/// It ends after its running requests on Ctrl-C, SIGTERM or [`ServerHandle::stop`].
pub struct Served {
    /// Await it inside [`run`]'s runtime.
    pub server: Server,
    /// Where it listens; the port is chosen by the system for port 0.
    pub address: SocketAddr,
}

impl Served {
    /// To stop it from elsewhere.
    #[must_use]
    pub fn handle(&self) -> ServerHandle {
        self.server.handle()
    }
}

/// Listens on `listen`, with TLS when there is a configuration.
///
/// # Errors
/// When the address cannot be listened on.
pub fn serve(house: House, listen: SocketAddr, tls: Option<ServerConfig>) -> io::Result<Served> {
    let listener = TcpListener::bind(listen)?;
    let address = listener.local_addr()?;
    let server = HttpServer::new(move || {
        App::new()
            .app_data(house.clone())
            .wrap(from_fn(recognise))
            .wrap(from_fn(at_the_edge))
            .wrap(from_fn(packed))
            .configure(routes::put_into)
    })
    .shutdown_timeout(SECONDS_TO_FINISH);
    let server = match tls {
        Some(tls) => server.listen_rustls_0_23(listener, tls)?,
        None => server.listen(listener)?,
    };
    Ok(Served {
        server: server.run(),
        address,
    })
}

/// Serves until told to stop: `serve` makes the server, `ready` is told its address.
///
/// # Errors
/// When the address cannot be listened on or the server fails.
pub fn run(
    house: House,
    listen: SocketAddr,
    tls: Option<ServerConfig>,
    ready: impl FnOnce(SocketAddr),
) -> io::Result<()> {
    actix_web::rt::System::new().block_on(async move {
        let served = serve(house, listen, tls)?;
        ready(served.address);
        served.server.await
    })
}

/// Reads certificate chain and key from PEM files.
///
/// # Errors
/// When a file cannot be read or holds no certificate or key, or the two do not fit.
pub fn tls_from_files(certificates: &Path, key: &Path) -> io::Result<ServerConfig> {
    let bad = |error: &dyn std::fmt::Display, file: &Path| {
        io::Error::new(
            io::ErrorKind::InvalidData,
            format!("{}: {error}", file.display()),
        )
    };
    let chain = CertificateDer::pem_file_iter(certificates)
        .and_then(Iterator::collect::<Result<Vec<_>, _>>)
        .map_err(|error| bad(&error, certificates))?;
    let secret = PrivateKeyDer::from_pem_file(key).map_err(|error| bad(&error, key))?;
    ServerConfig::builder()
        .with_no_client_auth()
        .with_single_cert(chain, secret)
        .map_err(|error| bad(&error, certificates))
}
