//! `brimline demo`: an invented district with two years of its register, served on this machine only.

mod calendar;
mod chance;
mod hands;
mod labour;
mod plan;
mod rates;
mod staged;
mod story;
mod tables;
