//! Brimline: referrals and monthly tables of a rural health post.
//!
//! Read in this order; a layer may name only those above it.
//!
//! - [`clinical`]: findings in, flags out. Knows no clock, no database, no page.
//! - [`registry`]: the only place that knows SQL. All writing passes through one change with its line in the trail.
//! - [`reporting`]: rows without names in, tables and files out.
//! - [`web`]: addresses, forms, pages.
//! - [`cli`]: the commands; `main.rs` calls it and nothing else.

pub mod cli;
pub mod clinical;
pub mod registry;
pub mod reporting;
pub mod settings;
pub mod telemetry;
pub mod web;
