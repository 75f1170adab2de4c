//! Pages, forms, sessions. Begin at [`routes()`]; `server` puts them on a port.
//!
//! A request goes through `edge` (number, log line, headers, error pages) and `session` (who asks) to its handler in
//! `pages`. A handler's first parameter is its [`audience`](routes()); it reads and writes through [`House`].

mod answer;
mod assets;
mod audience;
mod blocking;
pub mod charts;
mod clock;
mod device;
mod edge;
mod error;
#[expect(
    clippy::inline_always,
    clippy::trivially_copy_pass_by_ref,
    clippy::unnecessary_wraps,
    clippy::unused_self,
    unreachable_pub,
    reason = "askama's macro writes the functions around these"
)]
mod filters;
#[allow(unreachable_pub, reason = "the macro for vocabularies writes `pub`")]
mod flash;
mod form;
mod pages;
mod paging;
mod path;
mod routes;
mod security;
mod server;
mod session;
mod shell;
mod spoken;
mod state;
mod throttle;

pub use clock::Clock;
pub use routes::{Route, routes};
pub use server::{Served, run, serve, tls_from_files};
pub use state::House;
