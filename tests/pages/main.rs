//! The pages, tried as a browser sees them: one server a test, each with its own copy of a small register.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod access;
mod account;
mod bad_bodies;
mod district;
mod harness;
mod headers;
mod keeper;
mod months;
mod page;
mod signing_in;
mod visits;
