//! The registry from outside: what is written, what is refused, what stays.
#![allow(
    clippy::unwrap_used,
    missing_docs,
    reason = "a test stops at the first surprise"
)]

mod accounts;
mod flags;
mod house;
mod migrations;
mod mothers;
mod places;
mod today;
mod trail;
mod visits;
mod vocabularies;
mod women;
