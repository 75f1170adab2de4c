//! The clinical layer held against what is published and what can be enumerated.
#![allow(clippy::unwrap_used, reason = "a test stops at the first surprise")]

mod dating;
mod evidence;
mod frozen;
mod fundal_height;
mod generated;
mod labour;
mod lines;
mod newborn;
mod palpation;
mod properties;
mod rules;
mod settling;
mod spoken;
mod telling;
mod worked;
