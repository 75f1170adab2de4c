//! The pages, tried as a browser sees them: one server a test, each with its own copy of a small register.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod access;
mod account;
mod bad_bodies;
mod births;
mod colleague;
mod district;
mod flow;
mod harness;
mod headers;
mod keeper;
mod labours;
mod links;
mod months;
mod mothers;
mod page;
mod practice;
mod practice_cases;
mod pregnancies;
mod referrals;
mod review;
mod rules;
mod signing_in;
mod staff;
mod today;
mod visit_history;
mod visit_shapes;
mod visits;
