//! The registry from outside: what is written, what is refused, what stays.
#![allow(
    clippy::unwrap_used,
    missing_docs,
    reason = "a test stops at the first surprise"
)]

mod accounts;
mod answers;
mod as_it_happened;
mod births;
mod flags;
mod house;
mod labours;
mod migrations;
mod mothers;
mod places;
mod pregnancies;
mod referrals;
mod replay;
mod sent;
mod today;
mod trail;
mod visits;
mod vocabularies;
mod women;
